"""Demand: what flows in every wire and device when a rig runs from each of its sources."""

from collections.abc import Iterable, Iterator, Mapping

from rigfolio.demand.counting import (
    Counts,
    ExpectedDraws,
    Systems,
    Tally,
    charges_of,
    count_apart,
    counted_a,
    unread_on,
)
from rigfolio.model import Load, Panel
from rigfolio.network import Tree, Way, edge_name, path
from rigfolio.operating import (
    Drawn,
    SizeOf,
    as_stated,
    circuit_draws,
    draws_by_circuit,
    ways_of,
)
from rigfolio.record import record
from rigfolio.study import Study, once
from rigfolio.units import is_over


@record
class Demand:
    """What one edge must carry [A]: the more of what loads draw and what chargers drive.

    Every figure is that of the worst source; `unknown` are loads whose draw is not known, and
    circuits of which nobody has read what hangs on them, `open` those of them that may make it
    carry more: not beside a source that gives no more than counts anyway.
    """

    current_a: float
    loads_a: float
    charge_a: float
    steady_a: float
    connected_a: float
    unknown: tuple[str, ...] = ()
    open: tuple[str, ...] = ()


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
        self.rig, self.nominal_v = study.rig, study.nominal_v
        self.drops_from_bar = study.book.drops_from_bar
        found = ways_of(study)
        self.ways, self._trees = found.of, found.trees
        self._systems = Systems(found.trees)
        self._feeders: dict[str, tuple[Way, ...]] = {}
        self._demands: dict[str, Demand] = {}
        self._pins: dict[str, list[str]] = {}
        for device in self.rig.devices:
            if edge_name(device) != device.about.name:
                self._pins.setdefault(device.about.name, []).append(edge_name(device))
        own = _own(study, size_of) if drawn is None else drawn[0]
        counts = Counts(study, self._systems, (own, own) if drawn is None else drawn, size_of)
        for load, way in found.served:
            counts.count(load, way, found.banks)
        count_apart(counts)
        if drawn is None:
            ExpectedDraws(counts).settle()
        counts.spread()
        self.counts = counts
        self.own, self.expected = counts.own, counts.expected
        """What each load draws with its circuit alone on, and beside all that can be expected."""
        self.charges = charges_of(study, found.trees, counts)
        self.unread = unread_on(study, found.trees)
        """By edge and by source the circuits of which nobody has read what hangs on them."""

    @property
    def lone(self) -> tuple[str, ...]:
        """The sources that alone feed what they feed, with no battery beside them."""
        return self._systems.lone

    @property
    def is_meshed(self) -> bool:
        """Whether current splits anywhere on the way of a load or a charger."""
        return self.counts.is_meshed

    def asked_a(self, source: str) -> float:
        """What can be expected of a source at one time, whatever it gives; no moment's load [A]."""
        return self.counts.asked_a(source)

    def demand(self, edge: str) -> Demand:
        """What an edge must carry; zero where no load and no charger uses it."""
        if edge not in self._demands:
            self._demands[edge] = self.most([edge])
        return self._demands[edge]

    def most(self, edges: Iterable[str]) -> Demand:
        """The largest demand of some edges: of each system the worst source, systems added up."""
        loads_a = charge_a = steady_a = connected_a = 0.0
        unknown: dict[str, None] = {}
        not_told: dict[str, None] = {}
        for name in edges:
            for edge in self._pins.get(name, (name,)):
                unknown |= dict.fromkeys(self.unread.get(edge, ()))
                not_told |= dict.fromkeys(self.unread.get(edge, ()))
                charge_a = max(charge_a, self.charge_a(edge))
                for own in self._systems.summed(self.counts.driven(edge), self.counts.share):
                    loads_a, steady_a = max(loads_a, own.loads_a), max(steady_a, own.steady_a)
                    connected_a = max(connected_a, own.connected_a)
                    unknown |= dict.fromkeys(own.unknown)
                    if is_over(own.most_a, self.charge_a(edge)):
                        not_told |= dict.fromkeys(own.unknown)
        return Demand(
            max(loads_a, charge_a), loads_a, charge_a, steady_a, connected_a, tuple(unknown),
            tuple(not_told),
        )  # fmt: skip

    def charge_a(self, edge: str) -> float:
        """What charging sources drive through an edge at one time [A]."""
        charge = self.charges.get(edge)
        return charge.together_a if charge else 0.0

    def together(self, edges: Iterable[str]) -> Iterator[tuple[Tally, float]]:
        """What some branches draw together from each source, and what that can drive [A].

        A branch by which the source itself comes in draws nothing of it.
        """
        names = tuple(edges)
        trees = {tree.source.about.name: tree for tree in self._trees}
        for source, limit_a in self.counts.limits_a.items():
            whole = Tally()
            for edge in names:
                one = self._drawn_by(trees[source], edge)
                if one is not None:
                    whole.join(one)
            yield whole, 0.0 if source in self.counts.unread else limit_a

    def _drawn_by(self, tree: Tree, branch: str) -> Tally | None:
        """What a branch draws of a source; of a bank what all of it put on the branch outwards."""
        source = tree.source.about.name
        if self.counts.is_shared(source, branch):
            held = self.counts.held(source, branch)
            return next((tally for tally in held if tally.sense > 0.0), None)
        one = self.counts.tallies.get((source, branch))
        return one if one is not None and not self._comes_in(tree, branch) else None

    def _comes_in(self, tree: Tree, branch: str) -> bool:
        """Whether a source comes to where a branch begins by the branch itself."""
        device = self.rig.by_name.devices.get(branch)
        if device is None or device.line not in tree.out:
            return False
        return any(edge is device for edge in path(tree.out, device.line))

    def together_a(self, edges: Iterable[str]) -> float:
        """What some branches draw together from their worst source [A]."""
        share = self.counts.share
        drawn = (min(whole.demand_a(share), most_a) for whole, most_a in self.together(edges))
        return max(drawn, default=0.0)

    def users(self, edge: str) -> set[str]:
        """The circuits whose loads use an edge, and the loads that belong to none."""
        counts = self.counts
        tallies = [tally for one in counts.sources(edge) for tally in counts.held(one, edge)]
        return {user for tally in tallies for user in tally.circuits}

    def is_charging_line(self, edge: str) -> bool:
        """Whether nothing runs through an edge but what charging sources drive: their own line.

        They drive no more than they are made for, and their makers choose what guards that.
        """
        charge, driving = self.charges.get(edge), set(self.counts.sources(edge))
        return charge is not None and bool(charge.sources) and driving <= set(charge.sources)

    def starting(self, edge: str) -> set[str]:
        """As `users`, of what turns an engine over: it is used for seconds, and not counted."""
        counts = self.counts
        tallies = [tally for one in counts.sources(edge) for tally in counts.held(one, edge)]
        return {user for tally in tallies for user in tally.starts}

    def from_source(
        self, source: str, edge: str, swap: tuple[Load, float] | None = None, beside: str = ""
    ) -> float:
        """What runs through an edge when the rig runs from one source, everything closed [A].

        What other systems drive through it the same way comes on top. In a mesh it is what is left
        when currents against each other are taken off; where a resistance is not known, the most
        that it may be. Outside meshes a load behind the edge may be taken to draw something else.
        What is `beside` a load counts there, where others keep that from being on.
        """
        counts = self.counts
        carried_a = counts.carried.get((source, edge))
        tally = counts.instead.get((beside, source, edge)) or counts.tallies.get((source, edge))
        more_a = 0.0
        if tally is not None and self._systems.are_several:
            more_a = self._systems.beside_a(source, tally, counts.driven(edge), counts.share)
        if carried_a is not None:
            return carried_a + more_a
        if tally is None:
            return more_a
        if swap is None:
            return tally.expected_a(counts.share) + more_a
        load, current_a = swap
        counted = counted_a(counts, load)
        return tally.expected_with(load, counted, current_a, counts.share) + more_a

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
