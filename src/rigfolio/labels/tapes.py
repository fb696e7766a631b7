"""What stands on tape: strips at the pitch of each panel, and all labels one behind the other."""

import itertools
from collections.abc import Iterable, Iterator, Sequence

from rigfolio.draw import Box, Group, Mark, quarter_turned
from rigfolio.job import Job
from rigfolio.labels.content import (
    DEFAULT_PITCH_MM,
    SlotLabel,
    every_label,
    labels_of,
    with_note,
)
from rigfolio.labels.face import drawn, is_whole, lacking, rating_pt
from rigfolio.labels.tape import Band, TapeLength, TapePiece, laid, length_mm, ticks, without_colour
from rigfolio.model import Panel

_INSET_MM = 0.4
_GAP_MM = 4.0
_MOST_MM = 600.0


def tape_strips(job: Job, band: Band) -> tuple[TapeLength, ...]:
    """A tape for each column of each panel, at its pitch.

    What a slot has no room for stands behind the slots; notes are numbered through all strips, for
    they lie in one heap when they are cut.
    """
    count = itertools.count(1)
    return tuple(tape for panel in job.rig.panels for tape in _strips(job, panel, band, count))


def panel_strips(job: Job, panel: Panel, band: Band) -> tuple[TapeLength, ...]:
    """The tapes of one panel; notes are numbered from its first one on."""
    return tuple(_strips(job, panel, band, itertools.count(1)))


def _strips(job: Job, panel: Panel, band: Band, count: Iterator[int]) -> Iterator[TapeLength]:
    columns: dict[int, list[SlotLabel]] = {}
    for number, label in labels_of(job, panel):
        columns.setdefault(panel.cell(number)[0], []).append(without_colour(label))
    pitch_mm = panel.pitch_m * 1e3 if panel.pitch_m is not None else DEFAULT_PITCH_MM
    for column, labels in sorted(columns.items()):
        name = f"{panel.about} {column + 1}" if len(columns) > 1 else str(panel.about)
        room = (_INSET_MM, _INSET_MM, band.print_mm - 2 * _INSET_MM, pitch_mm - 2 * _INSET_MM)
        shown = [each if is_whole(each, room) else with_note(each, str(next(count)))
                 for each in labels]  # fmt: skip
        yield TapeLength(name, (*_slots(shown, room, band), *_notes(shown, room, band)))


def _slots(labels: Sequence[SlotLabel], room: Box, band: Band) -> Iterator[TapePiece]:
    pitch_mm = room[3] + 2 * _INSET_MM
    size_pt = rating_pt(labels, room)
    for label in labels:
        title = f"{label.place} {label.name}"
        inside = drawn(label, room, framed=False, rating_pt=size_pt)
        # Turned so that the first slot is on top when the tape is held upright.
        upright: tuple[Mark, ...] = (Group(label.ident, title, inside),)
        turned = quarter_turned(upright, band.print_mm)
        marks = (*turned, *ticks(0.0, band), *ticks(pitch_mm, band))
        yield TapePiece(pitch_mm, marks, label.place)


def _notes(labels: Sequence[SlotLabel], room: Box, band: Band) -> Iterator[TapePiece]:
    noted = [each for each in labels if each.note]
    if noted:
        yield TapePiece(_GAP_MM)
    for each in noted:
        words = f"{each.place}: {lacking(each, room)}"
        note = SlotLabel(f"[{each.note}]", "", words, is_note=True)
        yield laid(note, length_mm(note, band), band)


def tape_labels(job: Job, band: Band) -> tuple[TapeLength, ...]:
    """All labels one behind the other, on tapes of no more than 600 mm; at least one tape."""
    lots: list[list[TapePiece]] = [[]]
    for piece in tape_pieces(every_label(job), band):
        if lots[-1] and sum(each.long_mm for each in lots[-1]) + piece.long_mm > _MOST_MM:
            lots.append([])
        lots[-1].append(piece)
    return tuple(TapeLength(str(number), tuple(lot)) for number, lot in enumerate(lots, 1))


def tape_pieces(labels: Iterable[SlotLabel], band: Band) -> Iterator[TapePiece]:
    """Each of some labels on a length of tape that holds it."""
    for label in map(without_colour, labels):
        yield laid(label, length_mm(label, band), band)
