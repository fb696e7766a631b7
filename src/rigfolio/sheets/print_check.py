"""Print check: rulers both ways, a box to measure, the thinnest lines and the smallest type.

Print it at full size, measure, and give the figure back with `--measured`: everything printed after
that is made to fit.
"""

from rigfolio.draw.fit import Style, block
from rigfolio.draw.frame import body, numbered
from rigfolio.draw.page import Line, Mark, Page, Paper, Pen, Text, rect
from rigfolio.draw.ruler import ruler

TITLE = "Print check"
NAME = "print-check"

_BOX_MM = 100.0
_PENS_MM = (0.1, 0.15, 0.25, 0.35, 0.5)
_SIZES_PT = (5.5, 6.0, 7.0, 8.0, 10.0)
_SHADES = ("#000000", "#606060", "#808080", "#a0a0a0", "#c0c0c0", "#e0e0e0")
_WORDS = (
    "Print this page at 100 %, without fitting it to the paper. Lay a steel rule along the ruler "
    "below, and along the side of the box: 100 mm have to measure 100 mm, both ways. If your "
    "printer makes 97.5 mm of it, write `--measured 97.5` behind every printing command."
)


def pages_on(paper: Paper) -> tuple[Page, ...]:
    """One page of a paper; it speaks of a printer, and of no rig."""
    left, top, wide, _ = body(paper.width_mm, paper.height_mm)
    marks: list[Mark] = [
        *block(_WORDS, (left, top, wide, 16), Style(10, 8, 4, align="start", is_top=True)),
        *ruler(left + 4, top + 32, min(150.0, wide - 10)),
        *_box(left + 12, top + 50),
        *_samples(left + 12 + _BOX_MM + 12, top + 50),
    ]
    return numbered(paper, TITLE, ("any printer", paper.name), [tuple(marks)],
                    note="Measure before you cut.")  # fmt: skip


def _box(left: float, top: float) -> list[Mark]:
    half = Pen().width_mm / 2.0
    marks: list[Mark] = [
        rect(left - half, top - half, _BOX_MM + 2 * half, _BOX_MM + 2 * half),
        Text((left + _BOX_MM / 2, top + _BOX_MM / 2), "100 mm each way, inside", 10, "middle"),
    ]
    for at in range(0, 101, 10):
        long = 4.0 if at % 50 == 0 else 2.5
        marks.append(Line(((left, top + at), (left + long, top + at)), Pen(0.15)))
        marks.append(Line(((left + at, top), (left + at, top + long)), Pen(0.15)))
        if at % 50 == 0:
            marks.append(Text((left - 2, top + at + 1), f"{at}", 7, "end"))
            marks.append(Text((left + at, top - 2), f"{at}", 7, "middle"))
    return marks


def _samples(left: float, top: float) -> list[Mark]:
    """Lines, shades and type, to see what the printer loses."""
    marks: list[Mark] = [Text((left, top), "lines", 9, bold=True)]
    down = top + 5
    for pen_mm in _PENS_MM:
        marks.append(Line(((left, down), (left + 30, down)), Pen(pen_mm)))
        marks.append(Text((left + 32, down + 1), f"{pen_mm:g} mm", 7))
        down += 5
    marks.append(Text((left, down + 4), "greys", 9, bold=True))
    down += 8
    for shade in _SHADES:
        marks.append(rect(left, down, 30, 5, pen=Pen(0.15), fill=shade))
        down += 6
    marks.append(Text((left, down + 4), "type", 9, bold=True))
    down += 9
    for size in _SIZES_PT:
        marks.append(Text((left, down), f"P1.3 10 A, {size:g} pt", size))
        down += 5
    return marks


def pages(_: object) -> tuple[Page, ...]:
    """The page on Letter paper."""
    return pages_on(Paper("letter", 215.9, 279.4))
