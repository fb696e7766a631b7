"""Slot labels: true scale, whole words, every kind of slot."""

from itertools import pairwise

import pytest
from hypothesis import given, strategies as st

from helpers.label_rigs import (
    BARE,
    FEW,
    MARSH_WREN,
    NAMES,
    groups,
    job_of,
    marsh_wren,
    off_paper,
    panel_of,
    printed,
    sized,
    strays,
    words,
)  # fmt: skip
from helpers.page_checks import overlaps
from rigfolio.books.colours import colour_book
from rigfolio.draw.page import Line, Text, texts
from rigfolio.job import Wish
from rigfolio.record import replace
from rigfolio.render.pdf import write_pdf
from rigfolio.sheets import slot_labels

LAMPS = "Reading lamps above the two forward bunks and the chart table, port side, dimmed"


@pytest.mark.parametrize("pitch_mm", [8, 14, 20, 30])
def test_one_label_per_slot_at_the_pitch(pitch_mm):
    job = panel_of(12, ["Pump", "Lights"], pitch=f"{pitch_mm} mm", paper="a4")
    found = [rect for page in printed(slot_labels.pages(job)) for rect in sized(page, 45, pitch_mm)]
    assert len(found) == 12
    for first, second in pairwise(found):
        if first[0] == second[0] and second[1] > first[1]:
            assert second[1] - first[1] == pytest.approx(pitch_mm, abs=0.1)


def test_strips_follow_the_columns_of_the_panel():
    pages = slot_labels.pages(panel_of(12, ["Pump"], columns=2))
    tops = sized(printed(pages)[0], 45, 14)
    lefts = sorted({round(rect[0]) for rect in tops})
    assert [sum(round(rect[0]) == left for rect in tops) for left in lefts] == [6, 6]
    assert "slots 7 to 12" in words(pages)


def test_ruler_of_100_mm_on_every_page():
    pages = slot_labels.pages(panel_of(60, ["Pump"], pitch="30 mm"))
    assert len(pages) > 1
    for page in printed(pages):
        assert any(length == pytest.approx(100, abs=0.1) for length in page.lines)
        assert "measure: 100 mm" in page.text


def test_a_label_says_what_is_fitted_and_not_what_is_allowed():
    seen = words(slot_labels.pages(marsh_wren()))
    for phrase in (
        "Ceiling lights", "7.5 A brown", "14 AWG red/black RD/BK",
        "20 A TOO LARGE, max 7.5 A", "fuse ?", "ALWAYS ON", "blank", "not stated",
        "spare: for a second", "12 AWG violet/yellow", "Gas detector", "S1.line",
        "F1", "Battery fuse", "goes dark: P1",
    ):  # fmt: skip
        assert phrase in seen
    assert "max fuse" not in seen


def test_a_fuse_too_large_shows_no_colour_to_copy():
    (group,) = groups(slot_labels.pages(marsh_wren()), "label-P1.4")
    yellow = colour_book().by_word["yellow"].rgb
    assert yellow not in {mark.fill for mark in group.marks if isinstance(mark, Line)}
    assert "yellow" not in " ".join(mark.text for mark in group.marks if isinstance(mark, Text))
    (other,) = groups(slot_labels.pages(marsh_wren()), "label-P1.2")
    assert colour_book().by_word["red"].rgb in {
        mark.fill for mark in other.marks if isinstance(mark, Line)
    }


def test_a_pitch_that_is_not_stated_is_said_to_be_taken():
    pages = slot_labels.pages(panel_of(5, ["Pump"], pitch=""))
    assert "PITCH NOT STATED: 14 mm taken" in words(pages)
    assert len(sized(printed(pages)[0], 45, 14)) == 5


@pytest.mark.parametrize("pitch_mm", [3, 5, 300])
def test_a_pitch_out_of_the_usual_still_prints(pitch_mm):
    pages = slot_labels.pages(panel_of(4, ["Pump"] * 4, pitch=f"{pitch_mm} mm"))
    seen = printed(pages)
    assert all(overlaps(page) == () for page in pages)
    if pitch_mm < 300:
        assert len([rect for page in seen for rect in sized(page, 45, pitch_mm)]) == 4
    else:
        assert "NOT TO SCALE" in words(pages)


def test_a_rig_without_a_panel_says_so():
    assert "nothing to label" in words(slot_labels.pages(job_of(BARE)))


@pytest.mark.parametrize(
    ("wide_mm", "high_mm", "pitch_mm"), [(38, 10, 14), (60, 9.5, 19), (20, 12.7, 12.7), (9, 12, 14)]
)
def test_labels_fit_the_windows_of_the_panel(wide_mm, high_mm, pitch_mm):
    job = panel_of(10, ["Pump", LAMPS], pitch=f"{pitch_mm} mm", paper="a4",
                   window=f"{wide_mm} mm by {high_mm} mm")  # fmt: skip
    pages = slot_labels.pages(job)
    found = [rect for page in printed(pages) for rect in sized(page, wide_mm, high_mm)]
    assert len(found) == 10
    for first, second in pairwise(found):
        assert second[1] - first[1] == pytest.approx(pitch_mm, abs=0.1)
        assert second[0] == pytest.approx(first[0], abs=0.1)
    for group in groups(pages, "label-"):
        left, top = group.marks[0].points[0]
        assert strays(group, (left, top, wide_mm, high_mm)) == []
    assert f"window {wide_mm:g} by {high_mm:g} mm, pitch {pitch_mm:g} mm" in words(pages)
    assert LAMPS in " ".join(text.text for page in pages for text in texts(page))


