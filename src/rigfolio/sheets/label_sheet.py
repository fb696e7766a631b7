"""Labels on sheets that are cut already, one circuit a label, from any label of the sheet on.

The sheet holds nothing but labels: what every other page says at its foot would print across them.
What a label has no room for stands on the label behind it.
"""

from collections.abc import Iterator

from rigfolio.books import LabelSheet, usual_sheet
from rigfolio.draw import PAPERS, Group, Page
from rigfolio.job import Job
from rigfolio.labels import SlotLabel, drawn, every_label, is_whole, lacking, note_labels, with_note
from rigfolio.sheet import Sheet

SHEET = Sheet("Labels on cut sheets", "label-sheet", command="labels", form="sheet")

_INSET_MM = 1.0


def pages(job: Job) -> tuple[Page, ...]:
    """As many sheets as the labels need; those that a used sheet lacks are left out."""
    stock = job.wish.stock or usual_sheet(job.paper.name)
    size = PAPERS[stock.paper]
    labels = tuple(_with_notes(every_label(job), stock))
    each = stock.columns * stock.rows
    skip = min(max(job.wish.start - 1, 0), each - 1)
    made: list[Page] = []
    for first in range(0, max(len(labels) + skip, 1), each):
        places = range(max(first, skip), min(first + each, len(labels) + skip))
        marks = tuple(_placed(stock, at - first, labels[at - skip]) for at in places)
        name = SHEET.title if not made else f"{SHEET.title} {len(made) + 1}"
        made.append(Page(size.width_mm, size.height_mm, marks, name))
    return tuple(made)


def _with_notes(labels: tuple[SlotLabel, ...], stock: LabelSheet) -> Iterator[SlotLabel]:
    """The labels, each that cannot hold all it says followed by its note."""
    wide, high = stock.label_mm
    room = (0.0, 0.0, wide - 2 * _INSET_MM, high - 2 * _INSET_MM)
    count = 0
    for label in labels:
        if is_whole(label, room):
            yield label
            continue
        count += 1
        yield with_note(label, str(count))
        yield from note_labels(count, f"{label.place}: {lacking(label, room)}", room)


def _placed(stock: LabelSheet, place: int, label: SlotLabel) -> Group:
    row, column = divmod(place, stock.columns)
    left = stock.first_mm[0] + column * stock.pitch_mm[0]
    top = stock.first_mm[1] + row * stock.pitch_mm[1]
    wide, high = stock.label_mm
    box = (left + _INSET_MM, top + _INSET_MM, wide - 2 * _INSET_MM, high - 2 * _INSET_MM)
    return Group(label.ident, f"{label.place} {label.name}", drawn(label, box, framed=False))
