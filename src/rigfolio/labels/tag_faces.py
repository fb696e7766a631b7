"""How a tag is drawn in each of its forms, with no type below the smallest that can be read.

What a form has no room for is said shorter, then in fewer lines, then fewer times round the wire; a
form that cannot hold even that says so, and the wire takes another.
"""

import math
from collections.abc import Iterator, Sequence
from itertools import product

from rigfolio.books import outside_diameter_m, sleeve_length_m, sleeve_m, tag_overlap_m
from rigfolio.calc import flag_length_m, sleeve_flat_m, wrap_length_m
from rigfolio.draw import Box, Line, Mark, Pen, Style, Text, block, fit, holds, rect
from rigfolio.findings import Unknown
from rigfolio.job import TagForm
from rigfolio.labels.tags import Tag
from rigfolio.labels.type import FLOOR_PT
from rigfolio.model import Conductor
from rigfolio.record import record, replace

LENGTH_MM = 80.0
"""Greatest length of a tag on the paper; that of a wrap along its wire."""
FLAG_MM, FLAG_HIGH_MM = 30.0, 19.6
"""One face of a flag of six lines of the smallest type; names that take more make it higher."""
DEFAULT_DIAMETER_MM = 5.0
"""Taken, and said so, for a wire whose size is not surveyed; goes round up to 10 AWG."""
SIDES = 3
"""The words are repeated at thirds of the round: about a third of it shows from one side."""

_CUT = Pen(0.1)
_SOFT = Pen(0.1, "#909090", (0.6, 0.9))
_LINE_MM = 2.35
"""From one line of the smallest type to the next, with a little air."""
_ROW_AIR_MM = 0.7
_MOST_LINES = 9
_EDGE_MM = 0.4
_NAME_SHARE = 0.25
_WRAP_ROWS = (3, 2, 1)
"""In how many lines a wrap may say its words, as many as there is room for."""


@record
class TagCut:
    """A tag as it is cut: its form, what it goes round, its length and height [mm].

    `lines` is how many lines each row of a flag takes, `sides` how often a wrap says its words
    round the wire, and `rows` in how many lines.
    """

    form: TagForm
    round_mm: float
    wide_mm: float
    high_mm: float
    about: str
    lines: tuple[int, ...] = ()
    sides: int = SIDES
    rows: int = 3


@record
class _Phrase:
    """Part of a line of a tag: its wordings, its share of the width, how it is set."""

    wordings: tuple[str, ...]
    share: float = 1.0
    bold: bool = False
    align: str = "start"
    size_pt: float = 7.0


def cut_of(wire: Conductor, tags: Sequence[Tag], wish: TagForm | None) -> TagCut | None:
    """How the tags of a wire are cut in the form that is wished for; None where it holds no words.

    Where none is wished for, a thin wire gets a flag and a thick one a wrap; so does a wire that
    is too thick for the flag or the sleeve that is wished for.
    """
    diameter_m, about = _diameter(wire)
    if wish == "sleeve" and sleeve_m(diameter_m) is not None:
        return _sleeve_of(diameter_m, tags, about)
    if wish == "wrap":
        return _wrap_of(diameter_m, tags, about)
    flag = _flag_of(diameter_m, tags, about)
    if flag is not None and (wish == "flag" or not _is_thick(diameter_m, tags, about)):
        return flag
    # Names too long for any tag are shortened where nobody asked for a form.
    return _wrap_of(diameter_m, tags, about) or _widest(diameter_m, about)


def drawn_tag(tag: Tag, cut: TagCut, left: float, top: float) -> tuple[Mark, ...]:
    """A tag with the line along which it is cut."""
    draw = {"flag": _flag, "wrap": _wrap, "sleeve": _sleeve}[cut.form]
    half = _CUT.width_mm / 2
    edge = rect(left - half, top - half, cut.wide_mm + 2 * half, cut.high_mm + 2 * half, pen=_CUT)
    return (*draw(tag, cut, left, top), edge)


def _diameter(wire: Conductor) -> tuple[float, str]:
    """Outside diameter of a wire [m], and the words for it."""
    if isinstance(wire.size, Unknown):
        diameter_m, about = DEFAULT_DIAMETER_MM * 1e-3, "size not surveyed: cut for"
    else:
        diameter_m, about = outside_diameter_m(wire.size).value, "wire"
    return diameter_m, f"{about} Ø {diameter_m * 1e3:.1f} mm"


def _first(wordings: Sequence[str], room: Box, style: Style) -> str | None:
    """The first wording that a room holds whole."""
    return next((each for each in wordings if holds(each, room, style)), None)


