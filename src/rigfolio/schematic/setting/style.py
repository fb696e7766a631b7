"""Styles of words, and words with the room that they take."""

from functools import lru_cache

from rigfolio.draw import fit, width_mm
from rigfolio.record import record

MOST_LINES = 12
FLAG_PAD_MM = 0.7
"""From the numbers of notes to the box about them."""


@record
class WordStyle:
    """Type and widths of words: `name_mm` of a device, `load_mm` of a load, `slot_mm` of a slot.

    Where words are `narrow`, names of devices stand below their symbols.
    """

    size_pt: float
    name_mm: float
    facts_mm: float
    load_mm: float
    slot_mm: float
    narrow: bool = False

    @property
    def line_mm(self) -> float:
        """From one line of words to the next."""
        return 0.4 * self.size_pt

    @property
    def base_mm(self) -> float:
        """From a rung up to the baseline of the words above it."""
        return 1.5

    @property
    def under_mm(self) -> float:
        """From a rung down to the baseline of the words below it."""
        return 1.1 + 0.27 * self.size_pt


def _levels(size_pt: float, count: int, slot_mm: float) -> tuple[WordStyle, ...]:
    """Styles of one type: the usual one, and those of rungs that have to be narrower."""
    made = (
        WordStyle(size_pt, 34.0, 26.0, 46.0, slot_mm),
        WordStyle(size_pt, 24.0, 22.0, 30.0, slot_mm, narrow=True),
        WordStyle(size_pt, 15.0, 15.0, 22.0, slot_mm, narrow=True),
    )
    return made[:count]


STYLES = (_levels(8.0, 2, 48.0), _levels(7.5, 3, 48.0), _levels(7.0, 3, 28.0))
"""From the most legible to the narrowest; the first that fits a page is taken."""


@record
class Words:
    """Lines above and below a piece; `bold` words lead the line above.

    Lines after the first of `above` stand below as well, before `below`; `flag` are the numbers of
    notes, in a box below all.
    """

    bold: str
    above: tuple[str, ...]
    below: tuple[str, ...]
    is_bold: bool = False
    flag: str = ""

    def under(self) -> tuple[tuple[str, bool], ...]:
        """Lines below the rung, each with whether it is bold."""
        more = tuple((line, self.is_bold) for line in self.above[1:])
        return (*more, *((line, False) for line in self.below))

    def head_mm(self, size_pt: float) -> float:
        """Width of the line above."""
        first = self.above[0] if self.above else ""
        gap = width_mm(" ", size_pt) if self.bold and first else 0.0
        return (
            width_mm(self.bold, size_pt, bold=True)
            + gap
            + width_mm(first, size_pt, bold=self.is_bold)
        )

    def width_mm(self, size_pt: float) -> float:
        """Width of all lines."""
        under = [width_mm(line, size_pt, bold=bold) for line, bold in self.under()]
        flag = width_mm(self.flag, size_pt) + 2 * FLAG_PAD_MM if self.flag else 0.0
        return max([self.head_mm(size_pt), flag, *under])


@lru_cache(maxsize=8192)
def broken(text: str, room_mm: float, size_pt: float, *, bold: bool) -> tuple[str, ...]:
    """Lines of a text no wider than a room; none of a blank one."""
    if not text.strip():
        return ()
    done = fit(text, room_mm, size_pt=size_pt, floor_pt=size_pt, lines=MOST_LINES, bold=bold)
    return tuple(line for line in done.lines if line)
