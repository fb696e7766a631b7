"""Marks where a bar goes on upon another page."""

from collections.abc import Hashable, Iterator, Mapping

from rigfolio.draw import Circle, Group, Mark, Pen, Point, Text, width_mm
from rigfolio.record import record, replace
from rigfolio.schematic.painting.placement import Placement

RING_MM = 2.3
_WORDS_MM = 3.2


@record
class Reference:
    """A mark where a bar goes on upon another page: its number, and what is said beside it."""

    number: int
    words: str
    ident: str
    goes_to: str


Marks = Mapping[str, tuple[Reference | None, Reference | None]]
"""The marks at head and foot of bars, by name."""


_OVER = 100
"""A number of as many figures or more is wider than its ring."""


def looks_of(marks: Marks) -> Hashable:
    """What a drawing turns on in the marks of its bars, whatever their numbers and names."""
    return frozenset((bar, *map(_look, pair)) for bar, pair in marks.items())


def _look(mark: Reference | None) -> Hashable:
    return None if mark is None else (mark.words, mark.number if mark.number >= _OVER else 0)


def renamed(group: Group, mark: Reference) -> Group:
    """A mark that was drawn, as another one that looks the same but for its number."""
    inner = tuple(
        replace(each, text=str(mark.number)) if isinstance(each, Text) and each.bold else each
        for each in group.marks
    )
    return Group(mark.ident, _title(mark), inner, mark.goes_to)


def _title(mark: Reference) -> str:
    return f"mark {mark.number} {mark.words}"


def ring(
    place: Placement, mark: Reference, at: Point, name: str, *, is_foot: bool
) -> Iterator[Mark]:
    """A mark about a point beside a bar, its words at the side where no bar runs."""
    x, y = at
    first, last = place.span(name)
    rows = (last, last + 1) if is_foot else (first - 1, first)
    wide = width_mm(mark.words, place.size_pt)
    is_right = place.edge(place.bar(name)) <= 0
    is_right = is_right and place.is_clear(x, x + _WORDS_MM + wide, rows, name)
    side = 1.0 if is_right else -1.0
    spot = (x + side * _WORDS_MM, y + 1.0)
    words = Text(spot, mark.words, place.size_pt, "start" if is_right else "end")
    number = Text((x, y + 1.0), str(mark.number), place.size_pt, "middle", bold=True)
    round_it = Circle((x, y), RING_MM, Pen(0.5), "#ffffff")
    yield Group(mark.ident, _title(mark), (round_it, number, words), mark.goes_to)
