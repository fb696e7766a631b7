"""A ruler to print beside a drawing, so that a measure on the paper proves the scale."""

from functools import lru_cache

from rigfolio.draw.frame import FLOOR_PT
from rigfolio.draw.lettering import Box, Style, block, ink_mm
from rigfolio.draw.page import Line, Mark, Pen, Text
from rigfolio.draw.roles import Kind, Role
from rigfolio.record import replace

MM_PER_INCH = 25.4
FULL_SIZE = "Print at full size: 100 mm on the ruler must measure 100 mm."
"""At the foot of what has to come out of a printer as large as it was drawn."""

_PEN = Pen(0.15)
_SIZE_PT = 7.0
_TICKS_MM = (2.8, 1.4, 2.0)


def ruler(
    x_mm: float, y_mm: float, length_mm: float, *, down: bool = False
) -> tuple[Mark, ...]:  # fmt: skip
    """Millimetres above and inches below a line from (`x_mm`, `y_mm`) to the right.

    Ticks stand at every millimetre and eighth of an inch; the whole takes 5.5 mm above and below
    the line, and the first figure hangs over the left end by 3.5 mm. With `down` the line leads
    downwards, millimetres on its right, to be read with the page turned.

    Raises
    ------
    ValueError
        A length below 10 mm, which shows no scale.
    """
    if not length_mm >= 10:
        raise ValueError(f"ruler of {length_mm} mm, expected 10 mm or more")
    marks: list[Mark] = [Line(((x_mm, y_mm), (x_mm + length_mm, y_mm)), _PEN)]
    marks += _scale((x_mm, y_mm), (length_mm, 1.0, -1.0), (10, 5), "mm")
    marks += _scale((x_mm, y_mm), (length_mm, MM_PER_INCH / 8, 1.0), (8, 4), "in")
    return tuple(_upright(mark, (x_mm, y_mm)) for mark in marks) if down else tuple(marks)


@lru_cache(maxsize=64)
def measure(area: Box) -> tuple[Mark, ...]:
    """A ruler of 100 mm at the foot of an area, and how to prove the scale by it.

    It takes 15 mm of the height.
    """
    left, top, wide, high = area
    down = top + high - 7.0
    beside = (left + 109.0, down - 4.0, wide - 109.0, 8.0)
    says = block("measure: 100 mm from 0 to 100", beside, Style(8, FLOOR_PT, 2, align="start"))
    return (*ruler(left + 4.0, down, 100.0), *says)


def _upright(mark: Mark, at: tuple[float, float]) -> Mark:
    """A mark turned about a point, so that what led to the right leads down."""

    def place(point: tuple[float, float]) -> tuple[float, float]:
        return at[0] - (point[1] - at[1]), at[1] + (point[0] - at[0])

    if isinstance(mark, Text):
        return replace(mark, at=place(mark.at), turn=270.0)
    if isinstance(mark, Line):
        return replace(mark, points=tuple(place(point) for point in mark.points))
    return mark


def _scale(
    at: tuple[float, float],
    run: tuple[float, float, float],
    every: tuple[int, int],
    unit: str,
) -> list[Mark]:
    """Ticks of one edge: `run` is length, step and side [mm], `every` the long and middle ones."""
    length_mm, step_mm, side = run
    high_mm = ink_mm("0", _SIZE_PT)[0]
    lowest_mm = _TICKS_MM[0] + 0.4 + (high_mm if side > 0 else 0.0)
    marks: list[Mark] = []
    for number in range(int(length_mm / step_mm + 1e-9) + 1):
        across_mm = at[0] + number * step_mm
        long, middle = (number % each == 0 for each in every)
        reach_mm = _TICKS_MM[0] if long else _TICKS_MM[2] if middle else _TICKS_MM[1]
        marks.append(Line(((across_mm, at[1]), (across_mm, at[1] + side * reach_mm)), _PEN))
        if long:
            figure = number if unit == "mm" else number // every[0]
            place = (across_mm, at[1] + side * lowest_mm)
            words = str(figure) if figure else f"0 {unit}"
            marks.append(Text(place, words, _SIZE_PT, "middle", role=Role(Kind.FURNITURE)))
    return marks
