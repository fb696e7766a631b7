"""Labels on cut sheets and on tape, and the page that measures a printer: all at true scale."""

import io
import sys
from itertools import pairwise
from pathlib import Path

# Test modules are imported by path, so a module beside them has to be pointed out.
sys.path.append(str(Path(__file__).parent))

import pdfplumber
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image
from rigs_for_labels import FEW, NAMES, off_paper, panel_of, words

from rigfolio.app import check
from rigfolio.app import job_of as job_of_result
from rigfolio.books.label_stock import label_sheets, tape
from rigfolio.cli import main
from rigfolio.draw.fit import ANCHORS, overlaps, width_mm
from rigfolio.draw.page import Group, texts
from rigfolio.draw.pdf import write_pdf
from rigfolio.record import replace
from rigfolio.sheets import label_sheet, label_tape, print_check
from rigfolio.study.job import Wish

EXAMPLES = Path(__file__).parents[2] / "examples"
WREN = EXAMPLES / "marsh-wren-17.rig"
MM = 25.4 / 72.0


def job(name: str = "marsh-wren-17.rig"):
    return job_of_result(check(str(EXAMPLES / name)))


def outside(page):
    """Texts that leave the page, which here has no margin."""
    return [
        text.text
        for text in texts(page)
        if not (
            text.at[0]
            - width_mm(text.text, text.size_pt, bold=text.bold) * ANCHORS[text.anchor]
            + 1e-6
            >= 0.0
            and text.at[0]
            + width_mm(text.text, text.size_pt, bold=text.bold) * (1.0 - ANCHORS[text.anchor])
            <= page.width_mm + 1e-6
            and 0.0 <= text.at[1] <= page.height_mm
        )
    ]


def groups(pages):
    return [mark for page in pages for mark in page.marks if isinstance(mark, Group)]


@pytest.mark.parametrize("stock", label_sheets(), ids=lambda stock: stock.name)
@pytest.mark.parametrize("start", [1, 4])
def test_every_label_lies_within_its_own(stock, start):
    pages = label_sheet.pages(replace(job(), wish=Wish(stock=stock, start=start)))
    found = groups(pages)
    assert len(found) == 14
    for page in pages:
        assert overlaps(page) == ()
        assert outside(page) == []
        assert min(text.size_pt for text in texts(page)) >= 4.0
    content = write_pdf(pages, title="labels")
    with pdfplumber.open(io.BytesIO(content)) as pdf:
        letters = pdf.pages[0].chars
        assert letters
        for letter in letters:
            x, y = letter["x0"] * MM - stock.first_mm[0], letter["top"] * MM - stock.first_mm[1]
            across, down = x % stock.pitch_mm[0], y % stock.pitch_mm[1]
            assert across <= stock.label_mm[0] + 0.1
            assert down <= stock.label_mm[1] + 0.1
    first = min(letter["x0"] + 1000 * round(letter["top"]) for letter in letters)
    assert first > 0


def test_a_used_sheet_begins_where_it_is_told():
    stock = next(one for one in label_sheets() if one.name == "letter-3x10")
    fresh = label_sheet.pages(replace(job(), wish=Wish(stock=stock)))
    used = label_sheet.pages(replace(job(), wish=Wish(stock=stock, start=5)))
    one, other = (texts(pages[0])[1].at for pages in (fresh, used))
    # The fifth label: second row, second column.
    assert other[0] - one[0] == pytest.approx(stock.pitch_mm[0])
    assert other[1] - one[1] == pytest.approx(stock.pitch_mm[1])


@pytest.mark.parametrize("wide", tape().width_mm)
@pytest.mark.parametrize("dpi", tape().dpi)
def test_a_tape_has_exactly_as_many_dots(wide, dpi, tmp_path):
    command = ["labels", str(WREN), "--form", "tape", "--tape", f"{wide:g}", "--dpi", f"{dpi:g}"]
    assert main([*command, "--only", "P1.1,P1.2", "-o", f"{tmp_path}/"]) == 0
    with Image.open(tmp_path / "label-tape.png") as picture:
        assert picture.mode == "1"
        assert picture.height == round(wide / 25.4 * dpi)
        pages = label_tape.pages(replace(job(), wish=Wish(tape_mm=wide, only=frozenset(
            {"P1.1", "P1.2"}))))  # fmt: skip
        assert picture.width == round(pages[0].width_mm / 25.4 * dpi)
        assert picture.getextrema() == (0, 255)
    with pdfplumber.open(tmp_path / "label-tape.pdf") as pdf:
        assert float(pdf.pages[0].height) * MM == pytest.approx(wide, abs=0.1)


def test_every_circuit_is_on_the_tape():
    seen = words(label_tape.pages(job()))
    for circuit in job().rig.circuits:
        assert all(word in seen for word in circuit.label.split())


@pytest.mark.parametrize(
    ("words_", "said"),
    [
        (["--form", "sheet", "--stock", "nothing"], "is no sheet of labels"),
        (
            ["--form", "sheet", "--stock", "9 x 10 of 66.7 x 25.4 mm, first at 4.8 x 12.7 mm, "
             "every 69.9 x 25.4 mm, letter"],
            "do not fit on `letter`",
        ),
        (["--form", "tape", "--tape", "13"], "no tape is 13 mm wide"),
        (["--form", "tape", "--dpi", "200"], "`--dpi 200`"),
    ],
)  # fmt: skip
def test_what_there_is_not(words_, said, tmp_path, capsys):
    assert main(["labels", str(WREN), *words_, "-o", f"{tmp_path}/"]) == 2
    assert said in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_a_sheet_that_was_described(tmp_path):
    stock = "2 x 5 of 90 x 50 mm, first at 10 x 10 mm, every 95 x 55 mm, a4"
    out = tmp_path / "labels.pdf"
    assert main(["labels", str(WREN), "--form", "sheet", "--stock", stock, "-o", str(out)]) == 0
    with pdfplumber.open(out) as pdf:
        assert len(pdf.pages) == 2
        assert float(pdf.pages[0].width) * MM == pytest.approx(210.0, abs=0.1)


def test_the_ruler_and_the_box_measure_a_hundred_millimetres(tmp_path):
    out = tmp_path / "rulers.pdf"
    assert main(["rulers", "--paper", "a4", "-o", str(out)]) == 0
    with pdfplumber.open(out) as pdf:
        page = pdf.pages[0]
        box = next(r for r in page.rects if abs(r["width"] * MM - 100.25) < 0.2)
        assert box["height"] * MM == pytest.approx(100.25, abs=0.1)
        (line,) = [one for one in page.lines if abs(one["width"] * MM - 150.0) < 0.1]
        ticks = sorted(
            one["x0"] * MM
            for one in page.lines
            if abs(one["width"]) < 0.1
            and abs(one["height"] * MM - 2.8) < 0.05
            and abs(one["bottom"] - line["bottom"]) < 0.5
        )
        tens = [b - a for a, b in pairwise(ticks)]
        assert tens
        assert tens == pytest.approx([10.0] * len(tens), abs=0.1)


def test_the_page_of_rulers_has_no_overlaps():
    (page,) = print_check.pages(None)
    assert overlaps(page) == ()
    assert off_paper(page) == []


@FEW
@given(slots=st.integers(1, 60), names=st.lists(NAMES, min_size=1, max_size=8))
def test_any_names_fit(slots, names):
    made = panel_of(slots, names * 8, paper="a4")
    for module in (label_sheet, label_tape):
        pages = module.pages(made)
        assert len({mark.ident for mark in groups(pages)}) == slots
        for page in pages:
            assert overlaps(page) == ()
            assert outside(page) == []
