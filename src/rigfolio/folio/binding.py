"""Binders: sheets behind each other as one PDF, with contents, bookmarks and links.

The folio carries the rig's own text besides.
"""

from collections.abc import Sequence

from rigfolio.draw import MARGIN_MM, Kind, Page, Role, Text, corrected
from rigfolio.folio.links import Part, linked, outline
from rigfolio.job import Job
from rigfolio.record import replace
from rigfolio.render import Attached, Binding
from rigfolio.sheet import BINDERS, Binder

_NUMBER_PT = 6.5
_NUMBER_MM = 6.8
"""From the lower edge of the paper: below the frame, above what office printers leave blank."""
_ATTACHED = "The text that this folio was made from; rigfolio extract gives it back."


def bind(job: Job, binder: Binder, parts: Sequence[Part]) -> bytes:
    """Sheets as one PDF.

    Parameters
    ----------
    job : Job
        The rig; the folio carries its texts as they were read.
    binder : str
        Which of the binders it is.
    parts : sequence of (str, str, tuple of Page)
        Module, title and pages of each sheet.
    """
    from rigfolio.render import write_pdf

    parts = linked(job.rig, parts)
    every = [page for _, _, pages in parts for page in pages]
    is_folio = binder == BINDERS[0]
    binding = Binding(
        ", ".join(word for word in (job.rig.name, *job.strip[1:], "low-voltage DC wiring")),
        outline(job.rig, parts),
        tuple(Attached(name, content, _ATTACHED) for name, content in job.texts)
        if is_folio
        else (),
    )
    counted = (
        _counted(page, f"{binder} page {number} of {len(every)}")
        for number, page in enumerate(every, start=1)
    )
    pages = [corrected(page, *job.wish.scale) for page in counted]
    title, subject = f"{job.rig.name}: {binder}", ", ".join(job.strip[1:])
    return write_pdf(pages, title=title, subject=subject, binding=binding)


def _counted(page: Page, words: str) -> Page:
    """A page with its number in the binder, which the contents and the viewer go by."""
    at = (page.width_mm - MARGIN_MM, page.height_mm - _NUMBER_MM)
    text = Text(at, words, _NUMBER_PT, "end", role=Role(Kind.FURNITURE))
    return replace(page, marks=(*page.marks, text))
