"""A network made small and exact: dead ends cut off, what lies in series made one branch.

No current flows in a dead end, and all that lies in series carries one current. So the few nodes
where sources, loads or branches meet settle what stands everywhere else.
"""

import math
from collections.abc import Collection, Mapping, Sequence

from rigfolio.calc.grid import Branch
from rigfolio.calc.nodal import OperatingPoint
from rigfolio.record import record


@record
class Chain:
    """Branches in series: `nodes` from end to end, `places` of the branches between them.

    `signs` are 1 where a branch counts along the way and -1 where it counts against it.
    """

    nodes: tuple[int, ...]
    places: tuple[int, ...]
    signs: tuple[int, ...]


class Condensed:
    """A network of branches reduced to the nodes that matter; resistances may still grow.

    Branches of no resistance that lie in series with others of none are kept apart, so that
    currents split among such branches as they did before.

    Parameters
    ----------
    branches : Sequence[Branch]
        All branches [ohm].
    kept : Collection[int]
        Nodes at which something else is joined: supplies, draws, probes.
    """

    def __init__(self, branches: Sequence[Branch], kept: Collection[int]) -> None:
        self._branches = branches
        self._at: dict[int, list[int]] = {node: [] for node in kept}
        for place, branch in enumerate(branches):
            self._at.setdefault(branch.a, [])
            self._at.setdefault(branch.b, [])
            if branch.a != branch.b:
                self._at[branch.a].append(place)
                self._at[branch.b].append(place)
        self._hangs_on = self._dead_ends(frozenset(kept))
        self._stays = {
            node for node, held in self._at.items() if node in kept or len(held) > 2
        }  # fmt: skip
        self.ways = tuple(self._found())
        ends = dict.fromkeys(end for way in self.ways for end in (way.nodes[0], way.nodes[-1]))
        self.number = {node: at for at, node in enumerate(dict.fromkeys((*kept, *ends)))}
        self._ohm = [sum(branches[place].ohm for place in way.places) for way in self.ways]
        self._on_way: dict[int, tuple[int, int]] = {}
        self._of: dict[int, tuple[int, int]] = {}
        for at, way in enumerate(self.ways):
            for step, place in enumerate(way.places):
                self._of[place] = at, step
            for step, node in enumerate(way.nodes[1:-1], start=1):
                self._on_way[node] = at, step

    def _dead_ends(self, kept: frozenset[int]) -> dict[int, tuple[int, int]]:
        """Every node of a dead end with the branch that leads out of it, and where to."""
        hangs_on: dict[int, tuple[int, int]] = {}
        waiting = [node for node, held in self._at.items() if len(held) == 1 and node not in kept]
        while waiting:
            node = waiting.pop()
            if len(self._at[node]) != 1:
                continue
            (place,) = self._at[node]
            other = self._other(place, node)
            hangs_on[node] = place, other
            self._at[node] = []
            self._at[other].remove(place)
            if len(self._at[other]) == 1 and other not in kept:
                waiting.append(other)
        return hangs_on

    def _found(self) -> list[Chain]:
        made: list[Chain] = []
        used: set[int] = set()
        for node in [*self._stays]:
            made += self._from(node, used)
        for node, held in self._at.items():
            # A ring in which no node matters: one of its nodes has to.
            if any(place not in used for place in held):
                self._stays.add(node)
                made += self._from(node, used)
        return made

    def _from(self, start: int, used: set[int]) -> list[Chain]:
        made = []
        for first in self._at[start]:
            if first in used:
                continue
            nodes, places, place = [start], [], first
            while True:
                used.add(place)
                places.append(place)
                nodes.append(self._other(place, nodes[-1]))
                if nodes[-1] in self._stays:
                    break
                one, two = self._at[nodes[-1]]
                place = two if one == place else one
            made += self._split(nodes, places)
        return made

    def _split(self, nodes: Sequence[int], places: Sequence[int]) -> list[Chain]:
        if len(places) > 1 and not any(self._branches[place].ohm for place in places):
            self._stays.update(nodes)
            pairs = zip(nodes, nodes[1:], places, strict=False)
            return [self._way((one, two), (place,)) for one, two, place in pairs]
        return [self._way(tuple(nodes), tuple(places))]

    def _way(self, nodes: tuple[int, ...], places: tuple[int, ...]) -> Chain:
        signs = (
            1 if self._branches[place].a == node else -1
            for node, place in zip(nodes, places, strict=False)
        )
        return Chain(nodes, places, tuple(signs))

    def _other(self, place: int, node: int) -> int:
        branch = self._branches[place]
        return branch.b if branch.a == node else branch.a

    def grown(self, added: Mapping[int, float]) -> tuple[tuple[int, float], ...]:
        """What resistances added to branches come to by way, those in dead ends left out [ohm]."""
        sums: dict[int, float] = {}
        for place, ohm in added.items():
            if place in self._of:
                at = self._of[place][0]
                sums[at] = sums.get(at, 0.0) + ohm
        return tuple(sorted(sums.items()))

    def branches(self, grown: Collection[tuple[int, float]]) -> tuple[Branch, ...]:
        """The ways as branches between numbered nodes, with what was added to them [ohm]."""
        more = dict(grown)
        return tuple(
            Branch(
                self.number[way.nodes[0]], self.number[way.nodes[-1]],
                self._ohm[at] + more.get(at, 0.0),
            )
            for at, way in enumerate(self.ways)
        )  # fmt: skip

    def volt(
        self,
        node: int,
        point: OperatingPoint,
        added: Mapping[int, float],
        open_ohm: float = math.inf,
    ) -> float | None:
        """Voltage at any node of the whole network [V]; None where no supply reaches.

        A dead end behind a branch to which `open_ohm` or more was added floats: a meter loads it
        more than the branch feeds it.
        """
        while node in self._hangs_on:
            place, node = self._hangs_on[node]
            if added.get(place, 0.0) >= open_ohm:
                return None
        if node in self.number:
            return point.volts[self.number[node]]
        if node not in self._on_way:
            return None
        at, step = self._on_way[node]
        way = self.ways[at]
        high = point.volts[self.number[way.nodes[0]]]
        if high is None:
            return None
        ohm = sum(self._branches[each].ohm + added.get(each, 0.0) for each in way.places[:step])
        return high - point.branch_a[at] * ohm

    def current_a(self, place: int, point: OperatingPoint) -> float:
        """Current in any branch of the whole network, from `a` to `b` [A]; 0 in a dead end."""
        if place not in self._of:
            return 0.0
        at, step = self._of[place]
        return point.branch_a[at] * self.ways[at].signs[step]
