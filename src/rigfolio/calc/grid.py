"""A direct-current network as plain numbers: its nodes joined, its islands, its matrix."""

import math
from collections.abc import Iterable, Sequence
from functools import lru_cache
from typing import Literal

from rigfolio.calc.sparse import Factor, factor, stamp
from rigfolio.calc.topology import Island, Rows, Topology, topology_of
from rigfolio.record import record

DrawKind = Literal["current", "power", "resistance"]
_MOST_KEPT = 128
"""Matrices that are kept, the latest used: a search for a fault moves volts, and few ohms."""
_MOST_HELD = 32
"""Sets of supplies that hold their voltage, of which a matrix keeps how it is taken apart."""


@record
class Branch:
    """A resistance from node `a` to node `b` [ohm]; one of 0 joins the two nodes."""

    a: int
    b: int
    ohm: float


@record
class Supply:
    """A source: `emf_v` behind `ohm`, above 0.

    It gives no more than `limit_a`: beyond that it is a constant current. One that is `one_way`
    takes nothing back. Those of one `unit` are outputs of one part, which together give no more
    than the limit of one of them; they share their minus.
    """

    plus: int
    minus: int
    emf_v: float
    ohm: float
    limit_a: float = math.inf
    one_way: bool = False
    unit: str = ""


@record
class Draw:
    """A load: `value` in A, W or ohm by its kind."""

    plus: int
    minus: int
    kind: DrawKind
    value: float


@record
class Converter:
    """What a draw takes to feed a supply, both by place in the network; efficiency above 0 [-]."""

    draw: int
    supply: int
    efficiency: float


@record
class Network:
    """Nodes are numbered from 0."""

    nodes: int
    branches: tuple[Branch, ...]
    supplies: tuple[Supply, ...] = ()
    draws: tuple[Draw, ...] = ()
    converters: tuple[Converter, ...] = ()


class Grid:
    """A network with what has no resistance joined to one spot; `spot` is that of every node."""

    def __init__(self, network: Network) -> None:
        self.network = network
        self._topology = topology_of(
            network.nodes,
            tuple([(one.a, one.b, one.ohm == 0.0) for one in network.branches]),
            tuple([(one.plus, one.minus) for one in network.supplies]),
            tuple([(one.plus, one.minus, one.kind == "resistance") for one in network.draws]),
        )
        self.spot, self.spots = self._topology.spot, self._topology.spots
        self.islands = self._topology.islands

    def matrix(self, number: int) -> "Matrix":
        """The conductances of an island; of a small network those of one of the same ohms."""
        net = self.network
        make = _kept if self._topology.is_kept else _matrix
        return make(
            self._topology, number, tuple([one.ohm for one in net.branches]),
            tuple([one.ohm for one in net.supplies]), tuple([_ohm(one) for one in net.draws]),
        )  # fmt: skip

    def ends(self, one: int, two: int) -> Rows:
        """The rows of two nodes of one island, `DATUM` for its datum."""
        spot, row = self.spot, self._topology.row
        return row[spot[one]], row[spot[two]]

    def join_currents(self, currents_a: list[float], into_a: list[float]) -> None:
        """Work out what flows in branches without resistance; side by side they share alike.

        Parameters
        ----------
        currents_a : list[float]
            Current of every branch [A]; those of the joins are written here.
        into_a : list[float]
            What supplies and draws put into every node [A]; used up.
        """
        for place, branch in enumerate(self.network.branches):
            if branch.ohm:
                into_a[branch.a] -= currents_a[place]
                into_a[branch.b] += currents_a[place]
        joins, at, solver = self._topology.joined
        level = [0.0, *solver.solve([into_a[end] for end in at])]
        for place, one, two in joins:
            currents_a[place] = level[one + 1] - level[two + 1]


class Matrix:
    """The conductances of an island, its datum left out, with what is stamped on top of them.

    `branch_ohm`, `supply_ohm` and `draw_ohm` are the resistances of all that the network has, by
    place [ohm]; 0 of a join, and of a draw that is no resistance.
    """

    def __init__(
        self,
        island: Island,
        branch_ohm: Sequence[float],
        supply_ohm: Sequence[float],
        draw_ohm: Sequence[float],
    ) -> None:
        self.island, self._supply_ohm = island, supply_ohm
        self._rows: list[dict[int, float]] = [{} for _ in island.spots[1:]]
        for ohms, places in ((branch_ohm, island.branches), (draw_ohm, island.draws)):
            for place, ends in places.items():
                if ohms[place]:
                    stamp(self._rows, *ends, 1.0 / ohms[place])
        self._held: dict[tuple[int, ...], Factor] = {}

    @property
    def size(self) -> int:
        """How many unknowns it has."""
        return len(self._rows)

    def rows(
        self, supplies: Iterable[int], more: Iterable[tuple[int, int, float]] = ()
    ) -> list[dict[int, float]]:
        """What joins each row to others, with supplies that hold their voltage, and more [S]."""
        rows = [dict(row) for row in self._rows]
        for place in supplies:
            stamp(rows, *self.island.supplies[place], 1.0 / self._supply_ohm[place])
        for one, two, siemens in more:
            stamp(rows, one, two, siemens)
        return rows

    def factor(
        self, supplies: Iterable[int], more: Sequence[tuple[int, int, float]] = ()
    ) -> Factor:
        """The matrix with supplies that hold their voltage, and with more, taken apart.

        Without more it is kept.

        Raises
        ------
        ValueError
            A part of it hangs in the air, or what is below 0 outweighs the rest.
        """
        if more:
            return factor(self.rows(supplies, more))
        key = tuple(supplies)
        found = self._held.get(key)
        if found is None:
            if len(self._held) >= _MOST_HELD:
                self._held.clear()
            found = self._held[key] = factor(self.rows(key))
        return found


def _matrix(
    topology: Topology,
    number: int,
    branch_ohm: tuple[float, ...],
    supply_ohm: tuple[float, ...],
    draw_ohm: tuple[float, ...],
) -> Matrix:
    return Matrix(topology.islands[number], branch_ohm, supply_ohm, draw_ohm)


_kept = lru_cache(maxsize=_MOST_KEPT)(_matrix)


def _ohm(draw: Draw) -> float:
    return draw.value if draw.kind == "resistance" else 0.0


def across(volts: Sequence[float], ends: Rows) -> float:
    """Voltage between two rows of the unknowns of a matrix.

    Parameters
    ----------
    volts : Sequence[float], shape (n,)
        The unknowns [V].
    ends : tuple[int, int]
        The rows, -1 for the datum.

    Returns
    -------
    float
        The first above the second [V].

    Source
    ------
    Kirchhoff's voltage law (common practice).

    Examples
    --------
    >>> across([12.0, 11.5], (0, 1)), across([12.0, 11.5], (1, -1))
    (0.5, 11.5)
    """
    one, two = ends
    return (volts[one] if one >= 0 else 0.0) - (volts[two] if two >= 0 else 0.0)
