"""Labels on cut sheets and on tape: at true scale, and nothing of them lost."""

import io
import re
from pathlib import Path

import pdfplumber
import pytest
from hypothesis import given, strategies as st
from PIL import Image

from helpers.home import EXAMPLES
from helpers.label_rigs import FEW, NAMES, panel_of
from helpers.page_checks import overlaps
from helpers.studies import checked, job_from
from rigfolio import judgement
from rigfolio.books.trade.label_stock import label_sheets, tape
from rigfolio.cli.entry import main
from rigfolio.draw.extents import text_box
from rigfolio.draw.page import Group, Line, Page, flat, texts
from rigfolio.job import Wish
from rigfolio.record import replace
from rigfolio.render.pdf import write_pdf
from rigfolio.sheets import label_sheet, label_tape, tape_strip

WREN = EXAMPLES / "marsh-wren-17.rig"
MM = 25.4 / 72.0


def job(name: str = "marsh-wren-17.rig"):
    return job_from(EXAMPLES / name)


@pytest.fixture(autouse=True)
def _judged_once(monkeypatch):
    """Commands take an example as it was read and judged once: what they make of it is tried."""
    monkeypatch.setattr(judgement, "check", lambda file, book: checked(Path(file)))


def outside(page):
    """Texts that leave the page, which here has no margin."""
    return [
        text.text for text in texts(page)
        if not (
            min(text_box(text)[:2]) >= -1e-6
            and text_box(text)[2] <= page.width_mm + 1e-6
            and text_box(text)[3] <= page.height_mm + 1e-6
        )
    ]  # fmt: skip


def said(pages):
    """What stands on labels and notes, line after line, each label by itself."""
    lines = (
        " ".join(text.text for text in texts(Page(1.0, 1.0, group.marks)))
        for group in groups(pages)
    )
    return " | ".join(lines).replace("\N{NO-BREAK SPACE}", " ")


def squeezed(words):
    """Words without their blanks, which a line break or the end of a label may stand for."""
    return re.sub(r"\s|\| \[\d+\]", "", words)


def groups(pages):
    return [mark for page in pages for mark in page.marks if isinstance(mark, Group)]


@pytest.mark.parametrize("stock", label_sheets(), ids=lambda stock: stock.name)
@pytest.mark.parametrize("start", [1, 4])
def test_every_label_lies_within_its_own(stock, start):
    pages = label_sheet.pages(replace(job(), wish=Wish(stock=stock, start=start)))
    found = [group for group in groups(pages) if group.ident.startswith("label-")]
    # Twelve slots, and ten fuses, switches and plugs outside the panel.
    assert len(found) == 22
    for page in pages:
        assert overlaps(page) == ()
        assert outside(page) == []
        assert min(text.size_pt for text in texts(page)) >= 5.5
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


@pytest.mark.parametrize("form", ["tape", "tape-strip"])
@pytest.mark.parametrize("wide", tape().width_mm)
@pytest.mark.parametrize("dpi", tape().dpi)
def test_a_tape_has_exactly_as_many_dots(form, wide, dpi, tmp_path):
    command = ["labels", str(WREN), "--form", form, "--tape", f"{wide:g}", "--dpi", f"{dpi:g}"]
    assert main([*command, "--only", "P1.1,P1.2", "-o", f"{tmp_path}/"]) == 0
    name = "label-tape" if form == "tape" else "tape-strip"
    with pdfplumber.open(tmp_path / f"{name}.pdf") as pdf:
        long_mm = float(pdf.pages[0].width) * MM
        assert float(pdf.pages[0].height) * MM == pytest.approx(wide, abs=0.1)
        inked = [float(mark[at]) * MM for mark in (*pdf.pages[0].chars, *pdf.pages[0].lines)
                 for at in ("top", "bottom")]  # fmt: skip
        assert inked
        # A blank edge of 1 mm at least, and no more than 18 mm of print.
        assert min(inked) >= max(1.0, (wide - 18.0) / 2) - 0.05
        assert max(inked) <= wide - max(1.0, (wide - 18.0) / 2) + 0.05
    with Image.open(tmp_path / f"{name}.png") as picture:
        assert picture.mode == "1"
        assert picture.height == int(min(wide - 2.0, 18.0) / 25.4 * dpi)
        assert picture.width == pytest.approx(long_mm / 25.4 * dpi, abs=1.0)
        assert picture.getextrema() == (0, 255)


def test_a_print_head_of_its_own_dots(tmp_path):
    command = ["labels", str(WREN), "--form", "tape", "--only", "P1.3", "-o", f"{tmp_path}/"]
    assert main([*command, "--tape", "12", "--dots", "64"]) == 0
    with Image.open(tmp_path / "label-tape.png") as picture:
        assert picture.height == 64


def test_a_tape_strip_has_the_pitch_of_the_panel(tmp_path):
    out = tmp_path / "strip.pdf"
    command = ["labels", str(WREN), "--form", "tape-strip", "--tape", "24", "-o", str(out)]
    assert main(command) == 0
    with pdfplumber.open(out) as pdf:
        page = pdf.pages[0]
        ticks = sorted({round(float(one["x0"]) * MM, 2) for one in page.lines})
        first = [tick for tick in ticks if tick <= 12 * 14 + 1]
        assert first == pytest.approx([14.0 * place for place in range(13)], abs=0.1)
        upright = [letter for letter in page.chars if letter["x0"] * MM < 12 * 14]
        assert upright
        assert not any(letter["upright"] for letter in upright)


