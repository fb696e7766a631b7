"""What a meter should show where a switch joins two banks in an emergency alone."""

from helpers.studies import study_from
from rigfolio.operating import stages_of

TEXT = """
rig "T" system 12 V, rules boat
battery B1 "Engine battery" flooded, 12 V, 90 Ah
battery B2 "House bank" lithium, 12.8 V, 200 Ah
busbar N1 300 A
disconnect S1 300 A
disconnect S2 300 A
disconnect S3 300 ARESTS
load M1 "Windlass" 80 A, intermittent
panel P1 4 slots of 15 A, negative N1
wire B1+ to S1.line 1/0 AWG red 1 ft
wire B2+ to S2.line 1/0 AWG red 1 ft
wire S1.load to M1+ 2 AWG red 9 ft
wire S2.load to P1 4 AWG red 3 ft
wire S1.load to S3.line 1/0 AWG red 1 ft
wire S3.load to S2.load 1/0 AWG red 1 ft
wire B1- to N1 1/0 AWG black 1 ft
wire B2- to N1 1/0 AWG black 1 ft
wire M1- to N1 2 AWG black 9 ft
circuit P1.1 "Lamp" fuse 5 A
    wire 14 AWG red 5 ft
    load "Lamp" 2 A
"""


def told(rests: str) -> tuple[str, set[str]]:
    """What is said of the feed, and the ends between which volts are read anywhere."""
    stages = stages_of(study_from(TEXT.strip().replace("RESTS", rests) + "\n"))
    feed = stages.feed()
    ends = {end for step in feed.steps for point in step.points for end in (point.a, point.b)}
    return feed.about, ends


def test_an_open_switch_is_told_and_nothing_is_read_through_it() -> None:
    words, ends = told(", rests open")
    assert words.endswith(" S3 stays open.")
    assert "S3.line" not in ends


def test_a_switch_of_which_nothing_is_said_is_closed() -> None:
    words, ends = told("")
    assert "stays open" not in words
    assert "S3.line" in ends
