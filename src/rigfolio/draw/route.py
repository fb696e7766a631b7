"""Wires led round obstacles: orthogonal paths on a grid, each in a lane of its own.

A cell carries at most one wire along and one across, so that wires may cross but never run in one
lane, never bend on a crossing and never touch a corner of another. Every search is decided by
costs and by the order of the nets alone, so that the same nets give the same paths.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from heapq import heappop, heappush
from itertools import pairwise

Cell = tuple[int, int]
"""Column and row."""

EAST, SOUTH, WEST, NORTH = (1, 0), (0, 1), (-1, 0), (0, -1)

_STEP, _BEND, _CROSS, _NEAR, _SHUN = 10, 45, 60, 4, 25
_FORCE, _DEARER, _TURNS = 400, 60, 2
_WAYS = (EAST, SOUTH, WEST, NORTH)


class NoWayError(Exception):
    """A net finds no path; the message is its name."""


@dataclass(frozen=True, slots=True)
class Net:
    """A wire to be led: from a cell, leaving it one way, to a cell, entering it one way.

    `shun` is a rectangle (left, top, right, bottom) that it keeps out of where it can.
    """

    name: str
    start: Cell
    leave: Cell
    end: Cell
    enter: Cell
    shun: tuple[int, int, int, int] | None = None


@dataclass(slots=True)
class Grid:
    """Cells that wires may use, row by row."""

    columns: int
    rows: int
    blocked: bytearray = field(init=False)

    def __post_init__(self) -> None:
        """All cells free."""
        self.blocked = bytearray(self.columns * self.rows)

    def block(self, left: int, top: int, right: int, bottom: int) -> None:
        """Keep wires out of all cells of a rectangle, its last column and row included."""
        for row in range(max(top, 0), min(bottom, self.rows - 1) + 1):
            for column in range(max(left, 0), min(right, self.columns - 1) + 1):
                self.blocked[row * self.columns + column] = 1

    def is_inside(self, cell: Cell) -> bool:
        """Whether the cell lies on the grid."""
        return 0 <= cell[0] < self.columns and 0 <= cell[1] < self.rows


def route(grid: Grid, nets: Sequence[Net]) -> dict[str, tuple[Cell, ...]]:
    """A path for each net: its start, its bends, its end.

    Short nets go first. A net that finds no way takes the lane of others, which are then led
    anew; a lane that was fought for grows dearer. At the end each net is led once more round all
    others, which takes out needless bends and crossings.

    Raises
    ------
    NoWayError
        A net is walled in, or the nets have no room beside each other.
    ValueError
        A net starts or ends outside the grid, or two nets share an end.
    """
    _check(grid, nets)
    order = sorted(range(len(nets)), key=lambda n: (_span(nets[n]), n))
    run = _Run(grid, nets)
    waiting = list(order)
    for _ in range(_TURNS * len(nets)):
        if not waiting:
            break
        waiting += run.lead(waiting.pop(0))
    if waiting:
        raise NoWayError(nets[waiting[0]].name)
    run.again(order)
    return {net.name: _corners(run.paths[n]) for n, net in enumerate(nets)}


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


def _axes(path: Sequence[Cell]) -> list[tuple[int, Cell]]:
    """The cells of a path, each with the axis along which it is used: 0 level, 1 upright."""
    found = []
    for one, two in pairwise(path):
        axis = 0 if one[1] == two[1] else 1
        found += [(axis, one), (axis, two)]
    return found


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
        self.use = ([0] * size, [0] * size)
        self.owner = [0] * size
        self.dearer = [0] * size
        self.is_forcing = False
        for number, net in enumerate(nets):
            for cell in (net.start, net.end):
                self.owner[cell[1] * grid.columns + cell[0]] = number + 1

    def lead(self, number: int) -> list[int]:
        """Lead a net; the nets that had to give up their way for it."""
        self.is_forcing = True
        path = self._search(number)
        self.is_forcing = False
        if path is None:
            raise NoWayError(self.nets[number].name)
        moved = self._in_the_way(path)
        for other in moved:
            self._mark(other, self.paths[other], is_taken=False)
        self._mark(number, path, is_taken=True)
        return moved

    def _in_the_way(self, path: list[Cell]) -> list[int]:
        """Nets that share a lane or a corner with a path; what they fought for grows dearer."""
        columns = self.grid.columns
        found: dict[int, None] = {}
        corners = set(_corners(path)[1:-1])
        for axis, cell in _axes(path):
            place = cell[1] * columns + cell[0]
            holders = [self.use[axis][place]]
            if cell in corners or self._is_corner(place):
                holders.append(self.use[1 - axis][place])
            for holder in holders:
                if holder:
                    found[holder - 1] = None
                    self.dearer[place] += _DEARER
        return list(found)

    def _is_corner(self, place: int) -> bool:
        return 0 != self.use[0][place] == self.use[1][place]

    def again(self, order: Sequence[int]) -> None:
        """Lead each net once more with all others in place."""
        for number in order:
            self._mark(number, self.paths[number], is_taken=False)
            path = self._search(number)
            self._mark(number, path or self.paths[number], is_taken=True)

    def _mark(self, number: int, path: list[Cell], *, is_taken: bool) -> None:
        self.paths[number] = path
        for axis, (column, row) in _axes(path):
            self.use[axis][row * self.grid.columns + column] = number + 1 if is_taken else 0

    def _search(self, number: int) -> list[Cell] | None:
        """The cheapest path of a net by A*, over cells and the way of entering them.

        A state is four times the cell plus the way. What is left to go is at least the steps to
        the end, and the bends that the way of going and that of entering the end ask for.
        """
        net = self.nets[number]
        columns = self.grid.columns
        goal = _state(net.end, net.enter, columns)
        start = _state(net.start, net.leave, columns)
        if net.start == net.end:
            return [net.start]
        ahead = _Ahead(net, columns)
        best = {start: 0}
        came: dict[int, int] = {}
        heap = [(ahead.least(start), 0, start)]
        count = 0
        while heap:
            rank, _, state = heappop(heap)
            if state == goal:
                return _walk_back(came, state, columns)
            cost = best[state]
            if rank > cost + ahead.least(state):
                continue
            for after, extra in self._moves(number, state, is_first=state == start):
                total = cost + extra
                if total < best.get(after, total + 1):
                    best[after] = total
                    came[after] = state
                    count += 1
                    heappush(heap, (total + ahead.least(after), count, after))
        return None

    def _moves(self, number: int, state: int, *, is_first: bool) -> list[tuple[int, int]]:
        """The states that may follow, each with what it costs."""
        here, way = divmod(state, 4)
        columns, blocked, owner = self.grid.columns, self.grid.blocked, self.owner
        column = here % columns
        level, upright = self.use[0], self.use[1]
        is_forcing = self.is_forcing
        may_turn = not (is_first or owner[here])
        if may_turn and (level[here] or upright[here]):
            may_turn = is_forcing
        shun = self.nets[number].shun
        moves = []
        for after in (way, (way + 1) % 4, (way + 3) % 4) if may_turn else (way,):
            across = _WAYS[after][0]
            if not 0 <= column + across < columns:
                continue
            there = here + across + _WAYS[after][1] * columns
            if not 0 <= there < len(blocked) or blocked[there]:
                continue
            same, other = (level, upright) if across else (upright, level)
            if owner[there] not in (0, number + 1) or (same[there] and not is_forcing):
                continue
            cost = self.dearer[there] + (_STEP if after == way else _STEP + _BEND)
            if same[there] or (after != way and (level[here] or upright[here])):
                cost += _FORCE
            if other[there]:
                cost += _CROSS
            cost += _near(same, there, columns if across else 1)
            if shun is not None and _is_in(shun, column + across, there // columns):
                cost += _SHUN
            moves.append((4 * there + after, cost))
        return moves


class _Ahead:
    """The least that a path to the end of a net still costs."""

    def __init__(self, net: Net, columns: int) -> None:
        self.columns = columns
        self.column, self.row = net.end
        self.axis = _WAYS.index(net.enter) % 2

    def least(self, state: int) -> int:
        """Steps and bends from a state to the end, at the least."""
        cell, way = divmod(state, 4)
        row, column = divmod(cell, self.columns)
        across, down = abs(column - self.column), abs(row - self.row)
        steps = (across + down) * _STEP
        if way % 2 != self.axis:
            return steps + _BEND
        return steps + (2 * _BEND if (across if way % 2 else down) else 0)


def _state(cell: Cell, way: Cell, columns: int) -> int:
    return 4 * (cell[1] * columns + cell[0]) + _WAYS.index(way)


def _near(use: Sequence[int], there: int, beside: int) -> int:
    """A little for running right beside another wire."""
    cost = _NEAR if there >= beside and use[there - beside] else 0
    return cost + (_NEAR if there + beside < len(use) and use[there + beside] else 0)


def _is_in(area: tuple[int, int, int, int], column: int, row: int) -> bool:
    left, top, right, bottom = area
    return left <= column <= right and top <= row <= bottom


def _walk_back(came: dict[int, int], state: int, columns: int) -> list[Cell]:
    path = [state]
    while state in came:
        state = came[state]
        path.append(state)
    return [(cell % columns, cell // columns) for cell in (s // 4 for s in path[::-1])]
