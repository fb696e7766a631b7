"""Characters of a text as lines and columns of the protocol, which counts in UTF-16."""

import re
from bisect import bisect_right

from rigfolio.record import record

_LINE_END = re.compile("\r\n|\n|\r")
_WIDE = 0xFFFF
"""The last character that takes one unit of UTF-16; those behind it take two."""


@record
class LinePlace:
    """A place as the protocol tells it: line and UTF-16 units in it, both from 0."""

    line: int
    column: int


class TextSpots:
    """Where the lines of a text begin, to go from its characters to spots and back."""

    def __init__(self, text: str) -> None:
        # A lone carriage return ends a line, for the protocol as for the language.
        self.text = text
        self._starts = [0, *(found.end() for found in _LINE_END.finditer(text))]

    def spot(self, at: int) -> LinePlace:
        """The spot of a character."""
        at = min(at, len(self.text))
        line = bisect_right(self._starts, at) - 1
        return LinePlace(line, units(self.text[self._starts[line] : at]))

    def offset(self, spot: LinePlace) -> int:
        """The character of a spot; the end of its line where that is shorter."""
        if spot.line >= len(self._starts):
            return len(self.text)
        start = self._starts[spot.line]
        is_last = spot.line + 1 == len(self._starts)
        end = len(self.text) if is_last else self._starts[spot.line + 1]
        left = spot.column
        for at in range(start, end):
            if left <= 0 or self.text[at] in "\r\n":
                return at
            left -= units(self.text[at])
        return end


def units(text: str) -> int:
    """How many units of UTF-16 a text takes."""
    return len(text) if text.isascii() else sum(1 + (ord(char) > _WIDE) for char in text)
