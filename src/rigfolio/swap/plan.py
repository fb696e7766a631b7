"""The work at a panel, step by step: make it dead, mark, move, check, and bring it back live.

It follows from the isolation of the panel, from its wires and, where an earlier version is at hand,
from what changed since. Each step can be ticked; nothing of it is a step that may be left out.
"""

from collections.abc import Iterator, Sequence

from rigfolio.books import barrel_colour, outside_diameter_m, sleeve_m
from rigfolio.compare import Change
from rigfolio.findings import Unknown
from rigfolio.isolation import isolate
from rigfolio.job import Again
from rigfolio.model import Circuit, Conductor, Panel, Rig
from rigfolio.operating import fitted_words, shut_words
from rigfolio.protection import guard_of_circuit
from rigfolio.reports import HANDS, JUDGED, SLIPPED
from rigfolio.study import Study
from rigfolio.swap.notes import notes_at
from rigfolio.swap.power import Task, WorkPart, charging, dead, live, some
from rigfolio.swap.purchases import usual_terminal
from rigfolio.units import show
from rigfolio.values import MINUS
from rigfolio.wording import (
    circuits_in_order,
    colour_short,
    gauge_words,
    is_imperial,
    length_words,
    short_end,
)

CAUTIONS = (
    f"{SLIPPED} {HANDS} Nobody else is at the switches.",
    f"{JUDGED} Where they ask for more, do more.",
)
"""What stands at the top of the plan."""


def work(
    study: Study, panel: str, again: Again | None = None, *, hands_over: bool = True
) -> tuple[WorkPart, ...]:
    """All parts of the work at one panel.

    Parameters
    ----------
    study : Study
        The rig as it is to be.
    panel : str
        The name of the panel.
    again : Again, optional
        What changed since the rig was as found; without it every wire of the panel is done.
    hands_over : bool
        Whether the rig is handed over then, and not another panel opened.

    Raises
    ------
    KeyError
        There is no such panel.
    """
    found = study.panel(panel)
    if found is None:
        raise KeyError(panel)
    plan = isolate(study, panel, kind="panel")
    circuits = tuple(c for c in circuits_in_order(study.rig) if c.panel == panel)
    wires = _wires(study, found, circuits, again)
    made = (
        _before(study.rig, found, circuits, again),
        dead(study, plan),
        _mark(study.rig, wires),
        _move(study, found, circuits, wires, again),
        _label(study, circuits, again),
        _look(study, found, circuits),
        live(study, panel, plan),
        charging(study, plan),
        *([_hand_over(again)] if hands_over else []),
    )
    return tuple(part for part in made if part.tasks)


def _before(rig: Rig, panel: Panel, circuits: Sequence[Circuit], again: Again | None) -> WorkPart:
    labels = again.labels if again is not None else tuple(c.place for c in circuits)
    tasks = [
        Task("print and cut labels and tags", some(labels)),
        Task("lay out what the pick list names; try every fuse with the meter"),
        Task(f"photograph {panel.about} from the front, from both sides, with all its wires"),
    ]
    mind = tuple(note.words for note in notes_at(rig, panel))
    return WorkPart("Before you touch anything", mind, tuple(tasks))


def _wires(
    study: Study, panel: Panel, circuits: Sequence[Circuit], again: Again | None
) -> tuple[Conductor, ...]:
    """The wires that end at the panel, its feed first; only those that change where that is known.

    Within the panel the longest tails come first: a short one is then laid where it has to go.
    """
    ends = {panel.feed, panel.bus, panel.negative or panel.feed}
    mine = {name for circuit in circuits for name in (*circuit.wires, *circuit.returns)}
    starts = {circuit.start for circuit in circuits}
    found = []
    for wire in study.rig.conductors:
        lands = {wire.a, wire.b} & (ends | starts)
        if lands and (wire.name in mine or not wire.circuit) and not wire.assumed:
            found.append(wire)
    if again is not None:
        found = [wire for wire in found if wire.name in again.wires]
    slots = {circuit.place: circuit.slot for circuit in circuits}
    return tuple(
        sorted(
            found,
            key=lambda wire: (
                bool(wire.circuit), -(wire.tail_m or 0.0), slots.get(wire.circuit, 0), wire.name,
            ),
        )
    )  # fmt: skip


def _mark(rig: Rig, wires: Sequence[Conductor]) -> WorkPart:
    tasks = [
        Task(
            f"{wire.name}: {_looks(wire)}, {short_end(rig, wire.a)} to {short_end(rig, wire.b)}",
            _sleeve(wire),
        )
        for wire in wires
    ]
    about = "Tag first, then sleeve, then terminal: a sleeve does not go over a crimped end."
    return WorkPart("Tag each wire before it comes off", (about,), tuple(tasks), is_list=True)


