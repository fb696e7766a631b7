"""Wire tags: both ends of every wire, cut to the wire."""

import math
import re

import pytest
from hypothesis import given, strategies as st

from helpers.home import EXAMPLES, RIGS
from helpers.label_rigs import (
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
)  # fmt: skip
from helpers.page_checks import overlaps
from helpers.studies import job_from
from rigfolio.draw.page import Line, Text, texts
from rigfolio.job import Wish
from rigfolio.labels.tag_faces import FLAG_HIGH_MM, LENGTH_MM
from rigfolio.record import replace
from rigfolio.refusal import RefusalError
from rigfolio.sheets import wire_tags


def said(group):
    return " ".join(mark.text for mark in group.marks if isinstance(mark, Text))


def test_every_wire_has_a_tag_for_each_end():
    job = marsh_wren()
    pages = wire_tags.pages(job)
    names = [f"tag-{wire.name}-{end}" for wire in job.rig.conductors for end in "ab"]
    assert sorted(group.ident for group in groups(pages, "tag-")) == sorted(names)


def test_each_end_says_where_it_lands_and_where_the_other_goes():
    pages = wire_tags.pages(marsh_wren())
    (first,), (second,) = groups(pages, "tag-W2-a"), groups(pages, "tag-W2-b")
    assert "HERE F1.load Battery fuse" in said(first)
    assert "TO S1.line Battery disconnect" in said(first)
    assert "HERE S1.line Battery disconnect" in said(second)
    assert "6 AWG red RD fuse F1 50 A" in said(second)
    (slot,) = groups(pages, "tag-P1.2/1-a")
    assert said(slot).count("HERE P1.2") == 2
    assert "plus +" in said(slot)
    assert "14 AWG yellow YE fuse 10 A" in said(slot)


def test_a_supply_wire_bears_what_guards_it_from_both_sides_and_no_fuse_of_a_slot():
    job = marsh_wren()
    pages = wire_tags.pages(job)
    (group,) = groups(pages, "tag-W3-b")
    # The battery's fuse stands before it; the charger comes by the panel through its own.
    assert "fuse F1 50 A, W4 fuse 50 A" in said(group)
    (first,) = groups(pages, "tag-W1-a")
    assert "no fuse, ahead of F1" in said(first)


@pytest.mark.parametrize(
    "colour", ["orange/green", "dark blue/light green", "dark green/violet", "?"]
)
def test_gauge_colour_and_rating_stand_whole_on_a_flag(colour):
    job = job_of(MARSH_WREN.replace("14 AWG yellow", f"14 AWG {colour}"))
    for group in groups(wire_tags.pages(job), "tag-P1.2/1-"):
        told = said(group)
        assert "…" not in told
        for words in ("14 AWG", "colour ?" if colour == "?" else colour, "10 A"):
            assert words in told


def test_a_return_that_is_assumed_says_so_and_a_stated_one_does_not():
    pages = wire_tags.pages(marsh_wren())
    (assumed,), (stated,) = groups(pages, "tag-P1.2/1R-a"), groups(pages, "tag-P1.7/1R-a")
    assert "ASSUMED return" in said(assumed)
    assert "minus −" in said(assumed)
    assert "ASSUMED" not in said(stated)
    assert "12 AWG white WH" in said(stated)


def test_tags_are_cut_to_the_wire():
    # Outside diameters: 16 AWG 3.0 mm (SAE J1128 thin wall, a maker's sheet, seen), 6 AWG 8.0 mm
    # (from memory). A flag is two faces and the round of the wire, a wrap is pi d and the overlap.
    seen = printed(wire_tags.pages(marsh_wren()))
    flags = [rect for page in seen for rect in sized(page, 60 + math.pi * 3.0 + 0.1, 19.7, 0.02)]
    wraps = [rect for page in seen for rect in sized(page, 80.1, math.pi * 8.0 + 5.0 + 0.1, 0.02)]
    assert len(flags) == 2 * 2 * 4
    assert len(wraps) == 2 * 7


def test_a_wrap_is_read_from_any_side():
    (group,) = groups(wire_tags.pages(marsh_wren()), "tag-W1-a")
    assert [mark.text for mark in group.marks if isinstance(mark, Text)].count("W1") == 3


def test_a_size_that_is_not_surveyed_gets_a_stated_default():
    marks = [mark.text for page in wire_tags.pages(marsh_wren()) for mark in texts(page)]
    assert "size not surveyed: cut for Ø 5.0 mm" in " ".join(marks)


def test_wires_side_by_side_have_tags_of_their_own_and_leads_have_none():
    job = marsh_wren()
    wires = [
        replace(wire, count=2) if wire.name == "W1" else replace(wire, lead=wire.name == "P1.9/1")
        for wire in job.rig.conductors
    ]
    pages = wire_tags.pages(replace(job, rig=replace(job.rig, conductors=tuple(wires))))
    assert len(groups(pages, "tag-W1 (1 of 2)")) == len(groups(pages, "tag-W1 (2 of 2)")) == 2
    assert groups(pages, "tag-P1.9/1-") == []


def test_order_is_by_panel_and_slot():
    idents = [group.ident for group in groups(wire_tags.pages(marsh_wren()), "tag-")]
    assert idents.index("tag-P1.2/1-a") < idents.index("tag-P1.9/1-a") < idents.index("tag-W1-a")


def test_ruler_of_100_mm_on_every_page():
    for page in printed(wire_tags.pages(marsh_wren())):
        assert any(length == pytest.approx(100, abs=0.1) for length in page.lines)


