"""Strips on tape: one for each column of a panel, at its pitch, with a tick between the slots.

The page is the tape itself, at true scale; hold it upright beside the slots. What a slot has no
room for stands behind the strip, to be cut off and stuck beside it; its notes are numbered through
all strips, for they lie in one heap when they are cut.
"""

from rigfolio.draw import Page
from rigfolio.job import Job
from rigfolio.labels import band_of, tape_strips
from rigfolio.record import replace
from rigfolio.sheet import Sheet

SHEET = Sheet("Strips on tape", "tape-strip", command="labels", form="tape-strip")


def pages(job: Job) -> tuple[Page, ...]:
    """A length of tape for each column of each panel."""
    band = band_of(job)
    return tuple(
        band.page(replace(tape, name=f"{SHEET.title}: {tape.name}"))
        for tape in tape_strips(job, band)
    )
