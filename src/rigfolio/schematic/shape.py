"""Parts beside the rows: how large they are, where wires land on them, how they look."""

from dataclasses import dataclass
from functools import lru_cache
from math import ceil

from rigfolio.draw import (
    BAR,
    HALF_MM,
    STROKE,
    SYMBOLS,
    Circle,
    Fitted,
    Group,
    Line,
    Mark,
    Point,
    Text,
    chassis,
    dot,
    fit,
    minus_sign,
    plus_sign,
    terminal,
    unknown_end,
    width_mm,
)
from rigfolio.findings import Unknown
from rigfolio.model import Device, Junction, Rig, Source
from rigfolio.schematic.cut import cut_mm, draw_cut, draw_flat, half_mm
from rigfolio.schematic.paint import (
    CELL_MM,
    FACT_PT,
    MOST_LINES,
    NAME_PT,
    ROW,
    SMALLEST_PT,
    words,
)
from rigfolio.schematic.rungs import Part
from rigfolio.units import show
from rigfolio.wording import amps, end_words

ABOVE = 3
"""Cells above the first landing of most parts."""

_LINE_MM = 3.2
_RING_CELLS = 2
_BESIDE_MM = 1.2
_NARROW, _WIDE = 6, 14
_CONVERTER = 12
_SHORT_MM = 15.0
_TWO, _TWO_SHARE, _STEP_MM = 2, 0.55, 1.0
_SIGN_MM, _SIGN_PT = 5.4, 8.0
_BELOW_MM = {"battery": 3.6, "charger": 4.2, "solar": 4.2, "alternator": 4.2, "vehicle": 3.4,
             "dc-dc": 4.2, "relay": 2.4, "combiner": 2.4, "chassis": 4.4, "busbar": 2.2,
             "splice": 2.0}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Landing:
    """Where wires land on one side of a part: its terminal, first row, and their number."""

    terminal: str
    row: int
    count: int


@dataclass(frozen=True, slots=True)
class Shape:
    """A part with its landings; `lines` are the words below it, `columns` its least width."""

    part: Part
    name: str
    lines: tuple[str, ...]
    columns: int
    left: tuple[Landing, ...]
    right: tuple[Landing, ...]

    @property
    def above(self) -> int:
        """Cells above the first landing: half the symbol and its name."""
        return ABOVE if self.part.cut is None else ceil(half_mm(self.part.cut) / CELL_MM)

    @property
    def span(self) -> int:
        """Cells from the first to the last landing."""
        ends = [x.row + ROW * (max(x.count, 1) - 1) for x in (*self.left, *self.right)]
        return max(ends, default=0)

    def below(self, width_mm: float) -> int:
        """Cells below the first landing, for words of a width."""
        if self.part.cut is not None:
            return self.above
        count = len(self.text(width_mm))
        high_mm = self.text_top_mm + _LINE_MM * count + 0.6
        return max(ceil(high_mm / CELL_MM), self.span + 2)

    @property
    def text_top_mm(self) -> float:
        """From the first landing down to the words below the part."""
        is_bar = self.part.kind in ("busbar", "splice", "chassis")
        is_below = is_bar or (self._is_split() and not self.is_beside)
        base = self.span * CELL_MM if is_below else 0.0
        return base + _BELOW_MM.get(self.part.kind, 1.6)

    @property
    def is_beside(self) -> bool:
        """Whether the words stand at the right of a minus that leaves downwards."""
        return self.part.kind == "dc-dc" and self._is_split()

    def _is_split(self) -> bool:
        return len(self.left) > 1 or len(self.right) > 1

    def text(self, room_mm: float) -> tuple[Text, ...]:
        """Words below the part, without their places."""
        lines = []
        anchor = "start" if self.is_beside else "middle"
        wide_mm = room_mm / 2 + _BESIDE_MM if self.is_beside else room_mm - 2.6
        for line in self.lines:
            done = _set(line, wide_mm)
            lines += [Text((0, 0), each, done.size_pt, anchor) for each in done.lines if each]
        return tuple(lines)

    def landing(self, terminal: str, side: str) -> Landing | None:
        """The landing of a terminal on a side."""
        landings = self.left if side == "left" else self.right
        return next((x for x in landings if x.terminal == terminal), None)


def shape_of(rig: Rig, part: Part, counts: dict[tuple[str, str], int]) -> Shape:
    """The shape of a part on which so many wires land, by side and terminal."""
    if part.cut is not None:
        wide = _RING_CELLS if part.cut.is_flat else ceil(cut_mm(part.cut) / CELL_MM)
        one, two = (_stack(ends, side, counts, is_bar=False)
                    for ends, side in ((part.left, "left"), (part.right, "right")))  # fmt: skip
        return Shape(part, "", (), wide, one, two)
    name, lines = _words(rig, part)
    widest = max([width_mm(name, SMALLEST_PT, bold=True) - 1.6, *(_share(line) for line in lines)])
    columns = min(_WIDE, max(_NARROW, ceil((widest + 2.8) / CELL_MM)))
    if part.kind == "dc-dc":
        columns = max(columns, _CONVERTER)
    left = _stack(part.left, "left", counts, is_bar=part.left == part.right)
    right = _stack(part.right, "right", counts, is_bar=part.left == part.right)
    if part.kind == "connector":
        left, right = _paired(left, right)
    elif part.kind == "selector":
        left, right = _middled(left, right), _middled(right, left)
    return Shape(part, name, lines, columns, left, right)


