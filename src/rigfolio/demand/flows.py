"""Demand: what flows in every wire and device when a rig runs from each of its sources."""

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from rigfolio.demand.expected import ExpectedDraws
from rigfolio.demand.systems import Driven, Systems
from rigfolio.demand.tally import Tally, is_occasional
from rigfolio.model import Device, Load, Panel, Source
from rigfolio.network import Tree, Way, edge_name, path
from rigfolio.operating import (
    Drawn,
    SizeOf,
    as_stated,
    circuit_draws,
    copper_of,
    directions,
    draws_by_circuit,
    homes_of,
    ways_of,
)
from rigfolio.record import record
from rigfolio.study import Study, once

if TYPE_CHECKING:
    from rigfolio.demand.split import Fed
    from rigfolio.network import Stretch


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
        together = source.traits.charges_with
        if together == "sun":
            self.sun_a += limit_a
        elif together == "engine":
            self.engine_a += limit_a
        else:
            self.shore_a += limit_a


class Flows:
    """The ways of every load, and what all of them together put on every edge.

    Wires are as stated, or of sizes on trial. What loads draw follows from that; where it is given,
    with their own circuit alone and beside what else runs, it is taken as it is.
    """

    def __init__(
        self,
        study: Study,
        size_of: SizeOf = as_stated,
        drawn: tuple[Mapping[str, Drawn], Mapping[str, Drawn]] | None = None,
    ) -> None:
        self.rig, self.volts, self.size_of = study.rig, study.volts, size_of
        self.share = study.book.intermittent_share().value
        self.copper = copper_of(study)
        self.drops_from_bar = study.book.drops_from_bar
        self.tallies: dict[tuple[str, str], Tally] = {}
        """The worst of what runs through an edge, by source and edge."""
        self._others: dict[tuple[str, str], list[Tally]] = {}
        self._carried: dict[tuple[str, str], float] = {}
        self._fed: dict[tuple[str, int, str], Fed] = {}
        self._feeders: dict[str, tuple[Way, ...]] = {}
        self.charges: dict[str, Charge] = {}
        self._sources: dict[str, list[str]] = {}
        self.limits_a: dict[str, float] = {}
        """What each source adds at most [A].

        Without bound where that is not stated or not known, and where no other source helps.
        """
        self._bounds: dict[tuple[str, str], float] = {}
        self._pins: dict[str, list[str]] = {}
        for device in self.rig.devices:
            if edge_name(device) != device.about.name:
                self._pins.setdefault(device.about.name, []).append(edge_name(device))
        for source in self.rig.sources:
            known = isinstance(source.limit_a, float)
            self.limits_a[source.about.name] = source.limit_a if known else math.inf  # type: ignore[assignment]
        self.own = _own(study, size_of) if drawn is None else drawn[0]
        """What each load draws with its own circuit on and nothing else."""
        self.expected: dict[str, Drawn] = dict(self.own if drawn is None else drawn[1])
        """What each load draws beside all that can be expected to run with it."""
        found = ways_of(study)
        self._trees = found.trees
        self._systems = Systems(found.trees)
        for name in self._systems.lone:
            # Nothing else gives what it does not: what its loads ask for is judged in full.
            self.limits_a[name] = math.inf
        self.ways = found.of
        self._whole: dict[str, Tally] = {}
        self._on: list[tuple[Load, list[Tally]]] = []
        for load, way in found.served:
            helping = [] if way.source.stores else found.banks
            self._count(way, load, _bound_a(way, load, helping))
        homes = homes_of(study)
        self.homes = {load.about.name: (load, homes[load.about.name])
                      for load in self.rig.loads if load.about.name in homes}  # fmt: skip
        """Each load that a source serves, with the way that it runs by."""
        if drawn is None:
            ExpectedDraws(self).settle()
        for (source_name, _, _), fed in self._fed.items():
            self._spread(source_name, fed)
        for tree in self._trees:
            self._charge(tree)

    def _count(self, way: Way, load: Load, bound_a: float) -> None:
        """Count a load on every edge of a way; its source adds no more than a bound [A]."""
        source = way.source.about.name
        whole = self._whole.setdefault(source, Tally())
        # What runs a moment does not set the volts that the rest is judged at.
        on = [] if load.duty == "momentary" else [whole]
        senses = directions(load, way) if self._systems.are_several else {}
        for name in way.single():
            key = (source, name)
            self._bounds[key] = max(bound_a, self._bounds.get(key, 0.0))
            if key not in self.tallies:
                self.tallies[key] = Tally(sense=senses.get(name, 0.0))
                self._sources.setdefault(name, []).append(source)
            on.append(self.tallies[key])
        for stretch in way.stretches:
            fed = self.fed(source, stretch)
            fed.bound_a = max(fed.bound_a, bound_a)
            on.append(fed.behind.setdefault(stretch.exit, Tally()))
        own, expected = self.own[load.about.name], self.expected[load.about.name]
        for tally in on:
            tally.add(load, own, expected)
        self._on.append((load, on))

    def fill(self) -> None:
        """Count anew what all loads draw."""
        for whole in (*self._whole.values(), *self.tallies.values()):
            whole.clear()
        for fed in self._fed.values():
            for behind in fed.behind.values():
                behind.clear()
        for load, on in self._on:
            expected_a = self.expected[load.about.name].known_a
            comes_and_goes = is_occasional(load)
            for tally in on:
                tally.count(expected_a, comes_and_goes=comes_and_goes)
        for fed in self._fed.values():
            fed.forget()

    def given_a(self, source: str) -> float:
        """What a source gives to what can be expected of its loads, within its limit [A].

        What runs a moment is left aside.
        """
        whole = self._whole.get(source)
        return min(whole.expected_a(self.share), self.limits_a[source]) if whole else 0.0

    def connected_a(self, source: str) -> float:
        """What a source gives with all on at once, whatever its limit, but for a moment's [A]."""
        whole = self._whole.get(source)
        return whole.connected_a if whole else 0.0

    @property
    def lone(self) -> tuple[str, ...]:
        """The sources that alone feed what they feed, with no battery beside them."""
        return self._systems.lone

    def asked_a(self, source: str) -> float:
        """What can be expected of a source at one time, whatever it gives; no moment's load [A]."""
        whole = self._whole.get(source)
        return whole.expected_a(self.share) if whole else 0.0

    @property
    def is_meshed(self) -> bool:
        """Whether current splits anywhere on the way of a load or a charger."""
        return bool(self._fed)

    def fed(self, source: str, stretch: "Stretch") -> "Fed":
        """A mesh as a source feeds it, with all loads behind it."""
        from rigfolio.demand.split import Fed

        key = (source, stretch.mesh.number, stretch.entry)
        if key not in self._fed:
            self._fed[key] = Fed(stretch.mesh, stretch.entry, self.copper, self.share, self.size_of)
        return self._fed[key]

    def part(self, stretch: "Stretch", edge: str) -> tuple[float, float]:
        """The most of what leaves a mesh with a way that can run through an edge of it [-].

        From the first end of the edge to its second, and the other way.
        """
        key = (stretch.exit, edge)
        found = [fed.parts[key] for fed in self._fed.values() if key in fed.parts]
        return max((one for one, _ in found), default=0.0), max(
            (two for _, two in found), default=0.0
        )

    def _spread(self, source: str, fed: "Fed") -> None:
        """Count what a mesh carries on its edges, each as it splits."""
        found: dict[str, list[Tally]] = {}
        for name, tally in fed.tallies():
            found.setdefault(name, []).append(tally)
        for name, tallies in found.items():
            key = (source, name)
            self._bounds[key] = max(fed.bound_a, self._bounds.get(key, 0.0))
            tallies.sort(key=lambda tally: -tally.demand_a(self.share))
            if key not in self.tallies:
                self.tallies[key], self._others[key] = tallies[0], tallies[1:]
                self._sources.setdefault(name, []).append(source)
                continue
            # By another way through a selector or a combiner the source feeds it for more loads.
            for tally in (self.tallies[key], *self._others.get(key, ())):
                tally.add_part(tallies[0], 1.0)
        settled = fed.settled()
        for name, current_a in settled.current_a.items() if settled is not None else ():
            key = (source, name)
            self._carried[key] = self._carried.get(key, 0.0) + current_a

    def _charge(self, tree: Tree) -> None:
        """Count what a charging source drives into the batteries, once on every edge it uses."""
        source = tree.source
        if source.stores or not isinstance(source.limit_a, float):
            return
        used: dict[str, float] = {}
        for battery in self.rig.sources:
            if battery.stores and battery.plus in tree.out and battery.minus in tree.back:
                way = tree.way(tree.out, battery.plus, battery.minus)
                used |= dict.fromkeys(way.single(), source.limit_a)
                for stretch in way.stretches:
                    fed = self.fed(source.about.name, stretch)
                    for name, most_a in fed.most(source.limit_a, stretch.exit).items():
                        used[name] = max(used.get(name, 0.0), most_a)
        for name, limit_a in used.items():
            self.charges.setdefault(name, Charge()).add(source, limit_a)

    def demand(self, edge: str) -> Demand:
        """What an edge must carry; zero where no load and no charger uses it."""
        return self.most([edge])

    def most(self, edges: Iterable[str]) -> Demand:
        """The largest demand of some edges: of each system the worst source, systems added up."""
        loads_a = charge_a = steady_a = connected_a = 0.0
        unknown: dict[str, None] = {}
        for name in edges:
            for edge in self._pins.get(name, (name,)):
                charge_a = max(charge_a, self.charge_a(edge))
                for own in self._systems.summed(self._driven(edge), self.share):
                    loads_a, steady_a = max(loads_a, own.loads_a), max(steady_a, own.steady_a)
                    connected_a = max(connected_a, own.connected_a)
                    unknown |= dict.fromkeys(own.unknown)
        return Demand(
            max(loads_a, charge_a), loads_a, charge_a, steady_a, connected_a, tuple(unknown)
        )

    def _driven(self, edge: str) -> Iterator[Driven]:
        """What each source puts on an edge, by direction and by what is open."""
        for source in self._sources.get(edge, ()):
            bound_a = min(self.limits_a[source], self._bounds[(source, edge)])
            for tally in self._held(source, edge):
                yield Driven(source, tally, bound_a)

    def _held(self, source: str, edge: str) -> Iterable[Tally]:
        """What may run through an edge from a source, by direction and by what is open."""
        key = (source, edge)
        return (self.tallies[key], *self._others.get(key, ()))

    def charge_a(self, edge: str) -> float:
        """What charging sources drive through an edge at one time [A]."""
        charge = self.charges.get(edge)
        return charge.together_a if charge else 0.0

    def together(self, edges: Iterable[str]) -> Iterator[tuple[Tally, float]]:
        """What some branches draw together from each source, and what that can drive [A]."""
        names = tuple(edges)
        for source, limit_a in self.limits_a.items():
            whole = Tally()
            for edge in names:
                one = self.tallies.get((source, edge))
                if one is not None:
                    whole.join(one)
            yield whole, limit_a

    def together_a(self, edges: Iterable[str]) -> float:
        """What some branches draw together from their worst source [A]."""
        drawn = (min(whole.demand_a(self.share), most_a) for whole, most_a in self.together(edges))
        return max(drawn, default=0.0)

    def users(self, edge: str) -> set[str]:
        """The circuits whose loads use an edge, and the loads that belong to none."""
        tallies = [tally for one in self._sources.get(edge, ()) for tally in self._held(one, edge)]
        return {user for tally in tallies for user in tally.circuits}

    def from_source(self, source: str, edge: str, swap: tuple[Load, float] | None = None) -> float:
        """What runs through an edge when the rig runs from one source, everything closed [A].

        What other systems drive through it the same way comes on top. In a mesh it is what is left
        when currents against each other are taken off; where a resistance is not known, the most
        that it may be. Outside meshes a load behind the edge may be taken to draw something else.
        """
        carried_a = self._carried.get((source, edge))
        tally = self.tallies.get((source, edge))
        more_a = 0.0
        if tally is not None and self._systems.are_several:
            more_a = self._systems.beside_a(source, tally, self._driven(edge), self.share)
        if carried_a is not None:
            return carried_a + more_a
        if tally is not None and swap is not None:
            load, current_a = swap
            tally = tally.swapped(load, self.expected[load.about.name].known_a, current_a)
        return (tally.expected_a(self.share) if tally else 0.0) + more_a

    def feeders(self, panel: Panel) -> tuple[Way, ...]:
        """The ways from every source to the feed of a panel and back from its negative bar."""
        name = panel.about.name
        if name not in self._feeders:
            self._feeders[name] = tuple(self._to_panel(panel))
        return self._feeders[name]

    def _to_panel(self, panel: Panel) -> Iterator[Way]:
        if panel.negative is None:
            return
        for tree in self._trees:
            out = tree.near if panel.feed in tree.near else tree.out
            if panel.feed in out and panel.negative in tree.back:
                yield tree.way(out, panel.feed, panel.negative)


def _own(study: Study, size_of: SizeOf) -> Mapping[str, Drawn]:
    if size_of is as_stated:
        return circuit_draws(study)
    return draws_by_circuit(study, study.rig.loads, size_of)


@once
def flows_of(study: Study) -> Flows:
    """What all loads put on every wire and device."""
    return Flows(study)


def _bound_a(way: Way, load: Load, banks: Iterable[Tree]) -> float:
    """The most that a source without a limit adds to a load which a bank serves too [A].

    A towing vehicle drives no more than the fuses of its own line let through, the bank gives the
    rest. Without a bank it has to serve the load alone.
    """
    if way.source.limit_a is not None:
        return math.inf
    shared: set[str] = set()
    for bank in banks:
        if bank.is_own(load):
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
