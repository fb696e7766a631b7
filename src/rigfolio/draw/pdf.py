"""Pages as PDF at true scale; the only door to reportlab."""

import os
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from hashlib import sha256
from io import BytesIO

from reportlab.lib.units import mm
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from rigfolio.draw import fonts
from rigfolio.draw.fit import ANCHORS, plain, printable, width_mm
from rigfolio.draw.page import MITRE_LIMIT, Circle, Line, Page, Pen, Text, flat, rgb, scale_page


def write_pdf(
    pages: Sequence[Page], *, title: str, author: str = "", subject: str = "", scale: float = 1.0
) -> bytes:
    """Content of a PDF file, the same bytes for the same pages.

    Fonts are embedded, viewers are asked not to scale when printing, and every page with a name
    has a bookmark.

    Parameters
    ----------
    pages : sequence of Page
        At least one.
    title, author, subject : str
        Document information.
    scale : float
        Factor on everything, the sheets too, above 0 [-].

    Raises
    ------
    ValueError
        No pages, a scale or a colour out of range.
    """
    if not pages:
        raise ValueError("no pages, expected one or more")
    faces = (_font(bold=False), _font(bold=True))
    target = BytesIO()
    with _without_build_date():
        canvas = Canvas(target, invariant=1, pageCompression=0)
        canvas.setTitle(plain(title))
        canvas.setAuthor(plain(author))
        canvas.setSubject(plain(subject))
        canvas.setCreator("rigfolio")
        canvas.setViewerPreference("PrintScaling", "None")
        for number, page in enumerate(pages, start=1):
            _draw_page(canvas, scale_page(page, scale), faces, f"page-{number}")
        canvas.save()
    return target.getvalue()


@contextmanager
def _without_build_date() -> Iterator[None]:
    """Hide the variable that reportlab would let override its fixed date."""
    name = "SOURCE_DATE_EPOCH"
    kept = os.environ.pop(name, None)
    try:
        yield
    finally:
        if kept is not None:
            os.environ[name] = kept


def _font(*, bold: bool) -> str:
    """Name of the registered font; the digest keeps it apart from any other font in the process."""
    content = fonts.data(bold=bold)
    name = f"rigfolio-{'bold' if bold else 'regular'}-{sha256(content).hexdigest()[:8]}"
    if name not in pdfmetrics.getRegisteredFontNames():
        pdfmetrics.registerFont(TTFont(name, BytesIO(content)))
    return name


def _draw_page(canvas: Canvas, page: Page, faces: tuple[str, str], key: str) -> None:
    canvas.setPageSize((page.width_mm * mm, page.height_mm * mm))
    if page.name:
        canvas.bookmarkPage(key)
        canvas.addOutlineEntry(plain(page.name), key, 0)
        canvas.showOutline()
    canvas.setLineCap(0)
    canvas.setLineJoin(0)
    canvas.setMiterLimit(MITRE_LIMIT)
    for mark in flat(page.marks):
        match mark:
            case Line():
                _draw_line(canvas, mark, page.height_mm)
            case Circle():
                _draw_circle(canvas, mark, page.height_mm)
            case Text():
                _draw_text(canvas, mark, page.height_mm, faces[mark.bold])
    canvas.showPage()


def _set_pens(canvas: Canvas, pen: Pen | None, fill: str | None) -> tuple[int, int]:
    """Set colours, thickness and dashes; gives whether to stroke and whether to fill."""
    if pen is not None:
        canvas.setStrokeColorRGB(*_parts(pen.colour))
        canvas.setLineWidth(pen.width_mm * mm)
        canvas.setDash([dash * mm for dash in pen.dash_mm])
    if fill is not None:
        canvas.setFillColorRGB(*_parts(fill))
    return int(pen is not None), int(fill is not None)


def _parts(colour: str) -> tuple[float, float, float]:
    red, green, blue = rgb(colour)
    return red / 255, green / 255, blue / 255


def _draw_line(canvas: Canvas, line: Line, height_mm: float) -> None:
    if len(line.points) < 2:
        return
    stroke, fill = _set_pens(canvas, line.pen, line.fill if line.closed else None)
    path = canvas.beginPath()
    for number, (x_mm, y_mm) in enumerate(line.points):
        go = path.lineTo if number else path.moveTo
        go(x_mm * mm, (height_mm - y_mm) * mm)
    if line.closed:
        path.close()
    canvas.drawPath(path, stroke=stroke, fill=fill)


def _draw_circle(canvas: Canvas, circle: Circle, height_mm: float) -> None:
    stroke, fill = _set_pens(canvas, circle.pen, circle.fill)
    x_mm, y_mm = circle.centre
    canvas.circle(x_mm * mm, (height_mm - y_mm) * mm, circle.radius_mm * mm, stroke, fill)


def _draw_text(canvas: Canvas, text: Text, height_mm: float, face: str) -> None:
    shown = printable(text.text)
    if not shown.strip(" "):
        return
    ahead_mm = width_mm(text.text, text.size_pt, bold=text.bold) * ANCHORS[text.anchor]
    x, y = text.at[0] * mm, (height_mm - text.at[1]) * mm
    canvas.setFont(face, text.size_pt)
    canvas.setFillColorRGB(*_parts(text.colour))
    if text.turn % 360 == 0:
        canvas.drawString(x - ahead_mm * mm, y, shown)
        return
    canvas.saveState()
    canvas.translate(x, y)
    canvas.rotate(text.turn % 360)
    canvas.drawString(-ahead_mm * mm, 0, shown)
    canvas.restoreState()