def _sleeve(wire: Conductor) -> str:
    """The tube that goes over the end of a wire."""
    if isinstance(wire.size, Unknown):
        return "sleeve: see how thick it is"
    diameter = sleeve_m(outside_diameter_m(wire.size).value)
    return "no tube in stock fits" if diameter is None else f"sleeve {diameter * 1000.0:g} mm"


def _looks(wire: Conductor) -> str:
    return f"{gauge_words(wire)} {colour_short(wire.colour)}"


def _move(
    study: Study,
    panel: Panel,
    circuits: Sequence[Circuit],
    wires: Sequence[Conductor],
    again: Again | None,
) -> WorkPart:
    rig = study.rig
    moved = {c.after: c.before for c in _circuit_changes(again) if c.kind == "moved"}
    tasks = [
        Task(f"{name}: take its wires off, insulate and tag each end", "not in the new plan")
        for name in (c.before for c in _circuit_changes(again) if c.kind == "gone")
    ]
    place = {circuit.place: circuit for circuit in circuits}
    for wire in wires:
        circuit = place.get(wire.circuit)
        was = moved.get(wire.circuit, "")
        start = f"from {was} to" if was else "to"
        out = circuit is not None and wire.name in circuit.wires
        land = short_end(rig, wire.circuit if out else _landing(panel, wire))
        words = f"{wire.name} {_looks(wire)}: {start} {land}"
        end = circuit.start if circuit is not None and out else _landing(panel, wire)
        tasks.append(Task(words, "; ".join(_fitting(rig, wire, panel, end))))
    about = ["One wire at a time: off, new end, on, pull at it. Never two wires in the hand."]
    if any(wire.tail_m is not None for wire in wires):
        about.append("Longest tails first: a short one is then laid where it has to go.")
    about.append("Torque is that of the maker of the part; where none is told here, ask for it.")
    return WorkPart("Move and fit, one wire at a time", tuple(about), tuple(tasks), is_list=True)


def _label(study: Study, circuits: Sequence[Circuit], again: Again | None) -> WorkPart:
    tasks = []
    for circuit in circuits:
        if again is None or circuit.place in again.labels:
            device = next(iter(guard_of_circuit(study, circuit).devices), None)
            is_breaker = device is not None and device.traits.resets
            ready = "in place, off" if is_breaker else "laid ready, not in"
            tasks.append(Task(f"{circuit.place}: label on; {fitted_words(device)} {ready}"))
    return WorkPart("Label each slot", (), tuple(tasks), is_list=True)


def _circuit_changes(again: Again | None) -> Iterator[Change]:
    yield from (c for c in (again.changes if again is not None else ()) if c.thing == "circuit")


def _landing(panel: Panel, wire: Conductor) -> str:
    near = (panel.feed, panel.bus, panel.negative or "")
    return next((end for end in (wire.a, wire.b) if end in near), wire.a)


def _fitting(rig: Rig, wire: Conductor, panel: Panel, end: str) -> Iterator[str]:
    """Terminal, torque and tail of a wire at the end that lands on a panel or its bar."""
    said = wire.ends[0 if end == wire.a else 1]
    terminal = said or usual_terminal(rig, end)
    colour = "" if isinstance(wire.size, Unknown) else barrel_colour(wire.size.area_m2)
    words = [terminal or "terminal to suit", f"{colour} barrel" if colour else ""]
    yield ", ".join(word for word in words if word)
    torques = {one.about.name: one.about.torque_nm for one in rig.junctions}
    torque = torques.get(end, panel.about.torque_nm)
    if torque is not None:
        yield f"torque {show(torque, 'Nm')}"
    if wire.tail_m is not None:
        yield f"tail {length_words(wire.tail_m, imperial=is_imperial(rig))}"
    if wire.condition:
        yield f"is {wire.condition}: cut back to bright copper"


def _look(study: Study, panel: Panel, circuits: Sequence[Circuit]) -> WorkPart:
    tasks = [
        Task("pull at every wire: none moves in its terminal, no terminal turns on its stud"),
        Task("every tag reads the slot that its wire is in; no strand stands out"),
        Task(f"{panel.about.name}: {shut_words(study, panel.about.name)}",
             f"{len(circuits)} circuits"),
        Task(f"plus and minus at the feed: + on {short_end(study.rig, panel.feed)}, "
             f"{MINUS} on {short_end(study.rig, panel.negative or 'the bar')}"),
        Task("spare slots are empty; nothing lies loose behind the panel"),
    ]  # fmt: skip
    return WorkPart("Look before there is power", (), tuple(tasks))


def _hand_over(again: Again | None) -> WorkPart:
    off = () if again is None else (*again.taken_off, *(was for was, _ in again.tags_off))
    tasks = [
        Task("take old labels and tags off", some(off)) if off else Task("no old label is left"),
        Task("directory and its code on the door, “at the panel” beside it"),
        Task("spare fuses in a bag at the panel"),
        Task("readings and work into the log; keep text and log together"),
        Task("after a day's use feel every holder and terminal again: none is warm"),
    ]
    return WorkPart("Hand over", (), tuple(tasks))
