"""Moving and scaling of drawing lists, conductors and the ruler."""

import pytest

from rigfolio.draw.extents import extent
from rigfolio.draw.page import (
    Circle,
    Group,
    Line,
    Page,
    Pen,
    Picture,
    Text,
    corrected,
    flat,
    quarter_turned,
    rect,
    rgb,
    scale_page,
    scaled,
    shift,
    texts,
)
from rigfolio.draw.rulers import ruler
from rigfolio.draw.striped import COPPER, EDGE_MM, conductor, patch
from rigfolio.draw.stroke import dashes, outlines, upright_box


def test_scaled_reaches_every_measure() -> None:
    marks = (
        Line(((1, 2), (3, 4)), Pen(0.5, dash_mm=(1, 2))),
        Group("a", "b", (Circle((1, 1), 2, None), Text((5, 6), "x", 8))),
    )
    assert scaled(marks, 2, 10, 20) == (
        Line(((12, 24), (16, 28)), Pen(1.0, dash_mm=(2, 4))),
        Group("a", "b", (Circle((12, 22), 4, None), Text((20, 32), "x", 16))),
    )


def test_shift_and_back(page: Page) -> None:
    assert shift(shift(page.marks, 8, 16), -8, -16)[0] == page.marks[0]


def test_scale_page_and_back(page: Page) -> None:
    double = scale_page(page, 2)
    assert (double.width_mm, double.height_mm) == (558.8, 431.8)
    assert scale_page(double, 0.5) == page


@pytest.mark.parametrize("factor", [0.0, -1.0, float("nan"), float("inf")])
def test_scale_must_be_a_size(factor: float) -> None:
    with pytest.raises(ValueError, match="above 0"):
        scaled((), factor)


def test_texts_looks_into_groups() -> None:
    inner = Text((0, 0), "in")
    marks = (Text((0, 0), "out"), Group("a", "", (Group("b", "", (inner,)), Line(()))))
    assert [text.text for text in texts(Page(10, 10, marks))] == ["out", "in"]
    assert not any(isinstance(mark, Group) for mark in flat(marks))


def test_rgb() -> None:
    assert rgb("#fF0080") == (255, 0, 128)
    for wrong in ("red", "#fff", "#1234567", "#12345g", "#123456\n"):
        with pytest.raises(ValueError, match="#rrggbb"):
            rgb(wrong)


PATH = ((0.0, 0.0), (50.0, 0.0))


def test_conductor_is_edged_so_that_white_shows() -> None:
    edge, base = conductor(PATH, "#ffffff", None, 1.0)
    assert edge.pen == Pen(1.0 + 2 * EDGE_MM, "#000000")
    assert base.pen == Pen(1.0, "#ffffff")


def test_stripe_of_the_same_grey_gets_a_rim() -> None:
    plain = conductor(PATH, "#ffffff", "#d40000", 1.0)
    rimmed = conductor(PATH, "#ffffff", "#ffe000", 1.0)
    assert [line.pen.colour for line in plain if line.pen] == ["#000000", "#ffffff", "#d40000"]
    assert [line.pen.colour for line in rimmed if line.pen][2:] == ["#000000", "#ffe000"]
    dark = conductor(PATH, "#1040c0", "#d40000", 1.0)
    assert [line.pen.colour for line in dark if line.pen][2:] == ["#ffffff", "#d40000"]
    thick = [line.pen.width_mm for line in rimmed if line.pen]
    assert thick == sorted(thick, reverse=True)


def test_unknown_and_bare_look_like_no_colour() -> None:
    unknown = conductor(PATH, "#d40000", "#000000", 1.0, unknown=True)
    colours = [line.pen.colour for line in unknown if line.pen]
    assert colours == ["#000000", "#ffffff", "#808080"]
    bare = conductor(PATH, COPPER, None, 1.0)
    assert [line.pen.colour for line in bare if line.pen] == ["#000000", COPPER, "#000000"]


@pytest.mark.parametrize("base", ["#d40000", None])
def test_patch_keeps_in_its_rectangle(base: str | None) -> None:
    for mark in patch(10, 20, 8, 5, base, "#000000"):
        assert all(10 <= x <= 18 and 20 <= y <= 25 for x, y in mark.points)


def test_ruler_is_as_long_as_it_says() -> None:
    marks = ruler(10, 50, 101.6)
    ticks = [mark for mark in marks[1:] if isinstance(mark, Line)]
    above = [tick.points[0][0] for tick in ticks if tick.points[1][1] < 50]
    below = [tick.points[0][0] for tick in ticks if tick.points[1][1] > 50]
    assert above == pytest.approx([10 + number for number in range(102)])
    assert below == pytest.approx([10 + 3.175 * number for number in range(33)])
    figures = {mark.text: mark.at[0] for mark in marks if isinstance(mark, Text)}
    assert figures["100"] == pytest.approx(110)
    assert figures["4"] == pytest.approx(111.6)
    with pytest.raises(ValueError, match="10 mm"):
        ruler(0, 0, 9)


