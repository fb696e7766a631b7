"""How a slot label is drawn in a box of any size, so that nothing that it says gets lost.

Type goes down to 5.5 pt. What a label cannot hold whole is said shorter, with the number of a note
that says all of it; `is_whole` tells which labels need one.
"""

from collections.abc import Iterable, Iterator

from rigfolio.draw import Box, Line, Mark, Pen, Style, block, holds, patch, rect, width_mm
from rigfolio.labels.content import SlotLabel
from rigfolio.labels.rows import GAP_MM, RATING_PT, Rows
from rigfolio.labels.type import (
    EMPTY,
    FLOOR_PT,
    LINE_MM,
    NUMBER,
    PAD_MM,
    named,
)

NUMBER_ONLY_MM = 8.0
"""In a narrow box that is no larger than this a label has room for its number alone."""
LOWEST_MM = 3.6
"""In a lower box of any width too: the smallest type takes more."""

_CLEAR_MM, _CLEAR_FROM_MM = 1.0, 9.0
"""How far words keep from the cut above and below, from which height on."""
_CUT = Pen(0.1)
_FRAME = Pen(0.1, "#707070")
_NUMBER_MM, _NUMBER_SHARE, _WIDEST_SHARE = 9.0, 0.3, 0.45
_BAR_MM, _BAR_SHARE = 3.2, 0.08
_STACKED_MM = 26.0
_PLACE_PT = 9.0


def drawn(
    label: SlotLabel, box: Box, *, framed: bool = True, rating_pt: float = RATING_PT
) -> tuple[Mark, ...]:
    """A label in a box: number, name, rating, wire, and a bar in the colour of the fuse.

    `rating_pt` is the type of all ratings of a strip, where the label is one of several.
    """
    marks: list[Mark] = [rect(*box, pen=_FRAME)] if framed else []
    return (*marks, *_BoxedLabel(label, box, rating_pt).marks())


def rating_pt(labels: Iterable[SlotLabel], box: Box) -> float:
    """The largest type in which the ratings of all labels of one size can stand [pt]."""
    return min((_BoxedLabel(label, box).rating_size() for label in labels), default=RATING_PT)


def lacking(label: SlotLabel, box: Box) -> str:
    """What a note has to say of a label that is not whole in a box of this size."""
    return _BoxedLabel(label, box).lacks()


def is_whole(label: SlotLabel, box: Box) -> bool:
    """Whether all that a label says stands on it, unshortened, in a box of this size."""
    return _BoxedLabel(label, box).is_whole()


def note_labels(number: int, words: str, box: Box) -> Iterator[SlotLabel]:
    """The note of a label as labels of their own, as many of a size as its words need."""
    name, parts = f"[{number}]", words.split(" ")
    while parts:
        count = len(parts)
        while count > 1 and not is_whole(SlotLabel(name, "", " ".join(parts[:count])), box):
            count -= 1
        yield SlotLabel(name, "", " ".join(parts[:count]), is_note=True)
        parts = parts[count:]


