"""Wire tags: one for both ends of every wire, cut to go round it.

Each row is one wire: the left tag goes on its first end, the right one on the other. On a thick
wire the tag is a wrap: the blank part goes on first and comes to lie under the words, which are
repeated round the wire so that they can be read from any side. A thin wire has no room for that
and gets a flag: the wire lies on the middle, and the two faces are stuck back to back. Put a tag
50 to 100 mm from the terminal (common practice), because a tag beside the crimp is lost when the
end is made again, and lay clear tape over it: paper alone does not last. Leads that a fixture
came with have no tags.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from rigfolio import wording
from rigfolio.books import outside_diameter_m, sleeve_length_m, sleeve_m, tag_overlap_m
from rigfolio.calc import flag_length_m, sleeve_flat_m, wrap_length_m
from rigfolio.draw import (
    Box,
    Group,
    Line,
    Mark,
    Page,
    Pen,
    Style,
    Text,
    block,
    body,
    first_uncut,
    fit,
    numbered,
    rect,
    ruler,
)
from rigfolio.findings import Unknown
from rigfolio.job import Job, TagForm
from rigfolio.model import Conductor
from rigfolio.protection import guard_facts
from rigfolio.sheet import Sheet
from rigfolio.values import MINUS

SHEET = Sheet("Wire tags", "wire-tags", command="tags", binder="to-cut", bound=20, beside=True)

LENGTH_MM = 80.0
"""Greatest length of a tag on the paper; that of a wrap along its wire."""
FLAG_MM, FLAG_HIGH_MM = 30.0, 19.6
"""One face of a flag: six lines of the smallest type."""
DEFAULT_DIAMETER_MM = 5.0
"""Taken, and said so, for a wire whose size is not surveyed; goes round up to 10 AWG."""
SIDES = 3
"""The words are repeated at thirds of the round: about a third of it shows from one side."""

_FLOOR_PT = 5.5
_CUT = Pen(0.1)
_SOFT = Pen(0.1, "#909090", (0.6, 0.9))
_GAP_MM = 4.0
_LEAD_MM = 12.0
_RULER_MM = 15.0
_ROW_GAP_MM = 1.5
_LEAST_AIR_MM = 0.3
_LINE_MM = 2.35


@dataclass(frozen=True, slots=True)
class Tag:
    """What one tag says. The wordings of each part go from long to short."""

    name: str
    polarity: str
    here: tuple[str, ...]
    other: tuple[str, ...]
    facts: tuple[str, ...]
    purpose: str


@dataclass(frozen=True, slots=True)
class TagCell:
    """Part of a line of a tag: its wordings, its share of the width, how it is set."""

    wordings: tuple[str, ...]
    share: float = 1.0
    bold: bool = False
    align: str = "start"
    lines: int = 1
    size_pt: float = 7.0


@dataclass(frozen=True, slots=True)
class TagPair:
    """The two tags of one wire, the round of the wire, and the size of each tag [mm]."""

    head: str
    about: str
    round_mm: float
    wide_mm: float
    high_mm: float
    form: TagForm
    assumed: bool
    tags: tuple[Tag, Tag]


def pages(job: Job) -> tuple[Page, ...]:
    """Rows of tags, by panel and slot, then supply wires and shared returns."""
    left, top, wide, high = body(job.paper.width_mm, job.paper.height_mm)
    bottom = top + high - _RULER_MM
    bodies: list[list[Mark]] = [[]]
    down = top + _LEAD_MM
    for pair in (pair for wire in _wires(job) for pair in _pairs(job, wire)):
        if down + pair.high_mm > bottom and bodies[-1]:
            bodies.append([])
            down = top + _LEAD_MM
        bodies[-1] += _row(pair, (left, down, wide, pair.high_mm))
        down += pair.high_mm + _ROW_GAP_MM
    area = (left, top, wide, high)
    full = [(*_lead(area, is_empty=not marks), *marks) for marks in bodies]
    note = "Print at full size: 100 mm on the ruler must measure 100 mm."
    return numbered(job.paper, SHEET.title, job.strip, full, note=note)


def _wires(job: Job) -> Iterator[Conductor]:
    """The wires that are meant: those of a circuit by the name of that or of its panel too."""
    for wire in wording.wires_in_order(job.rig):
        circuit = wording.circuit_of(job.rig, wire)
        panel = circuit.panel if circuit is not None else ""
        if job.wants(wire.name, wire.circuit, panel):
            yield wire


def _lead(area: Box, *, is_empty: bool) -> Iterator[Mark]:
    left, top, wide, high = area
    text = (
        "Left tag: the end named HERE on it; right tag: the other end; 50 to 100 mm from the "
        "terminal, clear tape over it. Flag: lay the wire on the middle, stick the faces back to "
        "back. Wrap: words along the wire, blank part first. + and − come from the wiring, never "
        "from a colour."
    )
    if is_empty:
        text = "This rig states no wire: there is nothing to tag."
    style = Style(8, 6, 3, align="start", is_top=True)
    yield from block(text, (left, top, wide, _LEAD_MM - 2), style)
    down = top + high - 7
    yield from ruler(left + 4, down, 100.0)
    says = "measure: 100 mm from 0 to 100"
    yield from block(says, (left + 109, down - 4, wide - 109, 8), Style(8, 6, 2, align="start"))


def _pairs(job: Job, wire: Conductor) -> Iterator[TagPair]:
    """One pair of tags for each of the conductors that lie side by side."""
    if isinstance(wire.size, Unknown):
        diameter_m, about = DEFAULT_DIAMETER_MM * 1e-3, "size not surveyed: cut for"
    else:
        diameter_m, about = outside_diameter_m(wire.size).value, "wire"
    round_mm = math.pi * diameter_m * 1e3
    form = _form(job, diameter_m, round_mm)
    if form == "sleeve":
        bore_m = sleeve_m(diameter_m) or diameter_m
        wide_mm, high_mm = sleeve_length_m() * 1e3, sleeve_flat_m(bore_m) * 1e3
        about = f"sleeve {bore_m * 1e3:.1f} mm for {about}"
    elif form == "flag":
        wide_mm, high_mm = flag_length_m(diameter_m, FLAG_MM * 1e-3) * 1e3, FLAG_HIGH_MM
    else:
        wide_mm, high_mm = LENGTH_MM, wrap_length_m(diameter_m, tag_overlap_m().value) * 1e3
    about = f"{about} Ø {diameter_m * 1e3:.1f} mm"
    for number in range(1, wire.count + 1):
        name = f"{wire.name} ({number} of {wire.count})" if wire.count > 1 else wire.name
        tags = _tag(job, wire, name, (wire.a, wire.b)), _tag(job, wire, name, (wire.b, wire.a))
        head = f"{name} {tags[0].purpose}".strip()
        yield TagPair(head, about, round_mm, wide_mm, high_mm, form, wire.assumed, tags)


def _form(job: Job, diameter_m: float, round_mm: float) -> TagForm:
    """How a wire is tagged: as was asked for, else by how much goes round it."""
    if job.wish.tag_form == "sleeve" and sleeve_m(diameter_m) is not None:
        return "sleeve"
    flag_mm = flag_length_m(diameter_m, FLAG_MM * 1e-3) * 1e3
    if job.wish.tag_form == "flag" and flag_mm <= LENGTH_MM:
        return "flag"
    if job.wish.tag_form is not None and job.wish.tag_form != "sleeve":
        return "wrap"
    return "flag" if round_mm / SIDES < 3 * _LINE_MM else "wrap"


def _tag(job: Job, wire: Conductor, name: str, ends: tuple[str, str]) -> Tag:
    here, other = (
        (_unbroken(wording.end_words(job.rig, end)), wording.short_end(job.rig, end))
        for end in ends
    )
    polarity = wording.polarity_words(job.study.polarity(wire))
    return Tag(name, polarity, here, other, _facts(job, wire), _purpose(job, wire))


def _unbroken(words: str) -> str:
    """Words whose last part, a lone sign, does not begin a line."""
    head, _, last = words.rpartition(" ")
    return f"{head}\u00a0{last}" if head and len(last) == 1 else words


def _facts(job: Job, wire: Conductor) -> tuple[str, ...]:
    size, (fuse, rating) = wording.gauge_words(wire), guard_facts(job.study, wire)
    if wire.assumed:
        return f"ASSUMED return, {size}", f"ASSUMED {size}"
    short = f"{size} {wording.colour_short(wire.colour)}"
    return (
        f"{size} {wording.colour_text(wire.colour)} {fuse}".strip(),
        f"{short} {fuse}".strip(),
        f"{short} {rating}".strip(),
    )


def _purpose(job: Job, wire: Conductor) -> str:
    """What a wire is for; printed beside its tags."""
    circuit = wording.circuit_of(job.rig, wire)
    purpose = (circuit.label or circuit.place) if circuit else ""
    if wording.is_return(job.rig, wire):
        purpose = f"return of {purpose}"
    return f"ASSUMED {purpose}" if wire.assumed else purpose


def _row(pair: TagPair, box: Box) -> Iterator[Mark]:
    left, top, wide, high = box
    gutter = wide - 2 * LENGTH_MM - _GAP_MM - 2
    start = Style(8, 6, 3, bold=True, align="start", is_top=True)
    yield from block(pair.head, (left, top, gutter, high - 5), start)
    style = Style(6.5, _FLOOR_PT, 2, align="start", is_top=True)
    yield from block(pair.about, (left, top + high - 5, gutter, 5), style)
    for place, tag in enumerate(pair.tags):
        across = left + gutter + 2 + place * (LENGTH_MM + _GAP_MM)
        draw = {"flag": _flag, "wrap": _wrap, "sleeve": _sleeve}[pair.form]
        marks = (*draw(tag, pair, across, top), _outline(pair, across, top))
        yield Group(f"tag-{tag.name}-{'ab'[place]}", f"{tag.name} at {tag.here[0]}", marks)


def _outline(pair: TagPair, left: float, top: float) -> Line:
    half = _CUT.width_mm / 2
    return rect(left - half, top - half, pair.wide_mm + 2 * half, pair.high_mm + 2 * half, pen=_CUT)


def _flag(tag: Tag, pair: TagPair, left: float, top: float) -> Iterator[Mark]:
    """Two faces with the same words, the wire between them."""
    for face in (left, left + FLAG_MM + pair.round_mm):
        box = (face + 0.8, top + 0.6, FLAG_MM - 1.6, pair.high_mm - 1.2)
        yield from _lines(_stacked(tag, box[2], lines=2), box)
    for fold in (left + FLAG_MM, left + FLAG_MM + pair.round_mm):
        yield Line(((fold, top), (fold, top + pair.high_mm)), _SOFT)
    middle = (left + pair.wide_mm / 2 + 0.7, top + pair.high_mm / 2)
    yield Text(middle, "wire", 6, "middle", colour="#606060", turn=90)


def _sleeve(tag: Tag, pair: TagPair, left: float, top: float) -> Iterator[Mark]:
    """One face of a flat tube; print it on both, so that it reads from either side."""
    words = f"{tag.name} {MINUS if 'minus' in tag.polarity else '+'}"
    if "not joined" in tag.polarity:
        words = f"{tag.name} ?"
    inner = (left + 0.8, pair.wide_mm - 1.6)
    tall = pair.high_mm - 0.8
    two = tall >= 2 * _LINE_MM + 0.2
    first = (inner[0], top + 0.4, inner[1], tall / 2 if two else tall)
    yield from block(words, first, Style(11, _FLOOR_PT, bold=True))
    if two:
        here = first_uncut(tag.other, inner[1], _FLOOR_PT)
        under = (inner[0], top + 0.4 + tall / 2, inner[1], tall / 2)
        yield from block(f"to {here}", under, Style(7, _FLOOR_PT))


def _wrap(tag: Tag, pair: TagPair, left: float, top: float) -> Iterator[Mark]:
    """The words at thirds of the round, after the part that they come to lie on."""
    each = pair.round_mm / SIDES
    overlap = pair.high_mm - pair.round_mm
    for side in range(SIDES):
        down = top + overlap + side * each
        yield Line(((left, down), (left + LENGTH_MM, down)), _SOFT)
        yield from _along(tag, (left + 0.6, down + 0.4, LENGTH_MM - 1.2, each - 0.8))
    hint = (left + 0.6, top + 0.6, LENGTH_MM - 1.2, overlap - 1.2)
    style = Style(6, _FLOOR_PT, colour="#606060")
    yield from block("starts on the wire, comes to lie under the words", hint, style)


def _along(tag: Tag, box: Box) -> Iterator[Mark]:
    """Identifier and polarity large at the left, the rest beside them."""
    left, top, wide, high = box
    name_mm = 0.25 * wide
    name = (left, top, name_mm, 0.62 * high)
    yield from block(tag.name, name, Style(16, _FLOOR_PT, 2, bold=True, align="start"))
    side = (left, top + 0.62 * high, name_mm, 0.38 * high)
    yield from block(tag.polarity, side, Style(9, _FLOOR_PT, bold=True, align="start"))
    beside = (left + name_mm + 1, top, wide - name_mm - 1, high)
    yield from _lines(_stacked(tag, beside[2], lines=1)[1:], beside)


def _stacked(tag: Tag, wide_mm: float, *, lines: int) -> list[list[TagCell]]:
    """Everything a tag says, line by line."""
    shortest = fit(tag.facts[-1], wide_mm, size_pt=_FLOOR_PT, floor_pt=_FLOOR_PT)
    name = TagCell((tag.name,), 0.6, bold=True, size_pt=9.5)
    return [
        [name, TagCell((tag.polarity,), 0.4, bold=True, align="end")],
        [TagCell(tuple(f"HERE {text}" for text in tag.here), bold=True, lines=lines)],
        [TagCell(tuple(f"TO {text}" for text in tag.other), lines=lines)],
        [TagCell(tag.facts, lines=lines if shortest.is_cut else 1)],
    ]


def _lines(rows: list[list[TagCell]], box: Box) -> Iterator[Mark]:
    """Rows with room for their lines, half a line more for each after the first."""
    left, down, wide, high = box
    each = high / sum(1 + row[0].lines for row in rows)
    for row in rows:
        across, tall = left, each * (1 + row[0].lines)
        for cell in row:
            room = cell.share * wide - (0.4 if len(row) > 1 else 0.0)
            said = first_uncut(cell.wordings, room, _FLOOR_PT, lines=cell.lines, bold=cell.bold)
            style = Style(cell.size_pt, _FLOOR_PT, cell.lines, bold=cell.bold, align=cell.align)
            yield from block(said, (across, down, room, tall - _LEAST_AIR_MM), style)
            across += cell.share * wide
        down += tall
