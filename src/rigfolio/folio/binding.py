"""The folio: all sheets behind a cover, with contents, bookmarks, links and the rig's own text."""

from collections.abc import Sequence
from dataclasses import replace

from rigfolio.draw import MARGIN_MM, Kind, Page, Role, Text, corrected
from rigfolio.folio.links import Part, linked, outline
from rigfolio.job import Job
from rigfolio.render import Attached, Binding
from rigfolio.sheets import cover

_NUMBER_PT = 6.5
_NUMBER_MM = 6.8
"""From the lower edge of the paper: below the frame, above what office printers leave blank."""
_ATTACHED = "The text that this folio was made from; rigfolio extract gives it back."


def bind(job: Job, parts: Sequence[Part]) -> bytes:
    """All sheets behind a cover that lists them by page, as one PDF.

    Parameters
    ----------
    job : Job
        The rig; its texts are attached as they were read.
    parts : sequence of (str, str, tuple of Page)
        Module, title and pages of each sheet.
    """
    from rigfolio.render import write_pdf

    length = cover_length(job, [title for _, title, _ in parts])
    front = ("cover", cover.SHEET.title, cover.pages(job, _contents(parts, length + 1)))
    front, *parts = linked(job.rig, (front, *parts))
    every = [page for _, _, pages in (front, *parts) for page in pages]
    binding = Binding(
        ", ".join(word for word in (job.rig.name, *job.strip[1:], "low-voltage DC wiring")),
        outline(job.rig, parts, length),
        tuple(Attached(name, content, _ATTACHED) for name, content in job.texts),
    )
    counted = (_counted(page, number, len(every)) for number, page in enumerate(every, start=1))
    pages = [corrected(page, *job.wish.scale) for page in counted]
    title, subject = f"{job.rig.name}: folio", ", ".join(job.strip[1:])
    return write_pdf(pages, title=title, subject=subject, binding=binding)


def cover_length(job: Job, titles: Sequence[str]) -> int:
    """How many pages stand before the first sheet of a folio.

    That depends on how many lines the contents have, not on what they say.
    """
    return len(cover.pages(job, tuple((title, 1) for title in titles)))


def _contents(parts: Sequence[Part], first: int) -> tuple[tuple[str, int], ...]:
    """Each sheet and the page of the folio that it begins on."""
    lines: list[tuple[str, int]] = []
    for _, title, pages in parts:
        lines.append((title, first))
        first += len(pages)
    return tuple(lines)


def _counted(page: Page, number: int, count: int) -> Page:
    """A page with its number in the folio, which the contents and the viewer go by."""
    at = (page.width_mm - MARGIN_MM, page.height_mm - _NUMBER_MM)
    words = f"folio page {number} of {count}"
    text = Text(at, words, _NUMBER_PT, "end", role=Role(Kind.FURNITURE))
    return replace(page, marks=(*page.marks, text))