@FEW
@given(slots=st.integers(1, 30), names=st.lists(NAMES, min_size=1, max_size=8))
def test_texts_keep_to_their_tag(slots, names):
    job = panel_of(slots, names * 4, paper="a4")
    pages = wire_tags.pages(job)
    for page in pages:
        assert overlaps(page) == ()
        assert off_paper(page) == []
    tags = groups(pages, "tag-")
    assert tags
    for group in tags:
        outline = [mark for mark in group.marks if isinstance(mark, Line) and mark.closed][-1]
        (left, top), _, (right, bottom), _ = outline.points
        assert strays(group, (left, top, right - left, bottom - top)) == []
        assert min(mark.size_pt for mark in group.marks if isinstance(mark, Text)) >= 5.5
    assert pages == wire_tags.pages(job)


@pytest.mark.parametrize("form", [None, "wrap", "flag", "sleeve"])
@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_no_type_is_smaller_than_can_be_read_and_none_is_cut(file, form):
    pages = wire_tags.pages(replace(job_from(file), wish=Wish(tag_form=form)))
    assert groups(pages, "tag-")
    for page in pages:
        assert overlaps(page) == ()
        assert off_paper(page) == []
        inside = {id(mark) for group in groups([page], "tag-") for mark in group.marks}
        for mark in texts(page):
            assert mark.size_pt >= 5.5 - 1e-6, mark.text
            assert id(mark) not in inside or "…" not in mark.text
            assert id(mark) in inside or mark.size_pt >= 7.0 - 1e-6, mark.text


@FEW
@given(names=st.lists(NAMES, min_size=1, max_size=8),
       form=st.sampled_from([None, "wrap", "flag", "sleeve"]))  # fmt: skip
def test_a_form_holds_its_words_or_is_refused(names, form):
    job = replace(panel_of(8, names, paper="a4"), wish=Wish(tag_form=form))
    try:
        pages = wire_tags.pages(job)
    except RefusalError:
        # What nobody asked for by name is printed in a form that holds it.
        pages = wire_tags.pages(replace(job, wish=Wish()))
        assert form in ("wrap", "sleeve")
    for page in pages:
        assert overlaps(page) == ()
        assert min(mark.size_pt for mark in texts(page)) >= 5.5 - 1e-6


def test_a_form_with_no_room_for_the_words_is_refused_with_a_way():
    long = "Positionslaternen am Bugkorb und am Heckkorb, rot, grün und weiß, dazu das Toplicht"[
        :80
    ]
    # The fourth circuit is of 18 AWG, 2.5 mm thick.
    job = replace(panel_of(4, [long] * 4), wish=Wish(tag_form="wrap"))
    with pytest.raises(RefusalError) as refused:
        wire_tags.pages(job)
    assert "`P1.4/1`" in str(refused.value)
    assert "leave `--form` out" in refused.value.fix
    (flag, *_) = groups(wire_tags.pages(panel_of(4, [long] * 4)), "tag-P1.4/1-a")
    assert long in said(flag).replace("\u00a0", " ")


def test_conductors_that_are_one_piece_of_wire_have_one_pair_of_tags():
    boat = groups(wire_tags.pages(job_from(EXAMPLES / "kittiwake-30.rig")), "tag-")
    idents = {group.ident for group in boat}
    # Where the wire of the steaming light enters the conduit nobody finds an end.
    assert {"tag-P1.2/1+2-a", "tag-P1.2/1+2-b", "tag-P1.2/1R+2R-a"} <= idents
    assert not {"tag-P1.2/1-a", "tag-P1.2/2-a", "tag-P1.22/1R-a"} & idents
    # A switch parts the plus; the return that is assumed beside it has no joint there.
    assert {"tag-P1.22/1-a", "tag-P1.22/2-a", "tag-P1.22/1R+2R-a"} <= idents
    assert not [said(group) for group in boat if re.search(r"K\d\.\w+−", said(group))]


def test_only_the_wires_of_a_device():
    job = replace(marsh_wren(), wish=Wish(only=frozenset({"F1"})))
    names = {group.ident.split("-")[1] for group in groups(wire_tags.pages(job), "tag-")}
    assert names == {"W1", "W2"}
    nothing = wire_tags.pages(replace(marsh_wren(), wish=Wish(only=frozenset({"P1.12"}))))
    (page,) = printed(nothing)
    assert "Nothing that was asked for has a tag" in page.text
    assert "measure" not in page.text


@pytest.mark.parametrize("form", ["wrap", "flag", "sleeve"])
def test_a_form_is_taken_for_every_wire_that_it_fits(form):
    job = replace(marsh_wren(), wish=Wish(tag_form=form))
    pages = wire_tags.pages(job)
    for page in pages:
        assert overlaps(page) == ()
        assert off_paper(page) == []
    (group,) = groups(pages, "tag-P1.2/1-a")
    outline = [mark for mark in group.marks if isinstance(mark, Line) and mark.closed][-1]
    wide = outline.points[2][0] - outline.points[0][0]
    high = outline.points[2][1] - outline.points[0][1]
    if form == "sleeve":
        # 14 AWG takes a tube of 4.8 mm: 30 mm long, half of pi times 4.8 mm wide when flat.
        assert (wide, high) == pytest.approx((30.0, math.pi * 4.8 / 2.0), abs=0.2)
        assert "+" in said(group)
        assert "P1.2/1" in said(group)
    elif form == "flag":
        assert high == pytest.approx(FLAG_HIGH_MM, abs=0.2)
    else:
        assert wide == pytest.approx(LENGTH_MM, abs=0.2)
