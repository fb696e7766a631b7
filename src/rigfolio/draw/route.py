"""Wires led round obstacles: orthogonal paths on a grid, each in a lane of its own.

A cell carries at most one wire along and one across, so that wires may cross but never run in one
lane, never bend on a crossing and never touch a corner of another. Every search is decided by
costs and by the order of the nets alone, so that the same nets give the same paths.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from heapq import heappop, heappush

Cell = tuple[int, int]
"""Column and row."""

EAST, SOUTH, WEST, NORTH = (1, 0), (0, 1), (-1, 0), (0, -1)

_STEP, _BEND, _CROSS, _NEAR = 10, 45, 60, 4
_WAYS = (EAST, SOUTH, WEST, NORTH)


class NoWayError(Exception):
    """A net finds no path; the message is its name."""


@dataclass(frozen=True, slots=True)
class Net:
    """A wire to be led: from a cell, leaving it one way, to a cell, entering it one way."""

    name: str
    start: Cell
    leave: Cell
    end: Cell
    enter: Cell


@dataclass(slots=True)
class Grid:
    """Cells that wires may use; `along` and `across` hold the number of the wire in a cell."""

    columns: int
    rows: int
    blocked: bytearray = field(init=False)
    level: list[int] = field(init=False)
    upright: list[int] = field(init=False)

    def __post_init__(self) -> None:
        """All cells free."""
        self.blocked = bytearray(self.columns * self.rows)
        self.level = [0] * (self.columns * self.rows)
        self.upright = [0] * (self.columns * self.rows)

    def block(self, left: int, top: int, right: int, bottom: int) -> None:
        """Keep wires out of all cells of a rectangle, its last column and row included."""
        for row in range(max(top, 0), min(bottom, self.rows - 1) + 1):
            for column in range(max(left, 0), min(right, self.columns - 1) + 1):
                self.blocked[row * self.columns + column] = 1

    def is_inside(self, cell: Cell) -> bool:
        """Whether the cell lies on the grid."""
        return 0 <= cell[0] < self.columns and 0 <= cell[1] < self.rows


def route(grid: Grid, nets: Sequence[Net], tries: int = 24) -> dict[str, tuple[Cell, ...]]:
    """A path for each net: its start, its bends, its end.

    Short nets go first. A net that finds no way is led before all others in the next try; at the
    end each net is led once more round all others, which takes out needless bends and crossings.

    Raises
    ------
    NoWayError
        A net finds no way in any try.
    ValueError
        A net starts or ends outside the grid, or two nets share an end.
    """
    _check(grid, nets)
    order = sorted(range(len(nets)), key=lambda n: (_span(nets[n]), n))
    for _ in range(tries):
        run = _Run(grid, nets)
        failed = run.all(order)
        if failed is None:
            run.again(order)
            return {net.name: _corners(run.paths[n]) for n, net in enumerate(nets)}
        if order[0] == failed:
            break
        order.remove(failed)
        order.insert(0, failed)
    raise NoWayError(nets[failed].name if failed is not None else "")


def _check(grid: Grid, nets: Iterable[Net]) -> None:
    seen: set[Cell] = set()
    for net in nets:
        for cell in (net.start, net.end):
            if not grid.is_inside(cell):
                raise ValueError(f"net {net.name!r} has an end at {cell}, outside the grid")
            if cell in seen:
                raise ValueError(f"net {net.name!r} shares its end at {cell}")
            seen.add(cell)


def _span(net: Net) -> int:
    return abs(net.start[0] - net.end[0]) + abs(net.start[1] - net.end[1])


def _corners(path: Sequence[Cell]) -> tuple[Cell, ...]:
    kept = [path[0]]
    for before, here, after in zip(path, path[1:], path[2:], strict=False):
        if (here[0] - before[0], here[1] - before[1]) != (after[0] - here[0], after[1] - here[1]):
            kept.append(here)
    return (*kept, path[-1])


class _Run:
    """One try at leading all nets."""

    def __init__(self, grid: Grid, nets: Sequence[Net]) -> None:
        self.grid = grid
        self.nets = nets
        self.paths: dict[int, list[Cell]] = {}
        size = grid.columns * grid.rows
        self.use = {0: list(grid.level), 1: list(grid.upright)}
        self.owner = [0] * size
        for number, net in enumerate(nets):
            for cell in (net.start, net.end):
                self.owner[cell[1] * grid.columns + cell[0]] = number + 1

    def all(self, order: Sequence[int]) -> int | None:
        """Lead the nets; the number of the first that finds no way, else None."""
        for number in order:
            path = self._search(number)
            if path is None:
                return number
            self._mark(number, path, taken=True)
        return None

    def again(self, order: Sequence[int]) -> None:
        """Lead each net once more with all others in place."""
        for number in order:
            self._mark(number, self.paths[number], taken=False)
            path = self._search(number)
            self._mark(number, path or self.paths[number], taken=True)

    def _mark(self, number: int, path: list[Cell], *, taken: bool) -> None:
        self.paths[number] = path
        columns = self.grid.columns
        value = number + 1 if taken else 0
        for one, two in zip(path, path[1:], strict=False):
            axis = 0 if one[1] == two[1] else 1
            for column, row in (one, two):
                self.use[axis][row * columns + column] = value

    def _search(self, number: int) -> list[Cell] | None:
        """The cheapest path of a net by A*, over cells and the way of entering them."""
        net = self.nets[number]
        if net.start == net.end:
            return [net.start]
        goal = (net.end, _WAYS.index(net.enter))
        start = (net.start, _WAYS.index(net.leave))
        best = {start: 0}
        came: dict[tuple[Cell, int], tuple[Cell, int]] = {}
        heap = [(_span(net) * _STEP, 0, start)]
        count = 0
        while heap:
            _, _, state = heappop(heap)
            if state == goal:
                return _walk_back(came, state)
            cost = best[state]
            for after, extra in self._moves(number, state, first=state == start):
                total = cost + extra
                if total < best.get(after, total + 1):
                    best[after] = total
                    came[after] = state
                    count += 1
                    cell = after[0]
                    far = abs(cell[0] - net.end[0]) + abs(cell[1] - net.end[1])
                    heappush(heap, (total + far * _STEP, count, after))
        return None

    def _moves(
        self, number: int, state: tuple[Cell, int], *, first: bool
    ) -> Iterable[tuple[tuple[Cell, int], int]]:
        (column, row), way = state
        grid, level, upright = self.grid, self.use[0], self.use[1]
        here = row * grid.columns + column
        is_free = not (level[here] or upright[here])
        for turn in (0,) if first else (0, 1, 3):
            after = (way + turn) % 4
            if turn and (not is_free or self.owner[here]):
                continue
            cell = (column + _WAYS[after][0], row + _WAYS[after][1])
            if not grid.is_inside(cell):
                continue
            there = cell[1] * grid.columns + cell[0]
            same, other = (level, upright) if after % 2 == 0 else (upright, level)
            if grid.blocked[there] or same[there] or self.owner[there] not in (0, number + 1):
                continue
            cost = _STEP + (_BEND if turn else 0) + (_CROSS if other[there] else 0)
            yield (cell, after), cost + self._near(there, after)

    def _near(self, there: int, way: int) -> int:
        """A little for running right beside another wire."""
        beside = self.grid.columns if way % 2 == 0 else 1
        use = self.use[way % 2]
        size = len(use)
        return _NEAR * sum(
            1 for place in (there - beside, there + beside) if 0 <= place < size and use[place]
        )


def _walk_back(
    came: dict[tuple[Cell, int], tuple[Cell, int]], state: tuple[Cell, int]
) -> list[Cell]:
    path = [state[0]]
    while state in came:
        state = came[state]
        path.append(state[0])
    return path[::-1]
