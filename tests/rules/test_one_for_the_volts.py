"""A load that pulls the voltage to collapse is told of once: its drop is no second fault."""

from hypothesis import event, given, settings, strategies as st

from helpers.studies import study_from
from rigfolio.rule import judge

HUT = """rig "Hut"
    system 12 V
    rules vehicle
battery B1 flooded, 100 Ah, internal 10 mohm
panel P1 4 slots of 30 A, 60 A in all, negative N1
busbar N1 100 A
wire B1+ to P1 {feed} AWG red 30 ft, fuse 50 A at B1+
wire N1 to B1- 6 AWG white 12 ft
circuit P1.1 "Desk" fuse 15 A
    wire 14 AWG red {feet} ft
    load "Laptop supply" {first} W, {duty}{starts}
    load "Screen" {second} W
circuit P1.2 "Bench" fuse 20 A
    wire 14 AWG red {feet} ft
    load "Charger" {second} W, intermittent
    load "Light" {first} W, intermittent
"""
VOLTS = ("voltage-collapse", "voltage-drop")


def told(text: str) -> list[tuple[str, int]]:
    """The rules on volts, each with the place of which it speaks."""
    return [(one.rule, one.at.span.start) for one in judge(study_from(text)) if one.rule in VOLTS]


def hut(feet: int, first: int, second: int, **others: str) -> str:
    plain = {"feed": "14", "duty": "intermittent", "starts": ""}
    return HUT.format(feet=feet, first=first, second=second, **plain | others)


def test_what_collapses_only_with_all_on_is_no_drop_as_well() -> None:
    """Loads of now and then are not expected all at once: as expected they sag, all on collapse."""
    found = told(hut(20, 60, 60))
    assert "voltage-collapse" in {rule for rule, _ in found}
    assert len({place for _, place in found}) == len(found)


@settings(max_examples=25, deadline=None)
@given(
    feet=st.integers(10, 60), first=st.integers(20, 100), second=st.integers(20, 100),
    feed=st.sampled_from(["6", "10", "14"]),
    duty=st.sampled_from(["intermittent", "cyclic", "continuous"]),
    starts=st.sampled_from(["", ", starts at 3 times for 3 min"]),
)  # fmt: skip
def test_no_place_is_told_of_twice(
    feet: int, first: int, second: int, feed: str, duty: str, starts: str
) -> None:
    found = told(hut(feet, first, second, feed=feed, duty=duty, starts=starts))
    event(", ".join(sorted(rule for rule, _ in found)) or "quiet")
    assert len({place for _, place in found}) == len(found)
