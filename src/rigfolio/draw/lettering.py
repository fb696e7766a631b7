"""Text that fits: measured by the vendored font, shrunk, wrapped and shortened, never clipped.

Widths are sums of advances without kerning, the measure that the PDF, SVG and PNG writers keep.
"""

import re
import unicodedata
from collections.abc import Callable
from functools import cache, cached_property, lru_cache

from rigfolio.draw.fonts import font_face
from rigfolio.draw.page import MM_PER_PT, Text
from rigfolio.draw.roles import Kind, Role
from rigfolio.record import record

MISSING = "□"
ELLIPSIS = "…"
LINE_HEIGHT = 1.2
ANCHORS = {"start": 0.0, "middle": 0.5, "end": 1.0}

_STEP_PT = 0.25
_TIED = r"[(]?\d[\d.,/]* (?:V|mV|A|kA|W|Ah|Wh|AWG|mm²?|m|ft|Ω|mΩ|ohm|%|°C)(?!\w)[^ ]*"
_PIECE = re.compile(rf" +|{_TIED}|[^ ]+?(?:(?<=\w)[-/](?=[^\W\d])|(?= )|$)")
_WORD = re.compile(" +|[^ ]+")
_UNSTORABLE = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_DANGLING = " ,;:-/(&+"
_SIGNS = "./-~:_"
"""Behind these a designation may go on in the next line, where it fits none."""
_HYPHEN = "\u2010"
"""Where a word was broken: not the sign that a name may hold itself."""
_TAIL = 4
"""Letters of a long word that go into the next line at least."""

Box = tuple[float, float, float, float]


@record
class Fitted:
    """Lines that fit and their type size.

    `is_cut` says that text was left out, `is_parted` that a designation, `CB2.load`, had to be
    divided.
    """

    lines: tuple[str, ...]
    size_pt: float
    is_cut: bool = False
    is_parted: bool = False


@record
class Style:
    """How `block` sets a text; `lines` is the most it may take, `align` an anchor of `Text`.

    `kind` is what the text is to those who have the page read to them.
    """

    size_pt: float = 8.0
    floor_pt: float = 5.0
    lines: int = 1
    bold: bool = False
    align: str = "middle"
    is_top: bool = False
    colour: str = "#000000"
    kind: Kind = Kind.PARAGRAPH


@lru_cache(maxsize=8192)
def printable(text: str) -> str:
    """Text as every writer prints it.

    Composed (NFC); line breaks, tabs and exotic blanks become spaces, marks without a picture
    (joiners, direction and variation marks, soft hyphens) go, and what the font lacks becomes
    `MISSING`.
    """
    if text.isascii() and text.isprintable() and _has_ascii():
        return text
    known = font_face().advances
    return "".join(_shown(letter, known) for letter in unicodedata.normalize("NFC", text))


@cache
def _has_ascii() -> bool:
    """Whether the font has a picture of every sign of ASCII."""
    return font_face().advances.keys() >= set(range(32, 127))


def _shown(letter: str, known: dict[int, int]) -> str:
    kind = unicodedata.category(letter)
    if letter in "\t\n\v\f\r\x85" or kind in ("Zl", "Zp"):
        return " "
    if kind == "Cf" or "\ufe00" <= letter <= "\ufe0f":
        return ""
    if ord(letter) in known:
        return letter
    return " " if kind == "Zs" else MISSING


def plain(text: str) -> str:
    """Text with what XML and PDF strings cannot hold replaced by U+FFFD; nothing is escaped."""
    return _UNSTORABLE.sub("\ufffd", text)


def width_mm(text: str, size_pt: float, *, bold: bool = False) -> float:
    """Width of one printed line, unkerned [mm]."""
    units, per_em = _advance(text, bold)
    return units * size_pt * MM_PER_PT / per_em


def ink_mm(text: str, size_pt: float, *, bold: bool = False) -> tuple[float, float]:
    """How far the letters of a line reach above and below the baseline, both positive [mm]."""
    above, below, per_em = _reach_of(text, bold)
    return above * size_pt * MM_PER_PT / per_em, below * size_pt * MM_PER_PT / per_em


