"""The drawing list: what a page shows, before any file format.

Lengths are millimetres from the top left corner, y downwards; type sizes are points. Colours are
`#rrggbb` and nothing else, because named colours differ between renderers.
"""

import re
from collections.abc import Iterable, Iterator
from math import isfinite

from rigfolio.draw.roles import WORDS, Kind, Role
from rigfolio.record import record, replace

MM_PER_PT = 25.4 / 72.0
MITRE_LIMIT = 10.0
BLACK = "#000000"
FIGURE = "figure"
"""Role of a group that is looked at as one picture, after WAI-ARIA 1.1 (from memory)."""

Point = tuple[float, float]


@record
class Pen:
    """How a line is drawn; `width_mm` is its full thickness, `dash_mm` on and off lengths."""

    width_mm: float = 0.25
    colour: str = BLACK
    dash_mm: tuple[float, ...] = ()


INK = Pen()


@record
class Line:
    """An open or closed polyline with mitred corners; `fill` only where closed."""

    points: tuple[Point, ...]
    pen: Pen | None = INK
    fill: str | None = None
    closed: bool = False


@record
class Circle:
    """A circle about `centre`."""

    centre: Point
    radius_mm: float
    pen: Pen | None = INK
    fill: str | None = None


@record
class Text:
    """One line of text on its baseline at `at`; `anchor` says which point of the line that is.

    `turn` is the rotation about `at` in degrees, counter-clockwise as the reader sees it. `role` is
    what the text is to those who have the page read to them.
    """

    at: Point
    text: str
    size_pt: float = 8.0
    anchor: str = "start"
    bold: bool = False
    colour: str = BLACK
    turn: float = 0.0
    role: Role = WORDS


@record
class Picture:
    """A photograph in a box with its top left corner at `at`; `content` is a JPEG of it.

    `about` is what is said of it to those who do not see it.
    """

    at: Point
    width_mm: float
    height_mm: float
    content: bytes
    about: str = "photograph"


@record
class Group:
    """Marks that belong to one thing of the rig, findable by `ident`, explained by `title`.

    `goes_to` is the identifier of another group of the same document, or `page-3` for its third
    page: where a reader comes who presses the words of this group. Empty for nowhere. `role` is
    what it is to a program that reads a drawing aloud, after the graphics module of WAI-ARIA (from
    memory): an object made of parts, or one symbol. `about` describes it at more length.
    """

    ident: str
    title: str
    marks: tuple["Mark", ...]
    goes_to: str = ""
    role: str = "graphics-object"
    about: str = ""


Mark = Line | Circle | Text | Picture | Group


@record
class Page:
    """One page: its size, its marks in drawing order, and a bookmark name."""

    width_mm: float
    height_mm: float
    marks: tuple[Mark, ...]
    name: str = ""


@record
class Paper:
    """A sheet of paper [mm], portrait."""

    name: str
    width_mm: float
    height_mm: float


PAPERS = {
    "letter": Paper("letter", 215.9, 279.4),
    "a4": Paper("a4", 210.0, 297.0),
    "tabloid": Paper("tabloid", 279.4, 431.8),
    "a3": Paper("a3", 297.0, 420.0),
    "a2": Paper("a2", 420.0, 594.0),
    "a1": Paper("a1", 594.0, 841.0),
    "ansi-c": Paper("ansi-c", 431.8, 558.8),
    "ansi-d": Paper("ansi-d", 558.8, 863.6),
}


def rect(
    x_mm: float,
    y_mm: float,
    width_mm: float,
    height_mm: float,
    *,
    pen: Pen | None = INK,
    fill: str | None = None,
) -> Line:
    """A rectangle with its top left corner at (`x_mm`, `y_mm`)."""
    corners = (
        (x_mm, y_mm),
        (x_mm + width_mm, y_mm),
        (x_mm + width_mm, y_mm + height_mm),
        (x_mm, y_mm + height_mm),
    )
    return Line(corners, pen, fill, closed=True)


def flat(marks: Iterable[Mark]) -> Iterator[Line | Circle | Text | Picture]:
    """Marks in drawing order with the groups opened."""
    for mark in marks:
        if isinstance(mark, Group):
            yield from flat(mark.marks)
        else:
            yield mark


def groups(marks: Iterable[Mark]) -> Iterator[Group]:
    """Every group among marks in drawing order, those in groups too."""
    for mark in marks:
        if isinstance(mark, Group):
            yield mark
            yield from groups(mark.marks)


def texts(page: Page) -> tuple[Text, ...]:
    """Every text of a page in drawing order, those in groups too."""
    return tuple(mark for mark in flat(page.marks) if isinstance(mark, Text))


def scaled(
    marks: Iterable[Mark], factor: float, dx_mm: float = 0.0, dy_mm: float = 0.0
) -> tuple[Mark, ...]:
    """Marks enlarged about the origin, pens and type too, then moved."""
    return _all_grown(marks, (factor, factor), (dx_mm, dy_mm))


def corrected(page: Page, across: float, down: float) -> Page:
    """A page of the same size with all that is on it enlarged about its middle.

    For a printer that shrinks or stretches, by a factor across and one down [-]. Type takes the
    smaller of the two, so that words stay within their lines.

    Raises
    ------
    ValueError
        A factor that is not above 0.
    """
    if across == down == 1.0:
        return page
    by_mm = ((1.0 - across) * page.width_mm / 2.0, (1.0 - down) * page.height_mm / 2.0)
    return replace(page, marks=_all_grown(page.marks, (across, down), by_mm))


def spoken_as(marks: Iterable[Mark], kind: Kind) -> tuple[Mark, ...]:
    """Marks with all texts among them of one kind, those in groups too."""
    return tuple(_spoken(mark, kind) for mark in marks)


