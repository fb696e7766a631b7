"""Strips on tape: one for each column of a panel, at its pitch, with a tick between the slots.

The page is the tape itself, at true scale; hold it upright beside the slots. What a slot has no
room for stands behind the strip, to be cut off and stuck beside it.
"""

from collections.abc import Iterator

from rigfolio.draw import Group, Mark, Page, quarter_turned
from rigfolio.job import Job
from rigfolio.labels import (
    DEFAULT_PITCH_MM,
    Band,
    SlotLabel,
    band_of,
    drawn,
    is_whole,
    labels_of,
    lacking,
    laid,
    length_mm,
    ticks,
    with_note,
    without_colour,
)
from rigfolio.model import Panel
from rigfolio.sheet import Sheet

SHEET = Sheet("Strips on tape", "tape-strip", command="labels", form="tape-strip")

_INSET_MM = 0.4
_GAP_MM = 4.0


def pages(job: Job) -> tuple[Page, ...]:
    """A length of tape for each column of each panel."""
    band = band_of(job)
    return tuple(page for panel in job.rig.panels for page in _strips(job, panel, band))


def _strips(job: Job, panel: Panel, band: Band) -> Iterator[Page]:
    columns: dict[int, list[SlotLabel]] = {}
    for number, label in labels_of(job, panel):
        columns.setdefault(panel.cell(number)[0], []).append(without_colour(label))
    pitch_mm = panel.pitch_m * 1e3 if panel.pitch_m is not None else DEFAULT_PITCH_MM
    for column, labels in sorted(columns.items()):
        name = f"{panel.about} {column + 1}" if len(columns) > 1 else str(panel.about)
        yield _strip(labels, pitch_mm, band, f"{SHEET.title}: {name}")


def _strip(labels: list[SlotLabel], pitch_mm: float, band: Band, name: str) -> Page:
    high_mm = len(labels) * pitch_mm
    room = (_INSET_MM, _INSET_MM, band.print_mm - 2 * _INSET_MM, pitch_mm - 2 * _INSET_MM)
    upright: list[Mark] = []
    notes: list[SlotLabel] = []
    for place, label in enumerate(labels):
        shown = label
        if not is_whole(label, room):
            shown = with_note(label, str(len(notes) + 1))
            words = f"{label.place}: {lacking(label, room)}"
            notes.append(SlotLabel(f"[{shown.note}]", "", words, is_note=True))
        box = (room[0], room[1] + place * pitch_mm, *room[2:])
        title = f"{label.place} {label.name}"
        upright.append(Group(label.ident, title, drawn(shown, box, framed=False)))
    # Turned so that the first slot is on top when the tape is held upright.
    marks = list(quarter_turned(upright, band.print_mm))
    for place in range(len(labels) + 1):
        marks += ticks(place * pitch_mm, band)
    across = high_mm
    for at, note in enumerate(notes):
        across += _GAP_MM if not at else 0.0
        long_mm = length_mm(note, band)
        marks += laid(note, across, long_mm, band)
        across += long_mm
    return band.page(tuple(marks), across, name)
