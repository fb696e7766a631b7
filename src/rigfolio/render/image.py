"""Pages as PNG for screens and for looking at; the only door to pillow.

Everything is drawn enlarged and reduced afterwards, because pillow draws shapes without
smoothing.
"""

from functools import lru_cache
from io import BytesIO
from math import ceil, cos, hypot, pi, sin

from PIL import Image, ImageDraw, ImageFont
from PIL.PngImagePlugin import PngInfo

from rigfolio.draw import (
    ANCHORS,
    Circle,
    Line,
    Page,
    Pen,
    Picture,
    Point,
    Text,
    dashes,
    flat,
    font_data,
    font_face,
    ink_mm,
    outlines,
    printable,
    rgb,
    upright_box,
    width_mm,
)
from rigfolio.render.archive import MAKER

LARGEST_PIXELS = 20_000_000

_FINE_PIXELS = 4_000_000
_MM_PER_INCH = 25.4
_SEGMENTS = 96
_INKED = 140


def write_png(page: Page, dpi: int = 200) -> bytes:
    """Content of a PNG file.

    Parameters
    ----------
    page : Page
        What to draw.
    dpi : int
        Pixels per inch, above 0; kept in the file.

    Raises
    ------
    ValueError
        A resolution that is not above 0, more than `LARGEST_PIXELS`, or a colour out of form.
    """
    if dpi <= 0:
        raise ValueError(f"{dpi} pixels per inch, expected a number above 0")
    wide = max(1, round(page.width_mm / _MM_PER_INCH * dpi))
    high = max(1, round(page.height_mm / _MM_PER_INCH * dpi))
    if wide * high > LARGEST_PIXELS:
        raise ValueError(
            f"page {page.width_mm:g} x {page.height_mm:g} mm at {dpi} dpi is {wide} x {high} = "
            f"{wide * high} pixels, at most {LARGEST_PIXELS} can be drawn"
        )
    times = 3 if wide * high <= _FINE_PIXELS else 2
    drawing = _Bitmap((wide * times, high * times), dpi * times / _MM_PER_INCH)
    for mark in flat(page.marks):
        match mark:
            case Line():
                drawing.line(mark)
            case Circle():
                drawing.circle(mark)
            case Text():
                drawing.text(mark)
            case Picture():
                drawing.picture(mark)
    target = BytesIO()
    small = drawing.image.reduce(times)
    small.save(target, "PNG", dpi=(dpi, dpi), compress_level=3, pnginfo=_signed())
    return target.getvalue()


def write_bitmap(page: Page, dpi: int) -> bytes:
    """Content of a PNG file of black and white dots, as many as the printer has.

    Parameters
    ----------
    page : Page
        What to draw.
    dpi : int
        Dots per inch, above 0; kept in the file.

    Raises
    ------
    ValueError
        As in `write_png`.
    """
    with Image.open(BytesIO(write_png(page, dpi))) as grey:
        dots = grey.convert("L").point(lambda shade: 255 if shade > _INKED else 0, mode="1")
    target = BytesIO()
    dots.save(target, "PNG", dpi=(dpi, dpi), compress_level=3, pnginfo=_signed())
    return target.getvalue()


def _signed() -> PngInfo:
    """What a picture says of itself."""
    said = PngInfo()
    said.add_text("Software", MAKER)
    return said


@lru_cache(maxsize=64)
def _font(size_px: float, *, bold: bool) -> ImageFont.FreeTypeFont:
    content = BytesIO(font_data(bold=bold))
    return ImageFont.truetype(content, size_px, layout_engine=ImageFont.Layout.BASIC)