def _mm(units: int, size_pt: float, *, bold: bool) -> float:
    return units * size_pt * MM_PER_PT / font_face(bold=bold).units_per_em


@lru_cache(maxsize=8192)
def _advance(text: str, bold: bool) -> tuple[int, int]:  # noqa: FBT001
    """How far a line goes as it is printed, and how much of that an em is."""
    return _units(printable(text), bold=bold), font_face(bold=bold).units_per_em


@lru_cache(maxsize=8192)
def _reach_of(text: str, bold: bool) -> tuple[int, int, int]:  # noqa: FBT001
    """How far a line as it is printed reaches above and below, and how much of that an em is."""
    return *_ink(printable(text), bold=bold), font_face(bold=bold).units_per_em


@lru_cache(maxsize=8192)
def _units(shown: str, *, bold: bool) -> int:
    advances = font_face(bold=bold).advances
    return sum(map(advances.__getitem__, map(ord, shown)))


@lru_cache(maxsize=8192)
def _ink(shown: str, *, bold: bool) -> tuple[int, int]:
    inks = font_face(bold=bold).inks
    reach = [inks[ord(letter)] for letter in shown if ord(letter) in inks]
    return max((high for _, high in reach), default=0), max((-low for low, _ in reach), default=0)


def fit(
    text: str,
    width_mm: float,
    *,
    size_pt: float,
    floor_pt: float,
    lines: int = 1,
    bold: bool = False,
) -> Fitted:
    """Set a text in lines no wider than a given width.

    The largest size from `size_pt` down to `floor_pt` at which whole words fit is taken. Lines
    break at spaces, though not between a number and its unit, and after a hyphen or a stroke
    between words. At `floor_pt` overlong words break with a hyphen, a designation only behind one
    of its own signs as long as there is any; what is still too long ends with an ellipsis, after a
    word where that leaves half of the line. Only where not even one letter and an ellipsis
    fit does the size go below the floor.

    Parameters
    ----------
    text : str
        Any text; it is made `printable` and its blanks are single spaces.
    width_mm : float
        Room for each line, above 0 [mm].
    size_pt, floor_pt : float
        Largest size and smallest size before text is left out, above 0 [pt].
    lines : int
        The most lines, at least 1.
    bold : bool
        Bold font.

    Raises
    ------
    ValueError
        A length or a count outside the ranges above.
    """
    return _fitted(text, width_mm, size_pt, floor_pt, lines, bold=bold)


@lru_cache(maxsize=8192)
def _fitted(
    text: str, width_mm: float, size_pt: float, floor_pt: float, lines: int, *, bold: bool
) -> Fitted:
    return _TextFit(text, width_mm, bold=bold).largest(size_pt, floor_pt, lambda _: lines)


def _is_designation(word: str) -> bool:
    """Whether a word is a name that means something else, or nothing, in two parts: `CB2.load`."""
    return len(word) > 1 and any(letter.isdigit() for letter in word)


def _whole(parts: tuple[str, ...]) -> str:
    """Parts put together again, with no hyphens where they were broken."""
    return "".join(part.removesuffix(_HYPHEN) for part in parts).strip(" ")


