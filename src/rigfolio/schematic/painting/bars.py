"""Bars as marks: their heads and feet by row, and their lines once the rows are placed."""

from collections.abc import Callable, Iterable, Iterator, Sequence

from rigfolio.draw import (
    BAR,
    STROKE,
    Box,
    Circle,
    Group,
    Line,
    Mark,
    Pen,
    Point,
    boxes_of,
    chassis,
    dot,
    rect,
    shift,
    terminal,
)
from rigfolio.model import Junction
from rigfolio.schematic.chains import Bar
from rigfolio.schematic.painting.boxes import BoxPainter
from rigfolio.schematic.painting.heads import BOX_FOOT_MM, FRAME, HEAD_MM, HeadPainter
from rigfolio.schematic.painting.landings import Landings
from rigfolio.schematic.painting.placement import Placement
from rigfolio.schematic.painting.references import RING_MM, Marks, ring
from rigfolio.schematic.painting.rungs import HOP_MM
from rigfolio.schematic.setting import BOX_MM
from rigfolio.values import printed

_JOINT = Pen(0.7)
_FOOT_MM, _CLEAR_MM = 4.6, 0.9
_FOOT_HALF_MM, _FOOT_LOW_MM = 0.5, 1.4
_THICK = ("bar", "frame", "panel")


class BarPainter:
    """Draws the bars of one page."""

    def __init__(self, place: Placement, marks: Marks) -> None:
        self.place = place
        self.marks = marks
        self.lands = Landings(place.columns.courses)
        self.heads = HeadPainter(place)
        self.feet: dict[str, float] = {}
        """How far the frame of each panel reaches below its last row."""
        self.raised: dict[str, float] = {}
        """How much higher than usual the name of each bar stands, to be clear of other words."""

    def rank(self, name: str) -> tuple[bool, bool]:
        """Frames and boxes first, for they give way to nothing; names that joints have next."""
        bar = self.place.bar(name)
        return not (self.place.is_framed(bar) or bar.is_box), not bar.is_minor

    def ends(
        self, name: str, rows: Sequence[Sequence[Box]]
    ) -> tuple[tuple[Mark, ...], tuple[Mark, ...]]:
        """Marks at the first and at the last row of a bar, at height 0, clear of what is there."""
        bar, x = self.place.bar(name), self.place.x(name)
        first, last = (rows[row] for row in self.place.span(name))
        head, foot = self.marks.get(name, (None, None))
        top, high, bottom = self._top(bar, first, last)
        low: list[Mark] = []
        if bar.kind == "frame":
            low += _lowered(chassis((x, 1.0)), last, (x, 1.0))
            bottom = -max(box[3] for box in boxes_of(low))
        if head is not None:
            above = (x, high - RING_MM - 0.2)
            mark = [*ring(self.place, head, above, name, is_foot=False)]
            up = _raise_mm(mark, first)
            if up:
                top.append(Line(((x, high - up - 0.2), (x, high + 0.8)), _JOINT))
            top += shift(mark, 0.0, -up)
        if foot is not None:
            below = (x, -bottom + RING_MM + 0.2)
            mark = [*ring(self.place, foot, below, name, is_foot=True)]
            low += _lowered(mark, last, (x, -bottom))
        return tuple(top), (*low, *self._lower_edge(bar, -bottom))

    def _top(
        self, bar: Bar, first: Sequence[Box], last: Sequence[Box]
    ) -> tuple[list[Mark], float, float]:
        """The head of a bar, how high that reaches, and how far down its foot does, both ways."""
        if self.place.is_framed(bar):
            self.feet[bar.name] = self._foot_mm(bar.name, last)
            self.heads.make_room(bar, self._within(bar.name, first))
            return [*self.heads.panel(bar)], -self.heads.frame_top(bar), -self.feet[bar.name]
        if bar.is_box:
            top = [*self.heads.box(bar)]
            return top, min(box[1] for box in boxes_of(top)), -BOX_FOOT_MM
        top = [*self.heads.name(bar)]
        raised = 0.0 if bar.is_minor else _raise_mm(top, first)
        self.raised[bar.name] = raised
        high = -HEAD_MM - 3.0 - raised if top else -1.0
        return [*shift(top, 0.0, -raised)], high, -1.0

    def _lower_edge(self, bar: Bar, foot: float) -> Iterator[Mark]:
        """The lower edge of a frame or a box, so that the next row keeps clear of it."""
        x = self.place.x(bar.name)
        if self.place.is_framed(bar):
            left, right = self.place.reach(bar.name)
            yield Line(((x - left, foot), (x + right, foot)), FRAME)
        if bar.is_box:
            yield Line(((x - BOX_MM, BOX_FOOT_MM), (x + BOX_MM, BOX_FOOT_MM)), STROKE)

    def foot(self, name: str) -> Box:
        """The room of a bar at its last row, which names of bars below it keep clear of."""
        x = self.place.x(name)
        return x - _FOOT_HALF_MM, 0.0, x + _FOOT_HALF_MM, _FOOT_LOW_MM

    def _foot_mm(self, name: str, boxes: Sequence[Box]) -> float:
        """How far a frame reaches down to hold all words of its last slot."""
        return max(_FOOT_MM, max((b[3] for b in self._within(name, boxes)), default=0.0) + 1.0)

    def _within(self, name: str, boxes: Sequence[Box]) -> list[Box]:
        """What stands within the frame of a panel."""
        x = self.place.x(name)
        left, right = self.place.reach(name)
        return [box for box in boxes if x - left < box[0] and box[2] < x + right]

    def lines(self, name: str, y_of: Callable[[int], float]) -> Group:
        """The line of a bar with all that lands on it, by the heights of the rows."""
        bar, x = self.place.bar(name), self.place.x(name)
        first, last = self.place.span(name)
        top, bottom = y_of(first), y_of(last)
        marks: list[Mark] = []
        if bar.is_box:
            painter = BoxPainter(x, self.place.size_pt, self.lands.on(name), y_of)
            marks += painter.marks(bar, top, bottom)
        elif self.place.is_framed(bar):
            left, right = self.place.reach(name)
            high = top - self.heads.frame_top(bar)
            deep = bottom + self.feet[name] - high
            marks.append(rect(x - left, high, left + right, deep, pen=FRAME))
            marks += self._bar(bar, top - 1.4, bottom + 1.4, y_of)
            marks += self._edges(bar, y_of)
        else:
            if self.heads.words(bar) and not bar.is_minor:
                high = top - HEAD_MM + 0.4 - self.raised.get(name, 0.0)
            else:
                high = top - (0.0 if bar.kind == "joint" else 1.4)
            low = bottom if bar.kind in ("joint", "end") else bottom + 1.4
            marks += self._bar(bar, high, low, y_of)
        return Group(_ident(bar), _about(bar, self.heads.words(bar)), tuple(marks))

    def _bar(
        self, bar: Bar, top: float, bottom: float, y_of: Callable[[int], float]
    ) -> Iterator[Mark]:
        """The line with gaps where rungs hop over it, and what is drawn where they land."""
        x = self.place.x(bar.name)
        marks = self.marks.get(bar.name, (None, None))
        if marks[1] is not None:
            bottom += self.feet.get(bar.name, 1.4) - 1.4
        pen = BAR if bar.kind in _THICK else _JOINT
        if bar.is_minor:
            pen = STROKE
        here = top
        for row in self.lands.hops(bar.name):
            y = y_of(row)
            yield Line(((x, here), (x, y - HOP_MM - 0.5)), pen)
            here = y + 0.6
        if bottom > here + 0.01:
            yield Line(((x, here), (x, bottom)), pen)
        for row in self.lands.rows(bar.name):
            if bar.kind in _THICK:
                yield terminal((x, y_of(row)))
            elif bar.kind == "joint":
                yield dot((x, y_of(row)))
            else:
                yield Circle((x, y_of(row)), 1.0, STROKE, "#ffffff")

    def _edges(self, bar: Bar, y_of: Callable[[int], float]) -> Iterator[Mark]:
        """Terminals at the edge of a panel, where wires leave its slots or come to its main."""
        x = self.place.x(bar.name)
        left, right = self.place.reach(bar.name)
        for course in self.place.columns.courses:
            rung = course.laid.rung
            is_right = course.laid.right == bar.name
            ends = (course.laid.left, course.laid.right)
            is_main = bar.name in ends and course.inner[is_right] is not None
            is_slot = rung.slot and rung.a == bar.name
            if is_main or (is_slot and not (rung.end and rung.end.kind == "slot")):
                yield terminal((x - left if is_right else x + right, y_of(course.row)))