def _flag_of(diameter_m: float, tags: Sequence[Tag], about: str) -> TagCut | None:
    """A flag as high as its words need it; None where it is longer than the paper allows."""
    wide_mm = flag_length_m(diameter_m, FLAG_MM * 1e-3) * 1e3
    if wide_mm > LENGTH_MM:
        return None
    made = TagCut("flag", math.pi * diameter_m * 1e3, wide_mm, FLAG_HIGH_MM, about)
    usual = next(
        (lines for lines in ((1, 2, 2, 1), (1, 2, 2, 2))
         if all(_flag_holds(tag, replace(made, lines=lines)) for tag in tags)), None,
    )  # fmt: skip
    if usual is not None:
        return replace(made, lines=usual)
    rows = [_stacked(tag) for tag in tags]
    each = [max(map(_lines_of, (tag[place] for tag in rows))) for place in range(4)]
    high_mm = 1.2 + sum(count * _LINE_MM + _ROW_AIR_MM for count in each)
    made = replace(made, lines=tuple(each), high_mm=max(FLAG_HIGH_MM, high_mm))
    return made if all(_flag_holds(tag, made) for tag in tags) else None


def _lines_of(row: list[_Phrase]) -> int:
    """How many lines a row of a flag takes in the smallest type, by its shortest wordings."""
    return max(
        len(fit(cell.wordings[-1], cell.share * (FLAG_MM - 1.6) - 0.4, size_pt=FLOOR_PT,
                floor_pt=FLOOR_PT, lines=_MOST_LINES, bold=cell.bold).lines)
        for cell in row
    )  # fmt: skip


def _flag_holds(tag: Tag, cut: TagCut) -> bool:
    box = (0.0, 0.0, FLAG_MM - 1.6, cut.high_mm - 1.2)
    return all(said is not None for _, said, _, _ in _laid(_stacked(tag), cut.lines, box))


def _flag(tag: Tag, cut: TagCut, left: float, top: float) -> Iterator[Mark]:
    """Two faces with the same words, the wire between them."""
    for face in (left, left + FLAG_MM + cut.round_mm):
        box = (face + 0.8, top + 0.6, FLAG_MM - 1.6, cut.high_mm - 1.2)
        for cell, said, room, style in _laid(_stacked(tag), cut.lines, box):
            yield from block(said or cell.wordings[-1], room, style)
    for fold in (left + FLAG_MM, left + FLAG_MM + cut.round_mm):
        yield Line(((fold, top), (fold, top + cut.high_mm)), _SOFT)
    middle = (left + cut.wide_mm / 2 + 0.7, top + cut.high_mm / 2)
    yield Text(middle, "wire", 6, "middle", colour="#606060", turn=90)


def _stacked(tag: Tag) -> list[list[_Phrase]]:
    """Everything a tag says, line by line."""
    name = _Phrase((tag.name,), 0.6, bold=True, size_pt=9.5)
    return [
        [name, _Phrase((tag.polarity,), 0.4, bold=True, align="end")],
        [_Phrase(tuple(f"HERE {text}" for text in tag.here), bold=True)],
        [_Phrase(tuple(f"TO {text}" for text in tag.other))],
        [_Phrase(tag.facts)],
    ]


def _laid(
    rows: list[list[_Phrase]], lines: Sequence[int], box: Box
) -> Iterator[tuple[_Phrase, str | None, Box, Style]]:
    """Each cell with the wording that it holds, its room and its style, row after row."""
    left, down, wide, high = box
    each = (high - len(rows) * _ROW_AIR_MM) / sum(lines)
    for row, count in zip(rows, lines, strict=True):
        across, tall = left, each * count + _ROW_AIR_MM
        for cell in row:
            room = (across, down, cell.share * wide - (0.4 if len(row) > 1 else 0.0), tall - 0.2)
            style = Style(cell.size_pt, FLOOR_PT, count, bold=cell.bold, align=cell.align)
            yield cell, _first(cell.wordings, room, style), room, style
            across += cell.share * wide
        down += tall


def _sleeve_of(diameter_m: float, tags: Sequence[Tag], about: str) -> TagCut | None:
    """A tube over the wire; None where it is too small for the name."""
    bore_m = sleeve_m(diameter_m) or diameter_m
    wide_mm, high_mm = sleeve_length_m() * 1e3, sleeve_flat_m(bore_m) * 1e3
    about = f"sleeve {bore_m * 1e3:.1f} mm for {about}"
    made = TagCut("sleeve", math.pi * diameter_m * 1e3, wide_mm, high_mm, about)
    first = _sleeve_rooms(made, 0.0, 0.0)[0]
    style = Style(11, FLOOR_PT, bold=True)
    return made if all(holds(tag.signed, first, style) for tag in tags) else None


def _sleeve_rooms(cut: TagCut, left: float, top: float) -> tuple[Box, ...]:
    """One room for the name, and one below it where two lines stand."""
    tall, wide = cut.high_mm - 2 * _EDGE_MM, cut.wide_mm - 1.6
    count = 2 if tall >= 2 * _LINE_MM + 0.2 else 1
    return tuple(
        (left + 0.8, top + _EDGE_MM + place * tall / count, wide, tall / count)
        for place in range(count)
    )


