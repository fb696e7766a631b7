"""The work at a panel, step by step: make it dead, mark, move, check, and bring it back live.

It follows from the isolation of the panel and from its wires. Each step can be ticked; nothing of
it is a step that may be left out.
"""

from collections.abc import Collection, Iterator, Sequence

from rigfolio.findings import Finding
from rigfolio.isolation import (
    Plan,
    comes_back_words,
    isolate,
    isolate_ends,
    left_live,
    parted_from_source,
    place_of,
)
from rigfolio.kinds import is_of_heat
from rigfolio.model import Circuit, Conductor, Panel, Rig
from rigfolio.network import ends_of_run, landing_on, name_of_run, runs_of
from rigfolio.operating import shut_words
from rigfolio.protection import guard_of_circuit
from rigfolio.record import replace
from rigfolio.reports import HANDS, JUDGED, SLIPPED
from rigfolio.study import Study, once
from rigfolio.swap.fitting import TAG_FIRST, fitting, looks, ready_words, sleeve_words
from rigfolio.swap.notes import notes_at
from rigfolio.swap.power import (
    BEFORE,
    LAID_OUT,
    LOGGED,
    LOOK,
    PULLED,
    Task,
    WorkPart,
    chargers,
    charging,
    dead,
    live,
    printed_anew,
)
from rigfolio.swap.repairs import is_another, is_pulled_new, mended_at
from rigfolio.swap.stops import stops, stops_words
from rigfolio.units import Size
from rigfolio.values import MINUS
from rigfolio.wording import (
    amps,
    circuits_in_order,
    how_many,
    in_a_row,
    load_words,
    short_end,
)

CAUTIONS = (
    f"{SLIPPED} {HANDS} Nobody else is at the switches.",
    f"{JUDGED} Where they ask for more, do more.",
)
"""What stands at the top of the plan."""
_A_STEP = 6
"""Returns of one step, so that each tick stands for work of minutes."""
_MOST_NAMED = 6
"""How many of the loads are named that go dark for the sake of a wire."""
_FIND_IT = "A return that is not stated: find it at its end or on its way as named, and tag it."


def work(
    study: Study,
    panel: str,
    *,
    hands_over: bool = True,
    is_first: bool = True,
    tried: Collection[Finding] = (),
) -> tuple[WorkPart, ...]:
    """All parts of the work at one panel of which every wire comes off and goes on again.

    Parameters
    ----------
    study : Study
        The rig as it is to be.
    panel : str
        The name of the panel.
    hands_over : bool
        Whether the rig is handed over then, and not another panel opened.
    is_first : bool
        Whether no other plan of the rig stands before it, that has told the dangers.
    tried : Collection[Finding]
        What was found, with ways out that were tried.

    Raises
    ------
    KeyError
        There is no such panel.
    """
    plan = planned(study, panel)
    before, *in_hand = work_in_hand(study, panel)
    if is_first:
        before = replace(before, about=(*before.about, *stops_words(study)))
    made = (
        before,
        _dead(study, panel, plan),
        *in_hand,
        stops(study, is_told=not is_first, tried=tried),
        live(study, panel, plan),
        charging(study, plan),
        *([_hand_over()] if hands_over else []),
    )
    return tuple(part for part in made if part.tasks)


@once
def work_in_hand(study: Study, panel: str) -> tuple[WorkPart, ...]:
    """What is done at a panel beside taking its power off and bringing it back.

    First what is done before that, then the rest; a part without tasks among them is no work.

    Raises
    ------
    KeyError
        There is no such panel.
    """
    found, circuits, wires = _found(study, panel)
    return (
        _before(study.rig, found, circuits),
        _mark(study.rig, wires, circuits),
        _move(study, found, circuits, wires),
        mended_at(study, found),
        _label(study, circuits),
        _look(study, found, circuits),
    )


def _found(study: Study, panel: str) -> tuple[Panel, tuple[Circuit, ...], tuple[Conductor, ...]]:
    """A panel by name, its circuits in order, the wires that end there; KeyError without one."""
    found = study.panel(panel)
    if found is None:
        raise KeyError(panel)
    circuits = tuple(c for c in circuits_in_order(study.rig) if c.panel == panel)
    return found, circuits, _wires(study, found, circuits)


@once
def planned(study: Study, panel: str) -> Plan:
    """How a panel is made dead for work in it, and all that comes back by what is taken off.

    Raises
    ------
    KeyError
        There is no such panel.
    """
    _, circuits, wires = _found(study, panel)
    lifted = {*(wire.name for wire in wires), *(name for c in circuits for name in c.returns)}
    ends = place_of(study.rig, panel, "panel").terminals
    off = chargers(study)
    alone = isolate(study, panel, kind="panel")
    every = (*ends, *parted_from_source(study, lifted, off))
    plan = isolate_ends(study, panel, every, off, alone)
    return replace(plan, comes_back=alone.comes_back)