class _TextFit:
    """One text to be set in one width; sizes are tried from large to small."""

    def __init__(self, text: str, width_mm: float, *, bold: bool) -> None:
        self.text = " ".join(filter(None, printable(text).split(" ")))
        self.width_mm = width_mm
        self.bold = bold
        self.per_em = font_face(bold=bold).units_per_em

    @cached_property
    def pieces(self) -> tuple[str, ...]:
        """What stays on one line; most texts need not be divided at all."""
        return tuple(_PIECE.findall(self.text))

    def largest(self, size_pt: float, floor_pt: float, allowed: Callable[[float], int]) -> Fitted:
        """Setting at the largest size whose lines are no more than `allowed` at that size."""
        if not (self.width_mm > 0 and size_pt > 0 and floor_pt > 0 and allowed(floor_pt) > 0):
            raise ValueError(
                f"room {self.width_mm} mm, type {size_pt} pt down to {floor_pt} pt, "
                f"{allowed(floor_pt)} lines, expected numbers above 0"
            )
        if not self.text:
            return Fitted(("",), size_pt)
        floor_pt = min(size_pt, floor_pt)
        size = size_pt
        while True:
            lines = self._whole_lines(size, allowed(size))
            if lines:
                return Fitted(lines, size)
            if size <= floor_pt:
                return self._shortened(floor_pt, allowed(floor_pt))
            size = max(size - _STEP_PT, floor_pt)

    def _whole_lines(self, size_pt: float, count: int) -> tuple[str, ...]:
        """Lines of whole words that hold all of the text; none where they would be too many."""
        if count > 0 and self._fits(self.text, size_pt):
            return (self.text,)
        # However it is broken, its letters are set: most sizes that are too large end here.
        letters = _units(self.text.replace(" ", ""), bold=self.bold)
        if self._wide_mm(letters, size_pt) > count * self.width_mm * (1 + 1e-9):
            return ()
        lines, rest = self._fill(self.pieces, size_pt, count)
        return () if rest else lines

    def _shortened(self, floor_pt: float, count: int) -> Fitted:
        """Setting at the floor with words broken and, if need be, the end left out."""
        least = max(_units(letter + ELLIPSIS, bold=self.bold) for letter in set(self.text))
        size = floor_pt
        if not self._has_room(least, size):
            size = self.width_mm / _mm(least, 1.0, bold=self.bold) * (1 - 1e-9)
        pieces = tuple(part for piece in self.pieces for part in self._broken(piece, size))
        parted = any(_is_designation(word) and not self._fits(word, size)
                     for word in self.text.split(" "))  # fmt: skip
        lines, rest = self._fill(pieces, size, count)
        if not rest:
            return Fitted(lines, size, is_parted=parted)
        head, rest = self._fill(pieces, size, count - 1)
        end = self._cut(_whole(rest), size)
        return Fitted((*head, end), size, is_cut=True, is_parted=parted)

    def _wide_mm(self, units: int, size_pt: float) -> float:
        return units * size_pt * MM_PER_PT / self.per_em

    def _has_room(self, units: int, size_pt: float) -> bool:
        return self._wide_mm(units, size_pt) <= self.width_mm

    def _fits(self, line: str, size_pt: float) -> bool:
        return self._wide_mm(_units(line, bold=self.bold), size_pt) <= self.width_mm

    def _fill(
        self, pieces: tuple[str, ...], size_pt: float, count: int
    ) -> tuple[tuple[str, ...], tuple[str, ...]]:
        """Lines filled one after the other, and the pieces left over when they are full."""
        lines: list[str] = []
        index = 0
        while index < len(pieces) and len(lines) < count:
            line = ""
            while index < len(pieces) and self._fits((line + pieces[index]).strip(" "), size_pt):
                line += pieces[index]
                index += 1
            if not line.strip(" "):
                break
            lines.append(line.strip(" "))
        rest = pieces[index:]
        return tuple(lines), rest if "".join(rest).strip(" ") else ()

    def _broken(self, piece: str, size_pt: float) -> tuple[str, ...]:
        """A piece cut at its blanks, or into the longest parts that fit."""
        if " " in piece.strip(" ") and not self._fits(piece, size_pt):
            words = (self._broken(word, size_pt) for word in _WORD.findall(piece))
            return tuple(part for parts in words for part in parts)
        parts = []
        while not self._fits(piece, size_pt):
            length = self._longest(piece, "", size_pt)
            signed = max(piece.rfind(sign, 0, length) for sign in _SIGNS) + 1
            if _is_designation(piece) and signed > 0:
                part = piece[:signed]
            else:
                tail = _TAIL if len(piece) >= 2 * _TAIL else 2
                length = min(self._longest(piece, _HYPHEN, size_pt), max(1, len(piece) - tail))
                part = piece[:length]
            piece = piece[len(part) :]
            # A hyphen beside a sign, or where a letter alone has no room for one, says nothing.
            hyphened = part[-1].isalpha() and piece[:1].isalpha()
            hyphened = hyphened and self._fits(part + _HYPHEN, size_pt)
            parts.append(part + _HYPHEN if hyphened else part)
        return (*parts, piece)

    def _longest(self, text: str, tail: str, size_pt: float) -> int:
        """Length of the longest start of a text, one letter at least, that fits with a tail."""
        length = 1
        while length < len(text) and self._fits(text[: length + 1] + tail, size_pt):
            length += 1
        return length

    def _cut(self, text: str, size_pt: float) -> str:
        """Text cut to one line with an ellipsis, after a word where one ends near."""
        length = self._longest(text, ELLIPSIS, size_pt)
        word = text.rfind(" ", 0, length + 1)
        if 2 * word >= length:
            length = word
        return (text[:length].rstrip(_DANGLING) or text[:length]) + ELLIPSIS


