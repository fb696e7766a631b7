"""What is live in which state, and from which source."""

from collections.abc import Iterable, Iterator
from typing import Literal, TypeVar

from rigfolio.isolation.conditions import Condition, opened
from rigfolio.isolation.energised import Alive, SourceReach, source_reach
from rigfolio.isolation.states import states_of
from rigfolio.isolation.waiting import may_be
from rigfolio.model import Circuit, Device, Load, Rig
from rigfolio.network import ends, net_among
from rigfolio.record import record, replace
from rigfolio.study import Study, once
from rigfolio.wording import AHEAD_OF_MAIN, called, end_words, short_end, terminals_of

LiveKind = Literal["panel", "slot", "circuit", "load", "source", "end", "pin", "bar", "device"]

Told = TypeVar("Told")


@record
class Part:
    """Something that a person can put a meter on: its name, what it is, its terminals.

    `circuit` is the one that it lies in, which stands for it while both are alike.
    """

    kind: LiveKind
    name: str
    label: str
    terminals: tuple[str, ...]
    panel: str = ""
    circuit: str = ""

    def __str__(self) -> str:
        """Name and label as they are printed."""
        return called(self.name, self.label)


@record
class Cell:
    """Whether a part is live in a state: the sources that may reach it, and those that surely do.

    `through_loads` is true where the part stands at plus through loads whose way back is open,
    `waits` where it is dead only as long as nothing closes what rests open before it.
    """

    sources: tuple[str, ...] = ()
    sure: tuple[str, ...] = ()
    through_loads: bool = False
    waits: bool = False

    @property
    def is_live(self) -> bool:
        """Whether a source may reach it."""
        return bool(self.sources)


@record
class LiveRow:
    """A part and what it is in each state, in the order of the states."""

    part: Part
    cells: tuple[Cell, ...]


@record
class LiveTable:
    """States against parts."""

    states: tuple[Condition, ...]
    rows: tuple[LiveRow, ...]

    def row(self, name: str) -> LiveRow:
        """The row of a part.

        Raises
        ------
        KeyError
            No part has that name.
        """
        found = next((row for row in self.rows if row.part.name == name), None)
        if found is None:
            raise KeyError(name)
        return found


def live_table(study: Study, states: tuple[Condition, ...] = ()) -> LiveTable:
    """States against parts: what is live and from which source.

    What lies on the way back has a row only where loads lift it to plus in some state.
    """
    drive = source_reach(study)
    states = states or states_of(study, drive)
    plus, beside = parts_of(study), parts_beside(study)
    parts = (*plus, *beside, *parts_of_returns(study))
    columns = [tuple(_cells(drive, state, parts)) for state in states]
    rows = [
        LiveRow(part, tuple(column[place] for column in columns))
        for place, part in enumerate(parts)
    ]
    first, last = len(plus), len(plus) + len(beside)
    more = told_by_itself((row.part, row.cells) for row in rows[:last])
    lifted = (row for row in rows[last:] if any(cell.is_live for cell in row.cells))
    return LiveTable(states, (*rows[:first], *(LiveRow(*one) for one in more), *lifted))


def unfed_in(study: Study, load: Load) -> tuple[str, ...]:
    """The states of the text in which no source is sure to reach a load's circuit, by name."""
    drive, rig = source_reach(study), study.rig
    circuit = study.circuit(load.circuit)
    end = circuit.start if circuit is not None and circuit.start else load.plus
    stated = (state for state in states_of(study) if state.is_stated)
    return tuple(
        state.name for state in stated
        if end not in drive.alive(opened(rig, state, surely=True))
    )  # fmt: skip


def fed_in(study: Study, load: Load) -> tuple[str, ...]:
    """The states in which some source reaches a load, by name; those of the text first."""
    drive, rig = source_reach(study), study.rig
    every = sorted(states_of(study), key=lambda state: not state.is_stated)
    return tuple(o.name for o in every if load.plus in drive.alive(opened(rig, o)))


@once
def parts_of(study: Study) -> tuple[Part, ...]:
    """Everything that is worth a line in a table of what is live, in the order of a reader."""
    rig = study.rig
    return tuple(
        part
        for part in (
            *_panels(rig),
            *(_of_circuit(rig, each) for each in rig.circuits if not each.slot),
            *(
                Part("load", load.about.name, load.about.label, (load.plus,))
                for load in rig.loads
                if not load.circuit
            ),
            *(
                Part("source", source.about.name, source.about.label, (source.plus,))
                for source in rig.sources
            ),
            *_ends(study, "+"),
            *_bars(study, "+"),
        )
    )


