"""Labels on tape: all of them one behind the other, with a tick where each is cut off.

The page is the tape itself, at true scale. A label is as long as its name needs it, up to twice the
usual length.
"""

from rigfolio.books.label_stock import tape
from rigfolio.draw.fit import width_mm
from rigfolio.draw.page import Group, Line, Mark, Page, Pen
from rigfolio.study.job import Job
from rigfolio.study.labels import Label, drawn, labels_of, loose_labels

TITLE = "Labels on tape"
NAME = "label-tape"

_TICK = Pen(0.2)
_TICK_MM = 1.2
_BESIDE_MM = 18.0
_MOST_MM = 600.0


def pages(job: Job) -> tuple[Page, ...]:
    """Lengths of tape, none longer than 600 mm."""
    stock = tape()
    wide_mm = job.wish.tape_mm or stock.width_mm[2]
    high_mm = wide_mm - 2 * stock.edge_mm
    lots: list[list[tuple[float, Label]]] = [[]]
    for label in _labels(job):
        long_mm = _length(label, high_mm, stock.label_mm)
        if lots[-1] and sum(each for each, _ in lots[-1]) + long_mm > _MOST_MM:
            lots.append([])
        lots[-1].append((long_mm, label))
    return tuple(_page(lot, wide_mm, stock.edge_mm, number) for number, lot in enumerate(lots, 1))


def _labels(job: Job) -> tuple[Label, ...]:
    panels = (label for panel in job.rig.panels for _, label in labels_of(job, panel))
    return (*panels, *loose_labels(job))


def _length(label: Label, high_mm: float, usual_mm: float) -> float:
    size_pt = max(5.5, min(14.0, 0.68 * high_mm / 0.3528 * 0.41))
    needed = width_mm(label.name, size_pt, bold=True) + _BESIDE_MM
    return min(max(usual_mm, needed), 2.0 * usual_mm)


def _page(lot: list[tuple[float, Label]], wide_mm: float, edge_mm: float, number: int) -> Page:
    marks: list[Mark] = []
    across = 0.0
    for long_mm, label in lot:
        box = (across + 1.0, edge_mm, long_mm - 2.0, wide_mm - 2 * edge_mm)
        ident = f"label-{label.above}.{label.number}" if label.above else f"label-{label.number}"
        title = f"{label.number} {label.name}"
        marks.append(Group(ident, title, drawn(label, box, framed=False)))
        across += long_mm
        for start, end in ((0.0, _TICK_MM), (wide_mm - _TICK_MM, wide_mm)):
            marks.append(Line(((across, start), (across, end)), _TICK))
    name = TITLE if number == 1 else f"{TITLE} {number}"
    return Page(max(across, 10.0), wide_mm, tuple(marks), name)