def block(text: str, box: Box, style: Style | None = None) -> tuple[Text, ...]:
    """Lines of a text inside a box (x, y, width, height) [mm], as marks.

    The type shrinks until both width and height suffice, below the floor if the box is that low;
    a row of capitals stands in the middle of the height. Blank text gives no marks.

    Raises
    ------
    ValueError
        A box or a type size that is not above 0.
    """
    style = style or Style()
    fitted, reach = _laid(text, box[2], box[3], style)
    return _rows(fitted, box, style, reach) if fitted.lines[0] else ()


def holds(text: str, box: Box, style: Style) -> bool:
    """Whether `block` sets a text whole, at no less than the smallest size of the style.

    A text is not whole where a designation in it is parted.

    Raises
    ------
    ValueError
        As in `block`.
    """
    fitted, _ = _laid(text, box[2], box[3], style)
    is_whole = not fitted.is_cut and not fitted.is_parted
    return is_whole and fitted.size_pt >= min(style.size_pt, style.floor_pt) - 1e-9


@lru_cache(maxsize=8192)
def _laid(
    text: str, room_mm: float, height_mm: float, style: Style
) -> tuple[Fitted, tuple[float, float]]:
    """Lines of a text for a box, and how far they reach above and below a baseline [mm/pt]."""
    if not height_mm > 0:
        raise ValueError(f"box {height_mm} mm high, expected a height above 0")
    setting = _TextFit(text, room_mm, bold=style.bold)
    above, below = _reach(setting.text, bold=style.bold)
    pitch = LINE_HEIGHT * MM_PER_PT

    def allowed(size_pt: float) -> int:
        spare_mm = height_mm - (above + below) * size_pt
        return min(style.lines, 1 + int(max(spare_mm, 0.0) / (pitch * size_pt)))

    size_pt = min(style.size_pt, height_mm / (above + below) * (1 - 1e-9))
    return setting.largest(size_pt, min(style.floor_pt, size_pt), allowed), (above, below)


def _reach(line: str, *, bold: bool) -> tuple[float, float]:
    """Room above and below the baseline for any Latin letter and those of a line [mm/pt]."""
    usual = ink_mm("dgj", 1.0, bold=bold)
    special = ink_mm(line, 1.0, bold=bold)
    return max(usual[0], special[0]), max(usual[1], special[1])


def _rows(fitted: Fitted, box: Box, style: Style, reach: tuple[float, float]) -> tuple[Text, ...]:
    x_mm, y_mm, room_mm, height_mm = box
    size = fitted.size_pt
    pitch_mm = LINE_HEIGHT * MM_PER_PT * size
    span_mm = (len(fitted.lines) - 1) * pitch_mm
    first_mm = y_mm + reach[0] * size
    if not style.is_top:
        capital_mm = ink_mm("H", size, bold=style.bold)[0]
        middle_mm = y_mm + (height_mm - span_mm + capital_mm) / 2
        lowest_mm = y_mm + height_mm - reach[1] * size - span_mm
        first_mm = max(first_mm, min(middle_mm, lowest_mm))
    at_mm = x_mm + room_mm * ANCHORS[style.align]
    return tuple([
        Text((at_mm, first_mm + row * pitch_mm), line, size, style.align, style.bold, style.colour,
             0.0, Role(style.kind, row))
        for row, line in enumerate(fitted.lines)
    ])  # fmt: skip