@once
def parts_beside(study: Study) -> tuple[Part, ...]:
    """Every place that a source may reach and that no other part is put at, end by end.

    What sits on another place, such as a fuse on a post, is as that is.
    """
    rig = study.rig
    circuits = {
        end: one.place
        for one in rig.circuits
        for end in terminals_of(rig, "circuit", one.place).plus
    }
    held = {end for part in parts_of(study) for end in part.terminals}
    on = net_among(wire for wire in rig.conductors if wire.lead or wire.assumed)
    held |= on.walk(held).keys()
    alive = source_reach(study).alive()
    own = {end: device for device in rig.devices for end in ends(device)}
    found = []
    for end in dict.fromkeys(end for end in (*own, *alive) if end in alive and end not in held):
        name, words = short_end(rig, end), end_words(rig, end)
        is_own = end in own and name.startswith(own[end].about.name)
        label = own[end].about.label if is_own else words.removeprefix(name).strip()
        found.append(Part("device", name, label, (end,), circuit=circuits.get(end, "")))
    return tuple(found)


def told_by_itself(parts: Iterable[tuple[Part, Told]]) -> list[tuple[Part, Told]]:
    """The parts beside others that these do not stand for, with what is told of each.

    A circuit stands for what lies in it and is alike; a device whose ends are alike is one part.
    """
    every = list(parts)
    circuits = {part.name: told for part, told in every if part.kind in ("slot", "circuit")}
    found: list[tuple[Part, Told]] = []
    for part, told in every:
        if part.kind != "device" or circuits.get(part.circuit) == told:
            continue
        name = part.name.removesuffix(".load")
        if found and found[-1][0].name == f"{name}.line" and found[-1][1] == told:
            terminals = (*found.pop()[0].terminals, *part.terminals)
            found.append((replace(part, name=name, terminals=terminals), told))
        else:
            found.append((part, told))
    return found


@once
def parts_of_returns(study: Study) -> tuple[Part, ...]:
    """What lies on the way back: at no volts, until that is open and loads lift it to plus."""
    return (*_ends(study, "-"), *_bars(study, "-"))


def folded(table: LiveTable) -> tuple[LiveRow, ...]:
    """The rows of a table without the slots that are as their panel is."""
    panels = {row.part.name: row.cells for row in table.rows if row.part.kind == "panel"}
    return tuple(
        row
        for row in table.rows
        if row.part.kind != "slot" or row.cells != panels.get(row.part.panel)
    )


def _cells(drive: SourceReach, state: Condition, parts: Iterable[Part]) -> Iterator[Cell]:
    every, surely = opened(drive.rig, state), opened(drive.rig, state, surely=True)
    alive, sure = drive.alive(every), drive.alive(surely)
    raised = drive.through_loads(alive, every)
    # One at a time, for what is alive is kept of few states.
    coming = drive.alive(may_be(drive, state))
    for part in parts:
        by = _union(alive, part.terminals)
        through = _union(raised, part.terminals) if not by else ()
        may = _union(coming, part.terminals) if not through else ()
        waits = bool(may) and not by
        yield Cell(may or by or through, _union(sure, part.terminals), bool(through), waits)


def _union(alive: Alive, terminals: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(name for end in terminals for name in alive.get(end, ())))


def _panels(rig: Rig) -> Iterator[Part]:
    devices = rig.by_name.devices
    for panel in rig.panels:
        name, label = panel.about.name, panel.about.label
        if panel.feed != panel.bus:
            yield Part("end", f"{name} feed", AHEAD_OF_MAIN, (panel.feed,))
        yield Part("panel", name, label, (panel.bus,))
        for circuit in rig.circuits:
            if circuit.panel == name and circuit.slot:
                yield _of_circuit(rig, circuit, devices.get(circuit.device))


def _of_circuit(rig: Rig, circuit: Circuit, device: Device | None = None) -> Part:
    """A circuit at its start; one that starts nowhere is live where any of its wires is."""
    place, label = circuit.place, circuit.label
    if device is not None:
        return Part("slot", place, label, (device.load,), circuit.panel)
    start = (circuit.start,) if circuit.start else terminals_of(rig, "circuit", place).plus
    return Part("circuit", place, label, start)


def _bars(study: Study, side: str) -> Iterator[Part]:
    for one in study.rig.junctions:
        if one.traits.is_bar and study.side.get(one.terminal) == side:
            yield Part("bar", one.about.name, one.about.label, (one.terminal,))


def _ends(study: Study, side: str) -> Iterator[Part]:
    """Both ends of disconnects and selectors, and the pins of plugs that a wire lands on."""
    rig = study.rig
    landed = {end for wire in rig.conductors for end in (wire.a, wire.b)}
    landed |= {end for d in rig.devices if d.traits.slot_family for end in (d.line, d.load)}
    seen: set[str] = set()
    for device in rig.devices:
        if not device.traits.is_plug and not device.traits.parts_rig:
            continue
        for end in (device.line, device.load):
            if end in landed and end not in seen and study.side.get(end) == side:
                seen.add(end)
                kind: LiveKind = "pin" if device.traits.is_plug else "end"
                yield Part(kind, end, device.about.label, (end,))
