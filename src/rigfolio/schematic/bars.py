"""Bars as marks: their heads and feet by row, and their lines once the rows are placed."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

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
    Text,
    boxes_of,
    chassis,
    dot,
    plus_sign,
    rect,
    shift,
    terminal,
    width_mm,
)
from rigfolio.model import Junction, Source
from rigfolio.schematic.columns import Columns
from rigfolio.schematic.courses import (
    ASIDE_MM,
    BOX_MM,
    PANEL_LEFT_MM,
    Ruler,
    edge_of,
    extents,
)
from rigfolio.schematic.graph import Bar
from rigfolio.schematic.rows import RowPlan
from rigfolio.schematic.rungs import HOP_MM
from rigfolio.schematic.words import broken, panel_words
from rigfolio.values import printed

JOINT = Pen(0.7)
DASH_DOT = Pen(0.35, "#000000", (2.4, 0.8, 0.5, 0.8))
RING_MM = 2.3
_HEAD_MM = 5.2
_TOP_MM, _FOOT_MM = 4.8, 4.6
_BOX_TOP_MM, _BOX_FOOT_MM = 4.2, 4.2
_FRAME = Pen(0.5)
_CLEAR_MM = 0.9


@dataclass(frozen=True, slots=True)
class Reference:
    """A mark where a bar goes on upon another page: its number, and what is said beside it."""

    number: int
    words: str
    ident: str
    goes_to: str


Marks = Mapping[str, tuple[Reference | None, Reference | None]]
"""The marks at head and foot of bars, by name."""


@dataclass(slots=True)
class BarPainter:
    """Draws the bars of one page."""

    grid: RowPlan
    ruler: Ruler
    columns: Columns
    marks: Marks
    lands: dict[str, list[tuple[int, int, str]]] = field(default_factory=dict)
    hops: dict[str, list[int]] = field(default_factory=dict)
    feet: dict[str, float] = field(default_factory=dict)
    """How far the frame of each panel reaches below its last row."""
    raised: dict[str, float] = field(default_factory=dict)
    """How much higher than usual the name of each bar stands, to be clear of other words."""

    def __post_init__(self) -> None:
        """Where rungs land on each bar: row, side (-1 left, 1 right), terminal; where they pass."""
        for course in self.columns.courses:
            laid = course.laid
            ports = laid.rung.ports[::-1] if laid.is_turned else laid.rung.ports
            if laid.left:
                self.lands.setdefault(laid.left, []).append((course.row, 1, ports[0]))
            if laid.right:
                self.lands.setdefault(laid.right, []).append((course.row, -1, ports[1]))
            if laid.left == course.seat.left:
                for name in course.seat.passed:
                    self.hops.setdefault(name, []).append(course.row)

    @property
    def size_pt(self) -> float:
        """The type of the page."""
        return self.ruler.size_pt

    def is_framed(self, bar: Bar) -> bool:
        """Whether slots of a panel stand on this page."""
        return bar.panel is not None and bar.panel.about.name in self.ruler.slot_mm

    def rank(self, name: str) -> tuple[bool, bool]:
        """Frames and boxes first, for they give way to nothing; names that joints have next."""
        bar = self.ruler.bars[name]
        return not (self.is_framed(bar) or bar.is_box), not bar.is_minor

    def ends(
        self, name: str, rows: Sequence[Sequence[Box]]
    ) -> tuple[tuple[Mark, ...], tuple[Mark, ...]]:
        """Marks at the first and at the last row of a bar, at height 0, clear of what is there."""
        bar = self.ruler.bars[name]
        x = self.columns.at[name]
        head, foot = self.marks.get(name, (None, None))
        if self.is_framed(bar):
            self.feet[name] = self._foot_mm(name, rows[self.grid.spans[name][1]])
            top, bottom = [*self._panel_head(bar, x)], -self.feet[name]
            high = -self._frame_top(bar)
        elif bar.is_box:
            top, bottom = [*self._box_head(bar, x)], -_BOX_FOOT_MM
            high = min(box[1] for box in boxes_of(top))
        else:
            top, bottom = [*self._name(bar, x)], -1.0
            boxes = rows[self.grid.spans[name][0]]
            self.raised[name] = 0.0 if bar.is_minor else _raise_mm(top, boxes)
            top = [*shift(top, 0.0, -self.raised[name])]
            high = -_HEAD_MM - 3.0 - self.raised[name] if top else -1.0
        low: list[Mark] = []
        if bar.kind == "frame":
            low += _lowered(chassis((x, 1.0)), rows[self.grid.spans[name][1]], (x, 1.0))
            bottom = -max(box[3] for box in boxes_of(low))
        if head is not None:
            ring = [*self._ring(head, (x, high - RING_MM - 0.2), name, is_foot=False)]
            up = _raise_mm(ring, rows[self.grid.spans[name][0]])
            if up:
                top.append(Line(((x, high - up - 0.2), (x, high + 0.8)), JOINT))
            top += shift(ring, 0.0, -up)
        if foot is not None:
            ring = [*self._ring(foot, (x, -bottom + RING_MM + 0.2), name, is_foot=True)]
            low += _lowered(ring, rows[self.grid.spans[name][1]], (x, -bottom))
        if self.is_framed(bar):
            left, right = extents(self.ruler, self.grid, name)
            low.append(Line(((x - left, -bottom), (x + right, -bottom)), _FRAME))
        if bar.is_box:
            low.append(Line(((x - BOX_MM, _BOX_FOOT_MM), (x + BOX_MM, _BOX_FOOT_MM)), STROKE))
        return tuple(top), tuple(low)

    def _foot_mm(self, name: str, boxes: Sequence[Box]) -> float:
        """How far a frame reaches down to hold all words of its last slot."""
        x = self.columns.at[name]
        left, right = extents(self.ruler, self.grid, name)
        inner = [box[3] for box in boxes if x - left < box[0] and box[2] < x + right]
        return max(_FOOT_MM, max(inner, default=0.0) + 1.0)

    def _name(self, bar: Bar, x: float) -> Iterator[Mark]:
        words = self.ruler.speaker.head(bar)
        if not words:
            return
        if bar.is_minor:
            yield Text((x, -1.7), words, self.size_pt, "middle")
            return
        wide = width_mm(words, self.size_pt, bold=True)
        row = self.grid.spans[bar.name][0]
        aside = edge_of(self.grid, bar)
        shifts = {"middle": -wide / 2, "start": -ASIDE_MM, "end": ASIDE_MM - wide}
        if aside:
            shifts = {"start" if aside < 0 else "end": 0.0} | shifts
        anchor = next(
            (
                anchor for anchor, aside in shifts.items()
                if self._is_clear(x + aside, x + aside + wide, row - 1, row, bar.name)
            ),
            "middle",
        )  # fmt: skip
        at = {"middle": x, "start": x - ASIDE_MM, "end": x + ASIDE_MM}[anchor]
        yield Text((at, -_HEAD_MM - 0.6), words, self.size_pt, anchor, bold=True)

    def _is_clear(self, left: float, right: float, one: int, two: int, own: str) -> bool:
        """Whether no other bar runs through a space between two rows."""
        for name, (first, last) in self.grid.spans.items():
            if name == own or not (first <= one and two <= last):
                continue
            x = self.columns.at[name]
            reach = extents(self.ruler, self.grid, name)
            if left < x + reach[1] + 0.5 and x - reach[0] - 0.5 < right:
                return False
        return True

    def _ring(self, mark: Reference, at: Point, name: str, *, is_foot: bool) -> Iterator[Mark]:
        x, y = at
        first, last = self.grid.spans[name]
        rows = (last, last + 1) if is_foot else (first - 1, first)
        wide = width_mm(mark.words, self.size_pt)
        is_right = edge_of(self.grid, self.ruler.bars[name]) <= 0
        is_right = is_right and self._is_clear(x, x + 3.2 + wide, *rows, name)
        place = (x + 3.2, y + 1.0) if is_right else (x - 3.2, y + 1.0)
        words = Text(place, mark.words, self.size_pt, "start" if is_right else "end")
        number = Text((x, y + 1.0), str(mark.number), self.size_pt, "middle", bold=True)
        ring = Circle((x, y), RING_MM, Pen(0.5), "#ffffff")
        title = f"mark {mark.number} {mark.words}"
        yield Group(mark.ident, title, (ring, number, words), mark.goes_to)

    def _title(self, bar: Bar) -> tuple[tuple[str, ...], tuple[str, ...]]:
        """Lines of name and facts of a panel."""
        panel = bar.panel
        if panel is None:
            return (), ()
        room = PANEL_LEFT_MM + self.ruler.slot_mm[panel.about.name] - 3.0
        name = f"{panel.about.name} {panel.about.label}".strip()
        title = broken(name, room, self.size_pt + 1.0, bold=True)
        return title, self.ruler.speaker.broken(panel_words(panel), room)

    def _frame_top(self, bar: Bar) -> float:
        title, facts = self._title(bar)
        return _TOP_MM + 3.8 * len(title) + self.ruler.speaker.style.line_mm * len(facts) + 0.6

    def _panel_head(self, bar: Bar, x: float) -> Iterator[Mark]:
        left, right = extents(self.ruler, self.grid, bar.name)
        top = -self._frame_top(bar)
        title, facts = self._title(bar)
        y = top
        for line in title:
            y += 3.8
            yield Text((x - left + 1.5, y), line, self.size_pt + 1.0, bold=True)
        for line in facts:
            y += self.ruler.speaker.style.line_mm
            yield Text((x - left + 1.5, y + 0.4), line, self.size_pt)
        side = -2.2 if left == PANEL_LEFT_MM else 2.2
        yield plus_sign((x + side, -1.9 if PANEL_LEFT_MM in (left, right) else -5.2))
        yield Line(((x - left, top), (x + right, top)), _FRAME)

    def _box_head(self, bar: Bar, x: float) -> Iterator[Mark]:
        yield Line(((x - BOX_MM, -_BOX_TOP_MM), (x + BOX_MM, -_BOX_TOP_MM)), STROKE)
        words = self.ruler.speaker.head(bar)
        for number, line in enumerate(reversed(self.ruler.speaker.broken(words, 40.0, bold=True))):
            y = -_BOX_TOP_MM - 1.0 - number * self.ruler.speaker.style.line_mm
            yield Text((x, y), line, self.size_pt, "middle", bold=True)

    def lines(self, name: str, y_of: Callable[[int], float]) -> Group:
        """The line of a bar with all that lands on it, by the heights of the rows."""
        bar = self.ruler.bars[name]
        x = self.columns.at[name]
        first, last = self.grid.spans[name]
        top, bottom = y_of(first), y_of(last)
        marks: list[Mark] = []
        if bar.is_box:
            marks += self._box(bar, x, top, bottom, y_of)
        elif self.is_framed(bar):
            left, right = extents(self.ruler, self.grid, name)
            high = top - self._frame_top(bar)
            marks.append(
                rect(x - left, high, left + right, bottom + self.feet[name] - high, pen=_FRAME)
            )
            marks += self._bar(bar, x, top - 1.4, bottom + 1.4, y_of)
            marks += self._edges(bar, x, y_of)
        else:
            head = bool(self.ruler.speaker.head(bar)) and not bar.is_minor
            high = (
                top - _HEAD_MM + 0.4 - self.raised.get(name, 0.0)
                if head
                else top - (0.0 if bar.kind == "joint" else 1.4)
            )
            low = bottom if bar.kind in ("joint", "end") else bottom + 1.4
            marks += self._bar(bar, x, high, low, y_of)
        return Group(_ident(bar), _about(bar, self.ruler.speaker.head(bar)), tuple(marks))

    def _bar(
        self, bar: Bar, x: float, top: float, bottom: float, y_of: Callable[[int], float]
    ) -> Iterator[Mark]:
        marks = self.marks.get(bar.name, (None, None))
        if marks[1] is not None:
            bottom += self.feet.get(bar.name, 1.4) - 1.4
        pen = BAR if bar.kind in ("busbar", "frame", "panel") else JOINT
        if bar.is_minor:
            pen = STROKE
        here = top
        for row in sorted(set(self.hops.get(bar.name, ()))):
            y = y_of(row)
            yield Line(((x, here), (x, y - HOP_MM - 0.5)), pen)
            here = y + 0.6
        if bottom > here + 0.01:
            yield Line(((x, here), (x, bottom)), pen)
        lands = self.lands.get(bar.name, ())
        for row in sorted({row for row, _, _ in lands}):
            if bar.kind in ("busbar", "frame", "panel"):
                yield terminal((x, y_of(row)))
            elif bar.kind == "joint":
                yield dot((x, y_of(row)))
            else:
                yield Circle((x, y_of(row)), 1.0, STROKE, "#ffffff")

    def _edges(self, bar: Bar, x: float, y_of: Callable[[int], float]) -> Iterator[Mark]:
        """Terminals at the edge of a panel, where wires leave its slots."""
        left, right = extents(self.ruler, self.grid, bar.name)
        for course in self.columns.courses:
            rung = course.laid.rung
            if rung.slot and rung.a == bar.name and not (rung.end and rung.end.kind == "slot"):
                edge = x - left if course.laid.right == bar.name else x + right
                yield terminal((edge, y_of(course.row)))

    def _box(
        self, bar: Bar, x: float, top: float, bottom: float, y_of: Callable[[int], float]
    ) -> Iterator[Mark]:
        high, low = top - _BOX_TOP_MM, bottom + _BOX_FOOT_MM
        is_converter = any(isinstance(thing, Source) for thing in bar.things)
        pen = STROKE if is_converter else DASH_DOT
        yield rect(x - BOX_MM, high, 2 * BOX_MM, low - high, pen=pen, fill="#ffffff")
        lands = self.lands.get(bar.name, ())
        for row, side, port in lands:
            edge = (x + side * BOX_MM, y_of(row))
            if not is_converter:
                continue
            yield terminal(edge)
            anchor = "start" if side < 0 else "end"
            word = port.rpartition(".")[2] if "." in port else printed(port)[-1]
            yield Text((edge[0] - side * 1.3, edge[1] + 1.0), word, self.size_pt, anchor)
        if is_converter:
            yield from _converter(x, high, low, [y_of(row) for row, _, _ in lands])
        else:
            yield from _contacts(self, x, lands, y_of)


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
    lead = Line((foot, (foot[0], foot[1] + down + 0.2)), JOINT)
    return (lead, *shift(marks, 0.0, down))


def _converter(x: float, high: float, low: float, rows: Sequence[float]) -> Iterator[Mark]:
    """The diagonal of a converter and the sign of direct current on both sides."""
    yield Line(((x - 3.6, low - 0.6), (x + 3.6, high + 0.6)), STROKE)
    span = low - high
    for dx, y in ((-2.9, high + 1.9), (2.9, low - 1.9)):
        if span < 7.0 or any(abs(row - y) < 1.2 for row in rows):
            continue
        yield Line(((x + dx - 1.2, y - 0.45), (x + dx + 1.2, y - 0.45)), Pen(0.3))
        yield Line(
            ((x + dx - 1.2, y + 0.45), (x + dx + 1.2, y + 0.45)), Pen(0.3, dash_mm=(0.6, 0.3))
        )


def _contacts(
    painter: BarPainter,
    x: float,
    lands: Sequence[tuple[int, int, str]],
    y_of: Callable[[int], float],
) -> Iterator[Mark]:
    """Fixed contacts of a selector by their names, and its pole, drawn on none of them."""
    poles = [(row, side) for row, side, port in lands if port.endswith(".common")]
    fixed = [(row, side, port) for row, side, port in lands if not port.endswith(".common")]
    pole_side = poles[0][1] if poles else 1
    pivot_x = x + pole_side * 3.4
    for row, side, port in fixed:
        y = y_of(row)
        contact = (x - pole_side * 3.4, y) if side != pole_side else (x + side * 5.8, y)
        yield Line(((x + side * BOX_MM, y), contact), STROKE)
        yield Circle(contact, 0.7, STROKE, "#ffffff")
        yield terminal((x + side * BOX_MM, y))
        anchor = "start" if side < 0 else "end"
        word = port.rpartition(".")[2]
        yield Text((x + side * 7.8, y - 1.3), word, painter.size_pt, anchor)
    heights = sorted({y_of(row) for row, _ in poles})
    for row, side in poles:
        yield Line(((pivot_x, y_of(row)), (x + side * BOX_MM, y_of(row))), STROKE)
        yield terminal((x + side * BOX_MM, y_of(row)))
    if heights:
        pivot = (pivot_x, heights[0])
        if len(heights) > 1:
            yield Line((pivot, (pivot_x, heights[-1])), STROKE)
            for height in heights[1:]:
                yield dot((pivot_x, height))
        rows = sorted({y_of(row) for row, _, _ in fixed})
        goal = min(rows, key=lambda y: (abs(y - pivot[1]), y), default=pivot[1])
        drop = 1.4 if goal >= pivot[1] else -1.4
        if abs(goal - pivot[1]) > 9.0:
            drop = -6.0 if goal < pivot[1] else 6.0
            tip = (pivot_x - pole_side * 4.0, pivot[1] + drop)
        else:
            tip = (x - pole_side * 2.4, goal + (-1.6 if goal <= pivot[1] else 1.6))
        yield Line((pivot, tip), STROKE)
        yield Circle(pivot, 0.7, STROKE, "#ffffff")


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
    kind = {"busbar": "bar", "frame": "frame", "panel": "panel", "box": "part"}.get(
        bar.kind, "joint"
    )
    return f"{kind} {words or printed(bar.terminals[0])}"
