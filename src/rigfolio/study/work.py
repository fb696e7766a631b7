"""The work at a panel, step by step: make it dead, mark, move, check, and bring it back live.

It follows from the isolation of the panel, from its wires and, where an earlier version is at hand,
from what changed since. Each step can be ticked; nothing of it is a step that may be left out.
"""

from collections.abc import Iterable, Iterator, Sequence

from rigfolio.books.diagnosis import figure
from rigfolio.books.habits import proof_by_meter
from rigfolio.books.terminals import barrel_colour
from rigfolio.findings import Unknown
from rigfolio.model.graph import Circuit, Conductor, Panel, Rig
from rigfolio.record import record
from rigfolio.study.changes import Change
from rigfolio.study.changes_text import Again
from rigfolio.study.expected import bounds_words, numbered_points, stages
from rigfolio.study.isolation import Plan, isolate
from rigfolio.study.isolation_text import called, step_words, still_live_words
from rigfolio.study.study import Study
from rigfolio.study.wording import (
    MINUS,
    circuits_in_order,
    colour_short,
    device_named,
    gauge_words,
    is_imperial,
    length_words,
    rating_words,
    short_end,
)
from rigfolio.units import show

CAUTIONS = (
    "Low voltage is not low danger: a battery drives hundreds of amperes into a slipped spanner. "
    "Rings and watch off, insulated tools, posts covered, nobody else at the switches.",
    "Worked out from the text, not from what is behind the wall. Local code and licensed practice "
    "come first; where they ask for more, do more. This is not a safety certificate.",
)
"""What stands at the top of the plan."""


@record
class Task:
    """One step: what to do, and what is to be seen or read then."""

    do: str
    see: str = ""


@record
class Part:
    """A part of the work; the next one waits until all of it is ticked."""

    title: str
    about: str
    tasks: tuple[Task, ...]


def work(study: Study, panel: str, again: Again | None = None) -> tuple[Part, ...]:
    """All parts of the work at one panel.

    Parameters
    ----------
    study : Study
        The rig as it is to be.
    panel : str
        The name of the panel.
    again : Again, optional
        What changed since the rig was as found; without it every wire of the panel is done.

    Raises
    ------
    KeyError
        There is no such panel.
    """
    found = study.panel(panel)
    if found is None:
        raise KeyError(panel)
    plan = isolate(study, panel)
    circuits = tuple(c for c in circuits_in_order(study.rig) if c.panel == panel)
    wires = _wires(study, found, circuits, again)
    made = (
        _before(study, found, circuits, again),
        _dead(study, plan),
        _mark(study.rig, wires),
        _move(study, found, circuits, wires, again),
        _look(found, circuits),
        *_live(study, panel, plan),
        _hand_over(again),
    )
    return tuple(part for part in made if part.tasks)


def _before(study: Study, panel: Panel, circuits: Sequence[Circuit], again: Again | None) -> Part:
    labels = again.labels if again is not None else tuple(c.place for c in circuits)
    tasks = [
        Task("print and cut labels and tags", _some(labels)),
        Task("lay out what the pick list names; try every fuse with the meter"),
        Task(f"photograph {panel.about} from the front, from both sides, with all its wires"),
        Task("try the meter on a battery: it has to show volts", _battery(study)),
    ]
    return Part("Before you touch anything", "", tuple(tasks))


def _battery(study: Study) -> str:
    source = next((s for s in study.rig.sources if s.kind == "battery"), None)
    if source is None:
        return ""
    share, spread = figure("rest", "share"), figure("rest", "spread")
    low, high = (source.voltage_v * (share + side * 2.0 * spread) for side in (-1.0, 1.0))
    return f"{source.about.name}: {low:.1f} to {high:.1f} V"


def _dead(study: Study, plan: Plan) -> Part:
    labels = {source.about.name: source.about.label for source in study.rig.sources}
    tasks = []
    if plan.loads:
        tasks.append(Task("switch off every load of the panel", f"{len(plan.loads)} loads"))
    tasks += [Task(f"{called(name, labels[name])}: stop it") for name in plan.stop_first]
    for step in plan.steps:
        off = ", ".join(step.keeps_off)
        tasks.append(Task(step_words(study.rig, step), f"keeps off {off}" if off else ""))
    tasks.append(Task("tag each of these: do not close, somebody is working"))
    feeds = ", ".join(called(one.source, one.label) for one in plan.back_feeds)
    if feeds:
        tasks.append(Task(f"with every disconnect open it is still fed by {feeds}: see to each"))
    if not plan.is_enough:
        tasks.append(Task("NOT ENOUGH: wire alone joins it to a source; take that wire off first"))
    low = f"0 V, no more than {figure('meter', 'volt') * 1000.0:.0f} mV"
    tasks.append(Task(f"{proof_by_meter().title}: {plan.place} feed and each slot to minus", low))
    tasks.append(Task("the same to the frame", low))
    tasks.append(
        Task("if it shows more, stop: something still feeds it; find it before anything is moved")
    )
    live = still_live_words(plan.stays_live)
    about = f"Stays live while you work: {'; '.join(live)}." if live else ""
    if plan.goes_dark:
        about += f" Goes dark and must stay on: {', '.join(plan.goes_dark)}: see to it otherwise."
    return Part("Make it dead, and prove it", about.strip(), tuple(tasks))


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
        found = [wire for wire in found if wire.name in again.tags]
    slots = {circuit.place: circuit.slot for circuit in circuits}
    return tuple(
        sorted(
            found,
            key=lambda wire: (
                bool(wire.circuit), -(wire.tail_m or 0.0), slots.get(wire.circuit, 0), wire.name,
            ),
        )
    )  # fmt: skip


