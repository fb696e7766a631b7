"""Demand: what flows in every wire and device when a rig runs from each of its sources."""

import math
from collections import deque
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from rigfolio.findings import Unknown
from rigfolio.model.graph import Device, Load, Panel, Rig, Source
from rigfolio.record import record
from rigfolio.study.net import Edge, Net, Step, edge_name, path

_ENGINE = frozenset({"alternator", "vehicle", "dc-dc"})


@record
class Demand:
    """What one edge must carry [A]: the more of what loads draw and what chargers drive.

    Every figure is that of the worst source; `unknown` are loads whose draw is not known.
    """

    current_a: float
    loads_a: float
    charge_a: float
    steady_a: float
    connected_a: float
    unknown: tuple[str, ...] = ()


@dataclass(slots=True)
class Charge:
    """What charging sources drive through one edge into batteries [A].

    Sun comes on top of either; what runs from shore and what runs from an engine do not run
    together.
    """

    sun_a: float = 0.0
    shore_a: float = 0.0
    engine_a: float = 0.0
    sources: list[str] = field(default_factory=list)

    @property
    def together_a(self) -> float:
        """The most of it at one time [A]."""
        return self.sun_a + max(self.shore_a, self.engine_a)

    def add(self, source: Source, limit_a: float) -> None:
        """Count one source."""
        self.sources.append(source.about.name)
        if source.kind == "solar":
            self.sun_a += limit_a
        elif source.kind in _ENGINE:
            self.engine_a += limit_a
        else:
            self.shore_a += limit_a


@record
class Way:
    """The edges from a source to a load and back to the source."""

    source: Source
    out: tuple[Edge, ...]
    back: tuple[Edge, ...]


@record
class _Tree:
    """What a source reaches from plus and minus, and what of it no other bank shares."""

    source: Source
    out: Mapping[str, Step | None]
    near: Mapping[str, Step | None]
    back: Mapping[str, Step | None]


class Flows:
    """The ways of every load, and what all of them together put on every edge."""

    def __init__(self, rig: Rig, net: Net, volts: Mapping[str, float], share: float) -> None:
        self.rig = rig
        self.volts = volts
        self.share = share
        self.tallies: dict[tuple[str, str], Tally] = {}
        self.charges: dict[str, Charge] = {}
        self.ways: dict[str, list[Way]] = {}
        self._sources: dict[str, list[str]] = {}
        self._limits: dict[str, float] = {}
        self._bounds: dict[tuple[str, str], float] = {}
        self._trees: list[_Tree] = []
        self._pins: dict[str, list[str]] = {}
        for device in rig.devices:
            if edge_name(device) != device.about.name:
                self._pins.setdefault(device.about.name, []).append(edge_name(device))
        joins = any(device.kind in ("combiner", "selector") for device in rig.devices)
        for source in rig.sources:
            known = isinstance(source.limit_a, float)
            self._limits[source.about.name] = source.limit_a if known else math.inf  # type: ignore[assignment]
            out, back = net.walk([source.plus]), net.walk([source.minus])
            near = _apart(net, source.plus) if joins else out
            self._trees.append(_Tree(source, out, near, back))
        banks = [tree for tree in self._trees if tree.source.kind == "battery"]
        for tree in self._trees:
            for load in rig.loads:
                served = self._way_out(tree, banks, load)
                if served is not None:
                    way = _way(tree, load, served)
                    helping = [] if tree.source.kind == "battery" else banks
                    self._count(way, load, _bound_a(way, load, helping))
            self._charge(tree.source, tree.out, tree.back)

    def current_a(self, load: Load) -> float | Unknown:
        """What a load draws at the nominal voltage of its system [A]."""
        return load.current_a(self.volts.get(load.plus, self.rig.system_v))

    def _way_out(
        self, tree: _Tree, banks: Iterable[_Tree], load: Load
    ) -> Mapping[str, Step | None] | None:
        """The tree by which a source serves a load; None where it does not.

        A combiner joins banks while they are charged, and a selector joins them for a moment or in
        need. That serves loads only where they have no bank of their own; what is charged through
        it is counted by itself.
        """
        if load.plus not in tree.out or load.minus not in tree.back:
            return None
        if _is_own(tree, load):
            return tree.near
        if any(_is_own(bank, load) for bank in banks):
            return None
        return tree.near if load.plus in tree.near else tree.out

    def _count(self, way: Way, load: Load, bound_a: float) -> None:
        """Count a load on every edge of a way; its source adds no more than a bound [A]."""
        self.ways.setdefault(load.about.name, []).append(way)
        current_a = self.current_a(load)
        for edge in (*way.out, *way.back):
            name = edge_name(edge)
            key = (way.source.about.name, name)
            self._bounds[key] = max(bound_a, self._bounds.get(key, 0.0))
            if key not in self.tallies:
                self.tallies[key] = Tally()
                self._sources.setdefault(name, []).append(way.source.about.name)
            self.tallies[key].add(load, current_a)

    def _charge(
        self, source: Source, out: Mapping[str, Step | None], back: Mapping[str, Step | None]
    ) -> None:
        """Count what a charging source drives into the batteries, once on every edge it uses."""
        if source.kind == "battery" or not isinstance(source.limit_a, float):
            return
        used: dict[str, None] = {}
        for battery in self.rig.sources:
            if battery.kind == "battery" and battery.plus in out and battery.minus in back:
                ways = (*path(out, battery.plus), *path(back, battery.minus))
                used |= dict.fromkeys(edge_name(edge) for edge in ways)
        for name in used:
            self.charges.setdefault(name, Charge()).add(source, source.limit_a)

    def demand(self, edge: str) -> Demand:
        """What an edge must carry; zero where no load and no charger uses it."""
        return self.most([edge])

    def most(self, edges: Iterable[str]) -> Demand:
        """The largest demand of some edges, each from its worst source."""
        loads_a = charge_a = steady_a = connected_a = 0.0
        unknown: dict[str, None] = {}
        for name in edges:
            for edge in self._pins.get(name, (name,)):
                charge_a = max(charge_a, self.charge_a(edge))
                for source in self._sources.get(edge, ()):
                    tally = self.tallies[(source, edge)]
                    bound_a = min(self._limits[source], self._bounds[(source, edge)])
                    loads_a = max(loads_a, min(tally.demand_a(self.share), bound_a))
                    steady_a = max(steady_a, min(tally.steady_a, bound_a))
                    connected_a = max(connected_a, tally.connected_a)
                    unknown |= dict.fromkeys(tally.unknown)
        return Demand(
            max(loads_a, charge_a), loads_a, charge_a, steady_a, connected_a, tuple(unknown)
        )

    def charge_a(self, edge: str) -> float:
        """What charging sources drive through an edge at one time [A]."""
        charge = self.charges.get(edge)
        return charge.together_a if charge else 0.0

    def together_a(self, edges: Iterable[str]) -> float:
        """What some branches draw together from their worst source [A]."""
        names = tuple(edges)
        worst_a = 0.0
        for source in self.rig.sources:
            whole = Tally()
            for edge in names:
                one = self.tallies.get((source.about.name, edge))
                if one is not None:
                    whole.steady_a += one.steady_a
                    whole.occasional_a += one.occasional_a
                    whole.largest_a = max(whole.largest_a, one.largest_a)
                    whole.circuits |= one.circuits
            worst_a = max(worst_a, min(whole.demand_a(self.share), self._limits[source.about.name]))
        return worst_a

    def users(self, edge: str) -> set[str]:
        """The circuits whose loads use an edge, and the loads that belong to none."""
        tallies = [self.tallies[(source, edge)] for source in self._sources.get(edge, ())]
        return {user for tally in tallies for user in tally.circuits}

    def from_source(self, source: str, edge: str) -> float:
        """What an edge must carry when the rig runs from one source [A]."""
        tally = self.tallies.get((source, edge))
        return tally.demand_a(self.share) if tally else 0.0

    def feeders(self, panel: Panel) -> Iterable[Way]:
        """The ways from every source to the feed of a panel and back from its negative bar."""
        if panel.negative is None:
            return
        for tree in self._trees:
            out = tree.near if panel.feed in tree.near else tree.out
            if panel.feed in out and panel.negative in tree.back:
                back = tuple(path(tree.back, panel.negative))
                yield Way(tree.source, tuple(path(out, panel.feed)), back)


