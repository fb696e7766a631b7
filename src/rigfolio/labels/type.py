"""How the words of a slot label are set: styles, white on black, and names with their notes."""

from collections.abc import Iterator, Sequence

from rigfolio.draw import Box, Mark, Style, block, holds, rect, width_mm
from rigfolio.labels.content import SlotLabel

FLOOR_PT = 5.5
"""Smallest type of a label."""
PAD_MM = 0.4
LINE_MM = 2.75
"""One line of the smallest type, accents and all, with a little air."""
ROW_MM = 2.35
"""From one line of the smallest type to the next, with a little air."""
MOST_LINES = 8

ALWAYS_MM = 4.6
_TWO_MM = 5.1
_LONG, _MOST_OF_ROW = 3, 0.65
"""Words on what must stay on are broken from how many on; how much of a row they may take."""
NUMBER = Style(20, FLOOR_PT, 3, bold=True)
EMPTY = Style(11, FLOOR_PT, MOST_LINES, align="start")


def always_style(words: str, box: Box) -> Style:
    """On one line where there is room for it, else on two."""
    one = Style(10, FLOOR_PT, bold=True, colour="#ffffff")
    two = Style(10, FLOOR_PT, 2, bold=True, colour="#ffffff")
    return one if holds(words, box, one) else two


def stays_mm(words: str, wide: float) -> tuple[float, float]:
    """Width and height of the words on what must stay on; on two lines where one takes too much."""
    whole = width_mm(words, 6, bold=True)
    parts = words.split()
    if whole <= _MOST_OF_ROW * wide or len(parts) < _LONG:
        return whole, ALWAYS_MM
    halves = ((" ".join(parts[:n]), " ".join(parts[n:])) for n in range(1, len(parts)))
    return min(max(width_mm(half, 6, bold=True) for half in two) for two in halves), _TWO_MM


def warning(box: Box) -> Style:
    """On one line where that can be read well, else on as many as there is room for."""
    return Style(10, FLOOR_PT, 1 if box[2] > 24.0 else 3, bold=True, colour="#ffffff")


def inverse(text: str, box: Box, style: Style) -> Iterator[Mark]:
    """White on black: seen from afar, with or without colour."""
    left, top, wide, high = box
    air = _air(high)
    yield rect(left, top + air, wide, high - 2 * air, pen=None, fill="#000000")
    yield from block(text, inside(box), style)


def inside(box: Box) -> Box:
    """The room for white words on black."""
    left, top, wide, high = box
    air = _air(high)
    return left + PAD_MM, top + air, wide - 2 * PAD_MM, high - 2 * air


def _air(high: float) -> float:
    """White above and below black, where the row has any to give."""
    return 0.25 if high >= LINE_MM - 0.5 else 0.05


def named(label: SlotLabel, box: Box, style: Style, words: str = "") -> str:
    """The name, or as many of its words as leave room for the number of its note."""
    words = words or label.name
    if not label.note:
        return words
    tail = f"[{label.note}]"
    if holds(f"{words} {tail}", box, style):
        return f"{words} {tail}"
    for each in _shorter(words, tail):
        widest = max(width_mm(word, FLOOR_PT, bold=style.bold) for word in each.split())
        if widest <= box[2] and holds(each, box, style):
            return each
    return tail


def _shorter(words: str, tail: str) -> Iterator[str]:
    """Fewer and fewer whole words; half a word tells nothing."""
    parts: Sequence[str] = words.split()
    for count in range(len(parts) - 1, 0, -1):
        yield f"{' '.join(parts[:count]).rstrip(',;:')}… {tail}"
