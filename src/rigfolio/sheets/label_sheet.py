"""Labels on sheets that are cut already, one circuit a label, from any label of the sheet on.

The sheet bears nothing but labels: what every other page says at its foot would print across them.
"""

from rigfolio.books.label_stock import LabelSheet, label_sheets
from rigfolio.draw.page import PAPERS, Group, Page
from rigfolio.study.job import Job
from rigfolio.study.labels import Label, drawn, labels_of, loose_labels

TITLE = "Labels on cut sheets"
NAME = "label-sheet"

_INSET_MM = 1.0


def pages(job: Job) -> tuple[Page, ...]:
    """As many sheets as the labels need; those that a used sheet lacks are left out."""
    stock = job.wish.stock or _usual(job)
    labels = every_label(job)
    size = PAPERS[stock.paper]
    each = stock.columns * stock.rows
    skip = min(max(job.wish.start - 1, 0), each - 1)
    made: list[Page] = []
    for first in range(0, max(len(labels) + skip, 1), each):
        marks = []
        for place in range(each):
            at = first + place - skip
            if 0 <= at < len(labels):
                marks.append(_placed(stock, place, labels[at]))
        name = TITLE if not made else f"{TITLE} {len(made) + 1}"
        made.append(Page(size.width_mm, size.height_mm, tuple(marks), name))
    return tuple(made)


def every_label(job: Job) -> tuple[Label, ...]:
    """The labels of all panels in their order, then those of circuits elsewhere."""
    panels = tuple(label for panel in job.rig.panels for _, label in labels_of(job, panel))
    return (*panels, *loose_labels(job))


def _usual(job: Job) -> LabelSheet:
    """The first sheet of the rig's own paper, else the first one."""
    return next((one for one in label_sheets() if one.paper == job.paper.name), label_sheets()[0])


def _placed(stock: LabelSheet, place: int, label: Label) -> Group:
    row, column = divmod(place, stock.columns)
    left = stock.first_mm[0] + column * stock.pitch_mm[0]
    top = stock.first_mm[1] + row * stock.pitch_mm[1]
    wide, high = stock.label_mm
    box = (left + _INSET_MM, top + _INSET_MM, wide - 2 * _INSET_MM, high - 2 * _INSET_MM)
    ident = f"label-{label.above}.{label.number}" if label.above else f"label-{label.number}"
    return Group(ident, f"{label.number} {label.name}", drawn(label, box, framed=False))
