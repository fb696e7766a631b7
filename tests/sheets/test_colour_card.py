"""Colour cards: the size of a bank card, every colour drawn and written, nothing cut."""

import io

import pdfplumber
import pytest
from hypothesis import given, strategies as st

from helpers.home import EXAMPLES
from helpers.label_rigs import BARE, FEW, NAMES, job_of, off_paper, panel_of, words
from helpers.page_checks import overlaps
from helpers.studies import job_from
from rigfolio.draw.page import Group, flat, texts
from rigfolio.judgement.result import check, job_of as job_of_result
from rigfolio.render.pdf import write_pdf
from rigfolio.sheets import colour_card
from rigfolio.wording import parts as wording


@pytest.mark.parametrize("name", sorted(path.name for path in EXAMPLES.glob("*.rig")))
def test_every_circuit_and_colour_is_on_a_card(name):
    job = job_from(EXAMPLES / name)
    pages = colour_card.pages(job)
    seen = words(pages)
    for page in pages:
        assert overlaps(page) == ()
        assert off_paper(page) == []
        assert min(text.size_pt for text in texts(page)) >= 7.0
    assert "…" not in seen
    for circuit in job.rig.circuits:
        wire = next(w for w in job.rig.conductors if w.name in circuit.wires)
        assert all(part in seen for part in wording.colour_short(wire.colour).split("/"))
        assert all(part in seen for part in circuit.place.split())


def test_a_card_has_the_size_of_a_bank_card():
    # ISO/IEC 7810 ID-1 is 85.60 mm by 53.98 mm (from memory); two make a sheet to be folded.
    job = job_from(EXAMPLES / "kittiwake-30.rig")
    content = write_pdf(colour_card.pages(job), title="cards")
    mm = 25.4 / 72
    with pdfplumber.open(io.BytesIO(content)) as pdf:
        cut = [r for r in pdf.pages[0].rects if r["height"] * mm > 50]
        fold = [
            line
            for line in (*pdf.pages[0].lines, *pdf.pages[0].curves)
            if line["width"] < 0.1 and line["height"] * mm > 50
        ]
    sizes = [(round(r["width"] * mm, 1), round(r["height"] * mm, 1)) for r in cut]
    assert sizes == [(171.2, 54.0)] * 3 + [(85.6, 54.0)]
    middles = [round((line["x0"] - cut[0]["x0"]) * mm, 1) for line in fold]
    assert middles == [85.6] * 3


def test_a_circuit_shows_the_fuse_that_it_begins_with_and_not_the_piece_ahead_of_it():
    job = job_of("""
battery B1 agm, 100 Ah, internal 4 mohm
busbar N1 100 A
wire W1 N1 to B1- 6 AWG black 2 ft
circuit B1+ "Radio" fuse 10 A after 4 in
    wire 12 AWG red 14 ft
    load "Radio" 6 A
""")
    (radio,) = (
        mark
        for page in colour_card.pages(job)
        for mark in page.marks
        if isinstance(mark, Group) and mark.ident.startswith("card-B1+")
    )
    said = " ".join(mark.text for mark in flat(radio.marks) if hasattr(mark, "text"))
    assert "12 AWG, 10 A" in said


def test_each_line_can_be_found_by_its_wire():
    job = job_from(EXAMPLES / "marsh-wren-17.rig")
    found = {m.ident for page in colour_card.pages(job) for m in page.marks if isinstance(m, Group)}
    assert {"card-W1", "card-P1.3/1", "card-S1.line/1"} <= found
    assert "card-P1.3/1R" not in found


def test_a_rig_without_wires_says_so():
    assert "there is no colour to look up" in words(colour_card.pages(job_of(BARE)))


@FEW
@given(slots=st.integers(1, 60), names=st.lists(NAMES, min_size=1, max_size=8))
def test_any_names_fit(slots, names):
    job = panel_of(slots, names * 8, paper="a4")
    for page in colour_card.pages(job):
        assert overlaps(page) == ()
        assert off_paper(page) == []


TOO_MUCH = """rig "Hut"
    system 12 V
    rules rv
battery B1 agm, 100 Ah
battery B2 agm, 5 Ah
busbar D1 100 A
busbar N1 100 A
load L1 "Brakes" 12 A, momentary
wire W1 B1+ to D1 12 AWG red 2 ft, fuse 20 A at B1+
wire W2 B2+ to D1 12 AWG red 2 ft, fuse 20 A at B2+
wire W3 D1 to L1+ 12 AWG blue 22 ft
wire W4 L1- to N1 12 AWG white 4 ft
wire W5 B1- to N1 8 AWG black 4 ft
wire W6 B2- to N1 8 AWG black 4 ft
"""


def test_a_warning_stands_whole_where_there_is_no_room_for_its_figures():
    """Two fuses of 20 A into 12 AWG that may carry 20 A: the words were cut after TOO."""
    seen = words(colour_card.pages(job_of_result(check("hut.rig", text=TOO_MUCH))))
    assert "TOO LARGE" in seen
    assert "TOO…" not in seen
    assert "…" not in seen
