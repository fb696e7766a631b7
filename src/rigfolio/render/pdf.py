"""Pages as PDF at true scale, fit for the archive (PDF/A-3b), and tagged to be read aloud.

With `pdf_code`, `pdf_font`, `pdf_root` and `pdf_tags` the only door to reportlab.

Content streams are not compressed: another build of zlib gives other bytes for the same text, and
the same text is to give the same document on any machine. They are kept short instead: colours,
pens and fonts are set only where they change. (LZW would be stable and PDF/A forbids it.)
"""

import os
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from io import BytesIO

from reportlab import rl_config
from reportlab.lib.units import mm
from reportlab.lib.utils import ImageReader
from reportlab.pdfbase import pdfdoc
from reportlab.pdfgen.canvas import Canvas

from rigfolio.draw import (
    ANCHORS,
    FIGURE,
    MITRE_LIMIT,
    Box,
    Circle,
    Group,
    Line,
    Mark,
    Page,
    Pen,
    Picture,
    Text,
    link_goals,
    link_places,
    plain,
    printable,
    scale_page,
    turn_of,
    width_mm,
)
from rigfolio.render.archive import Binding, DocumentInfo, Entry
from rigfolio.render.pdf_code import (
    FINE,
    PAINTING,
    TextRun,
    code_of,
    colour_code,
    figure,
    in_points,
    is_upright,
    place,
)
from rigfolio.render.pdf_font import EmbeddedFont, font_of
from rigfolio.render.pdf_root import hang
from rigfolio.render.pdf_tags import MarkedContent, hang_structure, lay_links
from rigfolio.render.structure import Element, Structure

_VERSION = (1, 7)
_VIEW_MM = (150.0, 110.0)
"""The least that is shown of a page where a link leads to."""
_PAGE = "page-"
"""Before the number of a page, from 1, that a link leads to."""


def write_pdf(
    pages: Sequence[Page],
    *,
    title: str,
    author: str = "",
    subject: str = "",
    scale: float = 1.0,
    binding: Binding | None = None,
) -> bytes:
    """Content of a PDF file, the same bytes for the same pages.

    Fonts are embedded, viewers are asked not to scale when printing, and every page with a name
    has a bookmark. Groups that `goes_to` names anywhere are named destinations.

    Parameters
    ----------
    pages : sequence of Page
        At least one.
    title, author, subject : str
        Document information.
    scale : float
        Factor on everything, the sheets too, above 0 [-].
    binding : Binding, optional
        Outline, attached files and keywords of a document of several sheets.

    Raises
    ------
    ValueError
        No pages, a scale or a colour out of range, a link that leads nowhere.
    """
    if not pages:
        raise ValueError("no pages, expected one or more")
    binding = binding or Binding()
    about = DocumentInfo(plain(title), plain(author), plain(subject), plain(binding.keywords))
    sheets = [page if scale == 1.0 else scale_page(page, scale) for page in pages]
    target = BytesIO()
    with _without_build_date(), _ended_streams():
        canvas = _canvas(target, font_of(bold=False))
        faces = tuple(EmbeddedFont(font_of(bold=bold), canvas) for bold in (False, True))
        targets = _targets(sheets, binding.outline)
        structure = Structure(_starts(title, binding.outline))
        for page, named in zip(sheets, _by_sheet(targets, len(sheets)), strict=True):
            _bookmarks(canvas, page, named)
            links = lay_links(canvas, page, len(structure.links), len(sheets))
            _draw(_DrawnPage(canvas, page, faces, structure), links)
        _outline(canvas, binding.outline or _by_page(sheets))
        hang(canvas, about, binding, [name for name in targets if not name.startswith(_PAGE)])
        hang_structure(canvas, structure)
        canvas.save()
    return target.getvalue()


def _draw(sheet: "_DrawnPage", links: Sequence[Group]) -> None:
    """Draw a page on which some groups can be pressed, and turn it."""
    sheet.canvas.setPageSize((sheet.page.width_mm * mm, sheet.page.height_mm * mm))
    sheet.tags.structure.begin_page(links)
    sheet.draw()
    sheet.tags.structure.end_page()
    sheet.canvas.showPage()


def _canvas(target: BytesIO, face: str) -> Canvas:
    # Where no font is named, reportlab takes one of its own that is not embedded.
    canvas = Canvas(
        target, invariant=1, pageCompression=0, pdfVersion=_VERSION, lang="en",
        initialFontName=face,  # type: ignore[arg-type]
    )  # fmt: skip
    canvas.setViewerPreference("PrintScaling", "None")
    canvas.setViewerPreference("DisplayDocTitle", "true")
    return canvas


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


