"""Wires between named places: where they land, what they are called, the fuses on them."""

from collections.abc import Iterable, Sequence

from rigfolio.model.asides import Assumption, Problem
from rigfolio.model.draft import Draft, FuseSaid, SeriesSaid
from rigfolio.model.ends import Landing, Pair, Run, settle
from rigfolio.model.graph import Conductor, Device
from rigfolio.model.names import Bare, Names, ends_of
from rigfolio.model.part_names import on_wire
from rigfolio.model.parts import conductor, inline_fuse, split
from rigfolio.model.wire_names import stub_name
from rigfolio.record import replace


class DraftWiring:
    """The conductors of all `wire` statements, and the fuses that sit on them.

    `called` are their names, in the order of the text.
    """

    def __init__(self, draft: Draft, names: Names, called: Sequence[str]) -> None:
        self.draft = draft
        self.names = names
        self.called = called
        self.conductors: list[Conductor] = []
        self.devices: list[Device] = []
        self.assumptions: list[Assumption] = []

    def lay(self) -> None:
        """Add every wire, in the order of the text."""
        runs = [
            Run(
                self.names.resolve(said.ends[0], said.facts.span, onward=True),
                self.names.resolve(said.ends[1], said.facts.span),
                said.facts.span,
            )
            for said in self.draft.wires
        ]
        slots = [(f"{name}.{slot}", name) for name, count in self.names.panels.items()
                 for slot in range(1, count + 1)]  # fmt: skip
        settled, problems = settle(runs, _pairs(self.names), self.draft.sources, slots)
        self.names.problems += problems
        for number, (said, run) in enumerate(zip(self.draft.wires, runs, strict=True)):
            name = self.called[number]
            ends = [
                landing if isinstance(landing, str) else settled.get((number, end), f"{name}~{end}")
                for end, landing in enumerate((run.a, run.b))
            ]
            wire = conductor(name, (ends[0], ends[1]), said.facts)
            if said.fuse is None:
                self.conductors.append(wire)
            else:
                self._fused(wire, said.fuse)

    def _fused(self, wire: Conductor, said: FuseSaid) -> None:
        """Cut a wire where its fuse sits."""
        at = wire.a if said.at is None else self._seat(wire, said)
        if said.at is None:
            text = f"{wire.name}: its fuse is taken to sit at {at}"
            self.assumptions.append(Assumption(text, said.span))
        name = on_wire(wire.name, said.kind)
        near, far = f"{wire.name}.fuse.line", f"{wire.name}.fuse.load"
        if not said.after_m:
            rest = replace(wire, a=far) if at == wire.a else replace(wire, b=far)
            self.conductors.append(rest)
            self.devices.append(inline_fuse(name, (at, far), said, wire.name))
            return
        stub, rest = split(wire, stub_name(wire.name), said.after_m)
        if at == wire.a:
            self.conductors += [replace(stub, b=near), replace(rest, a=far)]
        else:
            self.conductors += [replace(rest, b=far), replace(stub, a=near)]
        self.devices.append(inline_fuse(name, (near, far), said, wire.name))

    def _seat(self, wire: Conductor, said: FuseSaid) -> str:
        """The end of its wire that a fuse sits at or is measured from."""
        known = len(self.names.problems)
        at: Landing = self.names.resolve(said.at, said.span) if said.at else None
        ends = (wire.a, wire.b)
        if isinstance(at, Bare):
            at = next((end for end in ends if end.rsplit(".", 1)[0] == at.key), None)
        if isinstance(at, str) and at in ends:
            return at
        if len(self.names.problems) == known:
            problem = Problem("fuse-not-on-wire", said.span, str(said.at), wire.span)
            self.names.problems.append(problem)
        return wire.a


def _pairs(names: Names) -> dict[str, Pair]:
    """Every series device, and every pin of a connector, with its two ends."""
    made: dict[str, Pair] = {}
    for name, said in names.series.items():
        pins = range(1, names.pins.get(name, 0) + 1)
        for pin in (str(pin) for pin in pins) if said.is_numbered else ("",):
            key = f"{name}.{pin}" if pin else name
            line, load = ends_of(said, pin)[:2]
            made[key] = Pair(said.traits, names.meant(line), load, line in names.same)
    return made


def series_devices(series: Iterable[SeriesSaid], names: Names) -> list[Device]:
    """The devices that stand on their own; one for each pin or position."""
    made = []
    for said in series:
        if names.series.get(said.about.name) is not said:
            continue
        for number, (line, load) in enumerate(_ways(said, names), start=1):
            one = Device(said.about, said.kind, names.meant(line), names.meant(load),
                         said.rating_a, said.interrupts_a, said.family,
                         rating_span=said.rating_span, resets_itself=said.resets_itself,
                         pole=str(number) if said.poles > 1 else "", rests=said.rests,
                         found_a=said.found_a)  # fmt: skip
            made.append(in_position(one, said, number) if said.traits.excludes else one)
    return made


def in_position(device: Device, said: SeriesSaid, number: int) -> Device:
    """One of the ways of a switch that exclude each other, by its number."""
    position, rests = str(number), ""
    if said.rests:
        rests = "closed" if said.rests == position else "open"
    return replace(device, position=position, called=said.called[number - 1], rests=rests,
                   turns_off=said.turns_off)  # fmt: skip


def _ways(said: SeriesSaid, names: Names) -> Sequence[tuple[str, str]]:
    if said.is_numbered:
        pins = range(1, names.pins[said.about.name] + 1)
        return [(one[0], one[1]) for one in (ends_of(said, str(pin)) for pin in pins)]
    return ways_of(said)


def positions_of(said: SeriesSaid) -> tuple[str, ...]:
    """Where the handle of a switch may stand that makes one of several ways."""
    made = tuple(str(number) for number, _ in enumerate(said.traits.ways, start=1))
    return (*made, "off") if said.turns_off else made


def ways_of(said: SeriesSaid) -> list[tuple[str, str]]:
    """The two ends of each of its ways."""
    ends = ends_of(said)
    return [(ends[line], ends[load]) for line, load in said.traits.ways]
