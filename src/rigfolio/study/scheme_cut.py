"""Marks where a circuit diagram goes on upon another page, in pairs that name each other."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from rigfolio.draw.fit import fit, width_mm
from rigfolio.draw.page import Circle, Group, Mark, Pen, Point, Text
from rigfolio.draw.symbols import letters
from rigfolio.study.scheme import Cut
from rigfolio.study.scheme_paint import BASE_MM, FACT_PT, LINE_MM, UNDER_MM, broken

RADIUS_MM = 2.4

_TEXT_MM = (40.0, 26.0, 26.0, 26.0)
_MOST_LINES = 2
_SPARE_MM = 6.0
_AIR_MM = 1.2
_MIDDLE_MM = 1.0
_HELD = "88"
"""Holds the place of a number until pages and marks are numbered; no number is wider."""
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


def cut_lines(cut: Cut) -> tuple[str, ...]:
    """The words beside a mark, line by line."""
    way = "to" if cut.is_out else "from"
    head: tuple[str, ...] = (f"{way} page {_HELD}, mark {_HELD}:",)
    if cut.narrow:
        head = (f"{way} page {_HELD},", f"mark {_HELD}:")
    wordings = [broken(words, _TEXT_MM[cut.narrow]) for words in cut.words]
    fitting = (lines for lines in wordings if len(lines) <= _MOST_LINES)
    return (*head, *next(fitting, wordings[-1][:_MOST_LINES]))


def flat_lines(cut: Cut) -> tuple[str, str]:
    """The words on the wire of a flat mark, above and below it."""
    head = f"page {_HELD}, mark {_HELD}"
    if not cut.narrow:
        head = f"{'to' if cut.is_out else 'from'} {head}"
    room_mm = width_mm(head, FACT_PT) + (_SPARE_MM if not cut.narrow else 2.0)
    beyond = next((x for x in cut.words if width_mm(x, FACT_PT) <= room_mm), cut.words[-1])
    done = fit(beyond, room_mm, size_pt=FACT_PT, floor_pt=FACT_PT)
    return head, done.lines[0]


def flat_mm(cut: Cut) -> float:
    """Length of the words on the wire of a flat mark."""
    return max(width_mm(line, FACT_PT) for line in flat_lines(cut)) + _AIR_MM


def draw_flat(cut: Cut, end: Point) -> CutMark:
    """A mark at the left end of a wire, with its words on the wire."""
    x, y = end
    middle = (x - RADIUS_MM, y)
    upper, lower = flat_lines(cut)
    marks = (
        Circle(middle, RADIUS_MM, _RING, "#ffffff"), letters(middle, _HELD, FACT_PT, bold=True),
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
        Circle(middle, RADIUS_MM, _RING, "#ffffff"), letters(middle, _HELD, FACT_PT, bold=True),
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
        count = 3 + bool(mark.cut.narrow and not mark.cut.is_flat)
        told = tuple(_told(each, number) for each in mark.marks[:count])
        inner = (*told, *mark.marks[count:])
        here, there = ("out", "in") if mark.cut.is_out else ("in", "out")
        title = " ".join(each.text for each in inner[2:] if isinstance(each, Text))
        return Group(f"mark-{number.mark}-{here}", title, inner, f"mark-{number.mark}-{there}")
    if isinstance(mark, Group):
        return replace(mark, marks=numbered(mark.marks, numbers))
    return mark


def _told(mark: Mark, number: Number) -> Mark:
    if not isinstance(mark, Text):
        return mark
    if mark.text == _HELD:
        return replace(mark, text=str(number.mark))
    page, name = f"page {number.page},", f"mark {number.mark}"
    if number.beside:
        whole = mark.text.replace(f"page {_HELD}, mark {_HELD}", f"{name} {number.beside}")
        if whole != mark.text:
            return replace(mark, text=whole)
        page, name = name, number.beside
    told = mark.text.replace(f"page {_HELD},", page)
    return replace(mark, text=told.replace(f"mark {_HELD}", name))
