"""Operating point: the voltage at every terminal and the current in every part, loads on."""

from collections.abc import Collection, Iterator, Mapping
from functools import cached_property, lru_cache
from typing import Literal

from rigfolio.calc import (
    Branch,
    Converter,
    Draw,
    Network,
    OperatingPoint,
    Supply,
    Twigs,
    conductor_temperature_c,
    operating_point,
)
from rigfolio.findings import Unknown
from rigfolio.isolation import CLOSED, Open, bank_joins
from rigfolio.model import Conductor, Load, Source
from rigfolio.network import Edge, edge_name, ends, path
from rigfolio.operating.resting import one_way
from rigfolio.record import record
from rigfolio.study import Study, once

Copper = Literal["ambient", "rated", "loaded"]
"""How hot copper is: as its surroundings, as its insulation may be, or as its current makes it."""

# What stands in for a resistance that is not given: too small to be seen in any voltage, and yet
# two sources on one bar keep apart.
STIFF_OHM = 1e-5
_ROUNDS = 30
_SAME_K = 1e-4
_MOST_BRANCHES_KEPT = 2_000


def wire_ohm(
    study: Study, wire: Conductor, temperature_c: float, *, least: bool = False
) -> float | None:
    """Resistance of all conductors of a wire side by side [ohm]; None where it is not known.

    Of a bond that of the frame is part, as far as it is stated.
    The `least` that it may be is that of the cable with the most copper in its size.
    """
    size, length_m = wire.size, wire.length_m
    if isinstance(size, Unknown) or isinstance(length_m, Unknown):
        return None
    per_m = study.least_ohm_per_m if least else study.ohm_per_m
    return per_m(wire, size, temperature_c) * length_m / wire.count + wire.frame_ohm


def has_ohm(wire: Conductor) -> bool:
    """Whether the resistance of a wire is known: its size and its length are."""
    return not isinstance(wire.size, Unknown) and not isinstance(wire.length_m, Unknown)


def source_ohm(source: Source) -> float | None:
    """Internal resistance as given, or by the maker's short-circuit current; None if neither."""
    if isinstance(source.internal_ohm, float):
        return source.internal_ohm
    if isinstance(source.short_a, float):
        return source.voltage_v / source.short_a
    return None


def operating(
    study: Study,
    *,
    loads: Collection[str] | None = None,
    sources: Collection[str] | None = None,
    opened: Open = CLOSED,
    copper: Copper = "ambient",
) -> "Operating":
    """The operating point of a rig.

    Parameters
    ----------
    study : Study
        The rig.
    loads : Collection[str], optional
        Names of the loads that are on; all of them if left out. The input of a converter follows
        what it gives.
    sources : Collection[str], optional
        Names of the sources that are on. If left out, each system runs from its batteries, and
        from its other sources where it has none.
    opened : Open
        Devices that are open and sources that are off. Of ways that exclude each other one is made,
        as the loads need it.
    copper : Copper
        Temperature of the copper.
    """
    named = [one.about.name for one in study.rig.loads] if loads is None else loads
    opened = one_way(study.rig, opened, named)
    wiring = wiring_in(study, opened)
    on = standing(study, opened) if sources is None else frozenset(sources)
    given = wiring.network(loads, on - opened.sources)
    heat = _Heat(study, copper)
    point = _solved(wiring, given, heat.start())
    for _ in range(_ROUNDS if copper == "loaded" else 0):
        warmer = heat.step(dict(zip(wiring.names, point.branch_a, strict=True)))
        point = _solved(wiring, given, heat.temperature_c)
        # What collapses in copper so warm would be served again in copper that cooled without it.
        if warmer <= _SAME_K or point.collapsed:
            break
    return Operating(study, wiring, given, point)