def _raise_mm(marks: Sequence[Mark], boxes: Sequence[Box]) -> float:
    """How far marks must go up to be clear of the boxes of their row that lie in their way."""
    up = 0.0
    for left, _, right, bottom in boxes_of(marks):
        for box in boxes:
            if left < box[2] + 0.5 and box[0] < right + 0.5:
                up = max(up, bottom + 0.3 - box[1])
    return up


def _lowered(
    ring: Iterable[Mark], boxes: Sequence[Box], foot: Point
) -> tuple[Mark, ...]:  # fmt: skip
    """A mark so far below the foot of its bar that it is clear of the boxes of its row."""
    marks = tuple(ring)
    down = 0.0
    for left, top, right, _ in boxes_of(marks):
        for box in boxes:
            if left < box[2] + 0.5 and box[0] < right + 0.5 and box[3] > 1.0:
                down = max(down, box[3] + _CLEAR_MM - top)
    if not down:
        return marks
    lead = Line((foot, (foot[0], foot[1] + down + 0.2)), _JOINT)
    return (lead, *shift(marks, 0.0, down))


def _ident(bar: Bar) -> str:
    """What the group of a bar is called."""
    if bar.panel is not None:
        return bar.panel.about.name
    if bar.is_box:
        return bar.name.removeprefix("box ")
    if any(isinstance(thing, Junction) for thing in bar.things):
        return bar.name
    return f"at {bar.name}"


def _about(bar: Bar, words: str) -> str:
    kind = {"box": "part", "end": "joint"}.get(bar.kind, bar.kind)
    return f"{kind} {words or printed(bar.terminals[0])}"