def _dead(study: Study, panel: str, plan: Plan) -> WorkPart:
    """How it is made dead; why, where more is opened for it than to look into the panel."""
    made = dead(study, plan)
    back = comes_back_words(study, plan)
    live = set(left_live(study, plan.terminals, plan.kept_off, isolate(study, panel, kind="panel")))
    held = {load.plus: load_words(study.rig, load) for load in study.rig.loads}
    held |= {one.plus: str(one.about) for one in study.rig.sources}
    names = tuple(dict.fromkeys(words for end, words in held.items() if end in live))
    more = (
        f"More is opened than “at the panel” says: wires come off here, and what comes back by "
        f"them is dead before that: {_some(names)}."
    )
    said = (f"{back}.",) if back else ()
    return replace(made, about=(*said, *((more,) if names else ()), *made.about))


def _some(names: Sequence[str]) -> str:
    """A few of many by name: the rest goes dark with the same step."""
    if len(names) <= _MOST_NAMED:
        return in_a_row(names)
    return in_a_row((*names[:_MOST_NAMED], f"{len(names) - _MOST_NAMED} more"))


def _before(rig: Rig, panel: Panel, circuits: Sequence[Circuit]) -> WorkPart:
    labels = tuple(c.place for c in circuits)
    tasks = [
        printed_anew(labels),
        LAID_OUT,
        Task(f"photograph {panel.about} from the front, from both sides, with all its wires"),
    ]
    mind = tuple(note.words for note in notes_at(rig, panel))
    return WorkPart(BEFORE, mind, tuple(tasks))


def _wires(study: Study, panel: Panel, circuits: Sequence[Circuit]) -> tuple[Conductor, ...]:
    """The wires that end at the panel, or at a fuse that sits on it, its feed first.

    A wire of another circuit is among them where it ends in the panel itself, or at a bar beside it
    that the panel of that circuit has nothing to do with. Within the panel the longest tails come
    first: a short one is then laid where it has to go.
    """
    mine = {name for circuit in circuits for name in (*circuit.wires, *circuit.returns)}
    near = _near(panel) | {circuit.start for circuit in circuits}
    found = [
        wire
        for wire in landing_on(study.rig, near, study.rig.begun)
        if not wire.assumed
        and (wire.name in mine or not wire.circuit or _strays(study, panel, wire))
    ]
    slots = {circuit.place: circuit.slot for circuit in circuits}
    return tuple(
        sorted(
            found,
            key=lambda wire: (
                bool(wire.circuit), -(wire.tail_m or 0.0), slots.get(wire.circuit, 0), wire.name,
            ),
        )
    )  # fmt: skip


def _strays(study: Study, panel: Panel, wire: Conductor) -> bool:
    """Whether a wire of another circuit comes off with this panel."""
    inside = {panel.feed, panel.bus, panel.own_bar or panel.feed}
    if inside & {wire.a, wire.b}:
        return True
    circuit = study.circuit(wire.circuit)
    own = study.panel(circuit.panel) if circuit is not None else None
    return own is not None and not _near(own) & {wire.a, wire.b}


def _near(panel: Panel) -> frozenset[str]:
    """Where the supply of a panel and its returns land."""
    return frozenset({panel.feed, panel.bus, panel.negative or panel.feed})


def _mark(rig: Rig, wires: Sequence[Conductor], circuits: Sequence[Circuit]) -> WorkPart:
    tasks = [
        Task(
            f"{wire.name}: {looks(wire)}, {short_end(rig, wire.a)} to {short_end(rig, wire.b)}"
            f"{_not_yet(wire)}",
            sleeve_words(wire),
        )
        for wire in wires
    ]
    unstated = tuple(_unstated(rig, circuits))
    about = (TAG_FIRST, *((_FIND_IT,) if unstated else ()))
    return WorkPart("Tag each wire before it comes off", about, (*tasks, *unstated), is_list=True)


def _not_yet(wire: Conductor) -> str:
    """That a wire to be tagged is still to be pulled, and what is there instead."""
    if is_of_heat(wire.condition):
        return f"; is {wire.condition}: the tag goes on the new one"
    if not wire.circuit or not is_another(wire) or not isinstance(wire.found, Size):
        return ""
    return f"; {wire.found.text} was found there: the tag goes on the new one"


