"""Where links stand and lead."""

import pytest

from rigfolio.draw.extents import text_box
from rigfolio.draw.links import link_areas, link_goals, link_places
from rigfolio.draw.page import Circle, Group, Line, Page, Text

WORDS = Text((20, 20), "W7 6 AWG", 8)
WIRE = Line(((0, 0), (90, 0), (90, 80)))


def test_a_link_is_as_large_as_its_words() -> None:
    page = Page(100, 100, (Group("W7", "wire", (WIRE, WORDS), "tag-W7-a"),))
    ((box, group),) = link_areas(page)
    assert group.goes_to == "tag-W7-a"
    assert box == pytest.approx(text_box(WORDS), abs=1.0)


def test_without_words_or_goal_there_is_no_link() -> None:
    marks = (Group("W7", "wire", (WIRE,), "tag-W7-a"), Group("W7", "wire", (WORDS,)))
    assert list(link_areas(Page(100, 100, marks))) == []


def test_words_come_before_strokes_and_the_first_page_before_the_next() -> None:
    stroke = Page(100, 100, (Group("W7", "", (WIRE, Circle((50, 50), 2.0))),))
    words = Page(100, 100, (Group("outer", "", (Group("W7", "", (WORDS,)),)),))
    assert link_places((stroke, words, words), {"W7"})["W7"][0] == 1
    assert link_places((stroke,), {"W7"})["W7"] == (0, (0, 0, 90, 80))
    assert link_places((stroke, words), {"other"}) == {}


def test_goals_are_found_in_groups_of_groups() -> None:
    inner = Group("a", "", (WORDS,), "b")
    assert link_goals((Page(9, 9, (Group("c", "", (inner,), "page-1"),)),)) == {"b", "page-1"}
