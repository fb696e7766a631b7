"""The fonts of a PDF, each embedded with the signs that are used of it."""

from collections.abc import Callable
from hashlib import sha256
from io import BytesIO
from weakref import ref

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from rigfolio.draw import font_data


def font_of(*, bold: bool) -> str:
    """Name of the registered font; the digest keeps it apart from any other font in the process."""
    content = font_data(bold=bold)
    name = f"rigfolio-{'bold' if bold else 'regular'}-{sha256(content).hexdigest()[:8]}"
    if name not in pdfmetrics.getRegisteredFontNames():
        pdfmetrics.registerFont(_Font(name, BytesIO(content)))
    return name


class _Font(TTFont):
    """A font that puts each text into codes once for a document.

    The library goes through every sign of a text in Python each time; the same words stand on
    many pages.
    """

    def __init__(self, name: str, content: BytesIO) -> None:
        super().__init__(name, content)
        self._of: Callable[[], object] = lambda: None
        self._codes: dict[str, list[tuple[int, bytes]]] = {}

    def splitString(  # noqa: N802
        self, text: str, doc: object, encoding: str = "utf-8"
    ) -> list[tuple[int, bytes]]:
        """Pieces of a text, each with the number of the subset that it is set in."""
        if self._of() is not doc:
            self._of, self._codes = ref(doc), {}
        known = self._codes.get(text)
        if known is None:
            known = self._codes[text] = super().splitString(text, doc, encoding)
        return known