def _apart(net: Net, start: str) -> dict[str, Step | None]:
    """A walk that leads neither through a combiner nor through a selector into another bank."""
    back: dict[str, Step | None] = {start: None}
    waiting = deque(back)
    while waiting:
        here = waiting.popleft()
        for edge, there in net.steps(here):
            if there not in back and not _joins_banks(edge, here):
                back[there] = (edge, here)
                waiting.append(there)
    return back


def _joins_banks(edge: Edge, here: str) -> bool:
    if not isinstance(edge, Device):
        return False
    return edge.kind == "combiner" or (edge.kind == "selector" and here == edge.load)


def _is_own(tree: _Tree, load: Load) -> bool:
    """Whether a source serves a load without the help of another bank's place on a selector."""
    if load.plus not in tree.near or load.minus not in tree.back:
        return False
    places = [
        edge.about.name
        for edge in path(tree.near, load.plus)
        if isinstance(edge, Device) and edge.kind == "selector"
    ]
    return len(places) == len(set(places))


def _way(tree: _Tree, load: Load, out: Mapping[str, Step | None]) -> Way:
    return Way(tree.source, tuple(path(out, load.plus)), tuple(path(tree.back, load.minus)))


def _bound_a(way: Way, load: Load, banks: Iterable[_Tree]) -> float:
    """The most that a source without a limit adds to a load which a bank serves too [A].

    A towing vehicle drives no more than the fuses of its own line let through, the bank gives the
    rest. Without a bank it has to serve the load alone.
    """
    if way.source.limit_a is not None:
        return math.inf
    shared: set[str] = set()
    for bank in banks:
        if _is_own(bank, load):
            shared.update(edge_name(edge) for edge in path(bank.near, load.plus))
    if not shared:
        return math.inf
    ratings = [
        edge.rating_a
        for edge in way.out
        if isinstance(edge, Device)
        and edge.protects
        and isinstance(edge.rating_a, float)
        and edge_name(edge) not in shared
    ]
    return min(ratings, default=math.inf)
