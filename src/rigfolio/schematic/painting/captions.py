"""Words about a rung: from a place to the right, or about the middle of a symbol."""

from collections.abc import Iterator

from rigfolio.draw import Mark, Pen, Text, ink_mm, rect, width_mm
from rigfolio.record import record
from rigfolio.schematic.setting import FLAG_PAD_MM, Words, WordStyle

FLAG = Pen(0.25)
"""The box about the number of a note."""


@record
class Captions:
    """Sets words above and below a rung at height 0, in one style."""

    style: WordStyle

    def beside(self, words: Words, x: float) -> Iterator[Mark]:
        """Words from a place to the right."""
        style = self.style
        at = x
        if words.bold:
            yield Text((at, -style.base_mm), words.bold, style.size_pt, bold=True)
            at += width_mm(f"{words.bold} ", style.size_pt, bold=True)
        if words.above:
            yield Text((at, -style.base_mm), words.above[0], style.size_pt, bold=words.is_bold)
        for number, (line, is_bold) in enumerate(words.under()):
            y = style.under_mm + number * style.line_mm
            yield Text((x, y), line, style.size_pt, bold=is_bold)
        yield from self._flag(words, x, 0.0, "start")

    def about(self, words: Words, middle: float, reach: tuple[float, float]) -> Iterator[Mark]:
        """Words in the middle above and below a symbol that reaches so far up and down."""
        at = middle - words.head_mm(self.style.size_pt) / 2
        yield from self._around(words, (at, middle), "middle", reach)

    def right_of(self, words: Words, left: float, reach: tuple[float, float]) -> Iterator[Mark]:
        """The same from a place to the right."""
        yield from self._around(words, (left, left), "start", reach)

    def _around(
        self, words: Words, places: tuple[float, float], anchor: str, reach: tuple[float, float]
    ) -> Iterator[Mark]:
        style = self.style
        at, x = places
        y = -style.base_mm - reach[0]
        if words.bold:
            yield Text((at, y), words.bold, style.size_pt, bold=True)
            at += width_mm(words.bold, style.size_pt, bold=True) + width_mm(" ", style.size_pt)
        if words.above:
            yield Text((at, y), words.above[0], style.size_pt, bold=words.is_bold)
        for number, (line, is_bold) in enumerate(words.under()):
            below = style.under_mm + reach[1] + number * style.line_mm
            yield Text((x, below), line, style.size_pt, anchor, is_bold)
        yield from self._flag(words, x, reach[1], anchor)

    def _flag(self, words: Words, x: float, deep: float, anchor: str) -> Iterator[Mark]:
        """The numbers of notes in their box below all other words."""
        if not words.flag:
            return
        style = self.style
        y = style.under_mm + deep + len(words.under()) * style.line_mm + FLAG_PAD_MM
        wide = width_mm(words.flag, style.size_pt)
        left = x - wide / 2 if anchor == "middle" else x + FLAG_PAD_MM
        high, low = ink_mm(words.flag, style.size_pt)
        yield Text((left, y), words.flag, style.size_pt)
        yield rect(
            left - FLAG_PAD_MM, y - high - FLAG_PAD_MM, wide + 2 * FLAG_PAD_MM,
            high + low + 2 * FLAG_PAD_MM, pen=FLAG,
        )  # fmt: skip
