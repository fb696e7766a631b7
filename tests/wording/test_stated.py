"""What the text states of loads and batteries reads alike on every paper, to its last digit."""

import re

import pytest
from hypothesis import given, settings, strategies as st

from rigfolio.draw.page import texts
from rigfolio.judgement.result import check, job_of
from rigfolio.page.gather import rig_page
from rigfolio.schematic.sheet import diagram
from rigfolio.swap.rows import all_rows

RIG = """\
rig "Tern" system 12 V, rules rv
battery B1 lithium, {volts} V, 100 Ah, delivers 2 kA
busbar N1 150 A
fuse F1 60 A class-t on B1+
panel P1 6 slots of 30 A
wire F1.load to P1 6 AWG red 3 ft
wire N1 to B1- 6 AWG black 1 ft
circuit P1.1 "Fan" fuse 15 A
    wire 14 AWG red 5 ft
    load "Fan" {draws} A
    return to N1
inverter X1 1000 W, efficiency 85 %
wire P1 to X1+ 6 AWG red 1 ft, fuse 60 A at P1
wire X1- to N1 6 AWG black 1 ft
"""


def papers(volts, draws):
    """What diagram, page and survey say, each in one piece."""
    result = check("tern.rig", text=RIG.format(volts=volts, draws=draws))
    job = job_of(result)
    drawn = " ".join(text.text for page in diagram(job).pages for text in texts(page))
    listed = " ".join(value for row in all_rows(job.rig) for value in row.cells.values())
    return drawn, str(rig_page(result, job)), listed


@settings(max_examples=6, deadline=None, derandomize=True)
@given(st.integers(1, 1999), st.integers(1281, 1299))
def test_no_load_is_rounded_down_and_no_bank_to_another(draws, volts):
    draws, volts = f"{draws / 100:g}", f"{volts / 100:g}"
    for paper in papers(volts, draws):
        assert re.search(rf"(?<![\d.]){re.escape(draws)} A", paper), draws
        assert f"{volts} V" in paper


@pytest.mark.parametrize("paper", [0, 1])
def test_an_inverter_goes_by_what_it_gives(paper):
    assert "1000 W AC" in papers(12.8, 15.04)[paper]
