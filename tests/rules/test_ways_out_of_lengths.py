"""What a rule offers is not there already: no distance that is kept, no gauge that is had."""

import re

import pytest
from hypothesis import given, settings, strategies as st

from rigfolio.rule import judge

INCH_M = 0.0254
BASE = """rig "Case"
    system 12 V
    rules {book}
    insulation 105 degC
battery B1 flooded, 100 Ah
fuse F1 50 A terminal-cube on B1+
panel P1 12 slots of 20 A, 75 A in all
busbar N1 100 A
wire F1.load to P1 6 AWG red 1 ft
wire N1 to B1- 6 AWG white 1 ft
splice Z1
splice Z2
load M1 "Radio" 2 A
wire P1 to Z1 {first} AWG red {one} in tag A
wire Z1 to Z2 {second} AWG red {two} in tag B
wire Z2 to M1+ 16 AWG red 9 ft, fuse 3 A {three} in from Z2 tag C
wire M1- to N1 16 AWG white 6 ft
"""


@settings(max_examples=120)
@given(
    book=st.sampled_from(["rv", "boat", "vehicle"]),
    first=st.sampled_from(["16", "?"]),
    second=st.sampled_from(["16", "14", "?"]),
    lengths=st.tuples(*[st.integers(1, 30)] * 3),
)
def test_a_fuse_is_not_told_to_stand_where_it_stands(study_of, book, first, second, lengths):
    one, two, three = lengths
    study = study_of(BASE.format(book=book, first=first, second=second, one=one, two=two,
                                 three=three))  # fmt: skip
    # The way along the wire from each place to the fuse [in].
    way = {"P1 feed": one + two + three, "Z1": two + three, "Z2": three}
    found = [finding for finding in judge(study) if finding.rule == "fuse-too-far"]
    for finding in found:
        moved = re.fullmatch(r"move `C fuse` to within (\d+) in of `(.*)`", finding.fix.text)
        assert moved, finding.fix.text
        assert way[moved[2]] > int(moved[1]), finding.headline


@pytest.mark.parametrize("size", ["18 AWG", "20 AWG", "1 mm2", "0.75 mm2", "1.25 mm2", "1.3 mm2"])
@pytest.mark.parametrize("sheathed", ["", ", sheathed"])
def test_a_thicker_wire_that_is_offered_is_enough(study_of, size, sheathed):
    text = (
        'rig "Case"\n    rules boat\nbattery B1 flooded, 100 Ah\nload M1 1 A\n'
        "wire B1+ to M1+ {size} red 2 ft{sheathed}, fuse 3 A at B1+\n"
        "wire M1- to B1- 16 AWG black 2 ft\n"
    )
    told = [one for one in judge(study_of(text.format(size=size, sheathed=sheathed)))
            if one.rule == "wire-below-least"]  # fmt: skip
    for finding in told:
        offered = finding.fix.text.strip("`").replace("mm²", "mm2")
        assert offered != size
        again = judge(study_of(text.format(size=offered, sheathed=sheathed)))
        assert "wire-below-least" not in {one.rule for one in again}