@contextmanager
def _ended_streams() -> Iterator[None]:
    """Put the line end before `endstream` that ISO 19005-3, 6.1.7.1 asks for.

    The encoding of the library goes through a stream letter by letter, which none but one of other
    letters than ASCII needs.
    """
    kept: Callable[[pdfdoc.PDFStream, pdfdoc.PDFDocument], bytes] = pdfdoc.PDFStream.format

    def ended(stream: pdfdoc.PDFStream, document: pdfdoc.PDFDocument) -> bytes:
        if isinstance(stream.content, str) and stream.content.isascii():
            stream.content = stream.content.encode()
        return kept(stream, document).removesuffix(b"endstream\n") + b"\nendstream\n"

    setattr(pdfdoc.PDFStream, "format", ended)  # noqa: B010
    try:
        yield
    finally:
        setattr(pdfdoc.PDFStream, "format", kept)  # noqa: B010


def _targets(sheets: Sequence[Page], outline: Sequence[Entry]) -> Mapping[str, tuple[int, Box]]:
    """Page, from 0, and box [mm] of everything that a link or the outline leads to."""
    wanted = link_goals(sheets) | {entry.goes_to for entry in outline}
    whole = {
        f"{_PAGE}{number + 1}": (number, (0.0, 0.0, page.width_mm, page.height_mm))
        for number, page in enumerate(sheets)
    }
    found = {**link_places(sheets, wanted), **whole}
    lost = sorted(wanted - found.keys())
    if lost:
        raise ValueError(f"{len(lost)} links lead nowhere, the first one to {lost[0]!r}")
    return found


def _by_sheet(
    targets: Mapping[str, tuple[int, Box]], count: int
) -> Sequence[Sequence[tuple[str, Box]]]:
    """The names and boxes that are on each of so many pages."""
    found: list[list[tuple[str, Box]]] = [[] for _ in range(count)]
    for ident, (number, box) in targets.items():
        found[number].append((ident, box))
    return found


def _bookmarks(canvas: Canvas, page: Page, targets: Iterable[tuple[str, Box]]) -> None:
    """Name the places of the current page that links lead to."""
    high = page.height_mm
    for ident, (left, top, right, bottom) in targets:
        # A small thing is shown with what stands around it.
        x = max(0.0, _VIEW_MM[0] - (right - left)) / 2
        y = max(0.0, _VIEW_MM[1] - (bottom - top)) / 2
        sides = (left - x, high - bottom - y, right + x, high - top + y)
        low = [max(0.0, side) for side in sides[:2]]
        far = [min(sides[2], page.width_mm), min(sides[3], high)]
        x0, y0, x1, y1 = (round(side * mm, 2) for side in (*low, *far))
        canvas.bookmarkPage(ident, "FitR", left=x0, bottom=y0, right=x1, top=y1)


def _starts(title: str, outline: Sequence[Entry]) -> dict[int, str]:
    """Title of each sheet by the page, from 0, that it begins on."""
    pages = {
        int(entry.goes_to.removeprefix(_PAGE)) - 1: entry.title
        for entry in outline
        if entry.level == 0 and entry.goes_to.startswith(_PAGE)
    }
    return {0: title, **pages}


def _by_page(sheets: Sequence[Page]) -> tuple[Entry, ...]:
    return tuple(
        Entry(page.name, f"{_PAGE}{number}") for number, page in enumerate(sheets, 1) if page.name
    )


def _outline(canvas: Canvas, entries: Sequence[Entry]) -> None:
    for entry in entries:
        canvas.addOutlineEntry(plain(entry.title), entry.goes_to, entry.level, closed=True)
    if entries:
        canvas.showOutline()


