"""Colour legend: every wire under its colour, told apart."""

from itertools import pairwise

from hypothesis import given, strategies as st

from helpers.label_rigs import (
    BARE,
    FEW,
    NAMES,
    job_of,
    marsh_wren,
    off_paper,
    panel_of,
    printed,
    rows_read,
    words,
)
from helpers.page_checks import overlaps
from rigfolio.books.colours import colour_book
from rigfolio.draw.page import Line, flat
from rigfolio.sheets import colour_legend


def test_every_wire_is_listed_with_what_tells_it_apart():
    job = marsh_wren()
    seen = words(colour_legend.pages(job))
    for wire in job.rig.conductors:
        # What is a mere assumption has no colour to be looked up by: its circuit is named once.
        assert (wire.circuit if wire.assumed else wire.name) in seen
    assert "the returns of P1.1, P1.2, P1.3, P1.4, P1.5, P1.8, P1.9, circuit S1.line, each" in seen
    first = "red/black RD/BK 1 of 2 P1.1/1 plus + P1.1 Ceiling lights 14 AWG 7.5 A brown"
    second = "red/black RD/BK 2 of 2 P1.3/1 plus + P1.3 Refrigerator control 16 AWG 3 A violet"
    assert f"{first} {second}" in seen
    assert "20 A TOO LARGE" in seen
    assert "20 A yellow" not in seen


def test_colours_are_sorted_and_what_is_not_surveyed_comes_last():
    seen = words(colour_legend.pages(marsh_wren()))
    places = [
        seen.index(row) for row in ("bare no code", "black BK", "red RD 1 of", "red/black RD")
    ]
    assert places == sorted(places)
    assert seen.index("? not surveyed no code 1 of 1 S1.line/1") > seen.index("yellow YE")


def test_green_and_yellow_stripes_have_words_and_no_code():
    # IEC 60757 keeps green and yellow for the pair GNYE and joins neither to another colour.
    seen = words(colour_legend.pages(panel_of(5, ["Pump"] * 5)))
    assert "yellow/green no code" in seen
    assert "blue BU" in seen


def test_base_and_stripe_the_other_way_round_are_pointed_at():
    seen = rows_read(colour_legend.pages(panel_of(6, ["Pump"] * 6)))
    assert "red/black (see RD/BK" in seen
    assert "black/red (see BK/RD" in seen


def test_the_patch_has_base_and_stripe():
    marks = [mark for page in colour_legend.pages(marsh_wren()) for mark in flat(page.marks)]
    fills = [mark.fill for mark in marks if isinstance(mark, Line) and mark.fill]
    book = colour_book().by_word
    pairs = set(pairwise(fills))
    assert (book["red"].rgb, book["black"].rgb) in pairs
    assert (book["violet"].rgb, book["yellow"].rgb) in pairs


def test_no_wire_at_all():
    assert "states no wire" in words(colour_legend.pages(job_of(BARE)))


@FEW
@given(slots=st.integers(1, 60), names=st.lists(NAMES, min_size=1, max_size=8))
def test_rows_run_over_pages(slots, names):
    job = panel_of(slots, names * 8)
    pages = colour_legend.pages(job)
    for page in pages:
        assert overlaps(page) == ()
        assert off_paper(page) == []
    seen = printed(pages)
    assert all("IEC 60757" in page.text for page in seen)
    whole = " ".join(page.text for page in seen)
    assert all((w.circuit if w.assumed else w.name) in whole for w in job.rig.conductors)
    assert pages == colour_legend.pages(job)


def test_another_word_for_a_colour_stands_once_beside_it():
    """IEC 60757 says violet; who wrote purple finds it."""
    text = "panel P1 6 slots of 20 A\n"
    for number, colour in enumerate(("purple", "purple/white", "white/purple", "gray"), start=1):
        text += f'circuit P1.{number} "Lamp" fuse 5 A\n    wire 16 AWG {colour} 5 ft\n'
    said = words(colour_legend.pages(job_of(f'rig "Reed"\n    rules rv\n{text}')))
    assert said.count("(purple)") == 1
    assert "violet (purple)" in said
    assert "gray" not in said
