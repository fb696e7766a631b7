"""Tapes: what a tape printer prints, on the paper of the rig, to be cut out at true scale.

First the strips of each panel, to be held upright beside its slots, then all labels one behind the
other. A tape that is longer than the paper is broken between two labels. `rigfolio labels --form
tape` and `--form tape-strip` print the same on tape.
"""

from collections.abc import Iterator, Sequence
from functools import partial

from rigfolio.draw import (
    FLOOR_PT,
    FULL_SIZE,
    Box,
    Group,
    Mark,
    Page,
    Pen,
    Style,
    block,
    body,
    measure,
    numbered,
    rect,
)
from rigfolio.job import Job
from rigfolio.labels import (
    Band,
    SlotLabel,
    TapeLength,
    TapePiece,
    band_of,
    labels_of,
    loose_labels,
    panel_strips,
    tape_labels,
    tape_pieces,
    tape_strips,
)
from rigfolio.model import Panel
from rigfolio.record import record, replace
from rigfolio.sheet import Sheet, SheetPart

SHEET = Sheet("Tapes", "tapes", binder="to-cut", bound=25, beside=True)

_LEAD_MM, _RULER_MM, _CAPTION_MM = 8.0, 15.0, 4.0
_GAPS_MM = (3.0, 2.0, 1.0)
"""Between tapes: what is easily cut, and less of it where that saves a page."""
_CUT = Pen(0.15)
_STYLE = Style(8, FLOOR_PT, align="start")
_LEAD = (
    "True scale. The strips and labels of a tape printer, for whoever has none: cut along the "
    "outer line, and at the ticks for single labels; a strip stands upright beside its slots."
)
_NOTHING = "Nothing of this has a label: there is no tape to be cut."
_ALL = "All labels, to be cut apart"
_LONG = "is longer than this paper, print it with `rigfolio labels --form tape`"


@record
class _Cutting:
    """A part of a tape that the paper holds: what it is, and its pieces; either may be none."""

    caption: str
    pieces: tuple[TapePiece, ...]


def pages(job: Job) -> tuple[Page, ...]:
    """Tapes below each other, each broken where the paper ends."""
    area = body(job.paper.width_mm, job.paper.height_mm)
    band = band_of(job)
    rows = [row for tape in _tapes(job, band) for row in _broken(tape, area[2])]
    room = (area[0], area[1] + _LEAD_MM, area[2], area[3] - _LEAD_MM - _RULER_MM)
    bodies = [(*_around(area, is_empty=not rows), *marks) for marks in _least(rows, band, room)]
    note = FULL_SIZE if rows else ""
    return numbered(job.paper, SHEET.title, job.strip, bodies, note=note)


def content(job: Job) -> Iterator[SheetPart]:
    """What it is made from: the labels of each panel, those that stand outside panels.

    First each by itself, for to lay out a whole panel takes longer.
    """
    band = band_of(job)
    for panel in job.rig.panels:
        for _, label in labels_of(job, panel):
            yield SheetPart(label, partial(_piece, label, band))
        slots = (str(panel.about), panel.slots, panel.columns, panel.across, panel.pitch_m)
        yield SheetPart((slots, labels_of(job, panel)), partial(_of_panel, job, panel, band))
    loose = loose_labels(job)
    yield SheetPart(loose, lambda: tuple(tape_pieces(loose, band)))


def _piece(label: SlotLabel, band: Band) -> tuple[TapePiece, ...]:
    return tuple(tape_pieces((label,), band))


def _of_panel(job: Job, panel: Panel, band: Band) -> tuple[object, ...]:
    """The strips of a panel and its labels as they look anywhere."""
    labels = (label for _, label in labels_of(job, panel))
    return panel_strips(job, panel, band), tuple(tape_pieces(labels, band))


def _least(rows: Sequence[_Cutting], band: Band, room: Box) -> list[list[Mark]]:
    """The rows on as few pages as hold them, as far apart as that leaves room for."""
    tried = [_laid(rows, band, room, gap_mm) for gap_mm in _GAPS_MM]
    return min(tried, key=len)


def _laid(rows: Sequence[_Cutting], band: Band, room: Box, gap_mm: float) -> list[list[Mark]]:
    """The rows below each other, on as many pages as they need."""
    left, top, wide, high = room
    lots: list[list[Mark]] = [[]]
    down = top
    for row in rows:
        high_mm = _CAPTION_MM * bool(row.caption) + band.wide_mm * bool(row.pieces)
        if down + high_mm > top + high and lots[-1]:
            lots.append([])
            down = top
        lots[-1] += _set(row, band, (left, down, wide))
        down += high_mm + gap_mm
    return lots


def _tapes(job: Job, band: Band) -> Iterator[TapeLength]:
    """All tapes; marks that stand on other sheets to be cut as well go by other names here."""
    for tape in tape_strips(job, band):
        yield _renamed(replace(tape, name=f"Strip of {tape.name}"), "strip")
    labels = tuple(piece for tape in tape_labels(job, band) for piece in tape.pieces)
    if labels:
        yield _renamed(TapeLength(_ALL, labels), "tape")


def _renamed(tape: TapeLength, kind: str) -> TapeLength:
    return replace(tape, pieces=tuple(replace(p, marks=_marks(p.marks, kind)) for p in tape.pieces))


def _marks(marks: Sequence[Mark], kind: str) -> tuple[Mark, ...]:
    return tuple(
        replace(mark, ident=f"{kind}-{mark.ident}") if isinstance(mark, Group) else mark
        for mark in marks
    )


def _broken(tape: TapeLength, wide_mm: float) -> Iterator[_Cutting]:
    """The parts of a tape, none wider than the paper; and what is wider by itself, by name.

    A part of a strip says which it is; a label tells that itself.
    """
    rows: list[list[TapePiece]] = [[]]
    for piece in tape.pieces:
        if piece.long_mm > wide_mm:
            continue
        if sum(each.long_mm for each in rows[-1]) + piece.long_mm > wide_mm + 1e-6:
            rows.append([])
        if rows[-1] or piece.marks:
            rows[-1].append(piece)
    rows = [row for row in rows if row]
    for number, row in enumerate(rows, start=1):
        part = f", part {number} of {len(rows)}" if len(rows) > 1 and tape.name != _ALL else ""
        yield _Cutting(f"{tape.name}{part}" if part or number == 1 else "", tuple(row))
    for piece in tape.pieces:
        if piece.long_mm > wide_mm:
            yield _Cutting(f"{piece.place} {_LONG}", ())


def _set(row: _Cutting, band: Band, at: tuple[float, float, float]) -> Iterator[Mark]:
    """A caption and the tape below it, from its left upper corner on, in a width [mm]."""
    left, top, wide = at
    if row.caption:
        yield from block(row.caption, (left, top, wide, _CAPTION_MM), _STYLE)
        top += _CAPTION_MM
    if row.pieces:
        yield from band.set(row.pieces, left, top)
        long_mm = sum(piece.long_mm for piece in row.pieces)
        yield rect(left, top, long_mm, band.wide_mm, pen=_CUT)


def _around(area: Box, *, is_empty: bool) -> tuple[Mark, ...]:
    """What stands above and below the tapes: how to use them, and the ruler of a true scale."""
    left, top, wide, _ = area
    room = (left, top, wide, _LEAD_MM - 1.0)
    style = replace(_STYLE, lines=2, is_top=True)
    if is_empty:
        return tuple(block(_NOTHING, room, style))
    return (*block(_LEAD, room, style), *measure(area))
