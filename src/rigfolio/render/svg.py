"""Pages as SVG in millimetres, readable without this project's fonts."""

import re
from collections.abc import Iterable, Iterator
from math import isfinite
from xml.sax.saxutils import escape, quoteattr

from rigfolio.draw import (
    MITRE_LIMIT,
    MM_PER_PT,
    Circle,
    Group,
    Line,
    Mark,
    Page,
    Pen,
    Picture,
    Text,
    plain,
    printable,
    rgb,
    width_mm,
)
from rigfolio.render.languages import in_languages

_FAMILY = "'DejaVu Sans Condensed', 'Arial Narrow', 'Liberation Sans Narrow', sans-serif"


def write_svg(page: Page, *, prefix: str = "") -> str:
    """Text of an SVG file, ending in a line break.

    A group becomes a `<g class="part">` with its role, title and description; its `data-name` is
    the identifier as written and its `id` is derived from it. Every text keeps its width in any
    viewer.

    Parameters
    ----------
    page : Page
        What to draw.
    prefix : str
        Put before every `id`, for several drawings in one HTML file.

    Raises
    ------
    ValueError
        A colour that is not `#rrggbb`, or a place that is not a number.
    """
    wide, high = _number(page.width_mm), _number(page.height_mm)
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}mm" height="{high}mm" '
        f'viewBox="0 0 {wide} {high}" '
        'role="graphics-document" lang="en" xml:lang="en" '
        'xml:space="preserve">',
        f"<title>{escape(plain(page.name))}</title>" if page.name else "",
        f'<rect width="{wide}" height="{high}" fill="#ffffff"/>',
        '<g fill="none" stroke-linejoin="miter" stroke-linecap="butt" '
        f'stroke-miterlimit="{_number(MITRE_LIMIT)}" font-family={quoteattr(_FAMILY)}>',
        *_Writer(prefix).marks(page.marks),
        "</g>",
        "</svg>",
    ]
    return "\n".join(line for line in lines if line) + "\n"


class _Writer:
    """Writes the marks of one drawing and keeps its ids apart."""

    def __init__(self, prefix: str) -> None:
        self.prefix = prefix
        self.used: set[str] = set()

    def marks(self, marks: Iterable[Mark]) -> list[str]:
        """Elements in drawing order."""
        lines: list[str] = []
        for mark in marks:
            match mark:
                case Line():
                    lines += _line(mark)
                case Circle():
                    lines.append(_circle(mark))
                case Text():
                    lines += _text(mark)
                case Picture():
                    lines.append(_picture(mark))
                case Group():
                    lines += self._group(mark)
        return lines

    def _group(self, group: Group) -> list[str]:
        name = quoteattr(plain(group.ident))
        role = quoteattr(group.role)
        return [
            f'<g id="{self._unique(group.ident)}" class="part" role={role} data-name={name}>',
            f"<title>{escape(plain(group.title))}</title>",
            f"<desc>{escape(plain(group.about or group.title))}</desc>",
            *self.marks(group.marks),
            "</g>",
        ]

    def _unique(self, ident: str) -> str:
        """Id of letters, digits, `.`, `-` and `_` that starts with a letter and is not taken."""
        stem = re.sub(r"[^A-Za-z0-9._-]", "_", self.prefix + ident)
        if not re.match("[A-Za-z]", stem):
            stem = f"g{stem}"
        unique, count = stem, 1
        while unique in self.used:
            count += 1
            unique = f"{stem}-{count}"
        self.used.add(unique)
        return unique


def _number(value: float) -> str:
    """Number to 0.001 without an exponent and without a needless zero."""
    if not isfinite(value):
        raise ValueError(f"place or size {value}, expected a number")
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _colour(colour: str) -> str:
    rgb(colour)
    return colour.lower()


def _paint(pen: Pen | None, fill: str | None) -> str:
    """Attributes of a shape, each with a blank before it."""
    parts = [] if fill is None else [f' fill="{_colour(fill)}"']
    if pen is not None:
        parts.append(f' stroke="{_colour(pen.colour)}" stroke-width="{_number(pen.width_mm)}"')
        if pen.dash_mm:
            dashes = " ".join(_number(dash) for dash in pen.dash_mm)
            parts.append(f' stroke-dasharray="{dashes}"')
    return "".join(parts)


def _line(line: Line) -> list[str]:
    if len(line.points) < 2:
        return []
    kind = "polygon" if line.closed else "polyline"
    points = " ".join(f"{_number(x)},{_number(y)}" for x, y in line.points)
    return [f'<{kind} points="{points}"{_paint(line.pen, line.fill if line.closed else None)}/>']


def _circle(circle: Circle) -> str:
    x, y = (_number(place) for place in circle.centre)
    radius = _number(circle.radius_mm)
    return f'<circle cx="{x}" cy="{y}" r="{radius}"{_paint(circle.pen, circle.fill)}/>'


def _picture(picture: Picture) -> str:
    from base64 import b64encode

    x, y = picture.at
    sides = (("x", x), ("y", y), ("width", picture.width_mm), ("height", picture.height_mm))
    box = " ".join(f'{name}="{_number(value)}"' for name, value in sides)
    data = b64encode(picture.content).decode()
    return f'<image {box} href="data:image/jpeg;base64,{data}"/>'


def _text(text: Text) -> list[str]:
    shown = printable(text.text)
    if not shown.strip(" "):
        return []
    x, y = (_number(place) for place in text.at)
    parts = [f'x="{x}" y="{y}" font-size="{_number(text.size_pt * MM_PER_PT)}"']
    if text.anchor != "start":
        parts.append(f'text-anchor="{text.anchor}"')
    if text.bold:
        parts.append('font-weight="bold"')
    parts.append(f'fill="{_colour(text.colour)}"')
    if text.turn % 360:
        parts.append(f'transform="rotate({_number(-text.turn)} {x} {y})"')
    wide = _number(width_mm(text.text, text.size_pt, bold=text.bold))
    parts.append(f'textLength="{wide}" lengthAdjust="spacingAndGlyphs"')
    return [f"<text {' '.join(parts)}>{''.join(_spoken(shown))}</text>"]


def _spoken(shown: str) -> Iterator[str]:
    """The words of a line, those of another language marked as such."""
    for piece, language in in_languages(shown):
        words = escape(piece)
        stated = f'lang="{language}" xml:lang="{language}"'
        yield f"<tspan {stated}>{words}</tspan>" if language else words
