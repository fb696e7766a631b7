"""Tapes on the paper of the rig: all of them, at true size, broken between labels alone."""

import pytest
from hypothesis import given, strategies as st

from helpers.home import EXAMPLES
from helpers.label_rigs import BARE, FEW, NAMES, job_of, off_paper, panel_of, words
from helpers.page_checks import overlaps
from helpers.studies import job_from
from rigfolio.draw.extents import extent
from rigfolio.draw.page import Group, Line, Page, flat
from rigfolio.job import Wish
from rigfolio.labels.tape import band_of
from rigfolio.record import replace
from rigfolio.sheets import label_tape, slot_labels, tape_strip, tapes, wire_tags


def groups(pages):
    return [mark for page in pages for mark in page.marks if isinstance(mark, Group)]


def size(group):
    """Width and height of what a group draws [mm]."""
    left, top, right, bottom = extent(Page(1.0, 1.0, group.marks))
    return right - left, bottom - top


@pytest.mark.parametrize("name", sorted(path.name for path in EXAMPLES.glob("*.rig")))
def test_every_label_of_the_tapes_is_there_at_its_size(name):
    job = job_from(EXAMPLES / name)
    pages = tapes.pages(job)
    held = {group.ident: group for group in groups(pages)}
    alone = [("strip", one) for one in groups(tape_strip.pages(job))]
    alone += [("tape", one) for one in groups(label_tape.pages(job))]
    assert len(alone) == len(held) > 20
    for kind, one in alone:
        assert size(held[f"{kind}-{one.ident}"]) == pytest.approx(size(one), abs=1e-6)
    for page in pages:
        assert (page.width_mm, page.height_mm) == (job.paper.width_mm, job.paper.height_mm)
        assert overlaps(page) == ()
        assert off_paper(page) == []


@pytest.mark.parametrize("name", sorted(path.name for path in EXAMPLES.glob("*.rig")))
def test_a_label_lies_within_one_cut_line(name):
    """A strip that the paper does not hold is broken between two labels, never in one."""
    job = job_from(EXAMPLES / name)
    band = band_of(job)
    for page in tapes.pages(job):
        lines = [mark for mark in page.marks if isinstance(mark, Line) and mark.closed]
        cuts = [extent(Page(1.0, 1.0, (line,))) for line in lines]
        cuts = [cut for cut in cuts if cut[3] - cut[1] == pytest.approx(band.wide_mm, abs=0.2)]
        assert cuts
        for group in groups([page]):
            left, top, right, bottom = extent(Page(1.0, 1.0, group.marks))
            assert any(
                cut[0] <= left and cut[1] <= top and right <= cut[2] and bottom <= cut[3]
                for cut in cuts
            ), group.title


def test_names_of_groups_are_those_of_no_other_sheet_to_be_cut():
    job = job_from(EXAMPLES / "kittiwake-30.rig")
    seen = [
        {group.ident for group in groups(module.pages(job))}
        for module in (tapes, slot_labels, wire_tags)
    ]
    assert all(seen)
    assert not seen[0] & seen[1]
    assert not seen[0] & seen[2]


def test_a_rig_without_labels_says_so():
    assert "there is no tape to be cut" in words(tapes.pages(job_of(BARE)))


def test_what_is_longer_than_the_paper_is_named_and_not_lost():
    name = "WWWMW " * 19 + "WWWMW"
    job = replace(panel_of(3, [name, "Pump"], paper="a4"), wish=Wish(tape_mm=6.0))
    seen = words(tapes.pages(job))
    assert "longer than this paper, print it with `rigfolio labels --form tape`" in seen
    assert "Pump" in seen


@FEW
@given(slots=st.integers(1, 60), names=st.lists(NAMES, min_size=1, max_size=8))
def test_any_names_fit(slots, names):
    for page in tapes.pages(panel_of(slots, names * 8, paper="a4")):
        assert overlaps(page) == ()
        assert off_paper(page) == []
        assert list(flat(page.marks))


def test_no_page_is_begun_for_a_row_that_a_little_less_air_makes_room_for():
    assert len(tapes.pages(job_from(EXAMPLES / "kittiwake-30.rig"))) == 2
