"""A direct-current network as plain numbers: its nodes joined, its islands, its matrix."""

import math
from collections.abc import Iterable, Sequence
from functools import cached_property
from typing import Literal

from rigfolio.calc.sparse import DATUM, Factor, factor
from rigfolio.record import record

DrawKind = Literal["current", "power", "resistance"]


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


@record
class Island:
    """What hangs together by branches, supplies and resistances, everything by its place.

    `spots` are its joined nodes; the first of them is its datum.
    """

    spots: tuple[int, ...]
    branches: tuple[int, ...]
    supplies: tuple[int, ...]
    draws: tuple[int, ...]


class Grid:
    """A network with what has no resistance joined to one spot; `spot` is that of every node."""

    def __init__(self, network: Network) -> None:
        self.network = network
        root = _roots(network.nodes, ((b.a, b.b) for b in network.branches if b.ohm == 0.0))
        names = {node: place for place, node in enumerate(dict.fromkeys(root))}
        self.spot = [names[node] for node in root]
        self.spots = len(names)
        self.islands = self._islands()

    def _islands(self) -> tuple[Island, ...]:
        net, spot = self.network, self.spot
        ohmic = [draw for draw in net.draws if draw.kind == "resistance"]
        pairs = [(spot[b.a], spot[b.b]) for b in net.branches]
        pairs += [(spot[each.plus], spot[each.minus]) for each in net.supplies]
        pairs += [(spot[each.plus], spot[each.minus]) for each in ohmic]
        root = _roots(self.spots, pairs)
        spots: dict[int, dict[int, None]] = {}
        for supply in net.supplies:
            # The minus of its first supply is the datum of an island.
            spots.setdefault(root[spot[supply.minus]], {})[spot[supply.minus]] = None
        for place in range(self.spots):
            spots.setdefault(root[place], {})[place] = None
        found: dict[int, tuple[list[int], list[int], list[int]]] = {
            key: ([], [], []) for key in spots
        }
        for place, branch in enumerate(net.branches):
            found[root[spot[branch.a]]][0].append(place)
        for place, supply in enumerate(net.supplies):
            found[root[spot[supply.plus]]][1].append(place)
        for place, draw in enumerate(net.draws):
            one, two = root[spot[draw.plus]], root[spot[draw.minus]]
            if one == two:
                found[one][2].append(place)
        return tuple(
            Island(tuple(held), tuple(found[key][0]), tuple(found[key][1]), tuple(found[key][2]))
            for key, held in spots.items()
        )

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
        joins, at, solver = self._joined
        level = [0.0, *solver.solve([into_a[end] for end in at])]
        for place, one, two in joins:
            currents_a[place] = level[one + 1] - level[two + 1]

    @cached_property
    def _joined(self) -> tuple[list[tuple[int, int, int]], list[int], Factor]:
        """Every join by place with the rows of its ends, the node of each row, and their solver."""
        joins = [(place, b) for place, b in enumerate(self.network.branches)
                 if not b.ohm and b.a != b.b]  # fmt: skip
        ends = dict.fromkeys(end for _, branch in joins for end in (branch.a, branch.b))
        first = {self.spot[end]: end for end in reversed(ends)}
        inner = [end for end in ends if first[self.spot[end]] != end]
        at = {end: place for place, end in enumerate(inner)}
        pairs = [(p, at.get(b.a, DATUM), at.get(b.b, DATUM)) for p, b in joins]
        rows: list[dict[int, float]] = [{} for _ in inner]
        for _, one, two in pairs:
            stamp(rows, one, two, 1.0)
        return pairs, inner, factor(rows)


class Matrix:
    """The conductances of an island, its datum left out, with what is stamped on top of them."""

    def __init__(self, grid: Grid, island: Island) -> None:
        net = grid.network
        self.at = {spot: place - 1 for place, spot in enumerate(island.spots)}
        self.rows: list[dict[int, float]] = [{} for _ in island.spots[1:]]
        self._grid = grid
        for place in island.branches:
            branch = net.branches[place]
            if branch.ohm:
                stamp(self.rows, *self.ends(branch.a, branch.b), 1.0 / branch.ohm)
        for place in island.draws:
            draw = net.draws[place]
            if draw.kind == "resistance":
                stamp(self.rows, *self.ends(draw.plus, draw.minus), 1.0 / draw.value)

    def ends(self, one: int, two: int) -> tuple[int, int]:
        """The rows of two nodes, `DATUM` for the datum."""
        spot = self._grid.spot
        return self.at[spot[one]], self.at[spot[two]]

    def factor(self, more: Iterable[tuple[int, int, float]]) -> Factor:
        """The matrix with more conductances between rows, taken apart.

        Raises
        ------
        ValueError
            A part of it hangs in the air, or what is below 0 outweighs the rest.
        """
        rows = [dict(row) for row in self.rows]
        for one, two, siemens in more:
            stamp(rows, one, two, siemens)
        return factor(rows)

    def across(self, volts: Sequence[float], plus: int, minus: int) -> float:
        """Voltage between two nodes [V], by the unknowns of the matrix."""
        one, two = self.ends(plus, minus)
        return (volts[one] if one >= 0 else 0.0) - (volts[two] if two >= 0 else 0.0)


def push(right: list[float], one: int, two: int, current_a: float) -> None:
    """Add a current between two rows of a right-hand side.

    Parameters
    ----------
    right : list[float], shape (n,)
        Currents into the nodes [A]; changed in place.
    one, two : int
        The row that it comes into and the one that it goes out of, -1 for the datum.
    current_a : float
        Current [A].

    Returns
    -------
    None

    Source
    ------
    Kirchhoff's current law (common practice).

    Examples
    --------
    >>> currents = [0.0, 0.0]
    >>> push(currents, 0, 1, 2.5)
    >>> currents
    [2.5, -2.5]
    """
    if one >= 0:
        right[one] += current_a
    if two >= 0:
        right[two] -= current_a


def stamp(rows: Sequence[dict[int, float]], one: int, two: int, siemens: float) -> None:
    """Add a conductance between two rows of a network.

    Parameters
    ----------
    rows : Sequence[dict[int, float]], shape (n, n + 1)
        What joins each row to others and to the datum [S]; changed in place.
    one, two : int
        The rows, `DATUM` for the datum.
    siemens : float
        Conductance [S].

    Returns
    -------
    None

    Source
    ------
    Nodal analysis by Kirchhoff's current law (common practice).

    Examples
    --------
    >>> rows = [{}, {}]
    >>> stamp(rows, 0, 1, 2.0)
    >>> rows
    [{1: 2.0}, {0: 2.0}]
    """
    if one == two:
        return
    if one != DATUM:
        rows[one][two] = rows[one].get(two, 0.0) + siemens
    if two != DATUM:
        rows[two][one] = rows[two].get(one, 0.0) + siemens


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
