"""The PDF read back by other libraries: places, text, fonts, bookmarks, bytes."""

import os
import subprocess
import sys
from io import BytesIO
from pathlib import Path

import pdfplumber
import pypdf
import pytest

from helpers.home import environment
from rigfolio.draw.lettering import printable
from rigfolio.draw.page import MM_PER_PT, Line, Page, Pen, Text, rect
from rigfolio.render.pdf import write_pdf

BUILD = """
import sys, hashlib
from helpers.sample_page import sample_page
from rigfolio.render.image import write_png
from rigfolio.render.pdf import write_pdf
from rigfolio.render.svg import write_svg
page = sample_page()
pdf = write_pdf((page, page), title="Wren", author="a", subject="s")
for made in (pdf, write_svg(page).encode(), write_png(page, 60)):
    sys.stdout.write(hashlib.sha256(made).hexdigest() + "\\n")
"""


def test_rectangle_is_where_and_as_large_as_told(page: Page) -> None:
    with pdfplumber.open(BytesIO(write_pdf((page,), title="t"))) as pdf:
        sheet = pdf.pages[0]
        assert float(sheet.width) * MM_PER_PT == pytest.approx(279.4, abs=0.001)
        assert float(sheet.height) * MM_PER_PT == pytest.approx(215.9, abs=0.001)
        label = sheet.rects[0]
    read = [label[side] * MM_PER_PT for side in ("x0", "top", "width", "height")]
    assert read == pytest.approx([20.0, 30.0, 25.4, 9.0], abs=0.01)


@pytest.mark.parametrize("scale", [0.5, 1.5])
def test_scale_reaches_sheet_and_marks(page: Page, scale: float) -> None:
    with pdfplumber.open(BytesIO(write_pdf((page,), title="t", scale=scale))) as pdf:
        assert float(pdf.pages[0].width) * MM_PER_PT == pytest.approx(279.4 * scale, abs=0.001)
        label = pdf.pages[0].rects[0]
    assert label["width"] * MM_PER_PT == pytest.approx(25.4 * scale, abs=0.01)


def test_text_is_read_back_at_its_baseline(page: Page) -> None:
    with pdfplumber.open(BytesIO(write_pdf((page,), title="t"))) as pdf:
        words = pdf.pages[0].extract_text()
        letter = next(char for char in pdf.pages[0].chars if char["text"] == "1")
    assert "16 AWG rd/bk" in words
    assert "Galley lamp" in words
    assert letter["matrix"][4] * MM_PER_PT == pytest.approx(140, abs=0.01)
    assert 215.9 - letter["matrix"][5] * MM_PER_PT == pytest.approx(42, abs=0.01)


def test_both_fonts_are_embedded(page: Page) -> None:
    reader = pypdf.PdfReader(BytesIO(write_pdf((page,), title="t")))
    fonts = reader.pages[0]["/Resources"]["/Font"]
    embedded = {
        font["/BaseFont"].split("+")[1]
        for font in (entry.get_object() for entry in fonts.values())
        if "/FontDescriptor" in font and "/FontFile2" in font["/FontDescriptor"]
    }
    assert embedded == {"RigfolioSans-Regular", "RigfolioSans-Bold"}


def test_information_bookmarks_and_print_scaling(page: Page) -> None:
    pages = (page, Page(100, 100, ()), Page(50, 60, (), "Second"))
    made = write_pdf(pages, title="Wren", author="me", subject="panel")
    reader = pypdf.PdfReader(BytesIO(made))
    assert reader.metadata is not None
    assert (reader.metadata.title, reader.metadata.author) == ("Wren", "me")
    assert reader.metadata.subject == "panel"
    assert [entry.title for entry in reader.outline] == ["Sample", "Second"]
    assert [reader.get_destination_page_number(entry) for entry in reader.outline] == [0, 2]
    assert reader.root_object["/ViewerPreferences"]["/PrintScaling"] == "/None"
    assert len(reader.pages) == 3


def test_lines_are_mitred_with_square_ends_and_dashed() -> None:
    line = Line(((10, 10), (30, 10), (30, 30)), Pen(1.0, dash_mm=(2.0, 1.0)))
    made = write_pdf((Page(50, 50, (line, rect(5, 5, 2, 2))),), title="t")
    stream = pypdf.PdfReader(BytesIO(made)).pages[0].get_contents()
    assert stream is not None
    words = stream.get_data().decode("latin-1")
    assert "0 J" in words
    assert "0 j" in words
    assert "[5.669291 2.834646] 0 d" in words
    assert "[] 0 d" in words


def test_hostile_text_stays_text(hostile: str) -> None:
    page = Page(200, 50, (Text((10, 20), hostile, 8), Text((10, 40), "after", 8)), hostile)
    made = write_pdf((page,), title=hostile, author=hostile, subject=hostile)
    with pdfplumber.open(BytesIO(made)) as pdf:
        read = "".join(char["text"] for char in pdf.pages[0].chars)
    assert read == printable(hostile) + "after"
    assert len(pypdf.PdfReader(BytesIO(made)).outline) == 1


def test_same_bytes_in_any_process(tmp_path: Path) -> None:
    outputs = []
    for seed, date in (("1", None), ("2", "1700000000"), ("3", None)):
        surroundings = environment(PYTHONHASHSEED=seed)
        surroundings.pop("SOURCE_DATE_EPOCH", None)
        if date is not None:
            surroundings["SOURCE_DATE_EPOCH"] = date
        outputs.append(
            subprocess.run(
                [sys.executable, "-B", "-c", BUILD],
                env=surroundings,
                cwd=tmp_path,
                capture_output=True,
                text=True,
                check=True,
            ).stdout
        )
    assert outputs[0].count("\n") == 3
    assert outputs[0] == outputs[1] == outputs[2]


def test_build_date_is_put_back(page: Page, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("SOURCE_DATE_EPOCH", raising=False)
    first = write_pdf((page,), title="t")
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1700000000")
    assert write_pdf((page,), title="t") == first
    assert os.environ["SOURCE_DATE_EPOCH"] == "1700000000"


def test_needs_pages_and_known_colours() -> None:
    with pytest.raises(ValueError, match="no pages"):
        write_pdf((), title="t")
    with pytest.raises(ValueError, match="#rrggbb"):
        write_pdf((Page(50, 50, (rect(1, 1, 2, 2, fill="red"),)),), title="t")
