"""Photo: each picture of a panel with the slots and wires named beside it."""

from collections.abc import Iterator

from rigfolio.draw.fit import Style, block
from rigfolio.draw.frame import body, numbered
from rigfolio.draw.page import Mark, Page, Paper
from rigfolio.study.job import Job
from rigfolio.study.pictures import Taken, colour_words, picture_marks

TITLE = "Photo"
NAME = "photo"

_LEAD_MM = 12.0
_WORDS_MM = 46.0


def pages(job: Job) -> tuple[Page, ...]:
    """A page for each picture."""
    paper = job.paper
    if job.pictures and all(one.image.size[0] > one.image.size[1] for one in job.pictures):
        paper = Paper(paper.name, paper.height_mm, paper.width_mm)
    left, top, wide, high = body(paper.width_mm, paper.height_mm)
    bodies: list[tuple[Mark, ...]] = []
    for taken in job.pictures:
        words = (
            f"{taken.photo.file}: as it was before the work. What a colour looks like on a picture "
            "is a hint: look at the wire itself by daylight before you write it down."
        )
        head = block(words, (left, top, wide, _LEAD_MM - 2), Style(9, 7, 2, align="start"))
        box = (left, top + _LEAD_MM, wide, high - _LEAD_MM - _WORDS_MM)
        below = (left, top + high - _WORDS_MM + 3, wide, _WORDS_MM - 3)
        bodies.append((*head, *picture_marks(job.rig, taken, box), *_colours(job, taken, below)))
    if not bodies:
        none = "This rig names no photo."
        bodies = [tuple(block(none, (left, top, wide, 8), Style(9, 7, align="start")))]
    return numbered(paper, TITLE, job.strip, bodies, note="Taken before the work.")


def _colours(job: Job, taken: Taken, box: tuple[float, float, float, float]) -> Iterator[Mark]:
    """What the picture says of colours, in two columns."""
    left, top, wide, high = box
    lines = tuple(colour_words(job.rig, taken))
    rows = max(1, -(-len(lines) // 2))
    each = min(4.5, high / rows)
    for place, line in enumerate(lines):
        column, row = divmod(place, rows)
        at = (left + column * wide / 2.0, top + row * each, wide / 2.0 - 3, each - 0.3)
        yield from block(line, at, Style(7, 5.5, align="start"))
