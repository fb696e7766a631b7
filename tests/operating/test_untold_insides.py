"""What a battery may have inside that says nothing of it: its cranking current bounds it."""

import pytest

from helpers.studies import study_from
from rigfolio.operating import untold_ohms

RIG = """rig "Start" system 12 V
battery B1 flooded{}
busbar N1 100 A
load L1 "Lamp" 1 A
wire B1+ to L1+ 2.5 mm2 red 1 m, fuse 5 A at B1+
wire L1- to N1 2.5 mm2 black 1 m
wire N1 to B1- 16 mm2 black 1 m
"""


def _most_ohm(facts: str) -> float | None:
    return untold_ohms(study_from(RIG.format(facts)).rig.sources)["B1"]


def test_the_cranking_current_tells_the_most_that_it_has_inside():
    # (12.6 - 7.2) V at the cold cranking current: 5.4 / 650 = 8.3 mohm (SAE J537, from memory).
    most_ohm = _most_ohm(", cold cranking 650 A")
    assert most_ohm is not None
    assert most_ohm == pytest.approx(5.4 / 650.0, rel=0.1)


def test_of_capacity_and_cranking_current_the_tighter_counts():
    both = _most_ohm(", 60 Ah, cold cranking 650 A")
    assert both == min(_most_ohm(", 60 Ah"), _most_ohm(", cold cranking 650 A"))


def test_without_either_nothing_is_usual():
    assert _most_ohm("") is None
