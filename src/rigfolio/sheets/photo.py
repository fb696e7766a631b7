"""Photo: each picture of a panel with the slots and wires named beside it."""

from collections.abc import Iterator

from rigfolio.draw import Column, Mark, Page, Paper, Row, Style, Table, block, body, flow, numbered
from rigfolio.job import Job, Taken
from rigfolio.labels import colour_words, depth_mm, mark_words, named_beside, parted, picture_marks
from rigfolio.sheet import Sheet

SHEET = Sheet(
    "Photo",
    "photo",
    command="photo",
    form="names",
    bound=50,
    beside=True,
    shows_pictures=True,
    needs_pictures=True,
)

_LEAD_MM = 12.0
_WORDS_MM = 46.0
_GAP_MM = 3.0
_COLUMNS = (Column("", 1.0), Column("", 1.0))
_SIZE_PT = 7.0


def pages(job: Job) -> tuple[Page, ...]:
    """A page for each picture, more where many names and colours do not fit below it."""
    paper = job.paper
    if job.pictures and all(one.image.size[0] > one.image.size[1] for one in job.pictures):
        paper = Paper(paper.name, paper.height_mm, paper.width_mm)
    area = body(paper.width_mm, paper.height_mm)
    left, top, wide, high = area
    room_mm = high - _LEAD_MM - _WORDS_MM
    bodies: list[tuple[Mark, ...]] = []
    for whole in job.pictures:
        for taken in parted(whole, room_mm):
            words = (
                f"{taken.photo.file}: as it was before the work. What a colour looks like on a "
                "picture is a hint: look at the wire itself by daylight before you write it down."
            )
            head = block(words, (left, top, wide, _LEAD_MM - 2), Style(9, 7, 2, align="start"))
            box = (left, top + _LEAD_MM, wide, room_mm)
            rows = tuple(_rows(list(_told(job, taken, named_beside(job.rig, taken, box)))))
            told = (Table(_COLUMNS, rows, size_pt=_SIZE_PT, pad_mm=0.6),)
            down_mm = _LEAD_MM + depth_mm(job.rig, taken, box) + _GAP_MM
            first, *others = flow(told, area, taken_mm=down_mm)
            bodies += [(*head, *picture_marks(job.rig, taken, box), *first), *others]
    if not bodies:
        none = "This rig names no photo."
        bodies = [tuple(block(none, (left, top, wide, 8), Style(9, 7, align="start")))]
    return numbered(paper, SHEET.title, job.strip, bodies, note="Taken before the work.")


def _told(job: Job, taken: Taken, named: frozenset[str]) -> Iterator[str]:
    """What the picture says of colours; with the name where that has no room beside it."""
    for mark, line in zip(taken.photo.marks, colour_words(job.rig, taken), strict=True):
        is_named = mark.place in named
        yield line if is_named else mark_words(job.rig, mark) + line.removeprefix(mark.place)


def _rows(lines: list[str]) -> Iterator[Row]:
    """Lines in two columns, one beside the next."""
    for at in range(0, len(lines), 2):
        yield Row((lines[at], lines[at + 1] if at + 1 < len(lines) else ""))
