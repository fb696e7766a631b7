"""Numbers, colours and runs of words as they stand on a page of a PDF; part of `pdf.py`.

The library writes every number, measures every text and escapes every letter each time, in Python.
On hundreds of pages the same ones come again and again: here the library is asked once for each.
"""

from collections.abc import Sequence
from functools import lru_cache
from typing import Protocol, cast

from reportlab.lib.rl_accel import fp_str
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from rigfolio.draw import rgb
from rigfolio.render.pdf_font import EmbeddedFont

FINE = 2
"""Decimals of a place in points: four thousandths of a millimetre."""
_LEADING = 1.2
"""From line to line, of the size of type, as the library states it with each font."""
_KEPT = 1 << 13
PAINTING = {(0, 0): "n", (1, 0): "S", (0, 1): "f*", (1, 1): "B*"}
"""How a path is painted, by whether it is stroked and filled (ISO 32000-1, table 60)."""


class _CanvasInside(Protocol):
    """What is used of the inside of a canvas."""

    _code: list[str]


def code_of(canvas: Canvas) -> list[str]:
    """What is written of the current page, which more is put behind."""
    return cast("_CanvasInside", canvas)._code


def in_points(place_mm: float) -> float:
    """A place in points, as finely as it is written."""
    return round(place_mm * mm, FINE)


@lru_cache(maxsize=_KEPT)
def figure(number: float) -> str:
    """A number as it is written."""
    written: str = fp_str(number)
    return written


@lru_cache(maxsize=_KEPT)
def place(place_mm: float) -> str:
    """A place in points, as it is written."""
    written: str = fp_str(in_points(place_mm))
    return written


@lru_cache(maxsize=256)
def colour_code(colour: str) -> str:
    """Red, green and blue as they are written.

    Raises
    ------
    ValueError
        The colour is out of form.
    """
    written: str = fp_str([part / 255 for part in rgb(colour)])
    return written


def is_upright(points: Sequence[tuple[float, float]]) -> bool:
    """Whether four corners are those of a box, taken along its width first."""
    if len(points) != 4:
        return False
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = points
    return y0 == y1 and x1 == x2 and y2 == y3 and x3 == x0


class TextRun:
    """Texts behind each other, in one object of the page."""

    def __init__(self) -> None:
        self.code = ["BT"]
        self._font: EmbeddedFont | None = None
        self._size_pt = 0.0
        self._subset = -1

    def go_to(self, x: str, y: str) -> None:
        """Write upright from a place on, in points."""
        self.code.append(f"1 0 0 1 {x} {y} Tm")

    def turn(self, cosine: float, sine: float, x: str, y: str) -> None:
        """Write at an angle from a place on, in points."""
        turned = " ".join(map(figure, (cosine, sine, -sine, cosine)))
        self.code.append(f"{turned} {x} {y} Tm")

    def set(self, font: EmbeddedFont, size_pt: float) -> None:
        """Write in a font of a size."""
        if font is not self._font or size_pt != self._size_pt:
            self._font, self._size_pt, self._subset = font, size_pt, -1

    def write(self, text: str) -> None:
        """Write a text in the font that was set."""
        font = self._font
        if font is None:
            raise ValueError(f"no font is set for {text!r}")
        for subset, shown in font.shown(text):
            if subset != self._subset:
                sizes = f"{figure(self._size_pt)} Tf {figure(self._size_pt * _LEADING)} TL"
                self.code.append(f"{font.named(subset)} {sizes}")
                self._subset = subset
            self.code.append(shown)

    def ended(self) -> str:
        """All of it, as it stands on the page."""
        return " ".join((*self.code, "ET"))
