"""The page that measures a printer: rulers and box at true scale, on every paper."""

from itertools import pairwise

import pdfplumber
import pytest

from helpers.label_rigs import MM, marsh_wren, off_paper, words
from helpers.page_checks import overlaps
from rigfolio.cli.entry import main
from rigfolio.draw.page import PAPERS, Line, contrast, flat, texts
from rigfolio.render.pdf import write_pdf
from rigfolio.sheets import print_check


def seen(out, *options):
    """The printed page as an independent reader sees it: its lines and rectangles in mm."""
    assert main(["rulers", *options, "-o", str(out)]) == 0
    with pdfplumber.open(out) as pdf:
        (page,) = pdf.pages
        lines = [tuple(float(one[k]) * MM for k in ("x0", "top", "x1", "bottom"))
                 for one in page.lines]  # fmt: skip
        rects = [(float(one["width"]) * MM, float(one["height"]) * MM) for one in page.rects]
        return lines, rects, (float(page.width) * MM, float(page.height) * MM)


def steps(lines, axis, length):
    """Distances between the long ticks of a ruler that leads along an axis."""
    across, other = (0, 1) if axis == "across" else (1, 0)
    spine = next(
        line for line in lines
        if abs(line[across + 2] - line[across] - length) < 0.3
        and abs(line[other + 2] - line[other]) < 0.05
    )  # fmt: skip
    ticks = [
        line for line in lines
        if abs(line[across + 2] - line[across]) < 0.05 and 2.5 < line[other + 2] - line[other] < 3.1
        and min(abs(line[other] - spine[other]), abs(line[other + 2] - spine[other])) < 0.2
    ]  # fmt: skip
    sides = {
        side: sorted(line[across] for line in ticks if (line[other] < spine[other] - 0.5) == side)
        for side in (True, False)
    }
    return {side: [b - a for a, b in pairwise(found)] for side, found in sides.items()}


@pytest.mark.parametrize("paper", ["letter", "a4", "a3"])
@pytest.mark.parametrize(("axis", "millimetres_before"), [("across", True), ("down", False)])
def test_rulers_both_ways_in_millimetres_and_inches(paper, axis, millimetres_before, tmp_path):
    lines, _, _ = seen(tmp_path / "rulers.pdf", "--paper", paper)
    found = steps(lines, axis, 150.0)
    assert found[millimetres_before] == pytest.approx([10.0] * 15, abs=0.1)
    assert found[not millimetres_before] == pytest.approx([25.4] * 5, abs=0.1)


def test_a_box_of_a_hundred_millimetres_inside(tmp_path):
    _, rects, _ = seen(tmp_path / "rulers.pdf")
    box = next(each for each in rects if abs(each[0] - 100.0) < 1.0)
    # The pen of 0.25 mm lies outside.
    assert (box[0] - 0.25, box[1] - 0.25) == pytest.approx((100.0, 100.0), abs=0.1)


def test_what_was_measured_across_and_down_is_made_up_for(tmp_path):
    plain = seen(tmp_path / "plain.pdf")
    lines, rects, size = seen(tmp_path / "larger.pdf", "--measured", "97.5,98.5")
    assert size == plain[2]
    box = next(each for each in rects if abs(each[0] - 100.25 / 0.975) < 0.2)
    # The printer shrinks it again.
    assert (box[0] * 0.975, box[1] * 0.985) == pytest.approx((100.25, 100.25), abs=0.1)
    found = steps(lines, "down", 150.0 / 0.985)[False]
    assert [each * 0.985 for each in found] == pytest.approx([10.0] * 15, abs=0.1)


@pytest.mark.parametrize("paper", PAPERS.values(), ids=lambda paper: paper.name)
def test_nothing_overlaps_or_leaves_any_paper(paper):
    (page,) = print_check.pages_on(paper)
    assert overlaps(page) == ()
    assert off_paper(page) == []


def test_smallest_type_and_thinnest_line_that_are_printed_anywhere():
    (page,) = print_check.pages(marsh_wren())
    assert min(text.size_pt for text in texts(page)) == 5.5
    assert min(mark.pen.width_mm for mark in flat(page.marks)
               if isinstance(mark, Line) and mark.pen) == 0.1  # fmt: skip


def test_words_on_grey_can_be_read():
    (page,) = print_check.pages_on(PAPERS["letter"])
    shades = {mark.fill for mark in flat(page.marks) if isinstance(mark, Line) and mark.fill}
    greys = {shade for shade in shades if len({shade[1:3], shade[3:5], shade[5:7]}) == 1}
    assert len(greys) == 7
    for grey in greys:
        # Contrast of 4.5 is what WCAG 2 asks of small type (from memory).
        assert max(contrast(grey, ink) for ink in ("#000000", "#ffffff")) >= 4.5


def test_it_says_what_to_give_back_and_is_the_same_twice():
    once, again = (print_check.pages_on(PAPERS["a4"]) for _ in range(2))
    assert write_pdf(once, title="rulers") == write_pdf(again, title="rulers")
    said = words(once)
    assert "--measured 97.5,98.2" in said
    assert "any printer" in said
    assert "Marsh Wren 17" in words(print_check.pages(marsh_wren()))


def test_a_paper_that_there_is_not(tmp_path, capsys):
    assert main(["rulers", "--paper", "foolscap", "-o", str(tmp_path / "x.pdf")]) == 2
    assert "is no paper" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []
