"""The legend: symbols, kinds of lines and colour codes that a diagram uses, where there is room."""

from collections.abc import Iterator, Sequence

from rigfolio.books import colour_book
from rigfolio.draw import (
    BAR,
    STROKE,
    SYMBOLS,
    Box,
    Group,
    Line,
    Mark,
    Pen,
    Text,
    boxes_of,
    chassis,
    conductor,
    dot,
    ink_mm,
    patch,
    rect,
    shift,
    terminal,
    width_mm,
)
from rigfolio.findings import Unknown
from rigfolio.model import Device, Rig
from rigfolio.record import record
from rigfolio.schematic.painting.captions import FLAG
from rigfolio.schematic.painting.pieces import line_side
from rigfolio.schematic.painting.wires import ASSUMED, PLAIN
from rigfolio.schematic.setting import FLAG_PAD_MM, Notes, broken, device_symbol, load_symbol
from rigfolio.values import Colour
from rigfolio.wording import shades

SIZE_PT = 7.0
_CELL_MM = 3.0
_PICTURE_MM, _GAP_MM = 11.0, 2.5
_HEIGHT_MM, _LOW_MM = 8.6, 4.8
_NOTE_MM, _LINE_MM = 70.0, 2.9
_CLEAR_MM = 2.5
_LOOSE_MM = 1e-6
"""By how much sums of heights may miss each other."""
_LEAST = 3
_LOADS = {
    "lamp": "lamp", "motor": "motor, pump", "heater": "heater", "appliance": "other load",
    "socket": "socket", "inverter": "inverter",
}  # fmt: skip


@record
class LegendEntry:
    """A picture in its middle at (0, 0), what it means, and how high it is."""

    marks: tuple[Mark, ...]
    words: str
    high_mm: float = _HEIGHT_MM
    lines: tuple[str, ...] = ()
    """The words in several lines, where they are many."""

    @property
    def wide_mm(self) -> float:
        """Room for picture and words."""
        widest = max(width_mm(line, SIZE_PT) for line in self.lines or (self.words,))
        return _PICTURE_MM + widest + _GAP_MM

    def texts(self, x: float, y: float) -> Iterator[Text]:
        """The words at the right of a place in their middle."""
        lines = self.lines or (self.words,)
        first = y + 0.9 - (len(lines) - 1) * _LINE_MM / 2
        for number, line in enumerate(lines):
            yield Text((x, first + number * _LINE_MM), line, SIZE_PT)


@record
class Space:
    """A free rectangle of a page."""

    left_mm: float
    top_mm: float
    wide_mm: float
    high_mm: float


def entries_of(rig: Rig, notes: Notes) -> list[LegendEntry]:
    """All that a legend of a rig explains: notes, symbols, lines, then colours."""
    return [*_notes(notes), *_symbols(rig), *_lines(rig), *_colours(rig)]


def _notes(notes: Notes) -> Iterator[LegendEntry]:
    """Each note beside its number in a box, as that stands at the part."""
    for note in notes.all:
        number = str(note.number)
        wide, (high, _) = width_mm(number, SIZE_PT), ink_mm(number, SIZE_PT)
        frame = rect(-wide / 2 - FLAG_PAD_MM, -high / 2 - FLAG_PAD_MM, wide + 2 * FLAG_PAD_MM,
                     high + 2 * FLAG_PAD_MM, pen=FLAG)  # fmt: skip
        words = f"{note.about}: {note.words}"
        lines = broken(words, _NOTE_MM, SIZE_PT, bold=False)
        tall = max(_LOW_MM, _LINE_MM * len(lines) + 1.6)
        picture = (frame, Text((-wide / 2, high / 2), number, SIZE_PT))
        yield LegendEntry(picture, f"note {number}, {words}", tall, lines)


def _at_rest(device: Device, symbol: str) -> str:
    """What a legend says of a symbol that is not the plain one of its kind."""
    if symbol == device.traits.symbol:
        return ""
    return ", with a position off" if device.turns_off else ", rests closed"


def _symbols(rig: Rig) -> Iterator[LegendEntry]:
    shown: dict[str, str] = {}
    for source in rig.sources:
        if not source.has_input:
            shown.setdefault(source.traits.symbol, source.traits.in_legend or source.kind)
    for device in rig.devices:
        if not device.traits.selects:
            symbol = device_symbol(device)
            called = device.traits.in_legend or device.kind
            shown.setdefault(symbol, f"{called}{_at_rest(device, symbol)}")
    inlets = {source.inlet for source in rig.sources}
    for load in rig.loads:
        if load.about.name not in inlets:
            symbol = load_symbol(load)
            shown.setdefault(symbol, _LOADS[symbol])
    for symbol, words in shown.items():
        marks = SYMBOLS[symbol]((0.0, 0.0))
        boxes = [*boxes_of(marks)]
        high = max(box[3] for box in boxes) - min(box[1] for box in boxes)
        yield LegendEntry(marks, words, _HEIGHT_MM if high > _TALL_MM else _MIDDLE_MM)
    if any(one.traits.sided and not one.in_slot for one in rig.devices):
        lead = Line(((-4.9, 0.0), (0.0, 0.0)), STROKE)
        yield LegendEntry(shift((lead, line_side(0.0)), 2.4, 0.0), "line side", _LOW_MM)
    if any(j.traits.is_frame for j in rig.junctions):
        yield LegendEntry(tuple(chassis((0.0, -1.5))), "frame, chassis", _MIDDLE_MM)


_MIDDLE_MM, _TALL_MM = 6.6, 6.0


def _lines(rig: Rig) -> Iterator[LegendEntry]:
    path = ((-4.5, 0.0), (4.5, 0.0))
    ends = (terminal((-4.5, 0.0)), terminal((4.5, 0.0)))
    wires = [wire for wire in rig.conductors if not wire.assumed]
    if any(isinstance(w.colour, Colour) for w in wires):
        yield LegendEntry(
            (*conductor(path, "#d02020", None, 0.9), *ends), "wire in its colour", _LOW_MM
        )
    if any(isinstance(w.colour, Unknown) for w in wires):
        marks = conductor(path, "#ffffff", None, 0.9, unknown=True)
        yield LegendEntry((*marks, *ends), "colour not surveyed", _LOW_MM)
    if any(w.colour is None for w in wires):
        yield LegendEntry((Line(path, PLAIN), *ends), "colour not stated", _LOW_MM)
    if any(wire.assumed for wire in rig.conductors):
        yield LegendEntry((Line(path, ASSUMED),), "return assumed", _LOW_MM)
    yield LegendEntry((Line(path, STROKE),), "no length of its own", _LOW_MM)
    if any(j.traits.is_bar for j in rig.junctions) or rig.panels:
        yield LegendEntry(
            (Line(((0.0, -2.0), (0.0, 2.0)), BAR), terminal((0.0, 0.0))), "bar", _LOW_MM
        )
    yield LegendEntry(
        (Line(((0.0, -2.0), (0.0, 2.0)), Pen(0.7)), dot((0.0, 0.0))), "joint", _LOW_MM
    )


def _colours(rig: Rig) -> Iterator[LegendEntry]:
    book = colour_book()
    words: dict[str, None] = {}
    for wire in rig.conductors:
        if isinstance(wire.colour, Colour):
            words |= dict.fromkeys(w for w in (wire.colour.base, wire.colour.stripe) if w)
    for word in words:
        found = book.find(word)
        if found is not None and found.code:
            base, _ = shades(Colour(word))
            marks = patch(-2.2, -1.1, 4.4, 2.2, base)
            yield LegendEntry(marks, f"{found.code} {word}", _LOW_MM)


def placed(entries: Sequence[LegendEntry], space: Space) -> tuple[tuple[Mark, ...], int]:
    """Marks of as many entries as a space holds, and their number."""
    marks: list[Mark] = []
    x, y, count = space.left_mm, space.top_mm, 0
    while count < len(entries):
        column = _column(entries[count:], space.top_mm + space.high_mm - y)
        wide = max((each.wide_mm for each in column), default=0.0)
        if not column or x + wide > space.left_mm + space.wide_mm:
            break
        for each in column:
            middle = (x + _PICTURE_MM / 2, y + each.high_mm / 2)
            marks += shift(each.marks, *middle)
            marks += each.texts(x + _PICTURE_MM + 0.8, middle[1])
            y += each.high_mm
        count += len(column)
        x, y = x + wide + 1.0, space.top_mm
    return tuple(marks), count


def _column(entries: Sequence[LegendEntry], high_mm: float) -> list[LegendEntry]:
    """The first entries that stand above each other in a height."""
    found: list[LegendEntry] = []
    for each in entries:
        high_mm -= each.high_mm
        if high_mm < -_LOOSE_MM:
            break
        found.append(each)
    return found


def strip_mm(entries: Sequence[LegendEntry], wide_mm: float) -> float:
    """The least height in which all entries stand on a width."""
    high = _HEIGHT_MM
    while placed(entries, Space(0.0, 0.0, wide_mm, high))[1] < len(entries):
        high += _LOW_MM / 2
        if high > 500.0:
            break
    return high


def legend_in(entries: Sequence[LegendEntry], space: Space) -> Group:
    """The entries in a space as one group."""
    marks, _ = placed(entries, space)
    words = ", ".join(each.words for each in entries)
    return Group("legend", "Legend", marks, about=words)


def spaces(marks: Sequence[Mark], room: Box, count: int) -> Iterator[Space]:
    """The largest free rectangles of a page one after the other, at most so many."""
    left, top, right, bottom = room
    columns, rows = int((right - left) / _CELL_MM), int((bottom - top) / _CELL_MM)
    taken = [[False] * columns for _ in range(rows)]

    def take(box: Box, clear: float) -> None:
        first = max(0, int((box[0] - clear - left) / _CELL_MM))
        last = min(columns - 1, int((box[2] + clear - left) / _CELL_MM))
        for row in range(max(0, int((box[1] - clear - top) / _CELL_MM)),
                         min(rows - 1, int((box[3] + clear - top) / _CELL_MM)) + 1):  # fmt: skip
            for column in range(first, last + 1):
                taken[row][column] = True

    for box in boxes_of(marks):
        take(box, _CLEAR_MM)
    for _ in range(count):
        found = _largest(taken)
        if found is None:
            return
        x, y, wide, high = found
        space = Space(left + x * _CELL_MM, top + y * _CELL_MM, wide * _CELL_MM, high * _CELL_MM)
        yield space
        take((space.left_mm, space.top_mm, space.left_mm + space.wide_mm - 0.1,
              space.top_mm + space.high_mm - 0.1), 0.0)  # fmt: skip


def _largest(taken: Sequence[Sequence[bool]]) -> tuple[int, int, int, int] | None:
    """Column, row, width and height of the largest free rectangle of a grid."""
    best, found = 0, None
    heights = [0] * (len(taken[0]) if taken else 0)
    for row, line in enumerate(taken):
        heights = [0 if full else high + 1 for full, high in zip(line, heights, strict=True)]
        stack: list[int] = []
        for column in range(len(heights) + 1):
            here = heights[column] if column < len(heights) else 0
            while stack and heights[stack[-1]] >= here:
                high = heights[stack.pop()]
                start = stack[-1] + 1 if stack else 0
                if high * (column - start) > best:
                    best = high * (column - start)
                    found = (start, row - high + 1, column - start, high)
            stack.append(column)
    return found
