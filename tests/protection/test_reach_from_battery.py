"""How far a fuse may stand from where a boat's supply connects: farther from a battery's post.

7 in along the wire (33 CFR 183.455(b), seen), 72 in where the wire comes straight from the post of
a battery (33 CFR 183.460 and marine practice, from memory), as they stand in the boat book.
"""

import pytest

from helpers.studies import study_from
from rigfolio.protection import exposures_of

IN_M = 0.0254
HEAD = """rig "T"
    system 12 V
    rules boat
battery B1 agm, 100 Ah
busbar D1 200 A
busbar N1 200 A
fuse F2 15 A
load M1 5 A
wire B1- to N1 2 AWG black 1 ft
wire M1- to N1 14 AWG black 2 ft
wire F2.load to M1+ 14 AWG red 2 ft
wire {} to F2.line 14 AWG red {} in, tag T1
"""
BAR = "wire B1+ to D1 2 AWG red 1 ft, fuse 100 A at B1+\n"


@pytest.mark.parametrize(
    ("more", "start", "inches", "reach_in", "is_far"),
    [
        ("", "B1+", 71, 72, False),
        ("", "B1+", 73, 72, True),
        (BAR, "D1", 7, 7, False),
        (BAR, "D1", 8, 7, True),
        (BAR, "D1", 71, 7, True),
    ],
)
def test_from_the_post_of_a_battery_it_may_be_farther(
    more: str, start: str, inches: int, reach_in: int, is_far: bool
) -> None:
    study = study_from(HEAD.format(start, inches) + more)
    told = {one.wire.name: one for one in exposures_of(study)}
    assert ("T1" in told) is is_far
    if is_far:
        assert told["T1"].fault == "far"
        assert told["T1"].run_m == pytest.approx(inches * IN_M)
        assert told["T1"].reach.value == pytest.approx(reach_in * IN_M)