@pytest.mark.parametrize("wide", tape().width_mm)
def test_nothing_is_lost_on_a_narrow_tape(wide):
    names = ("Reading lamps above the two forward bunks, port side", "Pump")
    made = replace(panel_of(6, names, columns=2), wish=Wish(tape_mm=wide))
    for module in (label_tape, tape_strip):
        pages = module.pages(made)
        seen = said(pages)
        assert len(pages) == (2 if module is tape_strip else len(pages))
        for name in names:
            assert name in seen
        for page in pages:
            assert overlaps(page) == ()
            assert min(text.size_pt for text in texts(page)) >= 5.5


def test_a_tape_says_no_colour_that_it_cannot_print():
    for module in (label_tape, tape_strip):
        for page in module.pages(job()):
            fills = {mark.fill for mark in flat(page.marks) if isinstance(mark, Line)}
            assert fills <= {None, "#000000"}


def test_every_circuit_is_on_the_tape():
    seen = said(label_tape.pages(job()))
    for circuit in job().rig.circuits:
        assert circuit.label in seen
    for device in ("F1 Battery fuse 50 A fuse", "S1 Battery disconnect 100 A disconnect"):
        assert device in seen


def test_notes_of_tape_strips_are_numbered_through_and_shorten_names_by_whole_words():
    boat = job("kittiwake-30.rig")
    pages = tape_strip.pages(boat)
    assert len(pages) == 3
    notes = [group for group in groups(pages) if group.ident.startswith("note-")]
    assert [group.ident for group in notes] == [f"note-{n}" for n in range(1, len(notes) + 1)]
    names = {circuit.label for circuit in boat.rig.circuits}
    for group in groups(pages):
        if group.ident.startswith("label-"):
            shown = " ".join(text.text for text in texts(Page(1.0, 1.0, group.marks)))
            for cut in re.findall(r"([^ ]+)…", shown):
                assert any(cut.rstrip(",;:") in re.split(r"[ ,;:]+", name) for name in names)


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
        (["--form", "tape", "--dpi", "0"], "`--dpi 0`"),
        (["--form", "tape", "--dots", "900"], "25 to 85 dots of 180 an inch"),
        (["--form", "tape", "--measured", "98"], "for printers of paper"),
        (["--form", "tape", "--paper", "a4"], "means nothing on tape"),
        (["--form", "sheet", "--start", "0"], "count from 1"),
        (["--form", "sheet", "--start", "31"], "count from 1 to 30"),
        (["--form", "sheet", "--stock", "a4-3x7", "--paper", "letter"], "a sheet of a4"),
        (["--stock", "a4-3x7"], "`--stock` means nothing with `--form strip`"),
        (["--tape", "12"], "`--tape` means nothing with `--form strip`"),
        (["--form", "sheet", "--dpi", "180"], "`--dpi` means nothing with `--form sheet`"),
        (["--form", "sheet", "--stock", "9 x 40 of 12 x 6 mm, first at 10 x 10 mm, "
          "every 13 x 6.5 mm, letter"], "smaller than 20 x 8 mm"),
        (["--only", "W1"], "no label belongs to `W1`"),
        (["--form", "tape-strip", "--only", "F1"], "no label belongs to `F1`"),
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
        assert len(pdf.pages) == 3
        assert float(pdf.pages[0].width) * MM == pytest.approx(210.0, abs=0.1)


LONG = "Reading lamps above the two forward bunks and the chart table on the port side"


@pytest.mark.parametrize("stock", label_sheets(), ids=lambda stock: stock.name)
def test_a_name_that_a_label_cannot_hold_stands_on_the_next_one(stock):
    made = replace(panel_of(4, [LONG, "Pump"]), wish=Wish(stock=stock))
    pages = label_sheet.pages(made)
    assert LONG in said(pages)
    noted = [group for group in groups(pages) if group.ident.startswith("note-")]
    assert bool(noted) == ("[1]" in said(pages))
    assert bool(noted) == (stock.label_mm[1] < 20.0)


def test_what_stands_on_a_label_sheet_is_the_same_twice():
    made = replace(panel_of(40, [LONG] * 9), wish=Wish(stock=label_sheets()[2]))
    once, again = (write_pdf(label_sheet.pages(made), title="labels") for _ in range(2))
    assert once == again


@FEW
@given(slots=st.integers(1, 60), names=st.lists(NAMES, min_size=1, max_size=8),
       stock=st.sampled_from(label_sheets()), wide=st.sampled_from(tape().width_mm))  # fmt: skip
def test_any_names_fit(slots, names, stock, wide):
    made = replace(panel_of(slots, names * 8, paper="a4"), wish=Wish(stock=stock, tape_mm=wide))
    for module in (label_sheet, label_tape, tape_strip):
        pages = module.pages(made)
        found = {mark.ident for mark in groups(pages) if mark.ident.startswith("label-")}
        assert found == {f"label-P1.{number}" for number in range(1, slots + 1)}
        seen = said(pages)
        for name in names[:slots]:
            assert squeezed(name) in squeezed(seen)
        for page in pages:
            assert overlaps(page) == ()
            assert outside(page) == []
            assert min(text.size_pt for text in texts(page)) >= 5.5
