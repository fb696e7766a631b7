"""A load that pulls the voltage to collapse is told of once: its drop is no second fault."""

import pytest
from hypothesis import event, given, settings, strategies as st

from helpers.studies import study_from
from rigfolio.rule import judge

HUT = """rig "Hut"
    system 12 V
    rules vehicle
battery B1 flooded, 100 Ah, internal 10 mohm
panel P1 4 slots of 30 A, 60 A in all, negative N1
busbar N1 100 A
wire B1+ to P1 6 AWG red 12 ft, fuse 50 A at B1+
wire N1 to B1- 6 AWG white 12 ft
circuit P1.1 "Desk" fuse 15 A
    wire 14 AWG red {feet} ft
    load "Laptop supply" {first} W{starts}
    load "Screen" {second} W
"""
VOLTS = ("voltage-collapse", "voltage-drop")


def told(text: str) -> list[tuple[str, int]]:
    """The rules on volts, each with the place of which it speaks."""
    return [(one.rule, one.at.span.start) for one in judge(study_from(text)) if one.rule in VOLTS]


@pytest.mark.parametrize("feet", [50, 60, 70, 80, 90])
def test_what_collapses_beside_others_is_no_drop_as_well(feet: int) -> None:
    found = told(HUT.format(feet=feet, first=70, second=70, starts=""))
    assert found
    assert len({place for _, place in found}) == len(found)


@settings(max_examples=25, deadline=None)
@given(
    feet=st.integers(20, 120), first=st.integers(5, 150), second=st.integers(5, 150),
    starts=st.sampled_from(["", ", starts at 3 times for 3 min"]),
)  # fmt: skip
def test_no_place_is_told_of_twice(feet: int, first: int, second: int, starts: str) -> None:
    found = told(HUT.format(feet=feet, first=first, second=second, starts=starts))
    event(", ".join(sorted(rule for rule, _ in found)) or "quiet")
    assert len({place for _, place in found}) == len(found)
