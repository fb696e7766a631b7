"""The figures of the calculation sheet: every number with what it takes to repeat it by hand."""

import math
from collections.abc import Iterable, Iterator, Sequence

from rigfolio.books import CopperOf, Limit, taken_for
from rigfolio.calc import conductor_temperature_c
from rigfolio.demand import Drop, allowed_drop_of, drops_of, flows_of, sun_drops, told_of_loads
from rigfolio.figures.shorts import Feed, Short, Shorts
from rigfolio.findings import Finding, Unknown
from rigfolio.model import Conductor, Load, Source
from rigfolio.operating import alone, drawn_in
from rigfolio.protection import largest_fuse_of, limit_in, returns_of, start_among, told_of_wire
from rigfolio.record import record, replace
from rigfolio.sizing import Section, SectionKind, points_at, sections
from rigfolio.study import Study, as_fitted, as_found, as_it_is, fused_as_found
from rigfolio.units import Size


@record
class Bears:
    """What wires of one kind may carry and the largest device before them, each written out."""

    mark: str
    carries: Limit
    largest: Limit


@record
class SectionLine:
    """One circuit or feed.

    `moment_a` is what starts an engine through it, which counts in no demand [A]. `bears` is that
    of the wire that bears least; `returns_a` what can come back through a return [A], infinite
    where nothing but a battery limits it; `drop` is that of the load that loses most of what it is
    allowed, or of the feeder of a panel; `found` is what is said of it: severity, rule, and the
    figures that decide. `weakest` is the wire of `bears`, where those of a feed do not bear alike;
    `told_of` is what a drop is told of instead: the loads behind a feed, or a wire that carries
    more than it may.
    """

    section: Section
    demand_a: float
    moment_a: float
    bears: Bears | None
    weakest: str
    largest_a: float | None
    returns_a: float | None
    drop: Drop | None
    allowed: Limit | None
    told_of: str
    short: Short | None
    found: tuple[tuple[str, str, str], ...]

    @property
    def kind(self) -> SectionKind:
        """Circuit, feed or return."""
        return self.section.kind


@record
class WireLine:
    """What one wire loses when the rig runs from a source.

    Its current, the ambient, the temperature it is rated for, how hot it is at what it may carry,
    what that is, how hot it gets, its resistance then, and the drop: A, °C, °C, °C, A, °C, Ω, V.
    """

    wire: Conductor
    size: Size
    source: str
    current_a: float
    ambient_c: float
    rated_c: float
    limit_c: float
    limit_a: float
    hot_c: float
    ohm: float

    @property
    def drop_v(self) -> float:
        """Voltage lost along it [V]."""
        return self.ohm * self.current_a


@record
class LoadLine:
    """One load: what it draws when it is on alone, its way, and what it loses there."""

    load: Load
    current_a: float | None
    nominal_v: float
    source: str
    way: tuple[Conductor, ...]
    drop: Drop | None
    allowed: Limit


@record
class SizeResistance:
    """The resistance of a size in a family of cable at 20 °C [Ω/m]."""

    size: Size
    taken: CopperOf
    ohm_per_m: float


@record
class Calculation:
    """All lines of the sheet; `chargers` are the sources that drive current into batteries."""

    sections: tuple[SectionLine, ...]
    bears: tuple[Bears, ...]
    wires: tuple[WireLine, ...]
    loads: tuple[LoadLine, ...]
    copper: tuple[SizeResistance, ...]
    chargers: tuple[Source, ...]


def calculation(study: Study, findings: Iterable[Finding] = ()) -> Calculation:
    """The figures of a rig as it is; findings are named at the circuit or feed they point at."""
    whole, study = study, as_it_is(study)
    loads = tuple(line_of_load(study, load) for load in study.rig.loads)
    marks = LetteredLimits(study)
    # A short is one of now: what opens is what is fitted, whatever belongs there.
    shorts = Shorts(as_fitted(whole))
    lines = tuple(
        replace(line, short=shorts.of(line.section))
        for line in section_lines(whole, marks, tuple(findings))
    )
    feeds = [line.short.feed for line in lines if line.short is not None and line.short.feed]
    wires = tuple(_wires(study, loads, feeds))
    used = {(line.size.text, study.cable(line.wire).name): line for line in wires}
    copper = tuple(
        SizeResistance(
            line.size,
            taken_for(line.size, study.cable(line.wire).name),
            study.ohm_per_m(line.wire, line.size, 20.0),
        )
        for line in sorted(used.values(), key=lambda line: line.size.area_m2)
    )
    chargers = tuple(
        source
        for source in study.rig.sources
        if not source.stores and isinstance(source.limit_a, float)
    )
    return Calculation(lines, tuple(marks.held.values()), wires, loads, copper, chargers)


