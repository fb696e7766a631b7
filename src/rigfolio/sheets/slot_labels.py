"""Slot labels: one for each slot, at the pitch of the panel.

Print at full size and hold the ruler of the page against a rule. Cut each strip along its outer
line and lay it beside the fuses, or cut at the ticks for single labels. A label says what the
slot feeds, which fuse is in it, the largest fuse that its wires allow, and the wire. A circuit
that does not start in a panel has a loose label for its fuse holder.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rigfolio.draw.fit import Box, Style, block
from rigfolio.draw.frame import body, numbered
from rigfolio.draw.page import Group, Line, Mark, Page, Pen, rect
from rigfolio.draw.ruler import ruler
from rigfolio.study.job import Job
from rigfolio.study.labels import Label, drawn, labels_of, loose_labels

TITLE = "Slot labels"
NAME = "slot-labels"

WIDTH_MM = 45.0
DEFAULT_PITCH_MM = 14.0
"""Taken, and said so, where the text gives no pitch: in the span of usual fuse panels."""

_CUT = Pen(0.1)
_GAP_MM = 4.0
_HEAD_MM = 11.0
_LEAD_MM = 8.0
_RULER_MM = 15.0


@dataclass(frozen=True, slots=True)
class Strip:
    """Labels that hang together, top to bottom, each `pitch_mm` high."""

    title: str
    about: str
    pitch_mm: float
    labels: tuple[Label, ...]


def pages(job: Job) -> tuple[Page, ...]:
    """Strips of labels, side by side."""
    area = body(job.paper.width_mm, job.paper.height_mm)
    room_mm = area[3] - _LEAD_MM - _HEAD_MM - _RULER_MM
    strips = [part for strip in _strips(job) for part in _divided(strip, room_mm)]
    across = max(1, int((area[2] + _GAP_MM) / (WIDTH_MM + _GAP_MM)))
    gap_mm = (area[2] - across * WIDTH_MM) / max(1, across - 1)
    lots = [strips[start : start + across] for start in range(0, len(strips), across)] or [[]]
    bodies = [_body(lot, area, min(gap_mm, 2 * _GAP_MM)) for lot in lots]
    note = "Print at full size: 100 mm on the ruler must measure 100 mm."
    return numbered(job.paper, TITLE, job.strip, bodies, note=note)


def _strips(job: Job) -> Iterator[Strip]:
    for panel in job.rig.panels:
        pitch_mm = panel.pitch_m * 1e3 if panel.pitch_m is not None else DEFAULT_PITCH_MM
        about = f"pitch {pitch_mm:g} mm"
        if panel.pitch_m is None:
            about = f"PITCH NOT STATED: {pitch_mm:g} mm taken, measure the panel first"
        chosen = labels_of(job, panel)
        if chosen and len(chosen) < panel.slots:
            about = f"only these slots, {about}"
        columns: dict[int, list[Label]] = {}
        for number, label in chosen:
            columns.setdefault(panel.cell(number)[0], []).append(label)
        for _, labels in sorted(columns.items()):
            yield Strip(str(panel.about), about, pitch_mm, tuple(labels))
    loose = loose_labels(job)
    if loose:
        about = "for fuse holders elsewhere, cut apart"
        yield Strip("Not in a panel", about, DEFAULT_PITCH_MM, loose)


def _divided(strip: Strip, room_mm: float) -> Iterator[Strip]:
    """A strip in parts that the paper holds, divided between slots."""
    pitch_mm = min(strip.pitch_mm, room_mm)
    about = strip.about
    if pitch_mm < strip.pitch_mm:
        about = f"{about}: more than the paper holds, NOT TO SCALE"
    count = max(1, int(room_mm / pitch_mm + 1e-9))
    for start in range(0, len(strip.labels), count):
        yield Strip(strip.title, about, pitch_mm, strip.labels[start : start + count])


def _body(strips: Sequence[Strip], area: Box, gap_mm: float) -> tuple[Mark, ...]:
    left, top, wide, high = area
    lead = (
        "True scale. Cut along the outer line and lay the strip beside its slots; cut at the ticks "
        "for single labels. “max” is the largest fuse that the wires of the circuit allow."
        if strips
        else "This rig states no panel and no circuit: there is nothing to label."
    )
    style = Style(8, 6, 2, align="start", is_top=True)
    marks: list[Mark] = [*block(lead, (left, top, wide, _LEAD_MM), style)]
    for place, strip in enumerate(strips):
        marks += _strip(strip, left + place * (WIDTH_MM + gap_mm), top + _LEAD_MM)
    down = top + high - 7
    marks += ruler(left + 4, down, 100.0)
    says = "measure: 100 mm from 0 to 100"
    marks += block(says, (left + 109, down - 4, wide - 109, 8), Style(8, 6, 2, align="start"))
    return tuple(marks)


def _strip(strip: Strip, left: float, top: float) -> Iterator[Mark]:
    first, last = strip.labels[0].number, strip.labels[-1].number
    slots = f"slots {first} to {last}" if first != last else f"slot {first}"
    if not strip.labels[0].above:
        slots = f"{len(strip.labels)} labels" if len(strip.labels) > 1 else "1 label"
    title = (left, top, WIDTH_MM, 4.2)
    yield from block(strip.title, title, Style(8, 6, bold=True, align="start"))
    about = f"{slots}, {strip.about}"
    yield from block(about, (left, top + 4.4, WIDTH_MM, 6.2), Style(7, 5.5, 2, align="start"))
    down, pitch = top + _HEAD_MM, strip.pitch_mm
    for place, label in enumerate(strip.labels):
        box = (left, down + place * pitch, WIDTH_MM, pitch)
        ident = f"label-{label.above}.{label.number}" if label.above else f"label-{label.number}"
        yield Group(ident, f"{label.above} {label.number} {label.name}".strip(), drawn(label, box))
        for side, way in ((left, -1.5), (left + WIDTH_MM, 1.5)):
            yield Line(((side, box[1]), (side + way, box[1])), _CUT)
    half = _CUT.width_mm / 2
    yield rect(left - half, down - half, WIDTH_MM + 2 * half,
               len(strip.labels) * pitch + 2 * half, pen=_CUT)  # fmt: skip