@once
def standing(study: Study, opened: Open = CLOSED) -> frozenset[str]:
    """The sources that a rig runs from by itself: batteries, others where a system has none.

    What charges a battery does not stand in for it where an open switch parts the two.
    """
    found: set[str] = set()
    on = [
        source
        for source in study.rig.sources
        if source.about.name not in opened.sources and not source.traits.by_light
    ]
    fed: set[str] = set()
    parting = Open(bank_joins(study.rig))
    for source in on:
        if source.stores:
            found.add(source.about.name)
            if source.plus not in fed:
                fed |= study.net.walk([source.plus], parting.bars).keys()
    return frozenset(found | {source.about.name for source in on if source.plus not in fed})


@record
class PartsOn:
    """What is on: the places that sources, loads and converters have in the network."""

    supplies: tuple[Supply, ...]
    sources: tuple[Source, ...]
    draws: tuple[Draw, ...]
    loads: tuple[Load, ...]
    converters: tuple[Converter, ...]
    unknown: tuple[Load, ...]


class Wiring:
    """Terminals as numbers and closed edges as branches."""

    def __init__(self, study: Study, opened: Open) -> None:
        self.study, self.opened = study, opened
        rig = study.rig
        edges: tuple[Edge, ...] = (*rig.conductors, *rig.devices)
        self.edges = tuple(edge for edge in edges if not opened.bars(edge))
        self.names = tuple(edge_name(edge) for edge in self.edges)
        terminals = [end for edge in edges for end in ends(edge)]
        terminals += [end for each in rig.sources for end in (each.plus, each.minus)]
        terminals += [end for load in rig.loads for end in (load.plus, load.minus)]
        self.node = {end: place for place, end in enumerate(dict.fromkeys(terminals))}

    @cached_property
    def branch_of(self) -> Mapping[str, int]:
        """The place of each closed edge among the branches, by its name."""
        return {name: place for place, name in enumerate(self.names)}

    @cached_property
    def at_ambient(self) -> Twigs:
        """The branches with copper as warm as its surroundings."""
        wires = self.study.rig.conductors
        return Twigs(self.branches({wire.name: self.study.heat(wire)[0] for wire in wires}))

    def branches(self, temperature_c: Mapping[str, float]) -> tuple[Branch, ...]:
        """All closed edges; devices, and wires of unknown resistance, count as none."""
        made = []
        for edge in self.edges:
            one, two = ends(edge)
            ohm = 0.0
            if isinstance(edge, Conductor):
                ohm = wire_ohm(self.study, edge, temperature_c[edge.name]) or 0.0
            made.append(Branch(self.node[one], self.node[two], ohm))
        return tuple(made)

    def network(self, loads: Collection[str] | None, on: frozenset[str]) -> PartsOn:
        """Supplies, draws and converters of what is on; light gives no volts to reckon with."""
        rig, node = self.study.rig, self.node
        live = tuple(s for s in rig.sources if s.about.name in on and not s.traits.by_light)
        inputs = {s.inlet: place for place, s in enumerate(live) if s.inlet}
        converters: list[Converter] = []
        draws: list[Draw] = []
        drawing: list[Load] = []
        unknown: list[Load] = []
        for load in self._on(loads, inputs):
            value = load.value
            if isinstance(value, Unknown):
                unknown.append(load)
                value = 0.0
            name = load.about.name
            if name in inputs:
                # Where it is not known what a converter loses, it loses nothing.
                share = live[inputs[name]].efficiency or 1.0
                converters.append(Converter(len(draws), inputs[name], share))
            elif isinstance(load.value, Unknown):
                continue
            draws.append(Draw(node[load.plus], node[load.minus], load.kind, value))
            drawing.append(load)
        supplies = tuple(_supply(source, node) for source in live)
        return PartsOn(
            supplies, live, tuple(draws), tuple(drawing), tuple(converters), tuple(unknown)
        )

    def _on(self, loads: Collection[str] | None, inputs: Collection[str]) -> Iterator[Load]:
        """The loads that are on; the input of a converter is one where it is wired."""
        rig = self.study.rig
        every = {s.inlet for s in rig.sources if s.inlet}
        for load in rig.loads:
            name = load.about.name
            if name in every:
                if name in inputs and self.study.net.steps(load.plus):
                    yield load
            elif loads is None or name in loads:
                yield load


