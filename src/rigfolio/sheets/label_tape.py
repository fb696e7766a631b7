"""Labels on tape: all of them one behind the other, with a tick where each is cut off.

The page is the tape itself, at true scale. A label is as long as what it says needs it.
"""

from rigfolio.draw import Mark, Page
from rigfolio.job import Job
from rigfolio.labels import Band, SlotLabel, band_of, every_label, laid, length_mm, without_colour
from rigfolio.sheet import Sheet

SHEET = Sheet("Labels on tape", "label-tape", command="labels", form="tape")

_MOST_MM = 600.0
_LEAST_MM = 10.0


def pages(job: Job) -> tuple[Page, ...]:
    """Lengths of tape, none longer than 600 mm."""
    band = band_of(job)
    lots: list[list[tuple[float, SlotLabel]]] = [[]]
    for label in map(without_colour, every_label(job)):
        long_mm = length_mm(label, band)
        if lots[-1] and sum(each for each, _ in lots[-1]) + long_mm > _MOST_MM:
            lots.append([])
        lots[-1].append((long_mm, label))
    return tuple(_page(lot, band, number) for number, lot in enumerate(lots, 1))


def _page(lot: list[tuple[float, SlotLabel]], band: Band, number: int) -> Page:
    marks: list[Mark] = []
    across = 0.0
    for long_mm, label in lot:
        marks += laid(label, across, long_mm, band)
        across += long_mm
    name = SHEET.title if number == 1 else f"{SHEET.title} {number}"
    return band.page(tuple(marks), max(across, _LEAST_MM), name)
