"""The face of a panel in small: every slot where it is, with number, fuse and name, to be read."""

from collections.abc import Iterator

from rigfolio.draw import (
    FIGURE,
    FLOOR_PT,
    LINE_HEIGHT,
    MM_PER_PT,
    Box,
    Group,
    Mark,
    Pen,
    Style,
    block,
    first_uncut,
    fit,
    holds,
    patch,
    rect,
)
from rigfolio.labels.content import SlotLabel
from rigfolio.model import Panel

_FRAME = Pen(0.1, "#707070")
_NUMBER_MM, _BAR_MM, _RATING_MM, _PAD_MM = 8.0, 3.0, 19.0, 0.8
_NARROW_MM, _HEAD_MM = 48.0, 5.2
"""A slot of less width has its name below number and rating, and how high these are."""
_MOST_LINES = 6
_LINE_MM = LINE_HEIGHT * MM_PER_PT * FLOOR_PT


def small_slot_mm(labels: tuple[tuple[int, SlotLabel], ...], wide_mm: float) -> float:
    """How high a slot of a width has to be for the longest of some names [mm]."""
    is_narrow = wide_mm < _NARROW_MM
    beside_mm = 0.0 if is_narrow else _NUMBER_MM + _BAR_MM + _RATING_MM
    room_mm = wide_mm - beside_mm - (2 if is_narrow else 1) * _PAD_MM
    lines = max((_lines(_words(one), room_mm) for _, one in labels), default=1)
    return lines * _LINE_MM + 0.5 + (_HEAD_MM if is_narrow else 0.0)


def small_face(
    panel: Panel, labels: tuple[tuple[int, SlotLabel], ...], box: Box, rows: int
) -> Iterator[Mark]:
    """The slots of a panel as they lie, each of a height; a column of more rows goes on beside.

    Parameters
    ----------
    panel : Panel
        Whose columns they are.
    labels : tuple of (int, SlotLabel)
        What each slot says, by its number.
    box : Box
        Left, top, width of the whole, height of one slot [mm].
    rows : int
        How many slots stand below each other.
    """
    left, top, wide, high = box
    parts = -(-panel.rows // rows)
    each = wide / (max(1, panel.columns) * parts)
    for number, label in labels:
        column, row = panel.cell(number)
        across = left + (column * parts + row // rows) * each
        cell = (across, top + row % rows * high, each, high)
        said = f"{label.place} {_words(label)}"
        said = f"{said}, {label.ratings[0]}" if label.has_circuit and not label.is_warned else said
        yield Group(label.ident, said, tuple(_slot(label, cell)), role=FIGURE)


def _slot(label: SlotLabel, box: Box) -> Iterator[Mark]:
    left, top, wide, high = box
    yield rect(*box, pen=_FRAME)
    is_narrow = wide < _NARROW_MM
    head_mm = min(_HEAD_MM, high / 2) if is_narrow else high
    yield from block(
        label.number, (left, top + 0.3, _NUMBER_MM, head_mm - 0.6), Style(14, FLOOR_PT, bold=True)
    )
    across = left + _NUMBER_MM
    if label.has_circuit:
        rating_mm = min(_RATING_MM, wide - _NUMBER_MM - _BAR_MM)
        yield from _rating(label, (across, top, _BAR_MM + rating_mm, head_mm))
        across += _BAR_MM + rating_mm
    name = (across, top + 0.2, left + wide - across - _PAD_MM, high - 0.4)
    if is_narrow:
        name = (left + _PAD_MM, top + head_mm, wide - 2 * _PAD_MM, high - head_mm - 0.2)
    style = Style(9, FLOOR_PT, max(1, int(name[3] / _LINE_MM)), align="start")
    yield from block(_words(label), name, style)


def _rating(label: SlotLabel, box: Box) -> Iterator[Mark]:
    """The colour of the fuse and what it is rated."""
    left, top, wide, high = box
    if label.shade:
        yield from patch(left, top + 0.6, _BAR_MM, high - 1.2, label.shade)
    room = (left + _BAR_MM + _PAD_MM, top + 0.2, wide - _BAR_MM - 2 * _PAD_MM, high - 0.4)
    lines = max(1, int((high - 0.4) / _LINE_MM))
    said = first_uncut(label.plain_ratings, room[2], FLOOR_PT, bold=True)
    style = Style(9, FLOOR_PT, lines, bold=True, align="start")
    # What is cut here stands beside the name.
    if not label.is_warned or holds(said, room, style):
        yield from block(said, room, style)


def _words(label: SlotLabel) -> str:
    """The name, and what must not be overlooked."""
    large = label.ratings[-2] if label.is_warned and len(label.ratings) > 1 else ""
    found = label.found.upper().replace(" ", "\N{NO-BREAK SPACE}")
    told = (label.name, found, large, label.first, label.stays)
    return ", ".join(filter(None, told))


def _lines(words: str, room_mm: float) -> int:
    """How many lines of the smallest type some words need."""
    for lines in range(1, _MOST_LINES):
        done = fit(words, room_mm, size_pt=FLOOR_PT, floor_pt=FLOOR_PT, lines=lines)
        if not done.is_cut:
            return lines
    return _MOST_LINES
