"""Slot labels: one for each slot, at the pitch of the panel.

Print at full size and hold the ruler of the page against a rule. Cut each strip along its outer
line and lay it beside the fuses, or cut at the ticks for single labels. A label says what the
slot feeds, which fuse belongs in it, and the wire; one that has no room for all of it has the
number of a note below the strips. Every device outside panels that somebody may have to pull or set
has a label of its own, with what goes dark without it.

Strips follow each other down the columns of the page in the order of the slots; one that a column
cannot hold whole is divided between two slots.
"""

from collections.abc import Iterator, Sequence
from functools import partial

from rigfolio.draw import (
    FLOOR_PT,
    FULL_SIZE,
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
    measure,
    numbered,
    rect,
)
from rigfolio.job import Job
from rigfolio.labels import (
    DEFAULT_PITCH_MM,
    SlotLabel,
    drawn,
    is_whole,
    labels_of,
    loose_labels,
    rating_pt,
    volts_at,
    with_note,
)
from rigfolio.model import Panel
from rigfolio.record import record, replace
from rigfolio.sheet import Sheet, SheetPart
from rigfolio.wording import states_no

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
_NOTES = (Column("note", 10, bold=True), Column("label", 20, bold=True), Column("in full", 145))
_MIND = (Column("label", 20, bold=True), Column("what was seen there", 155))


@record
class Strip:
    """Labels that hang together, top to bottom, `pitch_mm` apart; `size_mm` is that of each."""

    title: str
    about: str
    pitch_mm: float
    size_mm: tuple[float, float]
    labels: tuple[SlotLabel, ...]
    is_true: bool = True

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


@record
class _Placed:
    """A strip, the corner of its head on its page, and how high the head is [mm]."""

    strip: Strip
    left: float
    top: float
    head_mm: float

    @property
    def bottom(self) -> float:
        """Where its last label ends [mm]."""
        return self.top + self.head_mm + self.strip.high_mm


def pages(job: Job) -> tuple[Page, ...]:
    """Strips of labels, side by side, and the notes that they need."""
    frame = body(job.paper.width_mm, job.paper.height_mm)
    left, top, wide, high = frame
    room = (left, top + _LEAD_MM, wide, high - _LEAD_MM - _RULER_MM)
    lots = _noted(_arranged(tuple(_strips(job)), room))
    strips = [placed.strip for lot in lots for placed in lot]
    bodies = [
        [*_around(job, frame, lot), *(mark for placed in lot for mark in _strip(placed))]
        for lot in lots
    ]
    lowest = max((placed.bottom for placed in lots[-1]), default=room[1])
    for number, marks in enumerate(flow(_tables(strips), room, taken_mm=lowest - room[1] + 2.0)):
        if number:
            bodies.append([])
        bodies[-1] += marks
    is_true = bool(strips) and all(strip.is_true for strip in strips)
    note = FULL_SIZE if is_true else ""
    return numbered(job.paper, SHEET.title, job.strip, bodies, note=note)


def content(job: Job) -> Iterator[SheetPart]:
    """What it is made from, strip by strip; where they are alike but for words, as it is laid."""
    strips = []
    for strip in _strips(job):
        strips.append(strip)
        yield SheetPart(strip, partial(_alone, strip))
    yield SheetPart(tuple(strips), lambda: pages(job))


def _alone(strip: Strip) -> tuple[object, ...]:
    """A strip as it looks anywhere, with what is told of its labels below."""
    ((placed,),) = _noted([[_Placed(strip, 0.0, 0.0, _head_mm(strip))]])
    return (*_strip(placed), *_tables([placed.strip]))


def _strips(job: Job) -> Iterator[Strip]:
    for panel in job.rig.panels:
        chosen = labels_of(job, panel)
        pitch_mm = panel.pitch_m * 1e3 if panel.pitch_m is not None else DEFAULT_PITCH_MM
        size_mm = _size(panel, pitch_mm)
        volts = volts_at(job.study, (panel.bus, panel.feed))
        about = f"{volts}, " if volts else ""
        about += _about(panel, pitch_mm, size_mm)
        if chosen and len(chosen) < panel.slots:
            about = f"only these slots, {about}"
        columns: dict[int, list[SlotLabel]] = {}
        for number, label in chosen:
            columns.setdefault(panel.cell(number)[0], []).append(label)
        for _, labels in sorted(columns.items()):
            yield Strip(str(panel.about), about, pitch_mm, size_mm, tuple(labels))
    loose = loose_labels(job)
    if loose:
        size_mm = (WIDTH_MM, DEFAULT_PITCH_MM)
        yield Strip("Outside panels", "cut apart", DEFAULT_PITCH_MM, size_mm, loose)


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


def _arranged(strips: Sequence[Strip], room: Box) -> list[list[_Placed]]:
    """Strips down the columns of each page, in their order."""
    left, top, wide, high = room
    lots: list[list[_Placed]] = [[]]
    across, down, column_mm = left, top, 0.0
    before = ""
    for whole in strips:
        rest: Strip | None = _fitted(whole, high)
        beside = across + column_mm + _GAP_MM
        # The columns of a panel stand side by side, as on the panel.
        if before == whole.title and beside + whole.wide_mm <= left + wide + 1e-6:
            across, down, column_mm = beside, top, 0.0
        before = whole.title
        while rest is not None:
            part, after = _divided(rest, top + high - down, high)
            is_beyond = across + rest.wide_mm > left + wide + 1e-6
            if part is None or (is_beyond and across > left):
                across, down = across + column_mm + _GAP_MM, top
                column_mm = 0.0
                if across + rest.wide_mm > left + wide + 1e-6:
                    lots.append([])
                    across = left
                continue
            placed = _Placed(part, across, down, _head_mm(part))
            lots[-1].append(placed)
            down, column_mm = placed.bottom + _GAP_MM, max(column_mm, part.wide_mm)
            before = "" if after is not None else before
            rest = after
    return lots


