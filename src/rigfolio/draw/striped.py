"""Conductors as they look, on white paper, with or without a colour printer.

Every conductor has a black edge, so that pale ones show; a stripe is a row of dashes, with a
thin rim where base and stripe would print as nearly the same grey.
"""

from collections.abc import Iterable

from rigfolio.draw.page import Line, Pen, Point, rgb

COPPER = "#b87333"
EDGE_MM = 0.15
RIM_MM = 0.07

_BLACK = "#000000"
_WHITE = "#ffffff"
_GREY = "#808080"
_PLAIN_DIFFERENCE = 0.3


def conductor(
    points: Iterable[Point],
    base_rgb: str,
    stripe_rgb: str | None = None,
    width_mm: float = 1.2,
    *,
    unknown: bool = False,
) -> tuple[Line, ...]:
    """Marks of one conductor along a polyline.

    A base of `COPPER` is a bare one and gets cross ticks like strands; an unknown colour is white
    with a dashed grey core, whatever the colours given.

    Parameters
    ----------
    points : iterable of (x, y)
        The middle of the conductor [mm].
    base_rgb, stripe_rgb : str
        `#rrggbb`; no stripe with None.
    width_mm : float
        Thickness without the edges, which add `EDGE_MM` on each side [mm].
    unknown : bool
        The colour has not been surveyed.
    """
    path = tuple(points)

    def band(width: float, colour: str, *dashes: float) -> Line:
        return Line(path, Pen(width, colour, dashes))

    edge = band(width_mm + 2 * EDGE_MM, _BLACK)
    if unknown:
        core = band(0.3 * width_mm, _GREY, 1.2 * width_mm, 1.2 * width_mm)
        return edge, band(width_mm, _WHITE), core
    base = band(width_mm, base_rgb)
    if base_rgb == COPPER:
        return edge, base, band(width_mm, _BLACK, 0.12, 2.4 * width_mm)
    if stripe_rgb is None:
        return edge, base
    on, off = 2.6 * width_mm, 1.4 * width_mm
    stripe = band(0.45 * width_mm, stripe_rgb, on, off)
    rim_rgb = _rim(base_rgb, stripe_rgb)
    if rim_rgb is None:
        return edge, base, stripe
    return edge, base, band(0.45 * width_mm + 2 * RIM_MM, rim_rgb, on, off), stripe


def patch(
    x_mm: float,
    y_mm: float,
    width_mm: float,
    height_mm: float,
    base_rgb: str | None,
    stripe_rgb: str | None = None,
) -> tuple[Line, ...]:
    """Rectangle in the colours of a conductor, the stripe rising from left to right.

    A base of None is an unknown colour: white with a dashed grey line.
    """
    right_mm, bottom_mm = x_mm + width_mm, y_mm + height_mm
    corners = ((x_mm, y_mm), (right_mm, y_mm), (right_mm, bottom_mm), (x_mm, bottom_mm))
    edge = Line(corners, Pen(2 * EDGE_MM), closed=True)
    base = Line(corners, None, base_rgb or _WHITE, closed=True)
    if base_rgb is None:
        dashes = Pen(0.3, _GREY, (1.0, 1.0))
        return base, Line(((x_mm, bottom_mm), (right_mm, y_mm)), dashes), edge
    if stripe_rgb is None:
        return base, edge
    thick_mm = 0.3 * min(width_mm, height_mm)
    stripe = (
        (x_mm, bottom_mm),
        (x_mm, bottom_mm - thick_mm),
        (right_mm - thick_mm, y_mm),
        (right_mm, y_mm),
        (right_mm, y_mm + thick_mm),
        (x_mm + thick_mm, bottom_mm),
    )
    rim_rgb = _rim(base_rgb, stripe_rgb)
    rim = Pen(2 * RIM_MM, rim_rgb) if rim_rgb else None
    return base, Line(stripe, rim, stripe_rgb, closed=True), edge


def _rim(base_rgb: str, stripe_rgb: str) -> str | None:
    """Black or white line between colours that print as nearly the same grey, else None."""
    base, stripe = _grey(base_rgb), _grey(stripe_rgb)
    if abs(base - stripe) >= _PLAIN_DIFFERENCE:
        return None
    return _WHITE if 1 - max(base, stripe) > min(base, stripe) else _BLACK


def _grey(colour: str) -> float:
    """Luma of a colour, 0 black to 1 white (ITU-R BT.601 weights, from memory)."""
    red, green, blue = rgb(colour)
    return (0.299 * red + 0.587 * green + 0.114 * blue) / 255