class _Bitmap:
    """An enlarged bitmap; `ppmm` is its pixels per millimetre."""

    def __init__(self, size: tuple[int, int], ppmm: float) -> None:
        self.image = Image.new("RGB", size, "#ffffff")
        self.canvas = ImageDraw.Draw(self.image)
        self.ppmm = ppmm

    def line(self, line: Line) -> None:
        """Draw a polyline or a polygon."""
        points = tuple((x * self.ppmm, y * self.ppmm) for x, y in line.points)
        if line.closed and line.fill is not None and len(points) > 2:
            self._polygon(points, line.fill)
        if line.pen is not None:
            self._stroke(points, line.pen, closed=line.closed)

    def circle(self, circle: Circle) -> None:
        """Draw a circle; its pen as a ring of segments."""
        radius = circle.radius_mm * self.ppmm
        x, y = circle.centre[0] * self.ppmm, circle.centre[1] * self.ppmm
        if circle.fill is not None:
            box = (x - radius - 0.5, y - radius - 0.5, x + radius - 0.5, y + radius - 0.5)
            self.canvas.ellipse(box, fill=rgb(circle.fill))
        if circle.pen is not None:
            turns = [2 * pi * step / _SEGMENTS for step in range(_SEGMENTS)]
            path = tuple((x + radius * cos(turn), y + radius * sin(turn)) for turn in turns)
            self._stroke(path, circle.pen, closed=True)

    def picture(self, picture: Picture) -> None:
        """Put a photograph in its box."""
        wide = max(1, round(picture.width_mm * self.ppmm))
        high = max(1, round(picture.height_mm * self.ppmm))
        with Image.open(BytesIO(picture.content)) as photo:
            shown = photo.convert("RGB").resize((wide, high), Image.Resampling.BILINEAR)
        self.image.paste(
            shown, (round(picture.at[0] * self.ppmm), round(picture.at[1] * self.ppmm))
        )

    def text(self, text: Text) -> None:
        """Draw one line of text letter by letter, each at its exact place."""
        shown = printable(text.text)
        if not shown.strip(" "):
            return
        colour = rgb(text.colour)
        font = _font(text.size_pt * _MM_PER_INCH / 72 * self.ppmm, bold=text.bold)
        x, y = (place * self.ppmm for place in text.at)
        ahead = width_mm(text.text, text.size_pt, bold=text.bold) * ANCHORS[text.anchor]
        if text.turn % 360 == 0:
            self._letters(self.canvas, (x - ahead * self.ppmm, y), text, font)
            return
        mask, base = self._turned(text, font, ahead * self.ppmm, (x, y))
        self.image.paste(colour, base, mask)

    def _letters(
        self, canvas: ImageDraw.ImageDraw, at: Point, text: Text, font: ImageFont.FreeTypeFont
    ) -> None:
        advances = font_face(bold=text.bold)
        ink = rgb(text.colour) if canvas.mode == "RGB" else 255
        em = text.size_pt * _MM_PER_INCH / 72 * self.ppmm / advances.units_per_em
        x = at[0]
        for letter in printable(text.text):
            if letter != " ":
                canvas.text((x, at[1]), letter, fill=ink, font=font, anchor="ls")
            x += advances.advances[ord(letter)] * em

    def _turned(
        self, text: Text, font: ImageFont.FreeTypeFont, ahead: float, at: Point
    ) -> tuple[Image.Image, tuple[int, int]]:
        """Mask of a turned text and its corner on the bitmap."""
        wide = width_mm(text.text, text.size_pt, bold=text.bold) * self.ppmm
        above, below = ink_mm(text.text, text.size_pt, bold=text.bold)
        high = max(above, below) * self.ppmm
        reach = ceil(hypot(max(ahead, wide - ahead), high)) + 2
        side = 2 * reach + 1
        mask = Image.new("L", (side, side), 0)
        self._letters(ImageDraw.Draw(mask), (reach + 0.5 - ahead, reach + 0.5), text, font)
        middle = (reach + 0.5, reach + 0.5)
        mask = mask.rotate(text.turn, Image.Resampling.BICUBIC, center=middle)
        return mask, (round(at[0] - middle[0]), round(at[1] - middle[1]))

    def _stroke(self, points: tuple[Point, ...], pen: Pen, *, closed: bool) -> None:
        """Draw a thick line, at least one pixel of the enlarged bitmap."""
        width = max(1.0, pen.width_mm * self.ppmm)
        if not pen.dash_mm:
            pieces = [(points, closed)]
        else:
            lengths = tuple(dash * self.ppmm for dash in pen.dash_mm)
            pieces = [(piece, False) for piece in dashes(points, lengths, closed=closed)]
        for piece, is_ring in pieces:
            for polygon in outlines(piece, width, closed=is_ring):
                self._polygon(polygon, pen.colour)

    def _polygon(self, points: tuple[Point, ...], colour: str) -> None:
        """Fill a polygon; an upright rectangle to the very pixel, and never without ink."""
        box = upright_box(points)
        if box is None:
            self.canvas.polygon([(x - 0.5, y - 0.5) for x, y in points], fill=rgb(colour))
            return
        left, top, right, bottom = (round(side) for side in box)
        corners = (left, top, max(left, right - 1), max(top, bottom - 1))
        self.canvas.rectangle(corners, fill=rgb(colour))
