"""One drawing of a grid in one type: all its marks, row by row, as high as they need."""

from collections.abc import Iterator, Mapping, Sequence
from enum import Enum
from itertools import pairwise
from math import ceil, floor
from operator import add

from rigfolio.draw import Box, Group, Line, Mark, Pen, boxes_of, shift
from rigfolio.record import derived, record
from rigfolio.schematic.chains import Bar
from rigfolio.schematic.ordering import RowPlan
from rigfolio.schematic.painting import BarPainter, Marks, Placement, RungPainter
from rigfolio.schematic.setting import Columns, Ruler, Speaker, columns_of, is_pin, pin_name

LEAST_MM, MOST_MM = 7.9, 9.5
_CLEAR_MM, _ROOMY_MM = 0.45, (1.7, 1.0)
"""Between words of rows that follow each other: the least, and what is better where it fits."""
_BESIDE_MM = 0.6
_THIN_MM, _OFF_LINE_MM = 0.5, 0.8
"""What is no higher than that is a line of its row; words of rows above keep further off it."""
_LOOK_BACK = 5
_NOWHERE = 1e6
_NEAR_MM, _PIN_MM = 0.3, 0.6
_LINK = Pen(0.25, "#000000", (1.0, 0.8))


Lot = tuple[tuple[Mark, ...], float, float]
"""Some marks, and how far they are moved right and down [mm]."""


@record
class Drawing:
    """A diagram on one page: its marks from (0, 0), its size, where heads and feet of bars lie.

    `parts` are the marks before they are moved: many a drawing is made only to see if it fits.
    """

    parts: tuple[Lot, ...]
    width_mm: float
    height_mm: float
    crossings: int
    anchors: Mapping[tuple[str, bool], tuple[float, float]]
    size_pt: float

    @derived
    def marks(self) -> tuple[Mark, ...]:
        """All marks in their places."""
        return tuple(mark for lot in self.parts for mark in shift(*lot))


@record
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
    place = Placement(grid, ruler, columns)
    painter, bar_painter = RungPainter(place), BarPainter(place, marks)
    rows: list[list[Mark]] = [[] for _ in range(grid.rows)]
    for course in columns.courses:
        rows[course.row] += painter.rung(course)
    boxes = [[*boxes_of(each)] for each in rows]
    for name in sorted(grid.spans, key=bar_painter.rank):
        first, last = grid.spans[name]
        head, foot = bar_painter.ends(name, boxes)
        for row, more in ((first, head), (last, foot)):
            rows[row] += more
            boxes[row] += boxes_of(more)
    for name, (_, last) in grid.spans.items():
        boxes[last].append(bar_painter.foot(name))
    heights = _heights(boxes, room.high_mm)
    if heights is None:
        return Misfit.HIGH
    return _assembled(place, bar_painter, rows, boxes, heights)


def _heights(boxes: Sequence[Sequence[Box]], room_mm: float) -> list[float] | None:
    """The height of each row, the first one as far down as it reaches up; None if too high."""
    needs = _needs(boxes)
    top = max((-box[1] for box in boxes[0]), default=0.0) if boxes else 0.0

    def at(pitch: float, clear: float) -> tuple[list[float], float]:
        heights: list[float] = []
        for row in range(len(boxes)):
            y = heights[-1] + pitch if heights else top
            for back, need in needs[row]:
                y = max(y, heights[row - back] + need + clear)
            heights.append(y)
        bottom = max(
            (y + box[3] for y, each in zip(heights, boxes, strict=True) for box in each),
            default=0.0,
        )
        return heights, bottom

    for clear in (*_ROOMY_MM, _CLEAR_MM):
        heights, bottom = at(MOST_MM, clear)
        if bottom <= room_mm:
            return heights
    if at(LEAST_MM, _CLEAR_MM)[1] > room_mm:
        return None
    low, high = LEAST_MM, MOST_MM
    for _ in range(6):
        middle = (low + high) / 2
        low, high = (middle, high) if at(middle, _CLEAR_MM)[1] <= room_mm else (low, middle)
    return at(low, _CLEAR_MM)[0]


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
                found.append((back, need))
        needs.append(found)
    return needs


def _profile(boxes: Sequence[Box], side: int, wide: int) -> list[float]:
    """How far the boxes of a row reach up (side 1) or down (side 3), millimetre by millimetre."""
    spans = []
    for left, top, right, bottom in boxes:
        reach = -top if side == 1 else bottom
        if side == 1 and bottom - top < _THIN_MM:
            reach += _OFF_LINE_MM
        first = max(0, floor(left - _BESIDE_MM / 2))
        last = max(first, min(wide, ceil(right + _BESIDE_MM / 2)))
        spans.append((reach, first, last))
    profile = [-_NOWHERE] * wide
    # What reaches furthest is put in last, over all else.
    for reach, first, last in sorted(spans):
        profile[first:last] = [reach] * (last - first)
    return profile


def _assembled(
    place: Placement,
    painter: BarPainter,
    rows: Sequence[Sequence[Mark]],
    boxes: Sequence[Sequence[Box]],
    heights: Sequence[float],
) -> Drawing:
    grid, columns = place.grid, place.columns
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
    parts: list[Lot] = [(tuple(marks), -left, -top)]
    parts += [(tuple(each), -left, y - top) for each, y in zip(rows, heights, strict=True)]
    anchors = {}
    for name, (first, last) in grid.spans.items():
        x = columns.at[name] - left
        anchors[name, False] = (x, heights[first] - top)
        anchors[name, True] = (x, heights[last] - top)
    crossings = sum(
        len(course.seat.passed) for course in columns.courses
        if course.laid.left == course.seat.left
    )  # fmt: skip
    return Drawing(tuple(parts), right - left, bottom - top, crossings, anchors, place.size_pt)


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