def _sleeve(tag: Tag, cut: TagCut, left: float, top: float) -> Iterator[Mark]:
    """One face of a flat tube; print it on both, so that it reads from either side."""
    rooms = _sleeve_rooms(cut, left, top)
    yield from block(tag.signed, rooms[0], Style(11, FLOOR_PT, bold=True))
    style = Style(7, FLOOR_PT)
    for room in rooms[1:]:
        said = _first(tuple(f"to {words}" for words in tag.other), room, style)
        if said is not None:
            yield from block(said, room, style)


def _wrap_of(diameter_m: float, tags: Sequence[Tag], about: str) -> TagCut | None:
    """A tag round the wire that says its words as often, and in as many lines, as has room."""
    made = _widest(diameter_m, about)
    cuts = (replace(made, sides=s, rows=r) for s, r in product(range(SIDES, 0, -1), _WRAP_ROWS))
    return next((cut for cut in cuts if _wrap_serves(tags, cut)), None)


def _is_thick(diameter_m: float, tags: Sequence[Tag], about: str) -> bool:
    """Whether a wrap has room for all words as often, and in as many lines, as there may be."""
    made = replace(_widest(diameter_m, about), sides=SIDES, rows=_WRAP_ROWS[0])
    return _wrap_serves(tags, made)


def _wrap_serves(tags: Sequence[Tag], cut: TagCut) -> bool:
    return all(_wrap_holds(tag, cut) for tag in tags)


def _widest(diameter_m: float, about: str) -> TagCut:
    """A wrap that says its words once."""
    high_mm = wrap_length_m(diameter_m, tag_overlap_m().value) * 1e3
    return TagCut("wrap", math.pi * diameter_m * 1e3, LENGTH_MM, high_mm, about, sides=1)


def _wrap_holds(tag: Tag, cut: TagCut) -> bool:
    box = (0.6, _EDGE_MM, LENGTH_MM - 1.2, cut.round_mm / cut.sides - 2 * _EDGE_MM)
    return box[3] > 0 and all(said for _, said, _, _ in _along(tag, box, cut.rows))


def _wrap(tag: Tag, cut: TagCut, left: float, top: float) -> Iterator[Mark]:
    """The words round the wire, after the part that they come to lie on."""
    each = cut.round_mm / cut.sides
    overlap = cut.high_mm - cut.round_mm
    for side in range(cut.sides):
        down = top + overlap + side * each
        yield Line(((left, down), (left + LENGTH_MM, down)), _SOFT)
        box = (left + 0.6, down + _EDGE_MM, LENGTH_MM - 1.2, each - 2 * _EDGE_MM)
        for cell, said, room, style in _along(tag, box, cut.rows):
            yield from block(said or cell.wordings[-1], room, style)
    hint = (left + 0.6, top + 0.6, LENGTH_MM - 1.2, overlap - 1.2)
    style = Style(6, FLOOR_PT, colour="#606060")
    yield from block("starts on the wire, comes to lie under the words", hint, style)


def _along(
    tag: Tag, box: Box, rows: int
) -> Iterator[tuple[_Phrase, str | None, Box, Style]]:  # fmt: skip
    """Name and sign at the left, where it lands and leads to beside them, all in so many rows."""
    left, top, wide, high = box
    name_mm = _NAME_SHARE * wide
    if rows == 3:
        upper = (left, top, name_mm, 0.62 * high)
        lower = (left, top + 0.62 * high, name_mm, 0.38 * high)
        yield _placed(_Phrase((tag.name,), bold=True, size_pt=14), upper)
        yield _placed(_Phrase((tag.polarity,), bold=True, size_pt=9), lower)
    else:
        yield _placed(_Phrase((tag.signed,), bold=True, size_pt=14), (left, top, name_mm, high))
    beside, across = wide - name_mm - 1.0, left + name_mm + 1.0
    here = _Phrase(tuple(f"HERE {text}" for text in tag.here), bold=True)
    other = _Phrase(tuple(f"TO {text}" for text in tag.other))
    if rows == 1:
        half = beside / 2 - 0.5
        yield _placed(here, (across, top, half, high))
        yield _placed(other, (across + half + 1.0, top, half, high))
        return
    cells = [here, other, _Phrase(tag.facts)][:rows]
    for place, cell in enumerate(cells):
        yield _placed(cell, (across, top + place * high / rows, beside, high / rows - 0.1))


def _placed(cell: _Phrase, room: Box) -> tuple[_Phrase, str | None, Box, Style]:
    lines = max(1, int(room[3] / _LINE_MM))
    style = Style(cell.size_pt, FLOOR_PT, lines, bold=cell.bold, align=cell.align)
    return cell, _first(cell.wordings, room, style), room, style
