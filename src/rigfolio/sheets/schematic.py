"""The circuit diagram of a rig: sources and feeders, then each panel with its circuits in rows."""

from collections.abc import Iterator

from rigfolio.draw import Page
from rigfolio.job import Job
from rigfolio.sheet import Sheet, SheetPart

SHEET = Sheet("Schematic", "schematic", command="draw", bound=20, beside=True, is_drawing=True)


def pages(job: Job, first_page: int = 1) -> tuple[Page, ...]:
    """The diagram on pages of the rig's paper, lying on its side.

    The diagram is never made smaller, so that its words can be read at the panel. What does not
    fit one page goes on upon others: first sources and feeders, then the panels. Only a part that
    cannot be divided is larger than the paper; its note says so.

    Parameters
    ----------
    job : Job
        The rig and its paper.
    first_page : int
        The number of the first page in the document that it is bound in; marks count from it.
    """
    from rigfolio.schematic import diagram

    return diagram(job, first_page).pages


def content(job: Job) -> Iterator[SheetPart]:
    """What it is made from: the words at its parts, and all of the rig that it may turn on."""
    from rigfolio.schematic import drawn_of, words_of

    yield from map(SheetPart, words_of(job))
    yield SheetPart(drawn_of(job), lambda: pages(job))


def dot_text(job: Job) -> str:
    """The diagram as a graph in the DOT language, for those who lay it out themselves."""
    from rigfolio.schematic import dot_text as text_of

    return text_of(job)