def _fitted(strip: Strip, high: float) -> Strip:
    """A strip whose labels are no higher than the paper; where they were, it is not to scale."""
    pitch_mm = max(strip.pitch_mm, strip.size_mm[1])
    about = f"{strip.about}: more than the paper holds, NOT TO SCALE"
    small = replace(strip, about=about, is_true=False)
    most_mm = high - _head_mm(small)
    if pitch_mm <= most_mm:
        return replace(strip, pitch_mm=pitch_mm)
    size_mm = (strip.size_mm[0], min(strip.size_mm[1], most_mm))
    return replace(small, pitch_mm=most_mm, size_mm=size_mm)


def _divided(strip: Strip, room_mm: float, high: float) -> tuple[Strip | None, Strip | None]:
    """What of a strip stands in the room that is left of a column, and what is left of it.

    It is divided only where no column holds it whole, and into no more parts than that takes.
    """
    head_mm, count = _head_mm(strip), len(strip.labels)
    here, most = (_held(strip, room - head_mm) for room in (room_mm, high))
    if here >= count:
        return strip, None
    # A part of one slot is lost in a drawer.
    here -= 1 if here > 2 and count - here == 1 else 0
    if count <= most or here < 1 or -(-(count - here) // most) + 1 > -(-count // most):
        return None, strip
    parts = (strip.labels[:here], strip.labels[here:])
    first, after = (replace(strip, labels=labels) for labels in parts)
    return first, after


def _held(strip: Strip, room_mm: float) -> int:
    """How many labels of a strip stand in some room."""
    return max(0, int(room_mm / strip.pitch_mm + 1e-9))


def _noted(lots: Sequence[Sequence[_Placed]]) -> list[list[_Placed]]:
    """The strips, each label that cannot hold all it says with the number of its note."""
    count = 0
    made: list[list[_Placed]] = []
    for lot in lots:
        made.append([])
        for placed in lot:
            labels: list[SlotLabel] = []
            for label in placed.strip.labels:
                if not is_whole(label, (0.0, 0.0, *placed.strip.size_mm)):
                    count += 1
                    labels.append(with_note(label, str(count)))
                else:
                    labels.append(label)
            made[-1].append(replace(placed, strip=replace(placed.strip, labels=tuple(labels))))
    return made


def _tables(strips: Sequence[Strip]) -> Iterator[Table]:
    """What the labels have no room for, and what to see to before they go on."""
    labels = [label for strip in strips for label in strip.labels]
    noted = [Row((f"[{e.note}]", e.place, e.in_full)) for e in labels if e.note]
    if noted:
        yield Table(_NOTES, tuple(noted), "Notes of the labels")
    mind = [Row((each.place, each.mind)) for each in labels if each.mind]
    if mind:
        yield Table(_MIND, tuple(mind), "See to this before the labels go on")


def _around(job: Job, area: Box, lot: Sequence[_Placed]) -> tuple[Mark, ...]:
    """What stands above and below the strips: how to use them, and the ruler of a true scale."""
    left, top, wide, _ = area
    lead = (
        "Cut along the outer line and lay the strip beside its slots; cut at the ticks for single "
        "labels. The rating is that of the fuse that belongs there."
        if lot
        else "Nothing that was asked for has a label."
        if job.wish.only
        else states_no("panel", "circuit", "device", so="there is nothing to label")
    )
    is_true = any(placed.strip.is_true for placed in lot)
    style = Style(8, FLOOR_PT, 2, align="start", is_top=True)
    says = block(f"True scale. {lead}" if is_true else lead, (left, top, wide, _LEAD_MM), style)
    return (*says, *measure(area)) if is_true else says


def _head(strip: Strip) -> tuple[tuple[str, bool], ...]:
    """The lines above a strip, each with whether it is bold."""
    wide = strip.wide_mm
    title = fit(strip.title, wide, size_pt=_HEAD_PT, floor_pt=_HEAD_PT, lines=6, bold=True)
    about = fit(strip.heading, wide, size_pt=_HEAD_PT, floor_pt=_HEAD_PT, lines=8)
    return (*((line, True) for line in title.lines), *((line, False) for line in about.lines))


def _head_mm(strip: Strip) -> float:
    """Height of the lines above a strip."""
    return len(_head(strip)) * LINE_HEIGHT * MM_PER_PT * _HEAD_PT + 1.5


def _strip(placed: _Placed) -> Iterator[Mark]:
    strip, left = placed.strip, placed.left
    row_mm = LINE_HEIGHT * MM_PER_PT * _HEAD_PT
    for number, (line, bold) in enumerate(_head(strip)):
        box = (left, placed.top + number * row_mm, strip.wide_mm, row_mm)
        yield from block(line, box, Style(_HEAD_PT, FLOOR_PT, bold=bold, align="start"))
    wide, high = strip.size_mm
    top, pitch = placed.top + placed.head_mm, strip.pitch_mm
    size_pt = rating_pt(strip.labels, (0.0, 0.0, wide, high))
    for place, label in enumerate(strip.labels):
        box = (left, top + place * pitch + (pitch - high) / 2, wide, high)
        marks = drawn(label, box, rating_pt=size_pt)
        yield Group(label.ident, f"{label.place} {label.name}", marks)
        for side, way in ((left, -_TICK_MM), (left + wide, _TICK_MM)):
            down = top + place * pitch
            yield Line(((side, down), (side + way, down)), _CUT)
    if len(strip.labels) > 1 or high < pitch:
        yield rect(left, top, wide, strip.high_mm, pen=_CUT)
