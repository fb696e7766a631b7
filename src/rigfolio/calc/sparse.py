"""Symmetric positive definite systems of equations that are mostly empty."""

from collections.abc import Mapping, Sequence

# What is left of a pivot after rounding: below this share of its own diagonal it is none.
_LEAST_PIVOT = 1e-13


class Factor:
    """A matrix taken apart as L D Lᵀ, ready for any number of right-hand sides.

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
                    found[other] -= share * value
                found[row] = value / pivots[row]
        for row in reversed(self._order):
            value = found[row]
            for other, share in columns[row]:
                value -= share * found[other]
            found[row] = value
        return found


def factor(rows: Sequence[Mapping[int, float]]) -> Factor:
    """Take a symmetric positive definite matrix apart, once for many right-hand sides.

    Parameters
    ----------
    rows : Sequence[Mapping[int, float]], shape (n, n)
        The entries of each row by column; both halves are given, what is absent is 0.

    Returns
    -------
    Factor
        What solves the system.

    Raises
    ------
    ValueError
        The matrix is singular or not positive definite; the message and `args[1]` name the row.

    Source
    ------
    Elimination without square roots, rows of least degree first (common practice); any answer is
    checked by putting it back into the equations.

    Examples
    --------
    >>> factor([{0: 4.0, 1: 2.0}, {0: 2.0, 1: 3.0}]).solve([8.0, 8.0])
    [1.0, 2.0]
    """
    left = [{other: value for other, value in row.items() if value} for row in rows]
    least = [row.get(place, 0.0) * _LEAST_PIVOT for place, row in enumerate(left)]
    size = len(left)
    waiting = _Waiting([len(row) for row in left])
    order: list[int] = []
    pivots = [0.0] * size
    columns: list[list[tuple[int, float]]] = [[] for _ in range(size)]
    for _ in range(size):
        pick = waiting.pop()
        own = left[pick]
        pivot = own.pop(pick, 0.0)
        if not pivot > least[pick]:
            raise ValueError(f"no pivot in row {pick}: {pivot}", pick)
        order.append(pick)
        pivots[pick] = pivot
        columns[pick] = [(other, value / pivot) for other, value in own.items()]
        _take_out(left, pick, columns[pick])
        for other in own:
            waiting.put(other, len(left[other]))
        left[pick] = {}
    return Factor(order, pivots, columns)


def _take_out(left: list[dict[int, float]], pick: int, column: list[tuple[int, float]]) -> None:
    """Subtract a row from all others that meet it."""
    own = left[pick]
    for place, (other, share) in enumerate(column):
        row = left[other]
        del row[pick]
        row[other] = row.get(other, 0.0) - share * own[other]
        for third, _ in column[place + 1 :]:
            change = share * own[third]
            row[third] = row.get(third, 0.0) - change
            left[third][other] = left[third].get(other, 0.0) - change


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