@once
def wiring_in(study: Study, opened: Open) -> Wiring:
    """The wiring of a rig with something open."""
    return Wiring(study, opened)


def _supply(source: Source, node: Mapping[str, int]) -> Supply:
    ohm = source_ohm(source) or STIFF_OHM
    plus, minus = node[source.plus], node[source.minus]
    if source.traits.takes_back and not isinstance(source.limit_a, float):
        return Supply(plus, minus, source.voltage_v, ohm)
    if isinstance(source.limit_a, float):
        limit_a, unit = source.limit_a, source.unit
        return Supply(plus, minus, source.voltage_v, ohm, limit_a, one_way=True, unit=unit)
    return Supply(plus, minus, source.voltage_v, ohm, one_way=True)


def _solved(wiring: Wiring, given: PartsOn, temperature_c: Mapping[str, float]) -> OperatingPoint:
    branches = wiring.branches(temperature_c)
    net = Network(len(wiring.node), branches, given.supplies, given.draws, given.converters)
    return kept_point(net)


def kept_point(network: Network, start_w: tuple[float | None, ...] = ()) -> OperatingPoint:
    """The point of a network, kept for the same one met again; of very large ones none is kept.

    Circuits that are alike have one network, and two versions of a rig have most of theirs.
    """
    small = len(network.branches) <= _MOST_BRANCHES_KEPT
    return _kept_point(network, start_w) if small else operating_point(network, start_w)


@lru_cache(maxsize=512)
def _kept_point(network: Network, start_w: tuple[float | None, ...]) -> OperatingPoint:
    return operating_point(network, start_w)


class _Heat:
    """Temperatures of the conductors, by name."""

    def __init__(self, study: Study, copper: Copper) -> None:
        self.study, self.copper = study, copper
        self.temperature_c: dict[str, float] = {}

    def start(self) -> dict[str, float]:
        """The temperatures without a current to go by."""
        hot = int(self.copper == "rated")
        wires = self.study.rig.conductors
        self.temperature_c = {wire.name: self.study.heat(wire)[hot] for wire in wires}
        return self.temperature_c

    def step(self, current_a: Mapping[str, float]) -> float:
        """Take the temperatures that currents make; returns the largest change [K]."""
        most_k = 0.0
        for wire in self.study.rig.conductors:
            ambient_c, rated_c = self.study.heat(wire)
            limit = self.study.carries(wire)
            hot_c = rated_c
            if limit is not None and limit.value > 0.0:
                each_a = min(abs(current_a.get(wire.name, 0.0)) / wire.count, limit.value)
                limit_c = self.study.at_limit_c(wire, limit)
                hot_c = conductor_temperature_c(ambient_c, limit_c, each_a, limit.value)
            most_k = max(most_k, abs(hot_c - self.temperature_c[wire.name]))
            self.temperature_c[wire.name] = hot_c
        return most_k