def _spoken(mark: Mark, kind: Kind) -> Mark:
    if isinstance(mark, Text):
        return replace(mark, role=replace(mark.role, kind=kind))
    if isinstance(mark, Group):
        return replace(mark, marks=spoken_as(mark.marks, kind))
    return mark


def quarter_turned(marks: Iterable[Mark], width_mm: float) -> tuple[Mark, ...]:
    """Marks of a page so many millimetres wide, turned to read from below upwards."""
    return tuple(_turned(mark, width_mm) for mark in marks)


def _turned(mark: Mark, width_mm: float) -> Mark:
    def place(point: Point) -> Point:
        return (point[1], width_mm - point[0])

    match mark:
        case Line():
            return replace(mark, points=tuple(place(point) for point in mark.points))
        case Circle():
            return replace(mark, centre=place(mark.centre))
        case Text():
            return replace(mark, at=place(mark.at), turn=(mark.turn + 90.0) % 360.0)
        case Picture():
            raise ValueError("a photograph is not turned")
        case Group():
            return replace(mark, marks=quarter_turned(mark.marks, width_mm))


def _all_grown(
    marks: Iterable[Mark], factors: tuple[float, float], by_mm: Point
) -> tuple[Mark, ...]:
    for factor in factors:
        if not (isfinite(factor) and factor > 0):
            raise ValueError(f"scale factor {factor}, expected a number above 0")
    return tuple(_grown(mark, factors, by_mm) for mark in marks)


def _grown(mark: Mark, factors: tuple[float, float], by_mm: Point) -> Mark:
    """A mark enlarged about the origin, then moved; what has no direction by the smaller factor."""
    factor = min(factors)

    def place(point: Point) -> Point:
        return (point[0] * factors[0] + by_mm[0], point[1] * factors[1] + by_mm[1])

    match mark:
        case Line():
            points = tuple(place(point) for point in mark.points)
            return replace(mark, points=points, pen=_thicker(mark.pen, factor))
        case Circle():
            radius_mm = mark.radius_mm * factor
            pen = _thicker(mark.pen, factor)
            return replace(mark, centre=place(mark.centre), radius_mm=radius_mm, pen=pen)
        case Text():
            return replace(mark, at=place(mark.at), size_pt=mark.size_pt * factor)
        case Picture():
            wide, high = mark.width_mm * factors[0], mark.height_mm * factors[1]
            return replace(mark, at=place(mark.at), width_mm=wide, height_mm=high)
        case Group():
            return replace(mark, marks=tuple(_grown(part, factors, by_mm) for part in mark.marks))


def _thicker(pen: Pen | None, factor: float) -> Pen | None:
    if pen is None:
        return None
    dashes = tuple(dash * factor for dash in pen.dash_mm)
    return replace(pen, width_mm=pen.width_mm * factor, dash_mm=dashes)


def shift(marks: Iterable[Mark], dx_mm: float, dy_mm: float) -> tuple[Mark, ...]:
    """Marks moved right by `dx_mm` and down by `dy_mm`."""
    return tuple([_moved(mark, dx_mm, dy_mm) for mark in marks])


def _moved(mark: Mark, dx_mm: float, dy_mm: float) -> Mark:
    # Field by field: to take a mark apart by a pattern takes as long as to make the next one.
    match mark:
        case Line():
            points = mark.points
            if len(points) == 2:
                (x, y), (x2, y2) = points
                points = ((x + dx_mm, y + dy_mm), (x2 + dx_mm, y2 + dy_mm))
            else:
                points = tuple([(x + dx_mm, y + dy_mm) for x, y in points])
            return Line(points, mark.pen, mark.fill, mark.closed)
        case Text():
            x, y = mark.at
            return Text(
                (x + dx_mm, y + dy_mm), mark.text, mark.size_pt, mark.anchor, mark.bold,
                mark.colour, mark.turn, mark.role,
            )  # fmt: skip
        case Group():
            marks = shift(mark.marks, dx_mm, dy_mm)
            return Group(mark.ident, mark.title, marks, mark.goes_to, mark.role, mark.about)
        case Circle():
            x, y = mark.centre
            return Circle((x + dx_mm, y + dy_mm), mark.radius_mm, mark.pen, mark.fill)
        case Picture():
            x, y = mark.at
            return replace(mark, at=(x + dx_mm, y + dy_mm))


def scale_page(page: Page, factor: float) -> Page:
    """Page enlarged as a whole: sheet, marks, pens and type."""
    return Page(
        page.width_mm * factor, page.height_mm * factor, scaled(page.marks, factor), page.name
    )


def rgb(colour: str) -> tuple[int, int, int]:
    """Red, green and blue of `#rrggbb`, 0 to 255.

    Raises
    ------
    ValueError
        The text is not of that form.
    """
    if not re.fullmatch("#[0-9a-fA-F]{6}", colour):
        raise ValueError(f"colour {colour!r}, expected #rrggbb")
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def contrast(one: str, two: str) -> float:
    """How well two colours stand out from each other, from 1 to 21 [-].

    Source: WCAG 2, relative luminance and contrast ratio (from memory).

    Raises
    ------
    ValueError
        A colour that is not of the form `#rrggbb`.

    Examples
    --------
    >>> round(contrast("#000000", "#ffffff"), 3), round(contrast("#777777", "#ffffff"), 2)
    (21.0, 4.48)
    """
    dark, light = sorted((_luminance(one), _luminance(two)))
    return (light + 0.05) / (dark + 0.05)


def _luminance(colour: str) -> float:
    parts = [part / 255.0 for part in rgb(colour)]
    linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
