"""The PNG: size, places of ink, and likeness with the PDF drawn by another program."""

from io import BytesIO

import pypdfium2
import pytest
from PIL import Image, ImageChops, ImageStat

from rigfolio.draw.page import Circle, Line, Page, Pen, Text, rect
from rigfolio.render.image import LARGEST_PIXELS, write_png
from rigfolio.render.pdf import write_pdf


def open_png(content: bytes) -> Image.Image:
    return Image.open(BytesIO(content))


def ink_box(page: Page, dpi: int = 254) -> list[float]:
    """Left, top, right and bottom of all that is darker than half grey [mm]."""
    grey = open_png(write_png(page, dpi)).convert("L")
    box = grey.point(lambda value: 255 if value < 128 else 0).getbbox()
    assert box is not None
    return [side * 25.4 / dpi for side in box]


def test_size_and_resolution(page: Page) -> None:
    image = open_png(write_png(page, 150))
    assert image.size == (1650, 1275)
    assert image.info["dpi"] == pytest.approx((150, 150), abs=0.02)


@pytest.mark.parametrize(
    ("mark", "box"),
    [
        (rect(10, 5, 25.4, 9, pen=None, fill="#000000"), (10, 5, 35.4, 14)),
        (rect(10, 5, 25.4, 9, pen=Pen(2)), (9, 4, 36.4, 15)),
        (Line(((10, 10), (30, 10), (30, 20)), Pen(2)), (10, 9, 31, 20)),
        (Line(((10, 10), (30, 10)), Pen(1, dash_mm=(4, 4))), (10, 9.5, 30, 10.5)),
        (Circle((20, 15), 8, Pen(1)), (11.5, 6.5, 28.5, 23.5)),
        (Circle((20, 15), 8, None, "#000000"), (12, 7, 28, 23)),
    ],
)
def test_ink_is_where_told(mark: Line | Circle, box: tuple[float, ...]) -> None:
    assert ink_box(Page(60, 30, (mark,))) == pytest.approx(box, abs=0.11)


@pytest.mark.parametrize("turn", [0.0, 90.0, 180.0, 270.0, 30.0])
@pytest.mark.parametrize("anchor", ["start", "middle", "end"])
def test_text_is_where_the_pdf_has_it(turn: float, anchor: str) -> None:
    """Source: the PDF of the same page as drawn by PDFium."""
    page = Page(60, 60, (Text((30, 30), "Wag 14", 20, anchor, turn=turn),))
    made = pypdfium2.PdfDocument(write_pdf((page,), title="t"))[0].render(scale=254 / 72)
    grey = made.to_pil().convert("L").point(lambda value: 255 if value < 128 else 0)
    box = grey.getbbox()
    assert box is not None
    assert ink_box(page) == pytest.approx([side / 10 for side in box], abs=0.21)


def test_page_looks_like_its_pdf(page: Page) -> None:
    """Source: the PDF of the same page as drawn by PDFium."""
    ours = open_png(write_png(page, 100)).convert("L")
    made = pypdfium2.PdfDocument(write_pdf((page,), title="t"))[0].render(scale=100 / 72)
    theirs = made.to_pil().convert("L")
    assert ours.size == theirs.size
    small = [image.reduce(4) for image in (ours, theirs)]
    difference = ImageChops.difference(*small)
    assert ImageStat.Stat(difference).mean[0] < 0.5
    assert ImageStat.Stat(small[1]).stddev[0] > 10


def test_hostile_text_is_drawn(hostile: str) -> None:
    assert ink_box(Page(80, 20, (Text((2, 10), hostile, 8), Text((2, 18), hostile, 8, turn=5))))


def test_too_large_is_an_error_with_sizes() -> None:
    with pytest.raises(ValueError, match=f"11811 x 11811 = 139499721 .* {LARGEST_PIXELS}"):
        write_png(Page(1000, 1000, ()), 300)
    with pytest.raises(ValueError, match="above 0"):
        write_png(Page(10, 10, ()), 0)


def test_large_pages_within_the_limit_are_drawn() -> None:
    image = open_png(write_png(Page(297, 420, (rect(10, 10, 20, 20),)), 200))
    assert image.size == (2339, 3307)