def test_an_upright_ruler_leads_down() -> None:
    level, upright = ruler(10, 50, 100), ruler(10, 50, 100, down=True)
    for flat_mark, mark in zip(level, upright, strict=True):
        if isinstance(flat_mark, Line) and isinstance(mark, Line):
            turned = [(10 - (y - 50), 50 + (x - 10)) for x, y in flat_mark.points]
            assert [each for point in mark.points for each in point] == pytest.approx(
                [each for point in turned for each in point]
            )
    figures = {mark.text: mark for mark in upright if isinstance(mark, Text)}
    assert figures["100"].at[1] == pytest.approx(150)
    assert figures["100"].turn == 270.0
    # Millimetres lie on the right of the line.
    assert figures["100"].at[0] > 10 > figures["3"].at[0]


def test_a_page_is_corrected_about_its_middle() -> None:
    marks = (rect(0, 0, 200, 100), Circle((100, 50), 10), Text((150, 75), "P1", 10))
    page = corrected(Page(200, 100, marks), 1.1, 1.2)
    assert (page.width_mm, page.height_mm) == (200, 100)
    box, circle, text = page.marks
    assert isinstance(box, Line)
    assert isinstance(circle, Circle)
    assert isinstance(text, Text)
    assert box.points[0] == pytest.approx((-10, -10))
    assert box.points[2] == pytest.approx((210, 110))
    assert circle.centre == pytest.approx((100, 50))
    assert circle.radius_mm == pytest.approx(11)
    assert text.at == pytest.approx((155, 80))
    assert text.size_pt == pytest.approx(11)
    same = Page(200, 100, marks)
    assert corrected(same, 1.0, 1.0) is same
    with pytest.raises(ValueError, match="expected a number above 0"):
        corrected(same, 1.0, 0.0)


def test_a_quarter_turn_reads_upwards() -> None:
    group = Group("a", "", (Text((3, 5), "P1"), Line(((0, 0), (10, 20))), Circle((10, 0), 2)))
    (turned,) = quarter_turned((group,), 10)
    assert isinstance(turned, Group)
    text, line, circle = turned.marks
    assert isinstance(text, Text)
    assert isinstance(line, Line)
    assert isinstance(circle, Circle)
    assert (text.at, text.turn) == ((5, 7), 90.0)
    assert line.points == ((0, 10), (20, 0))
    assert circle.centre == (0, 0)
    with pytest.raises(ValueError, match="photograph"):
        quarter_turned((Picture((0, 0), 1, 1, b""),), 10)


def test_extent_of_what_is_drawn() -> None:
    marks = (Line(((5, 7), (9, 4))), Group("a", "", (Circle((20, 20), 3),)), Text((2, 90), " "))
    assert extent(Page(100, 100, marks)) == (5, 4, 23, 23)
    assert extent(Page(100, 80, (Picture((-1, 2), 4, 5, b""),))) == (-1, 2, 3, 7)
    assert extent(Page(100, 80, ())) == (0, 0, 100, 80)
    left, top, right, bottom = extent(Page(100, 100, (Text((50, 50), "HH", 10, turn=90.0),)))
    assert right == pytest.approx(50)
    assert bottom == pytest.approx(50)
    assert left < 50
    assert top < 46


def test_outlines_are_mitred() -> None:
    first, second = outlines(((0, 0), (10, 0), (10, 10)), 2)
    assert upright_box(first) == (0, -1, 11, 1)
    assert upright_box(second) == (9, -1, 11, 10)
    left, right = outlines(((0, 10), (10, 0), (20, 10)), 2)
    tip = min(y for _, y in (*left, *right))
    assert tip == pytest.approx(-(2**0.5))
    back, forth = outlines(((0, 0), (10, 0), (0, 0)), 2)
    assert max(x for x, _ in (*back, *forth)) == 10
    assert outlines(((1, 1), (1, 1)), 2) == []


def test_dashes_run_on_round_corners() -> None:
    pieces = dashes(((0, 0), (5, 0), (5, 5)), (3, 1))
    assert pieces == [((0, 0), (3, 0)), ((4, 0), (5, 0), (5, 2)), ((5, 3), (5, 5))]
    assert dashes(((0, 0), (5, 0)), (2,)) == [((0, 0), (2, 0)), ((4, 0), (5, 0))]
    assert dashes(((0, 0), (5, 0)), (0,)) == [((0, 0), (5, 0))]
