"""Marks where a circuit diagram goes on upon another page, in pairs that name each other."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from rigfolio.draw import Circle, Group, Mark, Pen, Point, Text, fit, letters, width_mm
from rigfolio.schematic.paint import BASE_MM, FACT_PT, LINE_MM, UNDER_MM, broken
from rigfolio.schematic.rungs import Cut

RADIUS_MM = 2.4

_TEXT_MM = (40.0, 26.0, 26.0, 26.0)
_MOST_LINES = 2
_SPARE_MM = 6.0
_AIR_MM = 1.2
_MIDDLE_MM = 1.0
_RING = Pen(0.35)
_NO_CUT = Cut("", is_out=True, words=())


@dataclass(frozen=True, slots=True)
class CutMark(Group):
    """One mark of a pair as it is drawn, not numbered yet."""

    cut: Cut = _NO_CUT

    @property
    def at(self) -> Point:
        """The middle of its ring."""
        return next(mark.centre for mark in self.marks if isinstance(mark, Circle))


@dataclass(frozen=True, slots=True)
class Number:
    """What a mark is called once all are numbered: its own number, and the page of the other.

    `beside` is `above` or `below` where the other stands on the same page.
    """

    mark: int
    page: int
    beside: str = ""


_HELD = Number(88, 88)
"""Holds the place of a number until pages and marks are numbered; no number is wider."""


def _heads(cut: Cut, number: Number) -> tuple[str, ...]:
    """The words that name the other side of a mark, line by line."""
    way, name = "to" if cut.is_out else "from", f"mark {number.mark}"
    one, two = (name, number.beside) if number.beside else (f"page {number.page},", name)
    if cut.is_flat:
        return (f"{one} {two}" if cut.narrow else f"{way} {one} {two}",)
    if cut.narrow:
        return f"{way} {one}", f"{two}:"
    return (f"{way} {one} {two}:",)


def cut_lines(cut: Cut) -> tuple[str, ...]:
    """The words beside a mark, line by line."""
    wordings = [broken(words, _TEXT_MM[cut.narrow]) for words in cut.words]
    fitting = (lines for lines in wordings if len(lines) <= _MOST_LINES)
    return (*_heads(cut, _HELD), *next(fitting, wordings[-1][:_MOST_LINES]))


def flat_lines(cut: Cut) -> tuple[str, str]:
    """The words on the wire of a flat mark, above and below it."""
    (head,) = _heads(cut, _HELD)
    room_mm = width_mm(head, FACT_PT) + (_SPARE_MM if not cut.narrow else 2.0)
    beyond = next((x for x in cut.words if width_mm(x, FACT_PT) <= room_mm), cut.words[-1])
    done = fit(beyond, room_mm, size_pt=FACT_PT, floor_pt=FACT_PT)
    return head, done.lines[0]


def flat_mm(cut: Cut) -> float:
    """Length of the words on the wire of a flat mark."""
    return max(width_mm(line, FACT_PT) for line in flat_lines(cut)) + _AIR_MM


def _ring(middle: Point) -> tuple[Mark, ...]:
    number = letters(middle, str(_HELD.mark), FACT_PT, bold=True)
    return Circle(middle, RADIUS_MM, _RING, "#ffffff"), number


def draw_flat(cut: Cut, end: Point) -> CutMark:
    """A mark at the left end of a wire, with its words on the wire."""
    x, y = end
    middle = (x - RADIUS_MM, y)
    upper, lower = flat_lines(cut)
    marks = (
        *_ring(middle),
        Text((x + _AIR_MM, y - BASE_MM), upper, FACT_PT),
        Text((x + _AIR_MM, y + UNDER_MM), lower, FACT_PT),
    )  # fmt: skip
    return CutMark(f"mark {cut.key}", "", marks, cut=cut)


def cut_mm(cut: Cut) -> float:
    """Width of a mark with its words, from the end of its wire."""
    wide = max(width_mm(line, FACT_PT) for line in cut_lines(cut))
    return 2 * RADIUS_MM + _AIR_MM + wide + 0.5


def half_mm(cut: Cut) -> float:
    """Height of a mark above and below its wire."""
    return max(RADIUS_MM, len(cut_lines(cut)) * LINE_MM / 2) + 0.4


def draw_cut(cut: Cut, end: Point, way: float) -> CutMark:
    """A mark at the end of a wire that runs on to the right (`way` 1) or to the left (-1)."""
    x, y = end
    middle = (x + way * RADIUS_MM, y)
    lines = cut_lines(cut)
    text_x = middle[0] + way * (RADIUS_MM + _AIR_MM)
    first = y - (len(lines) - 1) * LINE_MM / 2 + _MIDDLE_MM
    anchor = "start" if way > 0 else "end"
    marks: tuple[Mark, ...] = (
        *_ring(middle),
        *(Text((text_x, first + LINE_MM * n), line, FACT_PT, anchor)
          for n, line in enumerate(lines)),
    )  # fmt: skip
    return CutMark(f"mark {cut.key}", "", marks, cut=cut)


def marks_in(marks: Iterable[Mark]) -> Iterator[CutMark]:
    """All marks that wait for their numbers."""
    for mark in marks:
        if isinstance(mark, CutMark):
            yield mark
        elif isinstance(mark, Group):
            yield from marks_in(mark.marks)


def numbered(marks: Iterable[Mark], numbers: Mapping[tuple[str, bool], Number]) -> tuple[Mark, ...]:
    """Marks of a page with all pairs numbered; `numbers` by key and direction."""
    return tuple(_numbered(mark, numbers) for mark in marks)


def _numbered(mark: Mark, numbers: Mapping[tuple[str, bool], Number]) -> Mark:
    if isinstance(mark, CutMark):
        number = numbers[mark.cut.key, mark.cut.is_out]
        # The ring, the number in it, the words that name the other side; then those of the text.
        texts = [each for each in mark.marks if isinstance(each, Text)]
        told = (str(number.mark), *_heads(mark.cut, number))
        heads = (replace(each, text=text) for each, text in zip(texts, told, strict=False))
        inner = (mark.marks[0], *heads, *texts[len(told) :])
        here, there = ("out", "in") if mark.cut.is_out else ("in", "out")
        title = " ".join(each.text for each in inner[2:] if isinstance(each, Text))
        return Group(f"mark-{number.mark}-{here}", title, inner, f"mark-{number.mark}-{there}")
    if isinstance(mark, Group):
        return replace(mark, marks=numbered(mark.marks, numbers))
    return mark
