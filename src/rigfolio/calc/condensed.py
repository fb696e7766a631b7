"""A network made small and exact: dead ends cut off, what lies in series made one branch.

No current flows in a dead end, and all that lies in series carries one current. So the few nodes
where sources, loads or branches meet settle what stands everywhere else.
"""

import math
from collections.abc import Collection, Iterable, Mapping, Sequence

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


class Twigs:
    """Branches, and what hangs on the rest of them by one way while nothing else is joined.

    Worked out once, it serves every set of nodes at which something is joined later.
    """

    def __init__(self, branches: Sequence[Branch]) -> None:
        self.branches = branches
        at = _meeting(branches, range(len(branches)), {})
        self._rank = {node: rank for rank, node in enumerate(at)}
        self.hangs_on = _taken_off(branches, at, frozenset())
        """Every node of a dead end with the branch that leads out of it, and where to."""
        self._rings = frozenset(place for held in at.values() for place in held)

    def around(self, kept: Collection[int]) -> dict[int, list[int]]:
        """The branches at some nodes and at all on the ways between them, those of rings besides.

        Nodes and branches stand in the order of all branches, kept nodes first.
        """
        places = set(self._rings)
        for node in kept:
            step = self.hangs_on.get(node)
            while step is not None and step[0] not in places:
                places.add(step[0])
                step = self.hangs_on.get(step[1])
        ends = {end for place in places for end in (self.branches[place].a, self.branches[place].b)}
        held: dict[int, list[int]] = {node: [] for node in kept}
        for node in sorted(ends, key=self._rank.__getitem__):
            held.setdefault(node, [])
        return _meeting(self.branches, sorted(places), held)


def _meeting(
    branches: Sequence[Branch], places: Iterable[int], held: dict[int, list[int]]
) -> dict[int, list[int]]:
    """Some branches by the nodes that they meet at, in the order of both; put to what is held."""
    for place in places:
        branch = branches[place]
        one, two = held.setdefault(branch.a, []), held.setdefault(branch.b, [])
        if branch.a != branch.b:
            one.append(place)
            two.append(place)
    return held


def _taken_off(
    branches: Sequence[Branch], at: dict[int, list[int]], kept: frozenset[int]
) -> dict[int, tuple[int, int]]:
    """Take every dead end off; gives each of its nodes with the branch that leads out of it.

    Parameters
    ----------
    branches : Sequence[Branch]
        All branches.
    at : dict of int to list of int
        The places of branches by node; what is taken off is taken out of it.
    kept : frozenset of int
        Nodes that are never taken off.

    Returns
    -------
    dict of int to tuple of (int, int)
        The place of the branch, and the node that it leads to.
    """
    hangs_on: dict[int, tuple[int, int]] = {}
    waiting = [node for node, held in at.items() if len(held) == 1 and node not in kept]
    while waiting:
        node = waiting.pop()
        if len(at[node]) != 1:
            continue
        (place,) = at[node]
        other = _other(branches[place], node)
        hangs_on[node] = place, other
        at[node] = []
        at[other].remove(place)
        if len(at[other]) == 1 and other not in kept:
            waiting.append(other)
    return hangs_on


def _other(branch: Branch, node: int) -> int:
    return branch.b if branch.a == node else branch.a


class Condensed:
    """A network of branches reduced to the nodes that matter; resistances may still grow.

    Branches of no resistance that lie in series with others of none are kept apart, so that
    currents split among such branches as they did before.

    Parameters
    ----------
    twigs : Twigs
        All branches [ohm], with what hangs on them by one way.
    kept : Collection[int]
        Nodes at which something else is joined: supplies, draws, probes.
    """

    def __init__(self, twigs: Twigs, kept: Collection[int]) -> None:
        self._twigs = twigs
        branches = self._branches = twigs.branches
        self._at = twigs.around(kept)
        self._hangs_on = _taken_off(branches, self._at, frozenset(kept))
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
                nodes.append(_other(self._branches[place], nodes[-1]))
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
        while (way_off := self._way_off(node)) is not None:
            place, node = way_off
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

    def _way_off(self, node: int) -> tuple[int, int] | None:
        """The branch that leads out of a dead end, and where to; None at a node of none."""
        held = self._hangs_on if node in self._at else self._twigs.hangs_on
        return held.get(node)

    def current_a(self, place: int, point: OperatingPoint) -> float:
        """Current in any branch of the whole network, from `a` to `b` [A]; 0 in a dead end."""
        if place not in self._of:
            return 0.0
        at, step = self._of[place]
        return point.branch_a[at] * self.ways[at].signs[step]