def test_a_window_where_the_pitch_is_not_stated():
    job = panel_of(4, ["Pump"], pitch="", window="40 mm by 18 mm")
    pages = slot_labels.pages(job)
    assert "PITCH NOT STATED" in words(pages)
    assert len(sized(printed(pages)[0], 40, 18)) == 4
    assert all(overlaps(page) == () for page in pages)


def test_what_a_label_cannot_hold_stands_below_the_strips():
    pages = slot_labels.pages(panel_of(3, [LAMPS, "Pump"], pitch="8 mm"))
    assert len(pages) == 1
    seen = words(pages)
    assert "[1]" in " ".join(mark.text for mark in groups(pages, "label-P1.1")[0].marks
                             if isinstance(mark, Text))  # fmt: skip
    assert f"[1] P1.1 {LAMPS}" in seen
    assert "[2]" not in seen


def test_what_has_to_be_seen_to_first_stands_below_the_strips():
    job = job_of(MARSH_WREN + 'note P1.12 "socket cracked"\n')
    seen = words(slot_labels.pages(job))
    assert "See to this before the labels go on" in seen
    assert "P1.7 SCORCHED" in seen
    assert "P1.12 socket cracked" in seen


def test_only_the_labels_of_some_wires():
    job = replace(marsh_wren(), wish=Wish(only=frozenset({"P1.3/1", "P1.12"})))
    pages = slot_labels.pages(job)
    assert [group.ident for group in groups(pages, "label-")] == ["label-P1.3", "label-P1.12"]
    nothing = slot_labels.pages(replace(marsh_wren(), wish=Wish(only=frozenset({"W1"}))))
    assert "Nothing that was asked for has a label" in words(nothing)
    assert "measure" not in words(nothing)
    fuse = slot_labels.pages(replace(marsh_wren(), wish=Wish(only=frozenset({"F1"}))))
    assert [group.ident for group in groups(fuse, "label-")] == ["label-F1"]


@FEW
@given(slots=st.integers(1, 60), pitch_mm=st.sampled_from([6, 8, 14, 19, 31, 120]),
       columns=st.integers(1, 3))  # fmt: skip
def test_slots_follow_each_other_down_the_columns_of_the_page(slots, pitch_mm, columns):
    pages = slot_labels.pages(panel_of(slots, ["Pump"], pitch=f"{pitch_mm} mm", columns=columns))
    placed = [
        (number, round(group.marks[0].points[0][0], 3), group.marks[0].points[0][1], group.ident)
        for number, page in enumerate(pages)
        for group in groups([page], "label-P1.")
    ]
    assert [ident for *_, ident in sorted(placed)] == [f"label-P1.{n}" for n in range(1, slots + 1)]
    assert all(overlaps(page) == () for page in pages)


def test_a_strip_is_divided_only_where_no_column_holds_it():
    # Two columns of thirty at 8 mm: letter holds twenty-six of them.
    pages = slot_labels.pages(panel_of(60, ["Pump"], columns=2, pitch="8 mm"))
    assert len(pages) == 1
    seen = words(pages)
    for phrase in ("slots 1 to 26", "slots 27 to 30", "slots 31 to 50", "slots 51 to 60"):
        assert phrase in seen


def test_the_same_labels_twice():
    pages = [slot_labels.pages(panel_of(60, [LAMPS] * 40, pitch="9 mm")) for _ in range(2)]
    once, again = (write_pdf(each, title="labels") for each in pages)
    assert once == again


@FEW
@given(
    slots=st.integers(1, 60),
    names=st.lists(NAMES, min_size=1, max_size=8),
    pitch_mm=st.sampled_from([8, 10, 14, 22.5, 30]),
    columns=st.integers(1, 2),
    window=st.sampled_from(["", "45 mm by 8 mm", "60 mm by 5 mm", "18 mm by 8 mm"]),
)
def test_texts_keep_to_their_label(slots, names, pitch_mm, columns, window):
    job = panel_of(slots, names * 8, pitch=f"{pitch_mm} mm", columns=columns, window=window)
    pages = slot_labels.pages(job)
    assert len(groups(pages, "label-")) == slots
    for page in pages:
        assert overlaps(page) == ()
        assert off_paper(page) == []
    for group in groups(pages, "label-"):
        left, top = group.marks[0].points[0]
        right, bottom = group.marks[0].points[2]
        assert strays(group, (left, top, right - left, bottom - top)) == []
        assert min(mark.size_pt for mark in group.marks if isinstance(mark, Text)) >= 5.5
    # Type beside the labels is no smaller than on any other sheet, its title strip aside.
    beside = [mark for page in pages for mark in page.marks if isinstance(mark, Text)
              and mark.at[1] < page.height_mm - 26.0]  # fmt: skip
    assert min(mark.size_pt for mark in beside) >= 7.0
    seen = "".join(text.text for page in pages for text in texts(page))
    for name in names[:slots]:
        assert "".join(name.split()) in "".join(seen.split())
    assert pages == slot_labels.pages(job)
