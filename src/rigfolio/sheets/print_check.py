"""Print check: rulers both ways, a box to measure, the thinnest lines and the smallest type.

Print it at full size, measure, and give the figures back with `--measured`: everything printed
after that is made to fit.
"""

from collections.abc import Iterator, Sequence

from rigfolio.books import colour_book, fuse_colour
from rigfolio.draw import (
    FLOOR_PT,
    LINE_HEIGHT,
    MM_PER_PT,
    Line,
    Mark,
    Page,
    Paper,
    Pen,
    Style,
    Text,
    block,
    body,
    contrast,
    fit,
    numbered,
    patch,
    rect,
    ruler,
)
from rigfolio.job import Job
from rigfolio.labels import FLOOR_PT as LABEL_PT
from rigfolio.sheet import Sheet
from rigfolio.units import show

SHEET = Sheet("Print check", "print-check", command="rulers", binder="to-file", bound=90)

_BOX_MM = 100.0
_RULER_MM = 150.0
_PENS_MM = (0.1, 0.15, 0.25, 0.35, 0.5)
_SIZES_PT = (LABEL_PT, 6.0, FLOOR_PT, 8.0, 10.0)
_SHADES = ("#000000", "#606060", "#808080", "#a0a0a0", "#c0c0c0", "#e0e0e0", "#ffffff")
_FUSES_A = (3.0, 5.0, 7.5, 10.0, 15.0, 20.0, 25.0, 30.0)
_STEP_PT = 9.0
_BLANK = "_" * 14
_STEPS = (
    "1. Print this page at 100 %, without fitting it to the paper.",
    "2. Lay a steel rule inside the box, edge to edge, across and down. Both are 100 mm on a "
    "printer that is true; the longer rulers show the same more finely.",
    f"3. Write down what you measured:  across {_BLANK} mm   down {_BLANK} mm",
    "4. Where one of them is not 100 mm, write both behind every command that prints, across "
    "first: --measured\N{NO-BREAK SPACE}97.5,98.2 or --measured\N{NO-BREAK SPACE}97.5 where both "
    "are the same.",
    "5. Print this page once more with that option: now both have to be 100 mm.",
)
_LOSSES = (
    "Every line, every word and every step of grey on this page should be there. What this printer "
    "loses here, it loses on labels and tags too: change toner, ink or paper before you print them."
)


def pages(job: Job) -> tuple[Page, ...]:
    """One page on the paper of the rig."""
    return pages_on(job.paper, job.strip)


def pages_on(paper: Paper, strip: Sequence[str] = ()) -> tuple[Page, ...]:
    """One page of a paper; without the fields of a rig it speaks of a printer alone."""
    left, top, wide, _ = body(paper.width_mm, paper.height_mm)
    down = top + 43.0
    across = left + 22.0
    marks: list[Mark] = [
        *_steps(left, top, wide),
        *ruler(across, down, _RULER_MM),
        *ruler(left + 6.0, down + 10.0, _RULER_MM, down=True),
        *_box(across, down + 14.0),
        *_lines(across + _BOX_MM + 12.0, down + 15.0),
        *_type(across + _BOX_MM + 12.0, down + 55.0),
        *_fuses(across + _BOX_MM + 12.0, down + 92.0),
        *_greys(across, down + 128.0, wide - 22.0),
        *block(_LOSSES, (across, down + 151.0, wide - 22.0, 10.0),
               Style(8, FLOOR_PT, 3, align="start", is_top=True)),
    ]  # fmt: skip
    fields = strip or ("any printer", f"paper {paper.name}")
    return numbered(paper, SHEET.title, fields, [tuple(marks)], note="Measure before you cut.")


def _steps(left: float, top: float, wide: float) -> Iterator[Mark]:
    row_mm = LINE_HEIGHT * MM_PER_PT * _STEP_PT
    down = top
    for words in _STEPS:
        lines = fit(words, wide, size_pt=_STEP_PT, floor_pt=_STEP_PT, lines=3).lines
        for line in lines:
            yield Text((left, down + 0.8 * row_mm), line, _STEP_PT)
            down += row_mm
        down += 0.4 * row_mm


def _box(left: float, top: float) -> Iterator[Mark]:
    half = Pen().width_mm / 2.0
    yield rect(left - half, top - half, _BOX_MM + 2 * half, _BOX_MM + 2 * half)
    middle = (left + _BOX_MM / 2, top + _BOX_MM / 2)
    yield Text(middle, "100 mm each way, inside", 10, "middle")
    for at in range(10, 100, 10):
        long = 4.0 if at == 50 else 2.5
        yield Line(((left, top + at), (left + long, top + at)), Pen(0.15))
        yield Line(((left + at, top), (left + at, top + long)), Pen(0.15))


def _lines(left: float, top: float) -> Iterator[Mark]:
    """Lines from the thinnest that is drawn anywhere."""
    yield Text((left, top), "lines", 9, bold=True)
    for number, pen_mm in enumerate(_PENS_MM):
        down = top + 5 + 6 * number
        yield Line(((left, down), (left + 30, down)), Pen(pen_mm))
        yield Text((left + 32, down + 1), f"{pen_mm:g} mm", FLOOR_PT)


def _type(left: float, top: float) -> Iterator[Mark]:
    """Type from the smallest on labels, black on white and white on black."""
    yield Text((left, top), "type", 9, bold=True)
    for number, size in enumerate(_SIZES_PT):
        down = top + 3 + 5.4 * number
        words = f"P1.3 10 A, {size:g} pt"
        yield from block(words, (left, down, 27, 5), Style(size, size, align="start"))
        yield rect(left + 28, down + 0.2, 27, 4.6, pen=None, fill="#000000")
        yield from block(words, (left + 28.5, down + 0.2, 26, 4.6),
                         Style(size, LABEL_PT, bold=True, colour="#ffffff"))  # fmt: skip


def _fuses(left: float, top: float) -> Iterator[Mark]:
    """The colours of blade fuses, by which to judge how true this printer's are."""
    yield Text((left, top), "blade fuses", 9, bold=True)
    for number, rating in enumerate(_FUSES_A):
        word = fuse_colour(rating, "regular")
        known = colour_book().by_word.get(word or "")
        if word is None or known is None or known.rgb is None:
            continue
        x, down = left + 28 * (number % 2), top + 2.5 + 6 * (number // 2)
        yield from patch(x, down, 6, 4, known.rgb)
        yield from block(f"{show(rating, 'A')} {word}", (x + 7, down, 20, 4),
                         Style(8, FLOOR_PT, align="start"))  # fmt: skip


def _greys(left: float, top: float, wide: float) -> Iterator[Mark]:
    """Steps from black to white, each with words in the colour that can be read on it."""
    yield Text((left, top), "greys", 9, bold=True)
    each = wide / len(_SHADES)
    for number, shade in enumerate(_SHADES):
        box = (left + number * each, top + 2.5, each, 12.0)
        yield rect(*box, pen=Pen(0.15), fill=shade)
        ink = max(("#000000", "#ffffff"), key=lambda colour: contrast(colour, shade))
        share = round(100 - int(shade[1:3], 16) / 2.55)
        yield from block(f"{share} %", box, Style(9, FLOOR_PT, colour=ink))
