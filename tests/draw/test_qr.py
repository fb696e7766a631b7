"""Square codes as marks, read by an independent decoder off the drawn page."""

from io import BytesIO

import pypdfium2
import pytest
import zxingcpp

from rigfolio.books.trade.directory_code import code_limits
from rigfolio.draw.page import Page
from rigfolio.render.pdf import write_pdf
from rigfolio.render.qr import matrix, modules

TEXTS = ("P1 1 of 1", "Каюта 12 В, 日本語, ثلاجة, Łódź", "x" * 400)


def read(page: Page, scale: float = 3.0) -> list[zxingcpp.Barcode]:
    document = pypdfium2.PdfDocument(BytesIO(write_pdf((page,), title="t")))
    return list(zxingcpp.read_barcodes(document[0].render(scale=scale).to_pil()))


@pytest.mark.parametrize("text", TEXTS)
def test_is_read_back_off_paper(text: str) -> None:
    code = matrix(text)
    side = (len(code) + 8) * 0.8
    (found,) = read(Page(side, side, modules(code, 3.2, 3.2, 0.8)))
    assert found.text == text
    assert found.ec_level == "M"


def test_marks_cover_the_dark_modules_and_nothing_twice() -> None:
    code = matrix("P1 Galley panel")
    count = [[0] * len(code) for _ in code]
    for mark in modules(code, 0.0, 0.0, 1.0):
        (x0, y0), _, (x1, y1), _ = mark.points
        for row in range(round(y0), round(y1)):
            for column in range(round(x0), round(x1)):
                count[row][column] += 1
    assert count == [[int(dark) for dark in row] for row in code]


def test_limits_are_those_of_the_code_itself() -> None:
    """Version 20 has 97 modules a side (ISO/IEC 18004: 4 x version + 17, seen)."""
    limits = code_limits()
    side = 4 * limits.version + 17
    assert len(matrix("x" * limits.most_bytes)) == side
    assert len(matrix("x" * (limits.most_bytes + 1))) > side
    accents = "é" * (limits.most_bytes_utf_8 // 2)
    assert len(matrix(accents)) == side
    assert len(matrix(accents + "é")) > side


def test_too_much_for_any_code_is_refused() -> None:
    with pytest.raises(ValueError, match=r"too large|does not fit"):
        matrix("x" * 4000)