class _DrawnPage:
    """One page being drawn; what is set already is not set again."""

    def __init__(
        self,
        canvas: Canvas,
        page: Page,
        faces: Sequence[EmbeddedFont],
        structure: Structure,
    ) -> None:
        self.canvas = canvas
        self.code = code_of(canvas)
        self.page = page
        self.faces = faces
        self.tags = MarkedContent(canvas, structure)
        self.pen: Pen | None = None
        self.fill = ""
        self.words: TextRun | None = None

    def draw(self) -> None:
        """Draw all marks."""
        canvas = self.canvas
        canvas.setLineCap(0)
        canvas.setLineJoin(0)
        canvas.setMiterLimit(MITRE_LIMIT)
        self.marks(self.page.marks, ())
        self.end_words()
        self.tags.close()

    def marks(self, marks: Sequence[Mark], within: tuple[Group, ...]) -> None:
        """Draw marks in their order, which stand within groups, the outermost first."""
        for mark in marks:
            match mark:
                case Line():
                    self._graphics()
                    self.line(mark)
                case Circle():
                    self._graphics()
                    self.circle(mark)
                case Text():
                    self.text(mark, within)
                case Picture():
                    if self.tags.is_in_figure:
                        self.end_words()
                        self.picture(mark)
                    else:
                        self._figure(mark.about, (mark,))
                case Group() if mark.role == FIGURE and not self.tags.is_in_figure:
                    self._figure(f"{mark.title}. {mark.about}".rstrip(". "), mark.marks)
                case Group():
                    self.marks(mark.marks, (*within, mark))

    def _figure(self, about: str, marks: Sequence[Mark]) -> None:
        """Draw marks that are read as one picture."""
        self.end_words()
        self.tags.begin_figure(about, marks)
        self.marks(marks, ())
        self.end_words()
        self.tags.end_figure()

    def _graphics(self) -> None:
        """Get ready to draw what is no word."""
        self.end_words()
        self.tags.graphics()

    def _at(self, point: tuple[float, float]) -> tuple[float, float]:
        """A point in points from the bottom left corner."""
        x_mm, y_mm = point
        return in_points(x_mm), in_points(self.page.height_mm - y_mm)

    def _set(self, pen: Pen | None, fill: str | None) -> tuple[int, int]:
        """Set colours, thickness and dashes; gives whether to stroke and whether to fill."""
        code, last = self.code, self.pen
        if pen is not None and pen != last:
            if last is None or pen.colour != last.colour:
                code.append(f"{colour_code(pen.colour)} RG")
            if last is None or pen.width_mm != last.width_mm:
                code.append(f"{figure(pen.width_mm * mm)} w")
            if last is None or pen.dash_mm != last.dash_mm:
                self.canvas.setDash([dash * mm for dash in pen.dash_mm])
            self.pen = pen
        if fill is not None and fill != self.fill:
            code.append(f"{colour_code(fill)} rg")
            self.fill = fill
        return int(pen is not None), int(fill is not None)

    def line(self, line: Line) -> None:
        """Draw a polyline; a box with upright sides in the short form."""
        if len(line.points) < 2:
            return
        how = PAINTING[self._set(line.pen, line.fill if line.closed else None)]
        if line.closed and len(line.points) == 4:
            points = [self._at(point) for point in line.points]
            if is_upright(points):
                (x0, y0), (x1, y1) = points[0], points[2]
                wide, high = figure(round(x1 - x0, FINE)), figure(round(y1 - y0, FINE))
                self.code.append(f"n {figure(x0)} {figure(y0)} {wide} {high} re {how}")
                return
        high_mm = self.page.height_mm
        corners = " l ".join([f"{place(x)} {place(high_mm - y)}" for x, y in line.points])
        first, _, rest = corners.partition(" l ")
        self.code += (f"n {first} m {rest} l{' h' * line.closed}", how)

    def circle(self, circle: Circle) -> None:
        """Draw a circle."""
        stroke, fill = self._set(circle.pen, circle.fill)
        x, y = self._at(circle.centre)
        self.canvas.circle(x, y, circle.radius_mm * mm, stroke=stroke, fill=fill)

    def picture(self, picture: Picture) -> None:
        """Draw a photograph."""
        left, top = picture.at
        x, y = self._at((left, top + picture.height_mm))
        size = (picture.width_mm * mm, picture.height_mm * mm)
        written, rl_config.useA85 = rl_config.useA85, 0
        try:
            # As bytes, not as letters: those take seconds and a quarter more room.
            self.canvas.drawImage(ImageReader(BytesIO(picture.content)), x, y, *size)
        finally:
            rl_config.useA85 = written

    def text(self, text: Text, within: Sequence[Group]) -> None:
        """Draw a line of text, which stands within groups; neighbours share what it begins with."""
        shown = printable(text.text)
        if not shown.strip(" "):
            return
        x_mm, y_mm = text.at
        cosine, sine = turn_of(text)
        if text.anchor != "start":
            wide_mm = width_mm(text.text, text.size_pt, bold=text.bold)
            ahead_mm = wide_mm * ANCHORS[text.anchor]
            x_mm, y_mm = x_mm - ahead_mm * cosine, y_mm + ahead_mm * sine
        x, y = place(x_mm), place(self.page.height_mm - y_mm)
        element = self.tags.belongs(text, within)
        if text.colour != self.fill or self.tags.interrupts(element):
            self.end_words()
            self._set(None, text.colour)
        words = self._words(x, y, element)
        if text.turn % 360:
            words.turn(cosine, sine, x, y)
        words.set(self.faces[text.bold], text.size_pt)
        self.tags.write(words, shown)

    def _words(self, x: str, y: str, element: Element | None) -> TextRun:
        """The run of words that is open, or a new one, come to a point and to an element."""
        words = self.words
        if words is not None:
            self.tags.word(element, words)
            words.go_to(x, y)
            return words
        if self.tags.interrupts(element):
            self.tags.close()
        words = self.words = TextRun()
        words.go_to(x, y)
        self.tags.word(element, words)
        return words

    def end_words(self) -> None:
        """Let what is drawn next come after the texts before it."""
        if self.words is not None:
            self.tags.end_words(self.words)
            self.code.append(self.words.ended())
        self.words = None
