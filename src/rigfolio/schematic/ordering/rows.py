"""The row of each unit, and the rows from which to which each bar reaches."""

from collections.abc import Mapping, Sequence

from rigfolio.record import record
from rigfolio.schematic.chains import Bar, Ladder
from rigfolio.schematic.ordering.order import Order
from rigfolio.schematic.ordering.program import Program

_FAR = 10_000.0
_UP, _BOX = 0.01, 2.0


@record
class Berth:
    """A unit on its rows, seen from its left bar; `passed` are the bars that it crosses."""

    unit: Ladder
    row: int
    left: str
    right: str
    passed: tuple[str, ...] = ()
    panel: str = ""

    @property
    def last(self) -> int:
        """Its lowest row."""
        return self.row + self.unit.rows - 1


@record
class RowPlan:
    """Seats of all units, core bars from left to right, first and last row of every bar."""

    seats: tuple[Berth, ...]
    bars: tuple[str, ...]
    spans: Mapping[str, tuple[int, int]]

    @property
    def rows(self) -> int:
        """How many rows there are."""
        return 1 + max((seat.last for seat in self.seats), default=0)


def grid_of(order: Order, bars: Mapping[str, Bar]) -> RowPlan:
    """Rows of an order: as few as can be, and bars as short as can be."""
    pos = {name: place for place, name in enumerate(order.bars)}
    faced = [
        (unit, block.panel, number)
        for number, block in enumerate(order.blocks)
        for unit in _faced(block.units, pos, is_panel=bool(block.panel))
    ]
    program = Program()
    cells = [_cells(unit, pos) for unit, _, _ in faced]
    for j, (unit, panel, block) in enumerate(faced):
        program.cost(j, _UP * (1.0 + 0.0001 * j))
        for i in _above(cells, j):
            program.apart(i, j, float(faced[i][0].rows))
        if j and panel and faced[j - 1][2] == block:
            gap = float(faced[j - 1][0].rows)
            program.apart(j - 1, j, gap)
            program.apart(j, j - 1, -gap)
        for bar in (unit.a, unit.b):
            if bar:
                lands = unit.lands(bar)
                program.apart(j, (bar, "last"), float(max(lands)))
                program.apart((bar, "first"), j, -float(min(lands)))
    for n, bar in enumerate(pos):
        weight = (_BOX if bars[bar].is_box else 1.0) + 0.001 * n
        if (bar, "last") in program.keys:
            program.cost((bar, "last"), weight)
            program.cost((bar, "first"), -weight)
    found = program.best(0.0, _FAR) or []
    rows = [round(found[program.place(j)]) for j in range(len(faced))] if found else []
    return _grid(faced, rows, pos)


def _faced(units: Sequence[Ladder], pos: Mapping[str, int], *, is_panel: bool) -> list[Ladder]:
    """Units seen from their left bars; free ends of a panel lie where most of its slots do."""
    to_left = sum(bool(u.b) and pos[u.b] < pos[u.a] for u in units)
    is_mirrored = is_panel and 2 * to_left > sum(bool(u.b) for u in units)
    return [
        u.turned() if (pos[u.b] < pos[u.a] if u.b else is_mirrored or u.is_resumed) else u
        for u in units
    ]  # fmt: skip


def _cells(unit: Ladder, pos: Mapping[str, int]) -> range:
    """The spaces between neighbouring bars that a unit takes."""
    if unit.a and unit.b:
        return range(pos[unit.a], pos[unit.b])
    return range(pos[unit.a], pos[unit.a] + 1) if unit.a else range(pos[unit.b] - 1, pos[unit.b])


def _above(cells: Sequence[range], j: int) -> list[int]:
    """Units before one that reach into its spaces, those left out that others keep above it."""
    left = set(cells[j])
    found = []
    for i in range(j - 1, -1, -1):
        shared = left.intersection(cells[i])
        if shared:
            found.append(i)
            left -= shared
            if not left:
                break
    return found


def _grid(
    faced: Sequence[tuple[Ladder, str, int]], rows: Sequence[int], pos: Mapping[str, int]
) -> RowPlan:
    top = min(rows, default=0)
    spans: dict[str, tuple[int, int]] = {}
    for (unit, _, _), row in zip(faced, rows, strict=True):
        for each in unit.laid:
            for bar in (each.left, each.right):
                if bar:
                    here = row - top + each.row
                    first, last = spans.get(bar, (here, here))
                    spans[bar] = (min(first, here), max(last, here))
    seats = []
    for (unit, panel, _), row in zip(faced, rows, strict=True):
        passed: tuple[str, ...] = ()
        if unit.a and unit.b:
            inner = list(pos)[pos[unit.a] + 1 : pos[unit.b]]
            passed = tuple(
                bar for bar in inner
                if bar in spans and _meets(spans[bar], row - top, row - top + unit.rows - 1)
            )  # fmt: skip
        seats.append(Berth(unit, row - top, unit.a, unit.b, passed, panel))
    return RowPlan(tuple(seats), tuple(bar for bar in pos if bar in spans), spans)


def _meets(span: tuple[int, int], first: int, last: int) -> bool:
    return span[0] <= last and first <= span[1]
