"""Picture with a grid: each picture with lettered columns and numbered rows, to set marks by.

What lies in the field C4 is marked `mark P1.3 at C4`.
"""

from collections.abc import Iterator

from rigfolio.calc import COLUMNS, NINTHS, ROWS
from rigfolio.draw import (
    Box,
    Circle,
    Line,
    Mark,
    Page,
    Paper,
    Pen,
    Picture,
    Style,
    block,
    body,
    numbered,
)
from rigfolio.job import Job, Taken
from rigfolio.sheet import Sheet

SHEET = Sheet(
    "Picture with a grid",
    "photo-grid",
    command="photo",
    form="grid",
    shows_pictures=True,
    needs_pictures=True,
)

_LEAD_MM = 14.0
_EDGE_MM = 5.0
_DARK, _LIGHT = Pen(0.15, "#000000"), Pen(0.5, "#ffffff")
_TICK_MM = 1.0
_DOT_MM = 1.1
_HOW = (
    "{file}: a mark is typed by the field that it lies in, `mark P1.3 at C4`; by a ninth of it "
    "where that is too coarse, counted as one reads: `C4.1` is the upper left one, `C4.9` the "
    "lower right one. Something white is told by the fields that it covers: `white A1 to B2`."
)


def pages(job: Job) -> tuple[Page, ...]:
    """A page for each picture."""
    paper = job.paper
    if job.pictures and all(one.image.size[0] > one.image.size[1] for one in job.pictures):
        paper = Paper(paper.name, paper.height_mm, paper.width_mm)
    area = body(paper.width_mm, paper.height_mm)
    bodies = [tuple(_page(taken, area)) for taken in job.pictures]
    if not bodies:
        none = "This rig names no photo."
        left, top, wide, _ = area
        bodies = [tuple(block(none, (left, top, wide, 8), Style(9, 7, align="start")))]
    return numbered(paper, SHEET.title, job.strip, bodies, note="Dots stand for marks of the text.")


def _page(taken: Taken, area: Box) -> Iterator[Mark]:
    left, top, wide, high = area
    how = _HOW.format(file=taken.photo.file)
    yield from block(how, (left, top, wide, _LEAD_MM - 2), Style(9, 7, 3, align="start"))
    room = (
        left + _EDGE_MM, top + _LEAD_MM + _EDGE_MM,
        wide - 2 * _EDGE_MM, high - _LEAD_MM - 2 * _EDGE_MM,
    )  # fmt: skip
    wide_px, high_px = taken.image.size
    scale = min(room[2] / wide_px, room[3] / high_px)
    size = (wide_px * scale, high_px * scale)
    frame = (room[0] + (room[2] - size[0]) / 2.0, room[1], *size)
    yield Picture(frame[:2], *size, taken.image.jpeg, f"photograph {taken.photo.file}")
    yield from _lines(frame)
    yield from _names(frame)
    for mark in taken.photo.marks:
        at = (frame[0] + mark.x * frame[2], frame[1] + mark.y * frame[3])
        yield Circle(at, _DOT_MM, Pen(0.4), "#ffffff")


def _lines(frame: Box) -> Iterator[Mark]:
    """White below black, so that a line shows on a dark picture and on a light one."""
    x, y, wide, high = frame
    lines = [
        *(((x + wide * n / len(COLUMNS), y), (x + wide * n / len(COLUMNS), y + high))
          for n in range(len(COLUMNS) + 1)),
        *(((x, y + high * n / ROWS), (x + wide, y + high * n / ROWS)) for n in range(ROWS + 1)),
    ]  # fmt: skip
    yield from (Line(ends, _LIGHT) for ends in lines)
    yield from (Line(ends, _DARK) for ends in lines)
    # The ninths are told by ticks at the edges alone: more lines would hide the picture.
    for n in range(len(COLUMNS) * NINTHS):
        at = x + wide * n / (len(COLUMNS) * NINTHS)
        yield Line(((at, y - _TICK_MM), (at, y)), _DARK)
        yield Line(((at, y + high), (at, y + high + _TICK_MM)), _DARK)
    for n in range(ROWS * NINTHS):
        at = y + high * n / (ROWS * NINTHS)
        yield Line(((x - _TICK_MM, at), (x, at)), _DARK)
        yield Line(((x + wide, at), (x + wide + _TICK_MM, at)), _DARK)


def _names(frame: Box) -> Iterator[Mark]:
    """Letters above and below, numbers at both sides."""
    x, y, wide, high = frame
    style = Style(8, 7, bold=True)
    step = wide / len(COLUMNS)
    deep = _EDGE_MM - _TICK_MM
    for n, letter in enumerate(COLUMNS):
        for top in (y - _EDGE_MM, y + high + _TICK_MM):
            yield from block(letter, (x + n * step, top, step, deep), style)
    step = high / ROWS
    for n in range(ROWS):
        for left in (x - _EDGE_MM, x + wide + _TICK_MM):
            yield from block(str(n + 1), (left, y + n * step, deep, step), style)
