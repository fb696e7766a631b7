"""Returns: the most that can come back through each conductor of the minus side.

No fuse watches a return. What comes back through it is what can flow out to the loads and batteries
on its one side, from the sources on its other side; that is the same largest flow which decides
for conductors of the plus side.
"""

from collections.abc import Iterator, Mapping

from rigfolio.demand import flows_of
from rigfolio.model import Conductor, Device, Source
from rigfolio.network import Edge, Net, Stretch
from rigfolio.protection.inflow import reach_of
from rigfolio.record import record, replace
from rigfolio.study import Study, once


@record
class ReturnCurrent:
    """The most that can come back through a conductor [A], and what lets it.

    `current_a` is infinite where a battery drives with nothing between; `circuits` are those whose
    loads come back here.
    """

    current_a: float
    by: tuple[Device | Source, ...]
    circuits: tuple[str, ...]


@once
def returns_of(study: Study) -> dict[str, ReturnCurrent]:
    """What can come back, by conductor; assumed returns are twins of their wires and left out."""
    parts = _Parts(study)
    return {
        wire.name: parts.back(wire)
        for wire in study.rig.conductors
        if study.side.get(wire.a) == "-" and not wire.assumed and not wire.cranking
    }


class _Parts:
    """Loads and batteries by their minus terminal, and what can flow into them."""

    def __init__(self, study: Study) -> None:
        self.study = study
        self.sources = tuple(s for s in study.rig.sources if study.side.get(s.minus) == "-")
        self.names = frozenset(s.about.name for s in study.rig.sources)
        self.takes: dict[str, list[tuple[str, str]]] = {}
        """Plus terminal and circuit of what comes back at each terminal of the minus side."""
        for load in study.rig.loads:
            if study.side.get(load.plus) == "+" and study.side.get(load.minus) == "-":
                name = load.circuit or load.about.name
                self.takes.setdefault(load.minus, []).append((load.plus, name))
        for source in self.sources:
            if source.stores:
                self.takes.setdefault(source.minus, []).append((source.plus, ""))

    def back(self, wire: Conductor) -> ReturnCurrent:
        near = _smaller_side(self.study.net, wire)
        if near is None:
            return self._ring(wire)
        inside = {s.about.name for s in self.sources if s.minus in near}
        outside = {s.about.name for s in self.sources if s.minus not in near}
        found = [self._from(outside, [end for end in near if end in self.takes])]
        if inside:
            found.append(self._from(inside, [end for end in self.takes if end not in near]))
        return max(found, key=lambda one: one.current_a)

    def _from(self, driving: set[str], there: list[str]) -> ReturnCurrent:
        """What some sources drive into loads and batteries on the other side."""
        takes: dict[str, None] = {}
        circuits: dict[str, None] = {}
        for end in sorted(there):
            for plus, circuit in self.takes[end]:
                takes[plus] = None
                if circuit:
                    circuits[circuit] = None
        return self._flow(takes, driving, tuple(circuits))

    def _flow(
        self, takes: Mapping[str, None], driving: set[str], circuits: tuple[str, ...]
    ) -> ReturnCurrent:
        if not takes or not driving:
            return ReturnCurrent(0.0, (), ())
        inflow = reach_of(self.study).into(list(takes), self.names - driving)
        return ReturnCurrent(inflow.current_a, inflow.by, circuits)

    def _ring(self, wire: Conductor) -> ReturnCurrent:
        """One of several ways back: its part of what comes from each exit of the mesh."""
        flows = flows_of(self.study)
        exits: dict[str, tuple[Stretch, dict[str, None]]] = {}
        circuits: dict[str, None] = {}
        driving: set[str] = set()
        for load in self.study.rig.loads:
            for way in flows.ways.get(load.about.name, ()):
                for stretch in way.stretches:
                    if any(flows.part(stretch, wire.name)):
                        exits.setdefault(stretch.exit, (stretch, {}))[1][load.plus] = None
                        circuits[load.circuit or load.about.name] = None
                        driving.add(way.source.about.name)
        takes = {plus: None for _, held in exits.values() for plus in held}
        whole = self._flow(takes, driving, tuple(circuits))
        ahead_a = against_a = most = 0.0
        for stretch, held in exits.values():
            ahead, against = flows.part(stretch, wire.name)
            own_a = self._flow(held, driving, ()).current_a
            ahead_a += ahead * own_a if ahead else 0.0
            against_a += against * own_a if against else 0.0
            most = max(most, ahead, against)
        bound_a = whole.current_a * most if most else 0.0
        return replace(whole, current_a=min(max(ahead_a, against_a), bound_a))


def _smaller_side(net: Net, wire: Conductor) -> set[str] | None:
    """The terminals on the smaller side of a conductor; None where its ends meet another way."""
    sides = [{wire.a}, {wire.b}]
    steps = [_spread(net, wire, sides[0], wire.b), _spread(net, wire, sides[1], wire.a)]
    while True:
        for number, step in enumerate(steps):
            state = next(step, None)
            if state is None:
                return sides[number]
            if state:
                return None


def _spread(net: Net, wire: Conductor, seen: set[str], goal: str) -> Iterator[bool]:
    """Walk from one end, a terminal at a time; true once the other end is met."""
    waiting = list(seen)
    while waiting:
        here = waiting.pop()
        steps: tuple[tuple[Edge, str], ...] = net.steps(here)
        for edge, there in steps:
            if edge is not wire and there not in seen:
                seen.add(there)
                waiting.append(there)
        yield goal in seen
