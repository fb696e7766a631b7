"""How far marks reach on a page: the boxes of texts and pictures, and which texts overlap."""

from math import cos, radians, sin

from rigfolio.draw.lettering import ANCHORS, Box, ink_mm, printable, width_mm
from rigfolio.draw.page import Circle, Line, Page, Picture, Text, flat

_QUARTERS: dict[float, tuple[float, float]] = {
    0.0: (1.0, 0.0),
    90.0: (0.0, 1.0),
    180.0: (-1.0, 0.0),
    270.0: (0.0, -1.0),
}


def text_box(text: Text) -> Box:
    """Left, top, right and bottom of the printed text, its turn counted [mm].

    The sides are the advance width and the reach of the very letters; at a turn that is no
    multiple of 90 degrees it is the box about the turned box.
    """
    wide_mm = width_mm(text.text, text.size_pt, bold=text.bold)
    above_mm, below_mm = ink_mm(text.text, text.size_pt, bold=text.bold)
    left_mm = -wide_mm * ANCHORS[text.anchor]
    if text.turn == 0:
        x, y = text.at
        return x + left_mm, y - above_mm, x + (left_mm + wide_mm), y + below_mm
    cosine, sine = turn_of(text)
    corners = [
        (text.at[0] + along * cosine + down * sine, text.at[1] - along * sine + down * cosine)
        for along in (left_mm, left_mm + wide_mm)
        for down in (-above_mm, below_mm)
    ]
    across, downs = zip(*corners, strict=True)
    return min(across), min(downs), max(across), max(downs)


def turn_of(text: Text) -> tuple[float, float]:
    """Cosine and sine of the turn, exact at multiples of 90 degrees."""
    exact = _QUARTERS.get(text.turn % 360)
    return exact or (cos(radians(text.turn)), sin(radians(text.turn)))


def extent(page: Page) -> Box:
    """Left, top, right and bottom of all that is on a page [mm]; that of the page if it is bare."""
    boxes = [box for mark in flat(page.marks) for box in _boxes(mark)]
    if not boxes:
        return 0.0, 0.0, page.width_mm, page.height_mm
    lefts, tops, rights, bottoms = zip(*boxes, strict=True)
    return min(lefts), min(tops), max(rights), max(bottoms)


def _boxes(mark: Line | Circle | Text | Picture) -> tuple[Box, ...]:
    match mark:
        case Line():
            across, downs = zip(*mark.points, strict=True)
            return ((min(across), min(downs), max(across), max(downs)),)
        case Circle():
            (x, y), radius = mark.centre, mark.radius_mm
            return ((x - radius, y - radius, x + radius, y + radius),)
        case Picture():
            x, y = mark.at
            return ((x, y, x + mark.width_mm, y + mark.height_mm),)
        case Text():
            return (text_box(mark),) if printable(mark.text).strip(" ") else ()
