"""Strips on tape: one for each column of a panel, at its pitch, with a tick between the slots.

The page is the tape itself, at true scale; hold it upright beside the slots. What a slot has no
room for stands behind the strip, to be cut off and stuck beside it; its notes are numbered through
all strips, for they lie in one heap when they are cut.
"""

import itertools
from collections.abc import Iterator

from rigfolio.draw import Box, Group, Mark, Page, quarter_turned
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
    rating_pt,
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
    band, count = band_of(job), itertools.count(1)
    return tuple(page for panel in job.rig.panels for page in _strips(job, panel, band, count))


def _strips(job: Job, panel: Panel, band: Band, count: Iterator[int]) -> Iterator[Page]:
    columns: dict[int, list[SlotLabel]] = {}
    for number, label in labels_of(job, panel):
        columns.setdefault(panel.cell(number)[0], []).append(without_colour(label))
    pitch_mm = panel.pitch_m * 1e3 if panel.pitch_m is not None else DEFAULT_PITCH_MM
    for column, labels in sorted(columns.items()):
        name = f"{panel.about} {column + 1}" if len(columns) > 1 else str(panel.about)
        room = (_INSET_MM, _INSET_MM, band.print_mm - 2 * _INSET_MM, pitch_mm - 2 * _INSET_MM)
        shown = [each if is_whole(each, room) else with_note(each, str(next(count)))
                 for each in labels]  # fmt: skip
        yield _strip(shown, room, band, f"{SHEET.title}: {name}")


def _strip(labels: list[SlotLabel], room: Box, band: Band, name: str) -> Page:
    pitch_mm = room[3] + 2 * _INSET_MM
    upright: list[Mark] = []
    size_pt = rating_pt(labels, room)
    for place, label in enumerate(labels):
        box = (room[0], room[1] + place * pitch_mm, *room[2:])
        title = f"{label.place} {label.name}"
        inside = drawn(label, box, framed=False, rating_pt=size_pt)
        upright.append(Group(label.ident, title, inside))
    # Turned so that the first slot is on top when the tape is held upright.
    marks = list(quarter_turned(upright, band.print_mm))
    for place in range(len(labels) + 1):
        marks += ticks(place * pitch_mm, band)
    across = len(labels) * pitch_mm
    notes = [SlotLabel(f"[{each.note}]", "", f"{each.place}: {lacking(each, room)}", is_note=True)
             for each in labels if each.note]  # fmt: skip
    for at, note in enumerate(notes):
        across += _GAP_MM if not at else 0.0
        long_mm = length_mm(note, band)
        marks += laid(note, across, long_mm, band)
        across += long_mm
    return band.page(tuple(marks), across, name)
