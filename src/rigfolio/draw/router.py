"""Wires led round obstacles: orthogonal paths on a grid, each in a lane of its own.

A cell carries at most one wire along and one across, so that wires may cross but never run in one
lane, never bend on a crossing and never touch a corner of another. Every search is decided by
costs and by the order of the nets alone, so that the same nets give the same paths.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from heapq import heappop, heappush
from itertools import pairwise

GridCell = tuple[int, int]
"""Column and row."""
Area = tuple[int, int, int, int]
"""Left, top, right and bottom, all of them included."""

EAST, SOUTH, WEST, NORTH = (1, 0), (0, 1), (-1, 0), (0, -1)

_STEP, _BEND, _CROSS, _NEAR, _SHUN = 10, 45, 60, 4, 25
_FORCE, _DEARER, _TURNS = 400, 60, 2
_WAYS = (EAST, SOUTH, WEST, NORTH)
_TURNING = tuple((way, (way + 1) % 4, (way + 3) % 4) for way in range(4))
_FAR = 1 << 60


class NoWayError(Exception):
    """A net finds no path; the message is its name."""


@dataclass(frozen=True, slots=True)
class Net:
    """A wire to be led: from a cell, leaving it one way, to a cell, entering it one way.

    `shun` is what it keeps out of where it can.
    """

    name: str
    start: GridCell
    leave: GridCell
    end: GridCell
    enter: GridCell
    shun: Area | None = None


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

    def is_inside(self, cell: GridCell) -> bool:
        """Whether the cell lies on the grid."""
        return 0 <= cell[0] < self.columns and 0 <= cell[1] < self.rows


def route(grid: Grid, nets: Sequence[Net]) -> dict[str, tuple[GridCell, ...]]:
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
    seen: set[GridCell] = set()
    for net in nets:
        for cell in (net.start, net.end):
            if not grid.is_inside(cell):
                raise ValueError(f"net {net.name!r} has an end at {cell}, outside the grid")
            if cell in seen:
                raise ValueError(f"net {net.name!r} shares its end at {cell}")
            seen.add(cell)


def _span(net: Net) -> int:
    return abs(net.start[0] - net.end[0]) + abs(net.start[1] - net.end[1])


def _axes(path: Sequence[GridCell]) -> list[tuple[int, GridCell]]:
    """The cells of a path, each with the axis along which it is used: 0 level, 1 upright."""
    found = []
    for one, two in pairwise(path):
        axis = 0 if one[1] == two[1] else 1
        found += [(axis, one), (axis, two)]
    return found


def _corners(path: Sequence[GridCell]) -> tuple[GridCell, ...]:
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
        self.paths: dict[int, list[GridCell]] = {}
        size = grid.columns * grid.rows
        self.use = ([0] * size, [0] * size)
        # What entering a cell along each axis costs beyond the step: kept up to date with `use`.
        self.extra = ([0] * size, [0] * size)
        self.after = _neighbours(grid)
        self.owner = [0] * size
        self.is_forcing = False
        for number, net in enumerate(nets):
            for cell in (net.start, net.end):
                self.owner[cell[1] * grid.columns + cell[0]] = number + 1
        self.ends = bytes(map(bool, self.owner))
        self.shun: dict[Area | None, frozenset[int]] = {}

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

    def _in_the_way(self, path: list[GridCell]) -> list[int]:
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
                    self.extra[0][place] += _DEARER
                    self.extra[1][place] += _DEARER
        return list(found)

    def _is_corner(self, place: int) -> bool:
        return 0 != self.use[0][place] == self.use[1][place]

    def again(self, order: Sequence[int]) -> None:
        """Lead each net once more with all others in place."""
        for number in order:
            self._mark(number, self.paths[number], is_taken=False)
            path = self._search(number)
            self._mark(number, path or self.paths[number], is_taken=True)

    def _mark(self, number: int, path: list[GridCell], *, is_taken: bool) -> None:
        self.paths[number] = path
        columns = self.grid.columns
        for axis, (column, row) in _axes(path):
            place = row * columns + column
            if bool(self.use[axis][place]) is not is_taken:
                self._weigh(axis, place, 1 if is_taken else -1)
            self.use[axis][place] = number + 1 if is_taken else 0

    def _weigh(self, axis: int, place: int, sign: int) -> None:
        """What a lane that is taken or given up makes dearer or cheaper: itself and beside it."""
        own = self.extra[axis]
        own[place] += sign * _FORCE
        self.extra[1 - axis][place] += sign * _CROSS
        beside = 1 if axis else self.grid.columns
        for near in (place - beside, place + beside):
            if 0 <= near < len(own):
                own[near] += sign * _NEAR

    def _search(self, number: int) -> list[GridCell] | None:
        """The cheapest path of a net by A*, over cells and the way of entering them.

        A state is four times the cell plus the way. What is left to go is at least the steps to
        the end, and the bends that the way of going and that of entering the end ask for. The loop
        is written out: most of the time of a drawing is spent in it.
        """
        net, columns = self.nets[number], self.grid.columns
        if net.start == net.end:
            return [net.start]
        start, goal = _state(net.start, net.leave, columns), _state(net.end, net.enter, columns)
        ahead, shunned = _Ahead(net, columns, self.grid.rows), self._shunned(net.shun)
        across, down, bends, plain = ahead.across, ahead.down, ahead.bends, not shunned
        fixed, use, extra, onward = self.owner, self.use, self.extra, self.after
        closed = self._closed(number)
        barred = (closed, closed) if self.is_forcing else use
        best = [_FAR] * (4 * len(closed))
        best[start], count, came = 0, 0, dict[int, int]()
        heap = [(0, 0, start, 0)]
        while heap:
            _, _, state, cost = heappop(heap)
            if state == goal:
                return _walk_back(came, state, columns)
            if cost > best[state]:
                continue
            here, way = state >> 2, state & 3
            is_busy = use[0][here] or use[1][here]
            may_turn = state != start and not fixed[here] and (self.is_forcing or not is_busy)
            for after in _TURNING[way] if may_turn else (way,):
                there, axis = onward[after][here], after & 1
                if there < 0 or closed[there] or barred[axis][there]:
                    continue
                total = cost + extra[axis][there] + _STEP
                if after != way:
                    total += _BEND + (_FORCE if is_busy and not use[axis][there] else 0)
                if not plain and there in shunned:
                    total += _SHUN
                found = 4 * there + after
                if total < best[found]:
                    best[found], came[found] = total, state
                    count += 1
                    row, column = divmod(there, columns)
                    rest = across[column] + down[row]
                    rest += bends[axis][1 if (across[column] if axis else down[row]) else 0]
                    heappush(heap, (total + rest, count, found, total))
        return None

    def _closed(self, number: int) -> bytearray:
        """The cells that a net keeps out of: the ends of others."""
        closed = bytearray(self.ends)
        for column, row in (self.nets[number].start, self.nets[number].end):
            closed[row * self.grid.columns + column] = 0
        return closed

    def _shunned(self, area: Area | None) -> frozenset[int]:
        """The cells of what is shunned, listed but once."""
        if area not in self.shun:
            self.shun[area] = _cells_of(area, self.grid)
        return self.shun[area]


def _neighbours(grid: Grid) -> tuple[list[int], ...]:
    """The cell next to each cell, one list for each way; -1 where that is blocked or outside."""
    columns = grid.columns
    free = [-1 if blocked else place for place, blocked in enumerate(grid.blocked)]
    edge = [-1] * columns
    east, west = [*free[1:], -1], [-1, *free[:-1]]
    for first in range(0, len(free), columns):
        east[first + columns - 1] = west[first] = -1
    return east, free[columns:] + edge, west, edge + free[:-columns]


class _Ahead:
    """The least that a path to the end of a net still costs: steps by column and row, and bends.

    `bends` are those still to come, by the axis of going and by whether the path is off the line
    that the end is entered along.
    """

    def __init__(self, net: Net, columns: int, rows: int) -> None:
        self.across = [abs(column - net.end[0]) * _STEP for column in range(columns)]
        self.down = [abs(row - net.end[1]) * _STEP for row in range(rows)]
        entered = _WAYS.index(net.enter) % 2
        self.bends = [(0, 2 * _BEND) if axis == entered else (_BEND, _BEND) for axis in range(2)]


def _state(cell: GridCell, way: GridCell, columns: int) -> int:
    return 4 * (cell[1] * columns + cell[0]) + _WAYS.index(way)


def _cells_of(area: Area | None, grid: Grid) -> frozenset[int]:
    if area is None:
        return frozenset()
    left, top, right, bottom = area
    return frozenset(
        row * grid.columns + column
        for row in range(max(top, 0), min(bottom, grid.rows - 1) + 1)
        for column in range(max(left, 0), min(right, grid.columns - 1) + 1)
    )


def _walk_back(came: dict[int, int], state: int, columns: int) -> list[GridCell]:
    path = [state]
    while state in came:
        state = came[state]
        path.append(state)
    return [(cell % columns, cell // columns) for cell in (s // 4 for s in path[::-1])]