@lru_cache(maxsize=1024)
def _share(line: str) -> float:
    """Width that a line wants; a long one the least at which it is set in two."""
    wide_mm = width_mm(line, FACT_PT)
    room_mm = max(_SHORT_MM, _TWO_SHARE * wide_mm)
    while room_mm < wide_mm and len(_set(line, room_mm).lines) > _TWO:
        room_mm += _STEP_MM
    return min(room_mm, wide_mm)


def _set(line: str, room_mm: float) -> Fitted:
    return fit(line, room_mm, size_pt=FACT_PT, floor_pt=SMALLEST_PT, lines=MOST_LINES)


def _stack(
    terminals: tuple[str, ...], side: str, counts: dict[tuple[str, str], int], *, is_bar: bool
) -> tuple[Landing, ...]:
    made, row = [], 0
    for one in terminals:
        count = counts.get((side, one), 0)
        made.append(Landing(one, row, count))
        row += ROW * (count if is_bar else max(count, 1))
    return tuple(made)


def _paired(
    left: tuple[Landing, ...], right: tuple[Landing, ...]
) -> tuple[tuple[Landing, ...], tuple[Landing, ...]]:
    """Pins of a connector: both ends of each in one row; pins without a wire are left out."""
    one, two, row = [], [], 0
    pairs = list(zip(left, right, strict=True))
    wired = [pair for pair in pairs if pair[0].count or pair[1].count]
    for a, b in wired or pairs[:1]:
        one.append(Landing(a.terminal, row, a.count))
        two.append(Landing(b.terminal, row, b.count))
        row += ROW * max(a.count, b.count, 1)
    return tuple(one), tuple(two)


