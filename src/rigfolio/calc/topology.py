"""What follows from the ends of a network alone: its spots, its islands, its joins.

Networks of the same ends share it: a search for a fault solves thousands that differ in ohms.
"""

from collections.abc import Iterable
from functools import cached_property, lru_cache

from rigfolio.calc.sparse import DATUM, Factor, factor, stamp
from rigfolio.record import record

_KEPT = 256
"""Topologies that are kept, the latest used."""
_SMALL = 200
"""Nodes of a network up to which its topology is kept: a large one is solved once."""

BranchEnds = tuple[tuple[int, int, bool], ...]
"""The ends of each branch, and whether it has no resistance."""
SupplyEnds = tuple[tuple[int, int], ...]
"""Plus and minus of each supply."""
DrawEnds = tuple[tuple[int, int, bool], ...]
"""Plus and minus of each draw, and whether it is a resistance."""


Rows = tuple[int, int]
"""The rows of a matrix that something stands between, `DATUM` for the datum."""


@record
class Island:
    """What hangs together by branches, supplies and resistances, by place with its two rows.

    `spots` are its joined nodes; the first of them is its datum, each other one has a row.
    """

    spots: tuple[int, ...]
    branches: dict[int, Rows]
    supplies: dict[int, Rows]
    draws: dict[int, Rows]


class Topology:
    """The spots of a network, what of it hangs together, and what flows where nothing resists."""

    def __init__(
        self, nodes: int, branches: BranchEnds, supplies: SupplyEnds, draws: DrawEnds
    ) -> None:
        root = _roots(nodes, ((a, b) for a, b, is_join in branches if is_join))
        names = {node: place for place, node in enumerate(dict.fromkeys(root))}
        self.spot = [names[node] for node in root]
        """The spot of each node."""
        self.spots = len(names)
        self.is_kept = nodes <= _SMALL
        """Whether it is small enough to be worth keeping, and what is made of it."""
        self.row = [DATUM] * self.spots
        """The row of each spot in the matrix of its island."""
        self.islands = self._islands(branches, supplies, draws)
        self._joins = [
            (place, a, b) for place, (a, b, is_join) in enumerate(branches) if is_join and a != b
        ]

    def _islands(
        self, branches: BranchEnds, supplies: SupplyEnds, draws: DrawEnds
    ) -> tuple[Island, ...]:
        spot = self.spot
        pairs = [(spot[a], spot[b]) for a, b, _ in branches]
        pairs += [(spot[plus], spot[minus]) for plus, minus in supplies]
        pairs += [(spot[plus], spot[minus]) for plus, minus, is_ohmic in draws if is_ohmic]
        root = _roots(self.spots, pairs)
        spots: dict[int, dict[int, None]] = {}
        for _, minus in supplies:
            # The minus of its first supply is the datum of an island.
            spots.setdefault(root[spot[minus]], {})[spot[minus]] = None
        for place in range(self.spots):
            spots.setdefault(root[place], {})[place] = None
        row = self.row
        for held in spots.values():
            for at, one in enumerate(held, start=DATUM):
                row[one] = at
        found = {key: Island(tuple(held), {}, {}, {}) for key, held in spots.items()}
        for place, (a, b, _) in enumerate(branches):
            found[root[spot[a]]].branches[place] = row[spot[a]], row[spot[b]]
        for place, (plus, minus) in enumerate(supplies):
            found[root[spot[plus]]].supplies[place] = row[spot[plus]], row[spot[minus]]
        for place, (plus, minus, _) in enumerate(draws):
            one, two = spot[plus], spot[minus]
            if root[one] == root[two]:
                found[root[one]].draws[place] = row[one], row[two]
        return tuple(found.values())

    @cached_property
    def joined(self) -> tuple[list[tuple[int, int, int]], list[int], Factor]:
        """Every join by place with the rows of its ends, the node of each row, and their solver."""
        ends = dict.fromkeys(end for _, a, b in self._joins for end in (a, b))
        first = {self.spot[end]: end for end in reversed(ends)}
        inner = [end for end in ends if first[self.spot[end]] != end]
        at = {end: place for place, end in enumerate(inner)}
        pairs = [(place, at.get(a, DATUM), at.get(b, DATUM)) for place, a, b in self._joins]
        rows: list[dict[int, float]] = [{} for _ in inner]
        for _, one, two in pairs:
            stamp(rows, one, two, 1.0)
        return pairs, inner, factor(rows)


_kept = lru_cache(maxsize=_KEPT)(Topology)


def topology_of(
    nodes: int, branches: BranchEnds, supplies: SupplyEnds, draws: DrawEnds
) -> Topology:
    """What follows from the ends of a network: of a small one worked out once.

    Parameters
    ----------
    nodes : int
        How many nodes it has, numbered from 0.
    branches : tuple[tuple[int, int, bool], ...]
        The ends of each branch, and whether it has no resistance.
    supplies : tuple[tuple[int, int], ...]
        Plus and minus of each supply.
    draws : tuple[tuple[int, int, bool], ...]
        Plus and minus of each draw, and whether it is a resistance.

    Returns
    -------
    Topology
        Its spots, islands and joins.

    Source
    ------
    Kirchhoff's laws: what nothing resists has one voltage (common practice).

    Examples
    --------
    >>> topology_of(3, ((0, 1, True), (1, 2, False)), (), ()).spot
    [0, 0, 1]
    """
    make = _kept if nodes <= _SMALL else Topology
    return make(nodes, branches, supplies, draws)


def _roots(count: int, pairs: Iterable[tuple[int, int]]) -> list[int]:
    """For each number one that stands for all that are paired with it."""
    root = list(range(count))

    def top(node: int) -> int:
        while root[node] != node:
            root[node] = root[root[node]]
            node = root[node]
        return node

    for one, two in pairs:
        high, low = top(one), top(two)
        if high != low:
            root[max(high, low)] = min(high, low)
    return [top(node) for node in range(count)]
