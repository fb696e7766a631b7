"""Demand: what flows in every wire and device when a rig runs from each of its sources."""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from rigfolio.findings import Unknown
from rigfolio.model.graph import Device, Load, Rig, Source
from rigfolio.record import record
from rigfolio.study.net import Edge, Net, Step, edge_name, path

_OCCASIONAL = frozenset({"intermittent", "momentary"})


@dataclass(slots=True)
class Tally:
    """What runs through one edge from one source [A].

    `connected` is every load at once. `unknown` names loads whose draw is not known.
    """

    steady_a: float = 0.0
    occasional_a: float = 0.0
    largest_a: float = 0.0
    circuits: set[str] = field(default_factory=set)
    unknown: list[str] = field(default_factory=list)

    @property
    def connected_a(self) -> float:
        """All loads at once [A]."""
        return self.steady_a + self.occasional_a

    def add(self, load: Load, current_a: float | Unknown) -> None:
        """Count one load."""
        self.circuits.add(load.circuit or load.about.name)
        if isinstance(current_a, Unknown):
            self.unknown.append(load.about.name)
        elif load.duty in _OCCASIONAL:
            self.occasional_a += current_a
            self.largest_a = max(self.largest_a, current_a)
        else:
            self.steady_a += current_a

    def demand_a(self, share: float) -> float:
        """What can be expected at one time [A].

        One circuit counts in full. Several count their steady loads in full, and of the occasional
        ones the largest, or the given share of them all where that is more.
        """
        if len(self.circuits) == 1:
            return self.connected_a
        return self.steady_a + max(self.largest_a, share * self.occasional_a)


@record
class Demand:
    """What one edge must carry [A]: the worst of all sources, and which loads are not known."""

    current_a: float
    steady_a: float
    connected_a: float
    unknown: tuple[str, ...] = ()


@dataclass(slots=True)
class Back:
    """What comes back through one edge of the minus side, and what stands before it.

    `levels` are, by circuit, the smallest device on its way out; `common` the devices that all
    those ways share.
    """

    levels: dict[str, float] = field(default_factory=dict)
    common: tuple[Device, ...] | None = None

    def add(self, circuit: str, devices: tuple[Device, ...], level_a: float) -> None:
        """Count one load that comes back here."""
        self.levels[circuit] = max(self.levels.get(circuit, 0.0), level_a)
        if self.common is None:
            self.common = devices
        else:
            self.common = tuple(device for device in self.common if device in devices)

    @property
    def bound_a(self) -> float:
        """The most that can come back before some device opens [A]; infinite if nothing opens."""
        shared = min((_rating(device) for device in self.common or ()), default=math.inf)
        return min(shared, sum(self.levels.values()))


def _rating(device: Device) -> float:
    return device.rating_a if isinstance(device.rating_a, float) else math.inf


@record
class Way:
    """The edges from a source to a load and back to the source."""

    source: Source
    out: tuple[Edge, ...]
    back: tuple[Edge, ...]


class Flows:
    """The ways of every load, and what all of them together put on every edge."""

    def __init__(self, rig: Rig, net: Net, volts: Mapping[str, float], share: float) -> None:
        self.rig = rig
        self.volts = volts
        self.share = share
        self.tallies: dict[tuple[str, str], Tally] = {}
        self.backs: dict[str, Back] = {}
        self.ways: dict[str, list[Way]] = {}
        self.charges: dict[str, float] = {}
        self._sources: dict[str, list[str]] = {}
        for source in rig.sources:
            out = net.walk([source.plus])
            back = net.walk([source.minus])
            for load in rig.loads:
                if load.plus in out and load.minus in back:
                    self._count(source, load, out, back)
            self._charge(source, out, back)

    def current_a(self, load: Load) -> float | Unknown:
        """What a load draws at the nominal voltage of its system [A]."""
        return load.current_a(self.volts.get(load.plus, self.rig.system_v))

    def _count(
        self,
        source: Source,
        load: Load,
        out: Mapping[str, Step | None],
        back: Mapping[str, Step | None],
    ) -> None:
        way = Way(source, tuple(path(out, load.plus)), tuple(path(back, load.minus)))
        self.ways.setdefault(load.about.name, []).append(way)
        current_a = self.current_a(load)
        for edge in (*way.out, *way.back):
            name = edge_name(edge)
            key = (source.about.name, name)
            if key not in self.tallies:
                self.tallies[key] = Tally()
                self._sources.setdefault(name, []).append(source.about.name)
            self.tallies[key].add(load, current_a)
        devices = tuple(e for e in way.out if isinstance(e, Device) and e.protects)
        level_a = min((_rating(device) for device in devices), default=math.inf)
        if isinstance(source.limit_a, float):
            level_a = min(level_a, source.limit_a)
        circuit = load.circuit or load.about.name
        for edge in way.back:
            self.backs.setdefault(edge_name(edge), Back()).add(circuit, devices, level_a)

    def _charge(
        self, source: Source, out: Mapping[str, Step | None], back: Mapping[str, Step | None]
    ) -> None:
        """What a charging source drives into the batteries, on every edge of that way."""
        if not isinstance(source.limit_a, float):
            return
        for battery in self.rig.sources:
            if battery.kind != "battery" or battery.plus not in out or battery.minus not in back:
                continue
            for edge in (*path(out, battery.plus), *path(back, battery.minus)):
                name = edge_name(edge)
                self.charges[name] = max(self.charges.get(name, 0.0), source.limit_a)

    def demand(self, edge: str) -> Demand:
        """What an edge must carry; zero where no load and no charger uses it."""
        return self.sum_of([edge])

    def sum_of(self, edges: Iterable[str]) -> Demand:
        """The largest demand of some edges, each from its worst source."""
        current_a = steady_a = connected_a = 0.0
        unknown: dict[str, None] = {}
        for edge in edges:
            current_a = max(current_a, self.charges.get(edge, 0.0))
            steady_a = max(steady_a, self.charges.get(edge, 0.0))
            for source in self._sources.get(edge, ()):
                tally = self.tallies[(source, edge)]
                bound_a = self._bound(source)
                current_a = max(current_a, min(tally.demand_a(self.share), bound_a))
                steady_a = max(steady_a, min(tally.steady_a, bound_a))
                connected_a = max(connected_a, tally.connected_a)
                unknown |= dict.fromkeys(tally.unknown)
        return Demand(current_a, steady_a, connected_a, tuple(unknown))

    def together_a(self, edges: Iterable[str]) -> float:
        """What some branches draw together from their worst source [A]."""
        names = tuple(edges)
        worst_a = 0.0
        for source in self.rig.sources:
            whole = Tally()
            for edge in names:
                one = self.tallies.get((source.about.name, edge), Tally())
                whole.steady_a += one.steady_a
                whole.occasional_a += one.occasional_a
                whole.largest_a = max(whole.largest_a, one.largest_a)
                whole.circuits |= one.circuits
            worst_a = max(worst_a, whole.demand_a(self.share))
        return worst_a

    def _bound(self, source: str) -> float:
        limit = next(s.limit_a for s in self.rig.sources if s.about.name == source)
        return limit if isinstance(limit, float) else math.inf

    def from_source(self, source: str, edge: str) -> float:
        """What an edge must carry when the rig runs from one source [A]."""
        tally = self.tallies.get((source, edge))
        return tally.demand_a(self.share) if tally else 0.0