def _middled(one: tuple[Landing, ...], other: tuple[Landing, ...]) -> tuple[Landing, ...]:
    """A single landing level with the middle of several on the other side."""
    if len(one) > 1 or len(other) < 2:
        return one
    return tuple(Landing(x.terminal, other[-1].row // 2, x.count) for x in one)


def _words(rig: Rig, part: Part) -> tuple[str, tuple[str, ...]]:
    """Name of a part, and the lines below it."""
    if not part.things:
        text = end_words(rig, part.left[0]) if part.left else part.name
        return ("?" if "~" in part.name else ""), (() if "~" in part.name else (text,))
    thing = part.things[0]
    name = thing.about.name
    facts = _facts(thing)
    more = [word for word in (thing.about.label, facts, thing.about.condition) if word]
    return name, tuple(more)


def _facts(thing: Source | Device | Junction) -> str:
    if isinstance(thing, Source):
        facts = [show(thing.voltage_v, "V")]
        if isinstance(thing.capacity_c, float):
            facts.append(show(thing.capacity_c, "Ah"))
        elif isinstance(thing.capacity_c, Unknown):
            facts.append("? Ah")
        if thing.limit_a is not None:
            facts.append(amps(thing.limit_a))
        return ", ".join([*facts, *([thing.chemistry] if thing.chemistry else [])])
    if isinstance(thing, Device) and thing.kind == "connector":
        return "" if thing.rating_a is None else f"{amps(thing.rating_a)} a pin"
    if thing.rating_a is not None:
        return amps(thing.rating_a)
    return "? A" if isinstance(thing, Device) and thing.protects else ""


def draw_part(shape: Shape, at: Point, wide_mm: float) -> Group:
    """A part whose first row meets its left edge at a point."""
    x, y = at
    middle = (x + wide_mm / 2, y)
    kind = shape.part.kind
    if shape.part.cut is not None:
        if shape.part.cut.is_flat:
            return draw_flat(shape.part.cut, (x + wide_mm, y))
        is_left = bool(shape.left)
        end = (x if is_left else x + wide_mm, y)
        return draw_cut(shape.part.cut, end, 1.0 if is_left else -1.0)
    if kind in ("busbar", "splice", "chassis"):
        marks = _bar(shape, at, wide_mm)
    elif kind == "open":
        marks = [*unknown_end(middle), *_edge_leads(shape, at, wide_mm, 1.0)]
    elif kind == "selector":
        marks = _selector(shape, at, wide_mm)
    elif kind == "connector":
        marks = []
        for left in shape.left:
            height = y + left.row * CELL_MM
            marks += SYMBOLS[kind]((middle[0], height))
            pin = left.terminal.split(".")[-2]
            marks.append(Text((middle[0] - 2.6, height - 1.0), pin, FACT_PT, "end"))
        marks += _edge_leads(shape, at, wide_mm, HALF_MM)
    else:
        marks = [*_edge_leads(shape, at, wide_mm, HALF_MM), *SYMBOLS[kind](middle)]
    marks += _signs(shape, at, wide_mm)
    over = 4.4 if kind in ("charger", "solar", "alternator", "battery", "dc-dc") else 3.2
    marks += words((middle[0], y - over - 0.6), shape.name, wide_mm - 0.6, NAME_PT, bold=True,
                   anchor="middle")  # fmt: skip
    line_mm = y + shape.text_top_mm + 2.5
    for number, text in enumerate(shape.text(wide_mm)):
        left_mm = _BESIDE_MM + 0.2 if shape.is_beside else 0.0
        place = (middle[0] - left_mm, line_mm + number * _LINE_MM)
        marks.append(Text(place, text.text, text.size_pt, text.anchor))
    thing = shape.part.things[0] if shape.part.things else None
    title = f"{kind} {thing.about}" if thing else f"{kind} {shape.part.name}"
    return Group(shape.part.name, title, tuple(marks))


def _edge_leads(shape: Shape, at: Point, wide_mm: float, half_mm: float) -> list[Mark]:
    """Leads from the symbol to both edges, ties between landings of one terminal."""
    x, y = at
    middle = x + wide_mm / 2
    marks: list[Mark] = []
    for landings, edge, pin in (
        (shape.left, x, middle - half_mm), (shape.right, x + wide_mm, middle + half_mm)
    ):  # fmt: skip
        for number, landing in enumerate(landings):
            first = y + landing.row * CELL_MM
            last = first + ROW * CELL_MM * (max(landing.count, 1) - 1)
            if number and shape.part.kind not in ("selector", "connector"):
                bottom = y + 4.0
                marks.append(Line(((edge, first), (middle - 2.5, first), (middle - 2.5, bottom)),
                                  STROKE))  # fmt: skip
            else:
                marks.append(Line(((edge, first), (pin, first)), STROKE))
            marks += _ties(edge, first, last, landing.count)
    return marks


def _ties(edge_mm: float, first_mm: float, last_mm: float, count: int) -> list[Mark]:
    marks: list[Mark] = []
    if last_mm > first_mm:
        marks.append(Line(((edge_mm, first_mm), (edge_mm, last_mm)), STROKE))
    step = ROW * CELL_MM
    if count > 1:
        marks += [dot((edge_mm, first_mm + k * step)) for k in range(count)]
    else:
        marks.append(terminal((edge_mm, first_mm)))
    return marks


def _bar(shape: Shape, at: Point, wide_mm: float) -> list[Mark]:
    x, y = at
    middle = x + wide_mm / 2
    bottom = y + shape.span * CELL_MM
    marks: list[Mark] = []
    for landings, edge in ((shape.left, x), (shape.right, x + wide_mm)):
        for landing in landings:
            for number in range(landing.count):
                height = y + number * ROW * CELL_MM
                marks.append(Line(((edge, height), (middle, height)), STROKE))
                if shape.part.kind == "splice":
                    marks.append(dot((middle, height)))
    if shape.part.kind == "splice":
        marks.append(Line(((middle, y), (middle, bottom)), STROKE))
        marks.append(dot((middle, y)))
    else:
        marks.append(Line(((middle, y - 1.6), (middle, bottom + 1.6)), BAR))
    if shape.part.kind == "chassis":
        marks += chassis((middle, bottom + 1.0))
    return marks


def _selector(shape: Shape, at: Point, wide_mm: float) -> list[Mark]:
    """Fixed contacts on one side, named by their pins, and a moving one on the other."""
    x, y = at
    middle = x + wide_mm / 2
    way = -1.0 if len(shape.left) >= len(shape.right) else 1.0
    fixed, moving = (shape.left, shape.right) if way < 0 else (shape.right, shape.left)
    pivot = (middle - way * 3.0, y + moving[0].row * CELL_MM)
    marks = _edge_leads(shape, at, wide_mm, 3.0)
    for landing in fixed:
        height = y + landing.row * CELL_MM
        marks.append(Circle((middle + way * 3.0, height), 0.6, STROKE, "#ffffff"))
        name = landing.terminal.rsplit(".", 1)[-1]
        place = (middle + way * 4.2, height - 0.9)
        marks.append(Text(place, name, FACT_PT, "end" if way < 0 else "start"))
    tip = (middle + way * 2.0, y + fixed[0].row * CELL_MM + 1.6)
    marks.append(Line((pivot, tip), STROKE))
    marks.append(Circle(pivot, 0.6, STROKE, "#ffffff"))
    return marks


def _signs(shape: Shape, at: Point, wide_mm: float) -> list[Mark]:
    """Plus and minus at the terminals of a source."""
    thing = shape.part.things[0] if shape.part.things else None
    if not isinstance(thing, Source):
        return []
    x, y = at
    middle = x + wide_mm / 2
    marks: list[Mark] = []
    for landing in shape.left:
        height = y + landing.row * CELL_MM - 1.7
        place = (middle - _SIGN_MM, height)
        sign = minus_sign if landing.terminal == thing.minus else plus_sign
        marks.append(sign(place, _SIGN_PT))
    for landing in shape.right:
        place = (middle + _SIGN_MM, y + landing.row * CELL_MM - 1.7)
        marks.append(plus_sign(place, _SIGN_PT))
    return marks
