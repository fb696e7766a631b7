"""Pages as SVG in millimetres, readable without this project's fonts."""

import html
import re
from collections.abc import Iterable, Iterator
from math import isfinite

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

_PLACES, _SHORT_PLACES = 3, 2
_FAMILY = "'DejaVu Sans Condensed', 'Arial Narrow', 'Liberation Sans Narrow', sans-serif"


def write_svg(page: Page, *, prefix: str = "", in_html: bool = False) -> str:
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
    in_html : bool
        Whether it stands within an HTML file that is to be small: without a declaration, without a
        description of a part that says no more than its title, to a hundredth of a millimetre.

    Raises
    ------
    ValueError
        A colour that is not `#rrggbb`, or a place that is not a number.
    """
    wide, high = _number(page.width_mm), _number(page.height_mm)
    lines = [
        "" if in_html else '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}mm" height="{high}mm" '
        f'viewBox="0 0 {wide} {high}" '
        'role="graphics-document" lang="en" xml:lang="en" '
        'xml:space="preserve">',
        f"<title>{_escaped(plain(page.name))}</title>" if page.name else "",
        f'<rect width="{wide}" height="{high}" fill="#ffffff"/>',
        '<g fill="none" stroke-linejoin="miter" stroke-linecap="butt" '
        f'stroke-miterlimit="{_number(MITRE_LIMIT)}" font-family={_quoted(_FAMILY)}>',
        *_Writer(prefix, is_short=in_html).marks(page.marks),
        "</g>",
        "</svg>",
    ]
    return "\n".join(line for line in lines if line) + "\n"


class _Writer:
    """Writes the marks of one drawing and keeps its ids apart."""

    def __init__(self, prefix: str, *, is_short: bool) -> None:
        self.prefix, self.is_short = prefix, is_short
        self.used: set[str] = set()
        # A drawing has few pens and colours, each at very many marks.
        self._colours: dict[str, str] = {}
        self._paints: dict[tuple[Pen | None, str | None], str] = {}

    def marks(self, marks: Iterable[Mark]) -> list[str]:
        """Elements in drawing order."""
        lines: list[str] = []
        for mark in marks:
            match mark:
                case Line():
                    lines += self._line(mark)
                case Circle():
                    lines.append(self._circle(mark))
                case Text():
                    lines += self._text(mark)
                case Picture():
                    lines.append(_picture(mark))
                case Group():
                    lines += self._group(mark)
        return lines

    def _group(self, group: Group) -> list[str]:
        name = _quoted(plain(group.ident))
        role = _quoted(group.role)
        return [
            f'<g id="{self._unique(group.ident)}" class="part" role={role} data-name={name}>',
            f"<title>{_escaped(plain(group.title))}</title>",
            *self._description(group),
            *self.marks(group.marks),
            "</g>",
        ]

    def _description(self, group: Group) -> Iterator[str]:
        if group.about or not self.is_short:
            yield f"<desc>{_escaped(plain(group.about or group.title))}</desc>"

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

    def _colour(self, colour: str) -> str:
        if colour not in self._colours:
            self._colours[colour] = self._written(colour)
        return self._colours[colour]

    def _written(self, colour: str) -> str:
        red, green, blue = rgb(colour)
        if self.is_short and not any(part % 17 for part in (red, green, blue)):
            return f"#{red // 17:x}{green // 17:x}{blue // 17:x}"
        return colour.lower()

    def _number(self, value: float) -> str:
        return _number(value, _SHORT_PLACES if self.is_short else _PLACES)

    def _paint(self, pen: Pen | None, fill: str | None) -> str:
        """Attributes of a shape, each with a blank before it."""
        if (pen, fill) not in self._paints:
            self._paints[pen, fill] = self._painted(pen, fill)
        return self._paints[pen, fill]

    def _painted(self, pen: Pen | None, fill: str | None) -> str:
        parts = [] if fill is None else [f' fill="{self._colour(fill)}"']
        if pen is not None:
            wide = self._number(pen.width_mm)
            parts.append(f' stroke="{self._colour(pen.colour)}" stroke-width="{wide}"')
            if pen.dash_mm:
                dashes = " ".join(self._number(dash) for dash in pen.dash_mm)
                parts.append(f' stroke-dasharray="{dashes}"')
        return "".join(parts)

    def _line(self, line: Line) -> list[str]:
        if len(line.points) < 2:
            return []
        kind = "polygon" if line.closed else "polyline"
        points = " ".join(f"{self._number(x)},{self._number(y)}" for x, y in line.points)
        paint = self._paint(line.pen, line.fill if line.closed else None)
        return [f'<{kind} points="{points}"{paint}/>']

    def _circle(self, circle: Circle) -> str:
        x, y = (self._number(place) for place in circle.centre)
        radius = self._number(circle.radius_mm)
        return f'<circle cx="{x}" cy="{y}" r="{radius}"{self._paint(circle.pen, circle.fill)}/>'

    def _text(self, text: Text) -> list[str]:
        shown = printable(text.text)
        if not shown.strip(" "):
            return []
        x, y = (self._number(place) for place in text.at)
        parts = [f'x="{x}" y="{y}" font-size="{self._number(text.size_pt * MM_PER_PT)}"']
        if text.anchor != "start":
            parts.append(f'text-anchor="{text.anchor}"')
        if text.bold:
            parts.append('font-weight="bold"')
        parts.append(f'fill="{self._colour(text.colour)}"')
        if text.turn % 360:
            parts.append(f'transform="rotate({self._number(-text.turn)} {x} {y})"')
        wide = self._number(width_mm(text.text, text.size_pt, bold=text.bold))
        parts.append(f'textLength="{wide}" lengthAdjust="spacingAndGlyphs"')
        return [f"<text {' '.join(parts)}>{''.join(_spoken(shown))}</text>"]


def _escaped(text: str) -> str:
    """A text as XML holds it between two tags."""
    return html.escape(text, quote=False)


def _quoted(text: str) -> str:
    """A text as XML holds it in an attribute, with its quotation marks.

    As the function of that name of `xml.sax` writes it, with which a client for networks is loaded.
    """
    held = _escaped(text).replace("\n", "&#10;").replace("\r", "&#13;").replace("\t", "&#9;")
    if '"' not in held:
        return f'"{held}"'
    return f"'{held}'" if "'" not in held else '"{}"'.format(held.replace('"', "&quot;"))


def _number(value: float, places: int = _PLACES) -> str:
    """Number to so many places, without an exponent and without a needless zero."""
    if not isfinite(value):
        raise ValueError(f"place or size {value}, expected a number")
    text = f"{value:.{places}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _picture(picture: Picture) -> str:
    from base64 import b64encode

    x, y = picture.at
    sides = (("x", x), ("y", y), ("width", picture.width_mm), ("height", picture.height_mm))
    box = " ".join(f'{name}="{_number(value)}"' for name, value in sides)
    data = b64encode(picture.content).decode()
    return f'<image {box} href="data:image/jpeg;base64,{data}"/>'


def _spoken(shown: str) -> Iterator[str]:
    """The words of a line, those of another language marked as such."""
    for piece, language in in_languages(shown):
        words = _escaped(piece)
        stated = f'lang="{language}" xml:lang="{language}"'
        yield f"<tspan {stated}>{words}</tspan>" if language else words
