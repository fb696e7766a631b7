"""Panel face: each panel as it is seen, slot by slot, with the fuse that belongs in each.

Columns and their order are those of the maker, and the slots have the pitch of the panel, as its
labels have; what one page cannot hold goes on on the next. A fuse is drawn in its colour and says
its rating and its colour in words; a breaker has no colour. The largest fuse is left to the
directory.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise

from rigfolio import wording
from rigfolio.books import colour_book
from rigfolio.draw import (
    FIGURE,
    Box,
    Group,
    Kind,
    Line,
    Mark,
    Page,
    Pen,
    Style,
    block,
    body,
    contrast,
    holds,
    measure,
    numbered,
    rect,
    shift,
)
from rigfolio.isolation import stay_words_of
from rigfolio.job import Job
from rigfolio.labels import DEFAULT_PITCH_MM, brake_words, coil_words, volts_at
from rigfolio.model import Circuit, Panel, Rig, Slot
from rigfolio.protection import (
    colour_word,
    guard_of_circuit,
    is_too_large,
    is_unread,
    largest_words,
)
from rigfolio.record import record
from rigfolio.sheet import Sheet, SheetPart
from rigfolio.shorts import unfit_of
from rigfolio.units import show
from rigfolio.values import MINUS

SHEET = Sheet("Panel face", "panel-face", command="face", binder="to-cut", bound=30, beside=True)

_FLOOR_PT = 7.0
_HEAD_MM = 20.0
_RULER_MM = 14.0
_FEED_MM = 7.0
_COLUMN_MM = 88.0
"""Two panels of one column stand side by side on A4."""
_LEAST_COLUMN_MM = 50.0
"""Number, fuse and a name beside them; further columns stand in a part of their own."""
_GAP_MM = 8.0
_BORDER_MM = 1.5
_SLACK_MM = 0.01
_NUMBER_MM = 12.0
_FUSE_MM, _FUSE_SHARE = 24.0, 0.3
_LEAST_MM = 7.0
"""Lowest slot where the drawing is not to scale."""
_LEAST_TRUE_MM = 3.8
"""A lower slot has no room for a line of type."""
_ONE_ROW_MM = 8.0
"""A slot below this has one row for all its words."""
_FRAME = Pen(0.5)
_HAIR = Pen(0.15, "#808080")
_EDGE = Pen(0.35)


@record
class _Scale:
    """Height of a slot on paper [mm], and whether that is the pitch of the panel."""

    pitch_mm: float
    is_true: bool
    rows: int


@record
class _PanelPart:
    """Columns and rows of a panel that are drawn together, counted from 0."""

    columns: range
    rows: range


@record
class _PanelDrawing:
    """A panel, or as many of its slots as a page holds, drawn from the corner of the paper."""

    wide_mm: float
    high_mm: float
    marks: tuple[Mark, ...]
    is_true: bool


def pages(job: Job) -> tuple[Page, ...]:
    """Panels beside and below each other, on as many pages as they need."""
    area = body(job.paper.width_mm, job.paper.height_mm)
    faces = [face for panel in job.rig.panels for face in _faces(job, panel, area)]
    shelves = tuple(_shelved(faces, area))
    bodies = [(*marks, *(measure(area) if is_true else ())) for marks, is_true in shelves]
    if not bodies:
        words = wording.states_no("panel", so="there is no face to be drawn yet")
        bodies = [block(words, (area[0], area[1], area[2], 8), Style(9, 7, align="start"))]
    note = "Fuses as they belong in, not as they were found."
    return numbered(job.paper, SHEET.title, job.strip, bodies, note=note)


def content(job: Job) -> Iterator[SheetPart]:
    """What it is made from, panel by panel."""
    area = body(job.paper.width_mm, job.paper.height_mm)
    for panel in job.rig.panels:
        yield SheetPart(tuple(_faces(job, panel, area)))


def _shelved(faces: Iterable[_PanelDrawing], area: Box) -> Iterator[tuple[list[Mark], bool]]:
    """The marks of each page, and whether any of them is to scale.

    Faces stand from left to right, then in a row below, then on a new page.
    """
    left, top, wide, high = area
    page: list[Mark] = []
    is_true = False
    x_mm = y_mm = low_mm = 0.0
    for face in faces:
        if x_mm + face.wide_mm > wide + _SLACK_MM:
            x_mm, y_mm = 0.0, low_mm + _GAP_MM
        if page and y_mm + face.high_mm > high - _RULER_MM:
            yield page, is_true
            page, x_mm, y_mm, low_mm, is_true = [], 0.0, 0.0, 0.0, False
        is_true |= face.is_true
        page += shift(face.marks, left + x_mm, top + y_mm)
        x_mm += face.wide_mm + _GAP_MM
        low_mm = max(low_mm, y_mm + face.high_mm)
    if page:
        yield page, is_true


def _faces(job: Job, panel: Panel, area: Box) -> Iterator[_PanelDrawing]:
    _, _, wide, high = area
    scale = _scale(panel, high - _HEAD_MM - _RULER_MM - 2 * _FEED_MM)
    held = {one[0]: one for one in wording.slot_holders(job.rig, panel)}
    parts = _parts(panel, scale.rows, wide)
    most = max(len(part.columns) for part in parts)
    across_mm = min(_COLUMN_MM, (wide - 2 * _BORDER_MM - (most - 1) * _GAP_MM) / most)
    for at, part in enumerate(parts):
        high_mm = len(part.rows) * scale.pitch_mm + 2 * _FEED_MM
        each_mm = across_mm + _GAP_MM
        wide_mm = len(part.columns) * each_mm - _GAP_MM + 2 * _BORDER_MM
        words = _part_words(panel, part) if len(parts) > 1 else ""
        marks: list[Mark] = [*_head(job, panel, scale, words, (0.0, 0.0, wide_mm, _HEAD_MM - 2))]
        for place, column in enumerate(part.columns):
            x = _BORDER_MM + place * each_mm
            box = (x, _HEAD_MM + _FEED_MM, across_mm, scale.pitch_mm)
            marks += _column(job, panel, held, box, (column, part.rows[0], len(part.rows)))
        others = (_before(parts, at), _after(parts, at))
        from_to = [_part_words(panel, other) if other is not None else "" for other in others]
        marks += _feed(job.rig, panel, from_to, (0.0, _HEAD_MM, wide_mm, high_mm))
        yield _PanelDrawing(wide_mm, _HEAD_MM + high_mm, tuple(marks), scale.is_true)


def _parts(panel: Panel, most_rows: int, wide_mm: float) -> tuple[_PanelPart, ...]:
    """The parts of a panel that fit the paper each, with columns of about one number."""
    columns, fit = max(1, panel.columns), wide_mm - 2 * _BORDER_MM + _GAP_MM
    most = max(1, int(fit / (_LEAST_COLUMN_MM + _GAP_MM)))
    count = -(-columns // most)
    edges = [at * columns // count for at in range(count + 1)]
    return tuple(
        _PanelPart(range(left, right), range(top, min(top + most_rows, panel.rows)))
        for left, right in pairwise(edges)
        for top in range(0, panel.rows, most_rows)
    )


def _before(parts: Sequence[_PanelPart], at: int) -> _PanelPart | None:
    """What a part goes on from: all rows above it, or else the columns before."""
    if not at:
        return None
    before, part = parts[at - 1], parts[at]
    return (
        _PanelPart(part.columns, range(part.rows[0])) if before.columns == part.columns else before
    )


def _after(parts: Sequence[_PanelPart], at: int) -> _PanelPart | None:
    """What goes on with a part: all rows below it, or else the columns behind."""
    part, *others = parts[at:]
    below = [other for other in others if other.columns == part.columns]
    if below:
        return _PanelPart(part.columns, range(below[0].rows[0], below[-1].rows[-1] + 1))
    return others[0] if others else None


def _part_words(panel: Panel, part: _PanelPart) -> str:
    """`slots 14 to 26`, or columns and rows where a panel has several columns."""
    what = "slot" if panel.columns <= 1 else "row"
    some = [(what, part.rows, panel.rows), ("column", part.columns, max(1, panel.columns))]
    words = [_from_to(word, which) for word, which, all_of in some if len(which) < all_of]
    return ", ".join(reversed(words))


def _from_to(what: str, which: range) -> str:
    first, last = which[0] + 1, which[-1] + 1
    return f"{what}s {first} to {last}" if first != last else f"{what} {first}"


def _scale(panel: Panel, room_mm: float) -> _Scale:
    """The pitch of the panel wherever a slot of it fits the page and can be read."""
    if panel.pitch_m is not None and _LEAST_TRUE_MM <= panel.pitch_m * 1e3 <= room_mm:
        pitch_mm = panel.pitch_m * 1e3
        return _Scale(pitch_mm, is_true=True, rows=max(1, int(room_mm / pitch_mm + 1e-9)))
    wanted_mm = DEFAULT_PITCH_MM if panel.pitch_m is None else panel.pitch_m * 1e3
    pitch_mm = min(wanted_mm, room_mm / panel.rows)
    pitch_mm = min(max(pitch_mm, _LEAST_MM), room_mm)
    return _Scale(pitch_mm, is_true=False, rows=max(1, int(room_mm / pitch_mm + 1e-9)))


def _head(job: Job, panel: Panel, scale: _Scale, part: str, box: Box) -> Iterator[Mark]:
    left, top, wide, _ = box
    title = (left, top, wide, 7.5)
    name = f"{panel.about}, {part}" if part else str(panel.about)
    as_heading = Style(16, 9, bold=True, align="start", kind=Kind.HEADING)
    yield from block(name, title, as_heading)
    facts = list(filter(None, (volts_at(job.study, (panel.bus, panel.feed)),)))
    facts.append(wording.how_many(panel.slots, "slot"))
    if isinstance(panel.slot_a, float):
        facts.append(f"each made for {wording.amps(panel.slot_a)}")
    if isinstance(panel.total_a, float):
        facts.append(f"{wording.amps(panel.total_a)} in all")
    if isinstance(panel.side_a, float):
        facts.append(f"{wording.amps(panel.side_a)} a side")
    if panel.columns > 1:
        facts.append(f"{panel.columns} columns numbered {'across' if panel.across else 'down'}")
    if panel.about.condition:
        facts.append(panel.about.condition.upper())
    if scale.is_true:
        facts.append(f"true scale, pitch {scale.pitch_mm:g} mm")
    else:
        facts.append(f"not to scale: {_why_not(panel)}")
    style = Style(9, _FLOOR_PT, 2, align="start", is_top=True)
    yield from block(", ".join(facts), (left, top + 8.5, wide, 8.5), style)


def _why_not(panel: Panel) -> str:
    if panel.pitch_m is None:
        return "pitch not stated"
    is_low = panel.pitch_m * 1e3 < _LEAST_TRUE_MM
    return "its slots are lower than type" if is_low else "a slot is longer than the paper"


def _feed(rig: Rig, panel: Panel, from_to: Sequence[str], box: Box) -> Iterator[Mark]:
    """The frame of the panel, with where its supply lands and where its minus goes.

    Where only a part of it is drawn, the ends say which parts go before and after it.
    """
    left, top, wide, high = box
    yield rect(left, top, wide, high, pen=_FRAME)
    stud = f", stud {panel.about.stud}" if panel.about.stud else ""
    torque = panel.about.torque_nm
    tight = f", {show(torque, 'Nm')}" if torque is not None else ""
    feed = f"+ {wording.short_end(rig, panel.feed)} lands here{stud}{tight}"
    minus = "no negative bar stated"
    if panel.negative:
        minus = f"{MINUS} to {wording.short_end(rig, panel.negative)}"
    bold = Style(10, _FLOOR_PT, bold=True, align="start")
    plain = Style(9, _FLOOR_PT, align="start")
    ends = [(minus, plain), (feed, bold)] if panel.feed_last else [(feed, bold), (minus, plain)]
    before, after = from_to
    if before:
        ends[0] = (f"goes on from {before}", plain)
    if after:
        ends[1] = (f"goes on with {after}", plain)
    for (words, style), down in zip(ends, (top, top + high - _FEED_MM), strict=True):
        yield from block(words, (left + 2.5, down + 1, wide - 5, _FEED_MM - 2), style)


def _column(
    job: Job,
    panel: Panel,
    held: Mapping[int, tuple[int, tuple[Circuit, ...], Slot | None]],
    box: Box,
    part: tuple[int, int, int],
) -> Iterator[Mark]:
    left, top, wide, pitch = box
    column, first, rows = part
    for number, (_, circuits, kept) in held.items():
        mine, row = panel.cell(number)
        if mine != column or not first <= row < first + rows:
            continue
        cell = (left, top + (row - first) * pitch, wide, pitch)
        name = circuits[0].label if circuits else kept.use if kept else "not stated"
        place = f"{panel.about.name}.{number}"
        marks = tuple(_slot(job, number, circuits, kept, cell))
        said = f"{place} {name}".strip() + (
            f", {_fuse_words(job, circuits[0])}" if circuits else ""
        )
        yield Group(f"face-{place}", said, marks, role=FIGURE)


def _slot(
    job: Job, number: int, circuits: tuple[Circuit, ...], kept: Slot | None, box: Box
) -> Iterator[Mark]:
    left, top, wide, high = box
    yield rect(left, top, wide, high, pen=_HAIR)
    inner = (top + 0.6, high - 1.2)
    style = Style(22, 8, bold=True)
    yield from block(str(number), (left + 0.5, inner[0], _NUMBER_MM - 1, inner[1]), style)
    if not circuits:
        use = kept.use if kept else "not stated"
        words = f"{use}: {kept.label}" if kept and kept.label else use
        room = (left + _NUMBER_MM + 2, inner[0], wide - _NUMBER_MM - 3, inner[1])
        yield from block(words, room, Style(11, _FLOOR_PT, 2, align="start"))
        return
    fuse_mm = min(_FUSE_MM, _FUSE_SHARE * wide)
    yield from _fuse(job, circuits[0], (left + _NUMBER_MM, top + 1, fuse_mm, high - 2))
    beside = left + _NUMBER_MM + fuse_mm + 2
    room = (beside, inner[0], wide - _NUMBER_MM - fuse_mm - 3, inner[1])
    label = " + ".join(circuit.label or circuit.place for circuit in circuits)
    yield from _words(label, _remarks(job, circuits), room)


def _words(label: str, remarks: str, box: Box) -> Iterator[Mark]:
    """The name, and below it what is to be minded, or behind it where there is no room for both."""
    left, top, wide, high = box
    style = Style(13, _FLOOR_PT, 5, bold=True, align="start")
    below_mm = min(0.44 * high, 7.0) if remarks else 0.0
    room = (left, top, wide, high - below_mm)
    if remarks and (high < _ONE_ROW_MM or not holds(label, room, style)):
        yield from block(f"{label}; {remarks}", box, style)
        return
    yield from block(label, room, style)
    if remarks:
        below = (left, top + high - below_mm, wide, below_mm)
        yield from block(remarks, below, Style(8, _FLOOR_PT, 2, align="start"))


def _fuse_words(job: Job, circuit: Circuit) -> str:
    """The fuse that is drawn, as it is said where nobody looks."""
    device = next(iter(guard_of_circuit(job.study, circuit).devices), None)
    if device is None:
        return "no fuse"
    word = colour_word(job.study, circuit)
    return " ".join(filter(None, (wording.amps(device.rating_a), word)))


def _remarks(job: Job, circuits: tuple[Circuit, ...]) -> str:
    first = circuits[0]
    told = (
        brake_words(job.study, circuits), coil_words(job.study, circuits),
        stay_words_of(job.study, circuits),
    )  # fmt: skip
    words = [word for word in told if word]
    if is_too_large(job.study, first):
        most = largest_words(job.study, first, short=False)
        words.append(f"FUSE TOO LARGE: max {most}" if most[0].isdigit() else "FUSE TOO LARGE")
    device = job.study.device(first.device)
    words += [one.mark for one in (unfit_of(job.study, device) if device else ())]
    is_large = is_too_large(job.study, first)
    if not is_large and any(is_unread(job.study, circuit) for circuit in circuits):
        words.append("WIRE NOT READ")
    found = wording.found_there(job.rig, job.study.device(first.device))
    if found:
        words.append(f"{found} in it" if found[0].isdigit() else f"{found} what is in it")
    words += [circuit.condition.upper() for circuit in circuits if circuit.condition]
    return ", ".join(words)


def _fuse(job: Job, circuit: Circuit, box: Box) -> Iterator[Mark]:
    """The fuse in its colour, with rating and colour in words; a breaker with a handle."""
    left, top, wide, high = box
    device = next(iter(guard_of_circuit(job.study, circuit).devices), None)
    word = colour_word(job.study, circuit)
    fill = colour_book().by_word[word].rgb if word else "#ffffff"
    yield rect(left, top, wide, high, pen=_EDGE, fill=fill)
    ink = max(("#000000", "#ffffff"), key=lambda one: contrast(one, fill))
    rating = wording.amps(device.rating_a) if device is not None else "no fuse"
    if device is not None and device.traits.resets:
        yield Line(((left + wide - 3, top + 1), (left + wide - 3, top + high - 1)), Pen(1.2))
    two = word is not None and high >= 8.0
    tall = (0.6 if two else 1.0) * (high - 0.8)
    size = (left + 0.8, top + 0.4, wide - (1.6 if word else 5.0), tall)
    said = rating if two or not word else f"{rating} {word}"
    yield from block(said, size, Style(12, _FLOOR_PT, bold=True, colour=ink))
    if two and word:
        under = (left + 0.8, top + 0.4 + 0.6 * (high - 0.8), wide - 1.6, 0.4 * (high - 0.8))
        yield from block(word, under, Style(8, _FLOOR_PT, colour=ink))