class _BoxedLabel:
    """One label in one box; in a narrow box the number stands above the words."""

    def __init__(self, label: SlotLabel, box: Box, rating_pt: float = RATING_PT) -> None:
        left, top, wide, high = box
        self.label = label
        self.rating_pt = rating_pt
        self.clear_mm = _CLEAR_MM if high >= _CLEAR_FROM_MM else PAD_MM
        self.bare = high < LOWEST_MM or (min(wide, high) < NUMBER_ONLY_MM and wide < _STACKED_MM)
        self.stacked = wide < _STACKED_MM
        self.bar = box
        self.bar_mm = min(_BAR_MM, _BAR_SHARE * wide)
        clear = self.clear_mm
        inner = (left + PAD_MM, top + clear, wide - 2 * PAD_MM, high - 2 * clear)
        if self.bare:
            close = PAD_MM / 4
            self.number = (left + close, top + close, wide - 2 * close, high - 2 * close)
            self.words = inner
        elif self.stacked:
            head = max(3.4, 0.27 * high)
            self.number = (inner[0], inner[1], inner[2] - self.bar_mm - 0.4, head)
            self.words = (inner[0], inner[1] + head, inner[2], inner[3] - head)
            self.bar = (left + wide - self.bar_mm - PAD_MM, top + 0.6, self.bar_mm, head - 0.4)
        else:
            column = min(_NUMBER_MM, _NUMBER_SHARE * wide)
            # A designation is not broken: the column is as wide as its longest word.
            longest_mm = max(width_mm(word, 6.5, bold=True) for word in label.number.split(" "))
            column = max(column, min(longest_mm + 2.1 * PAD_MM, _WIDEST_SHARE * wide))
            self.number = (inner[0], inner[1], column - 2 * PAD_MM, inner[3])
            taken = column + GAP_MM + self.bar_mm + GAP_MM
            self.words = (left + column + GAP_MM, inner[1], wide - taken - PAD_MM, inner[3])
            self.bar = (left + wide - self.bar_mm - PAD_MM, top + 0.6, self.bar_mm, high - 1.2)
        self.free = not label.shade
        """Whether the room of the colour bar may go to the words."""

    def is_whole(self) -> bool:
        """Whether number and words are all there."""
        if self.bare:
            return False
        number, words = self._number_box(), self._words()
        if not holds(self.label.number, number, NUMBER):
            return False
        if not self.label.has_circuit:
            return holds(self.label.name, words, EMPTY)
        return self._rows().plan() is not None

    def marks(self) -> Iterator[Mark]:
        """Everything inside the frame."""
        label = self.label
        if self.bare:
            yield from self._bare()
            return
        number = self._number_box()
        if label.above and number[1] > self.number[1]:
            left, top, wide, _ = self.number
            above = (left, top, wide, number[1] - top)
            yield from block(label.above, above, Style(6.5, FLOOR_PT))
        place = label.place if self.stacked else label.number
        wide = width_mm(place, _PLACE_PT, bold=True)
        yield from block(place if wide <= number[2] else label.number, number, NUMBER)
        if not self.stacked:
            edge = self.words[0] - GAP_MM
            down = (self.number[1] + 0.2, self.number[1] + self.number[3] - 0.2)
            yield Line(((edge, down[0]), (edge, down[1])), _CUT)
        if label.has_circuit:
            yield from self._rows().marks()
        else:
            yield from block(named(label, self._words(), EMPTY), self._words(), EMPTY)
        if label.shade:
            yield from patch(*self.bar, label.shade)

    def _bare(self) -> Iterator[Mark]:
        """The number, and the number of the note that says the rest."""
        label = self.label
        words = f"{label.number} [{label.note}]" if label.note else label.number
        style = Style(20, FLOOR_PT, 2, bold=True)
        for said in (words, label.number):
            if holds(said, self.number, style):
                yield from block(said, self.number, style)
                return

    def _number_box(self) -> Box:
        """Where the number stands: below the name of the panel where both have room."""
        left, top, wide, high = self.number
        above = self.label.above
        room = high - 2.4 >= LINE_MM and width_mm(above, FLOOR_PT) <= wide
        if not above or self.stacked or not room:
            return self.number
        return left, top + 2.4, wide, high - 2.4

    def rating_size(self) -> float:
        """The type of the rating where nothing else sets it; the largest where there is none."""
        if self.bare or not self.label.has_circuit:
            return RATING_PT
        return self._rows().size_pt()

    def _rows(self) -> Rows:
        return Rows(self.label, self._words(), clear_mm=self.clear_mm, rating_pt=self.rating_pt)

    def _words(self) -> Box:
        left, top, wide, high = self.words
        return left, top, wide + (self.bar_mm if self.free and not self.stacked else 0.0), high

    def lacks(self) -> str:
        """What a note has to say: the name where all the rest is there, else everything."""
        rest = not self.bare and self._rows().rest_fits()
        return self.label.name if rest and self.label.has_circuit else self.label.in_full
