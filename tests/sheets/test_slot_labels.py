"""Slot labels: true scale, whole words, every kind of slot."""

import sys
from pathlib import Path

# Test modules are imported by path, so a module beside them has to be pointed out.
sys.path.append(str(Path(__file__).parent))

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rigs_for_labels import (
    BARE,
    FEW,
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

from rigfolio.books.loader import colour_book
from rigfolio.draw.fit import overlaps
from rigfolio.draw.page import Line, Text
from rigfolio.sheets import slot_labels


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


def test_a_label_says_what_is_fitted_and_what_is_allowed():
    seen = words(slot_labels.pages(marsh_wren()))
    for phrase in (
        "Ceiling lights", "7.5 A brown", "max fuse 15 A", "14 AWG red/black RD/BK", "max fuse ?",
        "FUSE TOO LARGE: 20 A, max 8 A", "fuse ?", "ALWAYS ON", "blank", "not stated",
        "spare: for a second", "12 AWG violet/yellow", "Gas detector", "S1.line",
    ):  # fmt: skip
        assert phrase in seen


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


@FEW
@given(
    slots=st.integers(1, 60),
    names=st.lists(NAMES, min_size=1, max_size=8),
    pitch_mm=st.sampled_from([8, 10, 14, 22.5, 30]),
    columns=st.integers(1, 2),
)
def test_texts_keep_to_their_label(slots, names, pitch_mm, columns):
    job = panel_of(slots, names * 8, pitch=f"{pitch_mm} mm", columns=columns)
    pages = slot_labels.pages(job)
    assert len(groups(pages, "label-")) == slots
    for page in pages:
        assert overlaps(page) == ()
        assert off_paper(page) == []
    for group in groups(pages, "label-"):
        left, top = group.marks[0].points[0]
        assert strays(group, (left, top, 45.0, pitch_mm)) == []
        assert min(mark.size_pt for mark in group.marks if isinstance(mark, Text)) >= 5.5
    assert pages == slot_labels.pages(job)
