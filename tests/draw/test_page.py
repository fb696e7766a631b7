"""Moving and scaling of drawing lists, conductors and the ruler."""

import pytest

from rigfolio.draw.page import (
    Circle,
    Group,
    Line,
    Page,
    Pen,
    Text,
    flat,
    rgb,
    scale_page,
    scaled,
    shift,
    texts,
)
from rigfolio.draw.ruler import ruler
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