def section_lines(
    study: Study, marks: "LetteredLimits", findings: Sequence[Finding]
) -> Iterator[SectionLine]:
    """The lines of circuits and feeds of a rig as it is, without what a short does.

    The largest device is that which guards the wires that are there and those that belong there.
    """
    guarded, study = as_found(study), as_it_is(study)
    for one in sections(study):
        yield replace(_section(study, marks, one, guarded), found=_found(study, one, findings))


class LetteredLimits:
    """What wires may carry, each way of working it out once, with a letter to point at it."""

    def __init__(self, study: Study) -> None:
        self.study = as_it_is(study)
        self.held: dict[tuple[str, str], Bears] = {}

    def of(self, wire: Conductor) -> Bears | None:
        """What all conductors side by side may carry; None where that is not known."""
        if isinstance(wire.size, Unknown):
            return None
        carries = self.study.carries_all_of(wire, wire.size)
        largest = limit_in(self.study, wire, wire.size)
        if carries is None or largest is None:
            return None
        key = (carries.how, largest.how)
        if key not in self.held:
            self.held[key] = Bears(_letters(len(self.held)), carries, largest)
        return self.held[key]


def _letters(number: int) -> str:
    """`a` to `z`, then `aa`, `ab`."""
    tail = chr(ord("a") + number % 26)
    return tail if number < 26 else _letters(number // 26 - 1) + tail


def _section(study: Study, marks: LetteredLimits, section: Section, guarded: Study) -> SectionLine:
    """The line of a section, without what was found and what a short does."""
    wires = [wire for group in section.groups for wire in group.wires]
    edges = [*(d.about.name for d in section.devices), *(wire.name for wire in wires)]
    judged = [wire for wire in wires if study.is_judged_lead(wire)]
    every = [marks.of(wire) for wire in judged]
    known = [one for one in every if one is not None]
    bears = None
    if known and len(known) == len(judged):
        bears = min(known, key=lambda one: (one.carries.value, one.largest.value))
    largest = [one.largest.value for one in known] if bears is not None else []
    circuit = study.circuit(section.place) if section.kind == "circuit" else None
    if circuit is not None:
        limit = largest_fuse_of(guarded, circuit)
        largest = [] if limit is None else [limit.value]
    fused = fused_as_found(study)
    back = returns_of(fused).get(wires[0].name) if section.kind == "return" else None
    drop, allowed = _drop(study, section)
    start = start_among(study, edges)
    return SectionLine(
        section=section,
        demand_a=flows_of(study).most(edges).current_a,
        moment_a=0.0 if start is None else start[0],
        bears=bears,
        weakest=_weakest(section, judged, every) if bears is not None else "",
        largest_a=min(largest, default=None),
        returns_a=None if back is None else back.current_a,
        drop=drop,
        allowed=allowed,
        told_of=_told_of(study, section, drop),
        short=None,
        found=(),
    )


def _told_of(study: Study, section: Section, drop: Drop | None) -> str:
    """What a drop is told of that has no finding of its own; empty where it would have one."""
    if told_of_loads(study) & _panels(study, section):
        return "its loads"
    return told_of_wire(study, drop.worst) if drop is not None else ""


def _weakest(section: Section, wires: Sequence[Conductor], every: Sequence[Bears | None]) -> str:
    """The wire of a feed that bears least, where its wires do not bear alike."""
    known = [(one.carries.value, wire.name) for wire, one in zip(wires, every, strict=True) if one]
    is_one = section.kind != "feed" or len({carries_a for carries_a, _ in known}) == 1
    return "" if is_one else min(known, key=lambda one: one[0])[1]


def _panels(study: Study, section: Section) -> set[str]:
    """The panels that a feed leads to."""
    ends = {end for group in section.groups for wire in group.wires for end in (wire.a, wire.b)}
    return {panel.about.name for panel in study.rig.panels if panel.feed in ends}


def _drop(study: Study, section: Section) -> tuple[Drop | None, Limit | None]:
    """The drop of the load of a circuit that is worst off, or of the panel that is fed."""
    if section.kind == "circuit":
        worst: tuple[Drop, Limit] | None = None
        for load in study.rig.loads:
            if load.circuit != section.place:
                continue
            drop, allowed = drops_of(study).of(load), allowed_drop_of(study, load)
            if drop is None:
                return None, None
            if worst is None or drop.share / allowed.value > worst[0].share / worst[1].value:
                worst = drop, allowed
        if worst is not None:
            return worst
    for panel in study.rig.panels:
        if section.kind != "return" and panel.about.name in _panels(study, section):
            return drops_of(study).feeder(panel), study.book.feeder_drop_share()
    return None, None


def _found(
    study: Study, section: Section, findings: Sequence[Finding]
) -> tuple[tuple[str, str, str], ...]:
    """The findings that point at a wire, a device, a load or the line of a section."""
    return tuple(
        dict.fromkeys(
            (finding.severity.value, finding.rule, _figures_of(finding))
            for finding in findings
            if points_at(study, section, finding)
        )
    )


def _figures_of(finding: Finding) -> str:
    """The figures that decide a finding: its headline, and what is said at its place."""
    return "; ".join(filter(None, (finding.headline, finding.at.text)))


def line_of_load(study: Study, load: Load) -> LoadLine:
    """What a load draws when it is on alone, its way, and what it loses there."""
    current_a = drawn_in(study, load, alone(study, load)).current_a
    drop = drops_of(study).of(load)
    edges = (*drop.way.out, *drop.way.back) if drop is not None else ()
    return LoadLine(
        load=load,
        current_a=None if isinstance(current_a, Unknown) else current_a,
        nominal_v=study.nominal_v(load.plus),
        source=drop.way.source.about.name if drop is not None else "",
        way=tuple(edge for edge in edges if isinstance(edge, Conductor)),
        drop=drop,
        allowed=allowed_drop_of(study, load),
    )


def _wires(study: Study, loads: Iterable[LoadLine], feeds: Iterable[Feed]) -> Iterator[WireLine]:
    """The wires on the way of any load, panel feeder or short, once for each source."""
    used: dict[tuple[str, str], Conductor] = {}
    for feed in feeds:
        used |= {(wire.name, feed.source.about.name): wire for wire in feed.way}
    for line in loads:
        for wire in (*line.way, *_split(line.drop)):
            used.setdefault((wire.name, line.source), wire)
    for panel in study.rig.panels:
        drop = drops_of(study).feeder(panel)
        if drop is not None:
            for edge in (*drop.way.out, *drop.way.back):
                if isinstance(edge, Conductor):
                    used.setdefault((edge.name, drop.way.source.about.name), edge)
            source = drop.way.source.about.name
            used |= {(wire.name, source): wire for wire in _split(drop)}
    order = {wire.name: number for number, wire in enumerate(study.rig.conductors)}
    for (name, source), wire in sorted(used.items(), key=lambda one: (order[one[0][0]], one[0])):
        made = _wire(study, wire, source, flows_of(study).from_source(source, name))
        if made is not None:
            yield made
    yield from _sun_wires(study)


def _sun_wires(study: Study) -> Iterator[WireLine]:
    """The wires between modules and controllers, with the modules at their greatest power."""
    used: dict[str, tuple[Conductor, float, list[str]]] = {}
    for drop in sun_drops(study):
        for (wire, _), current_a in zip(drop.by_wire, drop.amps, strict=True):
            used.setdefault(wire.name, (wire, current_a, []))[2].append(drop.array.about.name)
    for wire, current_a, arrays in used.values():
        made = _wire(study, wire, ", ".join(arrays), current_a)
        if made is not None:
            yield made


def _split(drop: Drop | None) -> Iterator[Conductor]:
    """The wires of the meshes on a way, which share what runs there."""
    for stretch in drop.way.stretches if drop is not None else ():
        yield from (edge for edge in stretch.mesh.edges if isinstance(edge, Conductor))


def _wire(study: Study, wire: Conductor, source: str, current_a: float) -> WireLine | None:
    size = wire.size
    if isinstance(size, Unknown):
        return None
    ohm = drops_of(study).ohm(wire, current_a, size)
    if ohm is None:
        return None
    limit = study.carries_of(wire, size)
    (ambient_c, rated_c), limit_c = study.heat(wire), study.at_limit_c(wire, limit)
    limit_a = math.nan if limit is None else limit.value
    hot_c = limit_c
    if limit is not None and limit.value > 0.0:
        share_a = min(current_a / wire.count, limit.value)
        hot_c = conductor_temperature_c(ambient_c, limit_c, share_a, limit.value)
    return WireLine(wire, size, source, current_a, ambient_c, rated_c, limit_c, limit_a, hot_c, ohm)
