"""Systems of equations of conductances, mostly empty, solved without loss of digits.

A row is kept as what joins it to others and to the datum; its diagonal, the sum of all of these,
is never stored. Elimination then only adds, multiplies and divides figures above 0. Nothing is
subtracted, so nothing cancels, however far apart the conductances are: a joint of 10 megohm
beside a bar of 10 microohm costs no digit.
"""

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
    waiting = _Waiting([len(row) for row in left])
    order: list[int] = []
    pivots = [0.0] * len(left)
    columns: list[list[tuple[int, float]]] = [[] for _ in left]
    for _ in rows:
        pick = waiting.pop()
        own = left[pick]
        order.append(pick)
        pivots[pick] = pivot = _pivot(pick, own, datum[pick])
        columns[pick] = column = [(other, value / pivot) for other, value in own.items()]
        _take_out(left, pick, column)
        for other, share in column:
            datum[other] += share * datum[pick]
            waiting.put(other, len(left[other]))
        left[pick] = {}
    return Factor(order, pivots, columns)


def _pivot(pick: int, own: Mapping[int, float], to_datum: float) -> float:
    pivot = sum(own.values()) + to_datum
    if not pivot > _LEAST_PIVOT * (sum(map(abs, own.values())) + abs(to_datum)):
        raise ValueError(f"no pivot in row {pick}: {pivot}", pick)
    return pivot


def _take_out(left: list[dict[int, float]], pick: int, column: list[tuple[int, float]]) -> None:
    """Join all that meet in a row to each other as the row joined them."""
    own = left[pick]
    for place, (other, share) in enumerate(column):
        row = left[other]
        del row[pick]
        for third, _ in column[place + 1 :]:
            more = share * own[third]
            row[third] = row.get(third, 0.0) + more
            left[third][other] = left[third].get(other, 0.0) + more


class _Waiting:
    """Rows by degree; the row that came last among those of least degree is taken first."""

    def __init__(self, degrees: Sequence[int]) -> None:
        self.degrees = list(degrees)
        self.least = 0
        self.shelves: list[list[int]] = [[] for _ in range(max(degrees, default=0) + 1)]
        for row in reversed(range(len(degrees))):
            self.shelves[degrees[row]].append(row)

    def put(self, row: int, degree: int) -> None:
        """Shelve a row anew; where it stood before it is passed over."""
        if degree == self.degrees[row]:
            return
        self.degrees[row] = degree
        while degree >= len(self.shelves):
            self.shelves.append([])
        self.shelves[degree].append(row)
        self.least = min(self.least, degree)

    def pop(self) -> int:
        """The row of least degree."""
        while True:
            shelf = self.shelves[self.least]
            if not shelf:
                self.least += 1
                continue
            row = shelf.pop()
            if self.degrees[row] == self.least:
                self.degrees[row] = -1
                return row
