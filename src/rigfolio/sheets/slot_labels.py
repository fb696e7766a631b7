"""Slot labels: one for each slot, at the pitch of the panel.

Print at full size and hold the ruler of the page against a rule. Cut each strip along its outer
line and lay it beside the fuses, or cut at the ticks for single labels. A label says what the
slot feeds, which fuse is in it, the largest fuse that its wires allow, and the wire; one that has
no room for all of it bears the number of a note below the strips. A circuit that does not start
in a panel has a loose label for its fuse holder.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from rigfolio.draw import (
    FLOOR_PT,
    LINE_HEIGHT,
    MM_PER_PT,
    Box,
    Column,
    Group,
    Line,
    Mark,
    Page,
    Pen,
    Row,
    Style,
    Table,
    block,
    body,
    fit,
    flow,
    numbered,
    rect,
    ruler,
)
from rigfolio.job import Job
from rigfolio.labels import (
    DEFAULT_PITCH_MM,
    SlotLabel,
    drawn,
    is_whole,
    labels_of,
    loose_labels,
    with_note,
)
from rigfolio.model import Panel
from rigfolio.sheet import Sheet

SHEET = Sheet(
    "Slot labels",
    "slot-labels",
    command="labels",
    form="strip",
    binder="to-cut",
    bound=10,
    beside=True,
)

WIDTH_MM = 45.0

_CUT = Pen(0.15)
_TICK_MM = 1.5
_GAP_MM = 5.0
_LEAD_MM = 8.0
_RULER_MM = 15.0
_LEAST_HEAD_MM = 30.0
_HEAD_PT = 8.0
_SHORT_SHARE = 0.3
"""A strip no higher than this share of the page goes below another where it can."""
_NOTES = (Column("note", 10, bold=True), Column("label", 20, bold=True), Column("in full", 145))
_MIND = (Column("label", 20, bold=True), Column("what was seen there", 155))


@dataclass(frozen=True, slots=True)
class Strip:
    """Labels that hang together, top to bottom, `pitch_mm` apart; `size_mm` is that of each."""

    title: str
    about: str
    pitch_mm: float
    size_mm: tuple[float, float]
    labels: tuple[SlotLabel, ...]

    @property
    def high_mm(self) -> float:
        """Height of all of it, its head left out."""
        return len(self.labels) * self.pitch_mm

    @property
    def wide_mm(self) -> float:
        """Width that it takes of a page, its head counted."""
        return max(self.size_mm[0], _LEAST_HEAD_MM)

    @property
    def heading(self) -> str:
        """Which labels these are."""
        first, last = self.labels[0].number, self.labels[-1].number
        slots = f"slots {first} to {last}" if first != last else f"slot {first}"
        if not self.labels[0].above:
            slots = f"{len(self.labels)} labels" if len(self.labels) > 1 else "1 label"
        return f"{slots}, {self.about}"


@dataclass(frozen=True, slots=True)
class _Placed:
    """A strip and the corner of its head on its page."""

    strip: Strip
    left: float
    top: float


def pages(job: Job) -> tuple[Page, ...]:
    """Strips of labels, side by side, and the notes that they need."""
    frame = body(job.paper.width_mm, job.paper.height_mm)
    left, top, wide, high = frame
    room = (left, top + _LEAD_MM, wide, high - _LEAD_MM - _RULER_MM)
    whole = tuple(_strips(job))
    head_mm, strips = _parts(whole, room[3])
    lots = _arranged(strips, room, head_mm)
    bodies = [[mark for placed in lot for mark in _strip(placed, head_mm)] for lot in lots]
    lowest = max((p.top + head_mm + p.strip.high_mm for p in lots[-1]), default=room[1])
    for number, marks in enumerate(flow(_tables(strips), room, taken_mm=lowest - room[1] + 2.0)):
        if number:
            bodies.append([])
        bodies[-1] += marks
    framed = [(*_around(job, frame, has_strips=bool(strips)), *marks) for marks in bodies]
    note = "Print at full size: 100 mm on the ruler must measure 100 mm."
    return numbered(job.paper, SHEET.title, job.strip, framed, note=note)


def _strips(job: Job) -> Iterator[Strip]:
    for panel in job.rig.panels:
        chosen = labels_of(job, panel)
        pitch_mm = panel.pitch_m * 1e3 if panel.pitch_m is not None else DEFAULT_PITCH_MM
        size_mm = _size(panel, pitch_mm)
        about = _about(panel, pitch_mm, size_mm)
        if chosen and len(chosen) < panel.slots:
            about = f"only these slots, {about}"
        columns: dict[int, list[SlotLabel]] = {}
        for number, label in chosen:
            columns.setdefault(panel.cell(number)[0], []).append(label)
        for _, labels in sorted(columns.items()):
            yield Strip(str(panel.about), about, pitch_mm, size_mm, tuple(labels))
    loose = loose_labels(job)
    if loose:
        about = "for fuse holders elsewhere, cut apart"
        size_mm = (WIDTH_MM, DEFAULT_PITCH_MM)
        yield Strip("Not in a panel", about, DEFAULT_PITCH_MM, size_mm, loose)


def _size(panel: Panel, pitch_mm: float) -> tuple[float, float]:
    """Width and height of a label: those of its window, else the pitch."""
    if panel.window_m is None:
        return WIDTH_MM, pitch_mm
    wide_m, high_m = panel.window_m
    return wide_m * 1e3, min(high_m * 1e3, pitch_mm) if panel.pitch_m is not None else high_m * 1e3


def _about(panel: Panel, pitch_mm: float, size_mm: tuple[float, float]) -> str:
    words = f"pitch {pitch_mm:g} mm"
    if panel.pitch_m is None:
        words = f"PITCH NOT STATED: {pitch_mm:g} mm taken, measure the panel first"
    if panel.window_m is not None:
        words = f"window {size_mm[0]:g} by {size_mm[1]:g} mm, {words}"
    return words


def _parts(whole: Sequence[Strip], high: float) -> tuple[float, tuple[Strip, ...]]:
    """The height of the heads of all strips, and their parts with the notes that they need."""
    head_mm, parts = 0.0, tuple(whole)
    # A part that is not to scale says so above it, which may take more room than the whole did.
    for _ in range(2):
        head_mm = max((_head_mm(strip) for strip in parts), default=0.0)
        parts = tuple(part for strip in whole for part in _divided(strip, high - head_mm))
    return max((_head_mm(strip) for strip in parts), default=0.0), _noted(parts)


def _divided(strip: Strip, room_mm: float) -> Iterator[Strip]:
    """A strip in parts that the paper holds, divided between slots."""
    pitch_mm = min(max(strip.pitch_mm, strip.size_mm[1]), room_mm)
    about = strip.about
    if pitch_mm < strip.pitch_mm:
        about = f"{about}: more than the paper holds, NOT TO SCALE"
    size_mm = (strip.size_mm[0], min(strip.size_mm[1], pitch_mm))
    count = max(1, int(room_mm / pitch_mm + 1e-9))
    for start in range(0, len(strip.labels), count):
        part = strip.labels[start : start + count]
        yield Strip(strip.title, about, pitch_mm, size_mm, part)


def _noted(strips: Sequence[Strip]) -> tuple[Strip, ...]:
    """The strips, each label that cannot hold all it says with the number of its note."""
    count = 0
    made: list[Strip] = []
    for strip in strips:
        labels: list[SlotLabel] = []
        for label in strip.labels:
            if not is_whole(label, (0.0, 0.0, *strip.size_mm)):
                count += 1
                labels.append(with_note(label, str(count)))
            else:
                labels.append(label)
        made.append(replace(strip, labels=tuple(labels)))
    return tuple(made)


def _tables(strips: Sequence[Strip]) -> Iterator[Table]:
    """What the labels have no room for, and what to see to before they go on."""
    labels = [label for strip in strips for label in strip.labels]
    noted = [Row((f"[{e.note}]", e.place, e.in_full)) for e in labels if e.note]
    if noted:
        yield Table(_NOTES, tuple(noted), "Notes of the labels")
    mind = [Row((each.place, each.mind)) for each in labels if each.mind]
    if mind:
        yield Table(_MIND, tuple(mind), "See to this before the labels go on")


def _arranged(strips: Sequence[Strip], room: Box, head_mm: float) -> list[list[_Placed]]:
    """Strips from left to right; what finds no room at the side goes below a shorter one."""
    left, top, wide, high = room
    lots: list[list[_Placed]] = [[]]
    for strip in strips:
        lot = lots[-1]
        below = _below(lot, strip, top + high, head_mm)
        if below is not None and strip.high_mm <= _SHORT_SHARE * high:
            lot.append(below)
            continue
        across = max((p.left + p.strip.wide_mm + _GAP_MM for p in lot), default=left)
        if not lot or across + strip.wide_mm <= left + wide + 1e-6:
            lot.append(_Placed(strip, across, top))
        elif below is None:
            lots.append([_Placed(strip, left, top)])
        else:
            lot.append(below)
    return lots


def _below(
    lot: Sequence[_Placed], strip: Strip, lowest: float, head_mm: float
) -> _Placed | None:  # fmt: skip
    """A place for a strip below those of a page; None where there is none."""
    for left in sorted({placed.left for placed in lot}):
        column = [placed for placed in lot if placed.left == left]
        down = max(p.top + head_mm + p.strip.high_mm for p in column) + _GAP_MM
        fits = down + head_mm + strip.high_mm <= lowest + 1e-6
        if fits and strip.wide_mm <= column[0].strip.wide_mm + 1e-6:
            return _Placed(strip, left, down)
    return None


def _around(job: Job, area: Box, *, has_strips: bool) -> tuple[Mark, ...]:
    """What stands above and below the strips: how to use them, and the ruler."""
    left, top, wide, high = area
    lead = (
        "True scale. Cut along the outer line and lay the strip beside its slots; cut at the ticks "
        "for single labels. “max” is the largest fuse that the wires of the circuit allow."
        if has_strips
        else "Nothing that was asked for has a slot label."
        if job.wish.only
        else "This rig states no panel and no circuit: there is nothing to label."
    )
    style = Style(8, FLOOR_PT, 2, align="start", is_top=True)
    down = top + high - 7
    says = "measure: 100 mm from 0 to 100"
    return (
        *block(lead, (left, top, wide, _LEAD_MM), style),
        *ruler(left + 4, down, 100.0),
        *block(says, (left + 112, down - 4, wide - 112, 8), Style(8, FLOOR_PT, 2, align="start")),
    )


def _head(strip: Strip) -> tuple[tuple[str, bool], ...]:
    """The lines above a strip, each with whether it is bold."""
    wide = strip.wide_mm
    title = fit(strip.title, wide, size_pt=_HEAD_PT, floor_pt=_HEAD_PT, lines=6, bold=True)
    about = fit(strip.heading, wide, size_pt=_HEAD_PT, floor_pt=_HEAD_PT, lines=8)
    return (*((line, True) for line in title.lines), *((line, False) for line in about.lines))


def _head_mm(strip: Strip) -> float:
    """Height of the lines above a strip."""
    return len(_head(strip)) * LINE_HEIGHT * MM_PER_PT * _HEAD_PT + 1.5


def _strip(placed: _Placed, head_mm: float) -> Iterator[Mark]:
    strip, left = placed.strip, placed.left
    row_mm = LINE_HEIGHT * MM_PER_PT * _HEAD_PT
    lines = _head(strip)
    first = placed.top + head_mm - 1.5 - len(lines) * row_mm
    for number, (line, bold) in enumerate(lines):
        box = (left, first + number * row_mm, strip.wide_mm, row_mm)
        yield from block(line, box, Style(_HEAD_PT, FLOOR_PT, bold=bold, align="start"))
    wide, high = strip.size_mm
    top, pitch = placed.top + head_mm, strip.pitch_mm
    for place, label in enumerate(strip.labels):
        box = (left, top + place * pitch + (pitch - high) / 2, wide, high)
        yield Group(label.ident, f"{label.place} {label.name}", drawn(label, box))
        for side, way in ((left, -_TICK_MM), (left + wide, _TICK_MM)):
            down = top + place * pitch
            yield Line(((side, down), (side + way, down)), _CUT)
    if len(strip.labels) > 1 or high < pitch:
        yield rect(left, top, wide, strip.high_mm, pen=_CUT)
