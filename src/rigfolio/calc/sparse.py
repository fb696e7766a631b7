"""Systems of equations of conductances, mostly empty, solved without loss of digits.

A row is kept as what joins it to others and to the datum; its diagonal, the sum of all of these,
is never stored. Elimination then only adds, multiplies and divides figures above 0. Nothing is
subtracted, so nothing cancels, however far apart the conductances are: a joint of 10 megohm
beside a bar of 10 microohm costs no digit.
"""

import math
from collections.abc import Mapping, Sequence

DATUM = -1
"""The place of the datum in a row: what joins the row to 0 V."""

# Only a conductance below 0, which stands for a load of constant power, can cancel others: a
# pivot below this share of what it is made of is rounding.
_LEAST_PIVOT = 1e-13


class Factor:
    """A network of conductances taken apart as L D Lᵀ, ready for any number of right-hand sides.

    Rows are taken in the order of least degree: a tree of wires costs time in step with its size,
    and only what closes loops costs more.
    """

    __slots__ = ("_columns", "_order", "_pivots", "size")

    def __init__(
        self,
        order: Sequence[int],
        pivots: Sequence[float],
        columns: Sequence[Sequence[tuple[int, float]]],
    ) -> None:
        self.size = len(order)
        self._order = order
        self._pivots = pivots
        self._columns = columns

    def solve(self, right: Sequence[float]) -> list[float]:
        """The unknowns for one right-hand side.

        Raises
        ------
        ValueError
            `right` has another length than the matrix has rows.
        """
        if len(right) != self.size:
            raise ValueError(f"{len(right)} values for {self.size} rows")
        found = list(right)
        columns, pivots = self._columns, self._pivots
        for row in self._order:
            value = found[row]
            if value:
                for other, share in columns[row]:
                    found[other] += share * value
                found[row] = value / pivots[row]
        for row in reversed(self._order):
            value = found[row]
            for other, share in columns[row]:
                value += share * found[other]
            found[row] = value
        return found


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


def factor(rows: Sequence[Mapping[int, float]]) -> Factor:
    """Take a network of conductances apart, once for many right-hand sides.

    Parameters
    ----------
    rows : Sequence[Mapping[int, float]], shape (n, n + 1)
        What joins each row to others, by their places, and to the datum, by `DATUM` [S]; both
        halves are given, what is absent is 0.

    Returns
    -------
    Factor
        What solves the system.

    Raises
    ------
    ValueError
        Nothing joins a row to the datum, or conductances below 0 outweigh the others; the message
        and `args[1]` name the row.

    Source
    ------
    Elimination of states by W. K. Grassmann, M. I. Taksar, D. P. Heyman, Operations Research 33
    (1985) 1107-1116 (memory), rows of least degree first (common practice); any answer is checked
    against a library in the tests.

    Examples
    --------
    >>> factor([{1: 2.0, DATUM: 2.0}, {0: 2.0, DATUM: 1.0}]).solve([8.0, 0.0])
    [3.0, 2.0]
    """
    left = [{other: g for other, g in row.items() if g and other != DATUM} for row in rows]
    datum = [row.get(DATUM, 0.0) for row in rows]
    may_cancel = any(g < 0.0 for row in rows for g in row.values())
    waiting = _Waiting(list(map(len, left)))
    pivots = [0.0] * len(left)
    columns: list[list[tuple[int, float]]] = [[]] * len(left)
    for _ in rows:
        pick = waiting.pop()
        own, left[pick], to_datum = left[pick], {}, datum[pick]
        pivots[pick] = pivot = sum(own.values()) + to_datum
        if not 0.0 < pivot < math.inf or (may_cancel and _is_rounding(pivot, own, to_datum)):
            raise ValueError(f"no pivot in row {pick}: {pivot}", pick)
        columns[pick] = column = [(other, value / pivot) for other, value in own.items()]
        _take_out(left, pick, own, column)
        for other, share in column:
            datum[other] += share * to_datum
            waiting.put(other, len(left[other]))
    return Factor(waiting.taken, pivots, columns)


def _is_rounding(pivot: float, own: Mapping[int, float], to_datum: float) -> bool:
    """Whether what is below 0 has left nothing of a pivot but rounding."""
    return not pivot > _LEAST_PIVOT * (sum(map(abs, own.values())) + abs(to_datum))


def _take_out(
    left: list[dict[int, float]], pick: int, own: Mapping[int, float],
    column: list[tuple[int, float]],
) -> None:  # fmt: skip
    """Join all that meet in a row to each other as the row joined them."""
    if len(column) == 1:
        del left[column[0][0]][pick]
        return
    for place, (other, share) in enumerate(column, start=1):
        row = left[other]
        del row[pick]
        for third, _ in column[place:]:
            more = share * own[third]
            row[third] = row.get(third, 0.0) + more
            far = left[third]
            far[other] = far.get(other, 0.0) + more


class _Waiting:
    """Rows by degree; the row that came last among those of least degree is taken first."""

    __slots__ = ("degrees", "least", "shelves", "taken")

    def __init__(self, degrees: list[int]) -> None:
        self.degrees = degrees
        self.taken: list[int] = []
        self.least = 0
        self.shelves: list[list[int]] = [[] for _ in range(max(degrees, default=0) + 1)]
        for row in range(len(degrees) - 1, -1, -1):
            self.shelves[degrees[row]].append(row)

    def put(self, row: int, degree: int) -> None:
        """Shelve a row anew; where it stood before it is passed over."""
        if degree == self.degrees[row]:
            return
        self.degrees[row] = degree
        while degree >= len(self.shelves):
            self.shelves.append([])
        self.shelves[degree].append(row)
        if degree < self.least:
            self.least = degree

    def pop(self) -> int:
        """The row of least degree."""
        degrees, shelves = self.degrees, self.shelves
        least = self.least
        while True:
            shelf = shelves[least]
            if not shelf:
                least += 1
                continue
            row = shelf.pop()
            if degrees[row] == least:
                degrees[row] = -1
                self.least = least
                self.taken.append(row)
                return row
