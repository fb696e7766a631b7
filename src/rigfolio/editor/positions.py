"""Characters of a text as lines and columns of the protocol, which counts in UTF-16.

A client may ask for UTF-8 or UTF-32 in its place.
"""

import re
from bisect import bisect_right

from rigfolio.record import record

UTF_16 = "utf-16"
_LINE_END = re.compile("\r\n|\n|\r")


@record
class LinePlace:
    """A place as the protocol tells it: line, and units of the encoding in it, both from 0."""

    line: int
    column: int


class TextSpots:
    """Where the lines of a text begin, to go from its characters to places and back.

    Parameters
    ----------
    text : str
        The text.
    encoding : str
        `utf-8`, `utf-16` or `utf-32`: in what columns are counted.
    """

    def __init__(self, text: str, encoding: str = UTF_16) -> None:
        # A lone carriage return ends a line, for the protocol as for the language.
        self.text = text
        self._encoding = encoding
        self._starts = [0, *(found.end() for found in _LINE_END.finditer(text))]

    def spot(self, at: int) -> LinePlace:
        """The line and column of a character."""
        at = min(at, len(self.text))
        line = bisect_right(self._starts, at) - 1
        return LinePlace(line, units(self.text[self._starts[line] : at], self._encoding))

    def offset(self, spot: LinePlace) -> int:
        """The character of a line and column; the end of its line where that is shorter."""
        if spot.line >= len(self._starts):
            return len(self.text)
        start = self._starts[spot.line]
        is_last = spot.line + 1 == len(self._starts)
        end = len(self.text) if is_last else self._starts[spot.line + 1]
        left = spot.column
        for at in range(start, end):
            if left <= 0 or self.text[at] in "\r\n":
                return at
            left -= units(self.text[at], self._encoding)
        return end


def units(text: str, encoding: str = UTF_16) -> int:
    """How many units of an encoding a text takes."""
    if text.isascii():
        return len(text)
    size = {"utf-8": 1, UTF_16: 2, "utf-32": 4}[encoding]
    # A half of a pair is what a client sends that cuts one: it takes a unit, too.
    return len(text.encode(f"{encoding}-le" if size > 1 else encoding, "surrogatepass")) // size
