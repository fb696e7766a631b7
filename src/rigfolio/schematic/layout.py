"""One drawing of some blocks: order, rows, the first type that fits the page, all marks."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from enum import Enum
from itertools import pairwise
from math import ceil, floor
from operator import add

from rigfolio.draw import Box, Group, Line, Mark, Pen, boxes_of, shift
from rigfolio.job import Job
from rigfolio.schematic.bars import BarPainter, Marks
from rigfolio.schematic.columns import Columns, columns_of, pin_name
from rigfolio.schematic.courses import AFTER_MM, BEFORE_MM, PAD_MM, Ruler, is_pin
from rigfolio.schematic.graph import Bar, Graph
from rigfolio.schematic.order import Order, Search
from rigfolio.schematic.rows import RowPlan, grid_of
from rigfolio.schematic.rungs import Painter
from rigfolio.schematic.units import Ladder, Laid, Stack
from rigfolio.schematic.words import STYLES, Speaker, WordStyle, speaker

LEAST_MM, MOST_MM = 7.9, 9.5
_CLEAR_MM = 0.45
_BESIDE_MM = 0.6
_LOOK_BACK = 5
_NOWHERE = 1e6
_NEAR_MM, _PIN_MM = 0.3, 0.6
_LINK = Pen(0.25, "#000000", (1.0, 0.8))


@dataclass(frozen=True, slots=True)
class Drawing:
    """A diagram on one page: its marks from (0, 0), its size, where heads and feet of bars lie."""

    marks: tuple[Mark, ...]
    width_mm: float
    height_mm: float
    crossings: int
    anchors: Mapping[tuple[str, bool], tuple[float, float]]
    size_pt: float


@dataclass(frozen=True, slots=True)
class Room:
    """The space on a page."""

    wide_mm: float
    high_mm: float


class Misfit(Enum):
    """Why a drawing has no place on a page."""

    WIDE = "too wide"
    HIGH = "too high"


def drawn(
    grid: RowPlan, bars: Mapping[str, Bar], speakers: Sequence[Speaker], marks: Marks, room: Room
) -> Drawing | Misfit:
    """A grid as marks in one type, or why the page is too small for it."""
    marked = {name: (one is not None, two is not None) for name, (one, two) in marks.items()}
    ruler = Ruler(speakers, bars, marked)
    if grid.rows * LEAST_MM > room.high_mm + LEAST_MM:
        return Misfit.HIGH
    columns = columns_of(grid, ruler, room.wide_mm)
    if columns is None:
        return Misfit.WIDE
    painter = Painter(ruler, columns)
    bar_painter = BarPainter(grid, ruler, columns, marks)
    rows: list[list[Mark]] = [[] for _ in range(grid.rows)]
    for course in columns.courses:
        rows[course.row] += painter.rung(course)
    plain = [[*boxes_of(each)] for each in rows]
    for name in sorted(grid.spans, key=bar_painter.rank):
        first, last = grid.spans[name]
        head, foot = bar_painter.ends(name, plain)
        for row, more in ((first, head), (last, foot)):
            rows[row] += more
            plain[row] += boxes_of(more)
    boxes = [[*boxes_of(marks_of)] for marks_of in rows]
    heights = _heights(boxes, room.high_mm)
    if heights is None:
        return Misfit.HIGH
    return _assembled(grid, columns, bar_painter, rows, boxes, heights)


def _heights(boxes: Sequence[Sequence[Box]], room_mm: float) -> list[float] | None:
    """The height of each row, the first one as far down as it reaches up; None if too high."""
    needs = _needs(boxes)
    top = max((-box[1] for box in boxes[0]), default=0.0) if boxes else 0.0

    def at(pitch: float) -> tuple[list[float], float]:
        heights: list[float] = []
        for row in range(len(boxes)):
            y = heights[-1] + pitch if heights else top
            for back, need in needs[row]:
                y = max(y, heights[row - back] + need)
            heights.append(y)
        bottom = max(
            (y + box[3] for y, each in zip(heights, boxes, strict=True) for box in each),
            default=0.0,
        )
        return heights, bottom

    if at(LEAST_MM)[1] > room_mm:
        return None
    low, high = LEAST_MM, MOST_MM
    for _ in range(6):
        middle = (low + high) / 2
        low, high = (middle, high) if at(middle)[1] <= room_mm else (low, middle)
    best = MOST_MM if at(MOST_MM)[1] <= room_mm else low
    return at(best)[0]


def _needs(boxes: Sequence[Sequence[Box]]) -> list[list[tuple[int, float]]]:
    """How far each row must stand below the rows before it: (rows back, distance)."""
    wide = 2 + int(max((box[2] for each in boxes for box in each), default=0.0) + _BESIDE_MM)
    tops = [_profile(each, 1, wide) for each in boxes]
    lows = [_profile(each, 3, wide) for each in boxes]
    needs: list[list[tuple[int, float]]] = []
    for row, top in enumerate(tops):
        found = []
        for back in range(1, min(row, _LOOK_BACK) + 1):
            need = max(map(add, lows[row - back], top), default=0.0)
            if need > 0:
                found.append((back, need + _CLEAR_MM))
        needs.append(found)
    return needs


def _profile(boxes: Sequence[Box], side: int, wide: int) -> list[float]:
    """How far the boxes of a row reach up (side 1) or down (side 3), millimetre by millimetre."""
    profile = [-_NOWHERE] * wide
    for box in boxes:
        reach = -box[1] if side == 1 else box[3]
        first = max(0, floor(box[0] - _BESIDE_MM / 2))
        for x in range(first, min(wide, ceil(box[2] + _BESIDE_MM / 2))):
            if profile[x] < reach:
                profile[x] = reach
    return profile


def _assembled(
    grid: RowPlan,
    columns: Columns,
    painter: BarPainter,
    rows: Sequence[Sequence[Mark]],
    boxes: Sequence[Sequence[Box]],
    heights: Sequence[float],
) -> Drawing:
    lines = [painter.lines(name, lambda row: heights[row]) for name in grid.spans]
    marks: list[Mark] = [*_links(columns, heights), *lines]
    all_boxes = [
        (x1, y + y1, x2, y + y2)
        for y, each in zip(heights, boxes, strict=True) for x1, y1, x2, y2 in each
    ]  # fmt: skip
    all_boxes += boxes_of(lines)
    left = min((box[0] for box in all_boxes), default=0.0)
    top = min((box[1] for box in all_boxes), default=0.0)
    right = max((box[2] for box in all_boxes), default=1.0)
    bottom = max((box[3] for box in all_boxes), default=1.0)
    placed = [*shift(marks, -left, -top)]
    for row, each in enumerate(rows):
        placed += shift(each, -left, heights[row] - top)
    anchors = {}
    for name, (first, last) in grid.spans.items():
        x = columns.at[name] - left
        anchors[name, False] = (x, heights[first] - top)
        anchors[name, True] = (x, heights[last] - top)
    crossings = sum(
        len(course.seat.passed) for course in columns.courses
        if course.laid.left == course.seat.left
    )  # fmt: skip
    return Drawing(tuple(placed), right - left, bottom - top, crossings, anchors, painter.size_pt)


def _links(columns: Columns, heights: Sequence[float]) -> Iterator[Mark]:
    """Dashed lines between pins of one connector that stand above each other on next rows."""
    pins: dict[tuple[str, str, str], list[tuple[int, float]]] = {}
    for course in columns.courses:
        for stop in course.stops:
            if is_pin(stop.each.piece):
                key = (pin_name(stop.each), course.seat.left, course.seat.right)
                pins.setdefault(key, []).append((course.row, columns.at[stop.key]))
    for (name, _, _), places in pins.items():
        for (row, x), (below, other) in pairwise(sorted(places)):
            if below == row + 1 and abs(x - other) < _NEAR_MM:
                top, bottom = heights[row] + _PIN_MM, heights[below] - _PIN_MM
                line = Line(((x - 0.6, top), (x - 0.6, bottom)), _LINK)
                yield Group(f"link {name} {row}", f"pins of {name}", (line,))


Start = tuple[list[int], list[int]]
"""Numbers of bars from left to right and of blocks from top to bottom."""
_FEW = 3


def starts_of(
    bars: Sequence[Bar], blocks: Sequence[Stack], *, with_dot: bool = True
) -> list[Start]:  # fmt: skip
    """Orders to begin from; that of graphviz is left out where its program does not answer."""
    by_text = list(range(len(blocks)))
    near = sorted(range(len(bars)), key=lambda n: _rank(bars[n], n))
    found: list[Start] = [(near, by_text)]
    if with_dot and len(bars) >= _FEW and len(blocks) > _FEW:
        drawn = _dot_start(bars, blocks, near)
        if drawn is not None:
            found.append(drawn)
    return found


def _rank(bar: Bar, number: int) -> tuple[bool, int, int]:
    return bar.sign == "-", bar.depth, number


def _dot_start(bars: Sequence[Bar], blocks: Sequence[Stack], near: Sequence[int]) -> Start | None:
    """Columns of graphviz give the order of bars, its rows that of blocks."""
    from rigfolio.render import LayoutError, NodeBox, NodeEdge, place

    number = {bar.name: n for n, bar in enumerate(bars)}
    rank = {bars[n].name: at for at, n in enumerate(near)}
    boxes = [*(NodeBox(1.0) for _ in bars), *(NodeBox(float(block.rows)) for block in blocks)]
    edges: list[NodeEdge] = []
    for n, block in enumerate(blocks):
        ends = dict.fromkeys(
            (unit.a, unit.b) if not unit.b or rank[unit.a] <= rank[unit.b] else (unit.b, unit.a)
            for unit in block.units
        )
        for left, right in ends:
            edges.append(NodeEdge(number[left], len(bars) + n))
            if right:
                edges.append(NodeEdge(len(bars) + n, number[right]))
    try:
        spots = place(boxes, list(dict.fromkeys(edges)))
    except LayoutError:
        return None
    order = sorted(range(len(bars)), key=lambda n: (spots[n].column, spots[n].row, n))
    rows = [spots[len(bars) + n].row for n in range(len(blocks))]
    return order, sorted(range(len(blocks)), key=lambda n: (rows[n], n))


WHOLE_STEPS, JOINT_STEPS = 220_000, 50_000
_SLOT_MM, _EDGES_MM = 45.0, 12.0
_SHARES = (1.0, 0.8)
"""Of the width of the page: an order that turns out too wide is sought anew for less."""


@dataclass(slots=True)
class Composer:
    """Draws sets of blocks of one rig; each order is sought but once."""

    job: Job
    graph: Graph
    room: Room
    said: dict[WordStyle, Speaker] = field(default_factory=dict)
    widths: dict[int, tuple[Ladder, float]] = field(default_factory=dict)
    """How wide each unit is, by its identity; it is kept here so that no other one gets that."""
    grids: dict[tuple[float, frozenset[int]], tuple[Order, RowPlan]] = field(default_factory=dict)

    heights: dict[frozenset[int], float] = field(default_factory=dict)

    def height_mm(self, blocks: Sequence[Stack]) -> float:
        """How high the last drawing of some blocks was; that of the page where there is none."""
        return self.heights.get(_key(blocks), self.room.high_mm)

    def grid(
        self, blocks: Sequence[Stack], *, steps: int = WHOLE_STEPS, share: float = 1.0
    ) -> tuple[Order, RowPlan]:
        """The order of some blocks in a share of the width, and the rows that follow from it."""
        key = (share, _key(blocks))
        if key not in self.grids:
            order = self._order(blocks, steps, share)
            self.grids[key] = (order, grid_of(order, self.graph.bars))
        return self.grids[key]

    def _order(self, blocks: Sequence[Stack], steps: int, share: float) -> Order:
        names = dict.fromkeys(
            bar for block in blocks for unit in block.units for bar in (unit.a, unit.b) if bar
        )
        bars = [self.graph.bars[name] for name in names]
        widths = {id(u): self._unit_mm(u) for block in blocks for u in block.units}
        search = Search(bars, blocks, widths, (self.room.wide_mm - _EDGES_MM) * share)
        starts = starts_of(bars, blocks, with_dot=steps >= WHOLE_STEPS)
        return search.best(starts, steps)

    def speakers(self, styles: Sequence[WordStyle]) -> list[Speaker]:
        """Words in some styles."""
        for style in styles:
            if style not in self.said:
                self.said[style] = speaker(self.job.rig, style)
        return [self.said[style] for style in styles]

    def _unit_mm(self, unit: Ladder) -> float:
        """About how wide a unit is, in the narrower of the usual styles."""
        if id(unit) not in self.widths:
            ruler = Ruler(self.speakers(STYLES[1]), self.graph.bars)
            lengths = [(each, self._rung_mm(ruler, each)) for each in unit.laid]
            ways: dict[str, float] = {}
            for _ in unit.laid:
                for each, wide in lengths:
                    reach = ways.get(each.left, 0.0) + wide
                    ways[each.right] = max(ways.get(each.right, 0.0), reach)
            self.widths[id(unit)] = (unit, max(ways.values()))
        return self.widths[id(unit)][1]

    def _rung_mm(self, ruler: Ruler, laid: Laid) -> float:
        """About how wide a rung is."""
        wide = 2 * PAD_MM
        for piece in laid.rung.pieces:
            wide += ruler.set_of(piece, laid, _SLOT_MM).width_mm
            wide += BEFORE_MM + AFTER_MM if piece.is_symbol else 0.0
        return wide

    def is_wide(self, unit: Ladder) -> bool:
        """Whether a unit may be wider than a page."""
        return self._unit_mm(unit) > 0.8 * self.room.wide_mm

    def drawing(
        self, blocks: Sequence[Stack], marks: Marks, *, steps: int = WHOLE_STEPS,
        room: Room | None = None,
    ) -> Drawing | None:  # fmt: skip
        """Blocks as one drawing, or None where they do not fit the page."""
        room = room or self.room
        if not self.may_fit(blocks, room):
            return None
        shares = _SHARES if steps >= WHOLE_STEPS else _SHARES[:1]
        for share in shares:
            _, grid = self.grid(blocks, steps=steps, share=share)
            if grid.rows * LEAST_MM > room.high_mm + LEAST_MM:
                return None
            misfits = []
            for styles in STYLES:
                made = drawn(grid, self.graph.bars, self.speakers(styles), marks, room)
                if isinstance(made, Drawing):
                    self.heights[_key(blocks)] = made.height_mm
                    return made
                misfits.append(made)
                if misfits.count(Misfit.HIGH) > 1:
                    return None
        return None

    def may_fit(self, blocks: Sequence[Stack], room: Room) -> bool:
        """Whether the rows of each pair of bars, which stand below each other, are few enough."""
        most: dict[tuple[str, str], int] = {}
        for block in blocks:
            for unit in block.units:
                pair = (min(unit.a, unit.b), max(unit.a, unit.b))
                most[pair] = most.get(pair, 0) + unit.rows
        return max(most.values(), default=0) * LEAST_MM <= room.high_mm + LEAST_MM


def _key(blocks: Sequence[Stack]) -> frozenset[int]:
    return frozenset(id(unit) for block in blocks for unit in block.units)


def panels_shown(blocks: Sequence[Stack]) -> Mapping[str, Stack]:
    """The blocks of slots by the name of their panel."""
    return {block.panel: block for block in blocks if block.panel}