class Operating:
    """An operating point, to be asked by the names of the rig.

    Wires whose size or length is not known count as without resistance, loads whose draw is not
    known as off: `doubts` says of a load whether that touches it.
    """

    def __init__(self, study: Study, wiring: Wiring, given: PartsOn, point: OperatingPoint) -> None:
        self.study, self.point = study, point
        self._wiring, self._given = wiring, given
        self._current_a = dict(zip(wiring.names, point.branch_a, strict=True))
        self._load = {load.about.name: place for place, load in enumerate(given.loads)}
        self._source = {source.about.name: place for place, source in enumerate(given.sources)}
        self.collapsed = tuple(given.loads[place] for place in point.collapsed)
        """Loads that pull the voltage to collapse; the point is that of the rig without them."""
        self.unserved = tuple(given.loads[place] for place in point.unserved)
        """Loads that are on and get no voltage, or get it the wrong way round."""
        self.at_limit = tuple(given.sources[place] for place in point.at_limit)
        """Sources that give all they may."""
        self.blocked = tuple(given.sources[place] for place in point.blocked)
        """Sources that give nothing, since another holds more voltage."""
        self.unknown_loads = given.unknown
        """Loads that are on and whose draw is not known."""

    @cached_property
    def unknown_wires(self) -> tuple[Conductor, ...]:
        """Wires whose resistance is not known."""
        wires = self.study.rig.conductors
        return tuple(wire for wire in wires if not has_ohm(wire))

    @property
    def on(self) -> tuple[Source, ...]:
        """The sources that are on."""
        return self._given.sources

    def volts(self, terminal: str) -> float | None:
        """Voltage of a terminal against the minus of the first source it hangs together with [V].

        None where no source reaches, and for a terminal that is not there.
        """
        node = self._wiring.node.get(terminal)
        return None if node is None else self.point.volts[node]

    def across_v(self, part: Load | Source) -> float | None:
        """Voltage between plus and minus of a load or a source [V]; None where it is dead."""
        high, low = self.volts(part.plus), self.volts(part.minus)
        return None if high is None or low is None else high - low

    def current_a(self, edge: str) -> float:
        """Current in a conductor from `a` to `b`, in a device from line to load [A].

        By `edge_name`; 0 in what is open.
        """
        return self._current_a.get(edge, 0.0)

    def drawn_a(self, load: str) -> float:
        """What a load draws [A]; 0 where it is off, unserved, collapsed or unknown."""
        place = self._load.get(load)
        return 0.0 if place is None else self.point.draw_a[place]

    def given_a(self, source: str) -> float:
        """What a source gives [A], negative where it takes; 0 where it is off."""
        place = self._source.get(source)
        return 0.0 if place is None else self.point.supply_a[place]

    def drop_v(self, load: Load) -> float | None:
        """What a load lacks of the highest voltage between the posts of a source that feeds it [V].

        None where it is dead.
        """
        own_v, high_v = self.across_v(load), self._supplied_v.get(load.plus)
        return None if own_v is None or high_v is None else high_v - own_v

    @cached_property
    def _supplied_v(self) -> Mapping[str, float]:
        """The highest voltage of a source for every terminal that its plus is joined to."""
        held = [(self.across_v(source) or 0.0, source) for source in self._given.sources]
        found: dict[str, float] = {}
        for high_v, source in sorted(held, key=lambda pair: -pair[0]):
            if source.plus not in found:
                for terminal in self.study.net.walk([source.plus], self._wiring.opened.bars):
                    found.setdefault(terminal, high_v)
        return found

    def doubts(self, load: Load) -> tuple[str, ...]:
        """What is not known and touches the voltage of a load: wires on its way, loads on them."""
        if not self.unknown_wires and not self.unknown_loads:
            return ()
        lost = {wire.name for wire in self.unknown_wires}
        found: dict[str, None] = {}
        for wire in self._way(load):
            if wire.name in lost:
                found[wire.name] = None
            found |= dict.fromkeys(self._unknown_on.get(wire.name, ()))
        return tuple(found)

    @cached_property
    def _unknown_on(self) -> Mapping[str, list[str]]:
        found: dict[str, list[str]] = {}
        for load in self.unknown_loads:
            for wire in self._way(load):
                found.setdefault(wire.name, []).append(load.about.name)
        return found

    @cached_property
    def _trees(self) -> tuple[Mapping[str, tuple[Edge, str] | None], ...]:
        walk, bars = self.study.net.walk, self._wiring.opened.bars
        out = walk([source.plus for source in self._given.sources], bars)
        return out, walk([source.minus for source in self._given.sources], bars)

    def _way(self, load: Load) -> Iterator[Conductor]:
        for tree, end in zip(self._trees, (load.plus, load.minus), strict=True):
            for edge in path(tree, end):
                if isinstance(edge, Conductor):
                    yield edge