def _unstated(rig: Rig, circuits: Sequence[Circuit]) -> Iterator[Task]:
    """The returns that nobody has stated, some a step, by where they land and by their tubes."""
    alike: dict[tuple[str, str], list[str]] = {}
    by_wire = {wire.name: run for run in runs_of(rig) for wire in run}
    for circuit in circuits:
        runs = dict.fromkeys(by_wire[n] for n in circuit.returns if rig.conductor(n).assumed)
        ends = {run: _landing_of(run, circuit) for run in runs}
        joints = {start for start, _ in ends.values()}
        for run, (_, end) in ends.items():
            where = "on the way" if end in joints else f"at {short_end(rig, end)}"
            alike.setdefault((where, sleeve_words(run[0])), []).append(name_of_run(rig, run))
    for (where, sleeve), names in alike.items():
        for at in range(0, len(names), _A_STEP):
            listed = ", ".join(names[at : at + _A_STEP])
            yield Task(f"not stated, {where}: {listed}", sleeve)


def _landing_of(run: tuple[Conductor, ...], circuit: Circuit) -> tuple[str, str]:
    """Where a return begins and where it lands: whichever of its wires stands last leads there."""
    begins, ends = ends_of_run(run)
    last = max(run, key=lambda wire: circuit.returns.index(wire.name))
    first = min(run, key=lambda wire: circuit.returns.index(wire.name))
    return (begins, ends) if last.b == ends or first.a == begins else (ends, begins)


def _move(
    study: Study, panel: Panel, circuits: Sequence[Circuit], wires: Sequence[Conductor]
) -> WorkPart:
    rig = study.rig
    tasks = []
    place = {circuit.place: circuit for circuit in circuits}
    for wire in wires:
        circuit = place.get(wire.circuit)
        if wire.circuit and is_pulled_new(wire):
            # It does not move: another one is pulled, which is told of what is put right.
            continue
        out = circuit is not None and wire.name in circuit.wires
        land = short_end(rig, wire.circuit if out else _landing(rig, panel, wire))
        words = f"{wire.name} {looks(wire)}: to {land}"
        end = circuit.start if circuit is not None and out else _landing(rig, panel, wire)
        see = "; ".join(fitting(rig, wire, end))
        tasks.append(Task(words, see, lifts=(wire.name,)))
    about = ["One wire at a time: off, new end, on, pull at it. Never two wires in the hand."]
    if any(wire.tail_m is not None for wire in wires):
        about.append("Longest tails first: a short one is then laid where it has to go.")
    about.append("Torque is that of the maker of the part; where none is told here, ask for it.")
    return WorkPart("Move and fit, one wire at a time", tuple(about), tuple(tasks), is_list=True)


def _label(study: Study, circuits: Sequence[Circuit]) -> WorkPart:
    tasks = []
    for circuit in circuits:
        device = next(iter(guard_of_circuit(study, circuit).devices), None)
        do = f"{circuit.place}: label on; {ready_words(study, circuit)}"
        found = circuit.found_a
        is_other = found is not None and device is not None and found != device.rating_a
        out = f"{amps(found)} was found there: take it away" if is_other else ""
        tasks.append(Task(do, out))
    return WorkPart("Label each slot", (), tuple(tasks), is_list=True)


def _landing(rig: Rig, panel: Panel, wire: Conductor) -> str:
    """The end of a wire at a panel: at its feed, at its bar, or at a fuse that sits on it."""
    near = _near(panel)
    direct = [end for end in (wire.a, wire.b) if end in near]
    fused = [
        end
        for d in rig.seated.get(wire.name, ())
        if {d.line, d.load} & near
        for end in (wire.a, wire.b)
        if end in (d.line, d.load)
    ]
    return (*direct, *fused, wire.a)[0]


def _look(study: Study, panel: Panel, circuits: Sequence[Circuit]) -> WorkPart:
    tasks = [
        PULLED,
        Task("every tag reads the slot that its wire is in; no strand stands out"),
        Task(f"{panel.about.name}: {shut_words(study, panel.about.name)}",
             how_many(len(circuits), "circuit")),
        Task(f"plus and minus at the feed: + on {short_end(study.rig, panel.feed)}, "
             f"{MINUS} on {short_end(study.rig, panel.negative or 'the bar')}"),
        Task("spare slots are empty; nothing lies loose behind the panel"),
    ]  # fmt: skip
    return WorkPart(LOOK, (), tuple(tasks))


def _hand_over() -> WorkPart:
    tasks = [
        Task("no old label is left"),
        Task("directory and its code on the door, “at the panel” beside it"),
        Task("spare fuses in a bag at the panel"),
        LOGGED,
        Task("after a day's use feel every holder and terminal again: none is warm"),
    ]
    return WorkPart("Hand over", (), tuple(tasks))
