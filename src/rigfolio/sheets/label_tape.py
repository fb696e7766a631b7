"""Labels on tape: all of them one behind the other, with a tick where each is cut off.

The page is the tape itself, at true scale. A label is as long as what it says needs it.
"""

from rigfolio.draw import Page
from rigfolio.job import Job
from rigfolio.labels import band_of, tape_labels
from rigfolio.record import replace
from rigfolio.sheet import Sheet

SHEET = Sheet("Labels on tape", "label-tape", command="labels", form="tape")


def pages(job: Job) -> tuple[Page, ...]:
    """Lengths of tape, none longer than 600 mm."""
    band = band_of(job)
    return tuple(
        band.page(replace(tape, name=f"{SHEET.title} {tape.name}".removesuffix(" 1")))
        for tape in tape_labels(job, band)
    )
