"""The fonts of a PDF, each embedded with the signs that are used of it."""

from hashlib import sha256
from io import BytesIO
from typing import Protocol, cast

from reportlab.lib.rl_accel import escapePDF
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from rigfolio.draw import font_data


class _Owner(Protocol):
    """What is used of the inside of a canvas."""

    _doc: object


def font_of(*, bold: bool) -> str:
    """Name of the registered font; the digest keeps it apart from any other font in the process."""
    content = font_data(bold=bold)
    name = f"rigfolio-{'bold' if bold else 'regular'}-{sha256(content).hexdigest()[:8]}"
    if name not in pdfmetrics.getRegisteredFontNames():
        pdfmetrics.registerFont(TTFont(name, BytesIO(content)))
    return name


class EmbeddedFont:
    """A font in one document; puts each text into codes once.

    The library goes through every sign of a text in Python each time; the same words stand on
    many pages.
    """

    def __init__(self, name: str, canvas: Canvas) -> None:
        self._font = cast("TTFont", pdfmetrics.getFont(name))
        self._document = cast("_Owner", canvas)._doc
        self._shown: dict[str, tuple[tuple[int, str], ...]] = {}

    def shown(self, text: str) -> tuple[tuple[int, str], ...]:
        """Pieces of a text as a page shows them, each with the number of the subset it is set in.

        The text has no signs but those of the font.
        """
        known = self._shown.get(text)
        if known is None:
            pieces = self._font.splitString(text, self._document)
            known = tuple([(subset, f"({escapePDF(codes)}) Tj") for subset, codes in pieces])
            self._shown[text] = known
        return known

    def named(self, subset: int) -> str:
        """What a page calls a subset."""
        name: str = self._font.getSubsetInternalName(subset, self._document)
        return name