def _mark(rig: Rig, wires: Sequence[Conductor]) -> Part:
    tasks = [
        Task(
            f"{wire.name}: {_looks(wire)}", f"{short_end(rig, wire.a)} to {short_end(rig, wire.b)}"
        )
        for wire in wires
    ]
    about = "Tag first, then sleeve, then terminal: a sleeve does not go over a crimped end."
    return Part("Tag each wire before it comes off", about, tuple(tasks))


def _looks(wire: Conductor) -> str:
    return f"{gauge_words(wire)} {colour_short(wire.colour)}"


def _move(
    study: Study,
    panel: Panel,
    circuits: Sequence[Circuit],
    wires: Sequence[Conductor],
    again: Again | None,
) -> Part:
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
        tasks.append(Task(words, "; ".join(_fitting(rig, wire, panel))))
    for circuit in circuits:
        if again is None or circuit.place in again.labels:
            device = device_named(rig, circuit.device)
            tasks.append(
                Task(f"{circuit.place}: label on; {rating_words(device)} laid ready, not in")
            )
    about = "One wire at a time: off, new end, on, pull at it. Never two wires in the hand."
    return Part("Move and fit, one wire at a time", about, tuple(tasks))


def _circuit_changes(again: Again | None) -> Iterator[Change]:
    yield from (c for c in (again.changes if again is not None else ()) if c.thing == "circuit")


def _landing(panel: Panel, wire: Conductor) -> str:
    near = (panel.feed, panel.bus, panel.negative or "")
    return next((end for end in (wire.a, wire.b) if end in near), wire.a)


def _fitting(rig: Rig, wire: Conductor, panel: Panel) -> Iterator[str]:
    """Terminal, torque and tail of a wire at a panel."""
    terminal = wire.ends[0] or wire.ends[1]
    if terminal:
        yield terminal
    if not isinstance(wire.size, Unknown):
        colour = barrel_colour(wire.size.area_m2)
        if colour:
            yield f"{colour} barrel"
    torques = {
        one.about.name: one.about.torque_nm
        for one in rig.junctions
        if one.about.torque_nm is not None
    }
    torque = panel.about.torque_nm or torques.get(wire.a) or torques.get(wire.b)
    if torque is not None:
        yield f"torque {show(torque, 'Nm')}"
    if wire.tail_m is not None:
        yield f"tail {length_words(wire.tail_m, imperial=is_imperial(rig))}"
    if wire.condition:
        yield f"is {wire.condition}: cut back to bright copper"


def _look(panel: Panel, circuits: Sequence[Circuit]) -> Part:
    tasks = [
        Task("pull at every wire: none moves in its terminal, no terminal turns on its stud"),
        Task("every tag reads the slot that its wire is in; no strand stands out"),
        Task(f"all fuses of {panel.about.name} are out", f"{len(circuits)} circuits"),
        Task(f"plus and minus at the feed: + on {panel.feed}, {MINUS} on "
             f"{panel.negative or 'the bar'}"),
        Task("spare slots are empty; nothing lies loose behind the panel"),
    ]  # fmt: skip
    return Part("Look before there is power", "", tuple(tasks))


def _live(study: Study, panel: str, plan: Plan) -> Iterator[Part]:
    """The stages of the test sheet, with the isolation undone before the feed."""
    found = stages(study, panel)
    numbers: dict[str, list[str]] = {}
    for number, stage, _, point in numbered_points(found):
        numbers.setdefault(stage.title, []).append(f"{number} {point.words} {bounds_words(point)}")
    for stage in found:
        tasks: list[Task] = []
        if stage.title == "The feed alone":
            undo = [step_words(study.rig, step).split(":")[0] for step in reversed(plan.steps)]
            if undo:
                tasks.append(Task(f"close again, in this order: {', '.join(undo)}"))
        lines = numbers.get(stage.title, [])
        tasks.append(Task(f"readings {_range(lines)} of the test sheet", _some(lines, 2)))
        yield Part(f"Live: {stage.title.lower()}", stage.about, tuple(tasks))


def _range(lines: Sequence[str]) -> str:
    first, last = lines[0].split(" ", 1)[0], lines[-1].split(" ", 1)[0]
    return first if first == last else f"{first} to {last}"


def _hand_over(again: Again | None) -> Part:
    off = again.taken_off if again is not None else ()
    tasks = [
        Task("take old labels and tags off", _some(off)) if off else Task("no old label is left"),
        Task("directory and its code on the door, “what stays live” beside the disconnect"),
        Task("spare fuses in a bag at the panel"),
        Task("readings and work into the log; commit text and log together"),
        Task("after a day's use feel every holder and terminal again: none is warm"),
    ]
    return Part("Hand over", "", tuple(tasks))


def _some(names: Iterable[str], most: int = 8) -> str:
    every = list(names)
    more = len(every) - most
    listed = ", ".join(every[:most]) if most > 2 else "; ".join(every[:most])
    return f"{listed} and {more} more" if more > 0 else listed
