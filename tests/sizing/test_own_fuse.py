"""Wires that lack nothing but a fuse, and what stays too much where a feed cannot be sized yet."""

from rigfolio.sizing.settled import left_words, sizes
from sizing.settle import judged

BANKS = """rig "Case"
    system 12 V
    rules boat
battery B1 flooded, 100 Ah, delivers 900 A
battery B2 flooded, 100 Ah, delivers 900 A
fuse F1 200 A on B1+
fuse F2 200 A on B2+
busbar N1 300 A
busbar N2 300 A
solar U1 15 A
wire W1 F1.load to N1 2/0 AWG red 1 ft
wire W2 F2.load to N1 2/0 AWG red 1 ft
wire W3 B1- to N2 2/0 AWG black 1 ft
wire W4 B2- to N2 2/0 AWG black 1 ft
wire W5 U1+ to N1 10 AWG red 6 ft
wire W6 U1- to N2 10 AWG black 6 ft
"""


def test_a_lead_that_lacks_but_a_fuse_is_not_grown_to_bear_two_banks():
    """400 A from two banks into a lead that carries 15 A and may be fused at 60 A: out and back."""
    result = judged(BANKS)
    found = sizes(result.study)
    fits = {w.name: w.fit.text for one in found for w in one.wires}
    assert (fits["W5"], fits["W6"]) == ("10 AWG", "10 AWG")
    said = list(left_words(result.study, found))
    assert any("a fuse of its own, 60 A at most, where `W5` begins" in one for one in said)
    assert any("`return-too-thin`" in one and "where `W5` begins" in one for one in said)


UNSIZED = """rig "Case"
    system 12 V
    rules rv
battery B1 flooded, 100 Ah, delivers 900 A
busbar N1 100 A
wire N1 to B1- 10 AWG white 20 ft
fuse F1 40 A on B1+
wire F1.load to P1 10 AWG red 20 ft
panel P1 6 slots of 20 A
circuit P1.1 "Radio" fuse 15 A
    wire 10 AWG red 3 ft
    load "Radio" 10 A, critical
circuit P1.2 "Unknown" fuse 5 A
    wire 14 AWG red 6 ft
    load "Unknown" ?
"""


def test_a_drop_is_not_called_enough_where_its_feed_waits_for_an_unknown():
    """By hand 10 A x 46 ft of 10 AWG at 1 mohm a foot = 0.46 V, 3.8 % where 3 % are allowed."""
    result = judged(UNSIZED)
    found = sizes(result.study)
    assert next(one for one in found if one.place == "F1").missing
    assert not next(one for one in found if one.place == "P1.1").changes
    said = [one for one in left_words(result.study, found) if "`voltage-drop`: " in one]
    assert ["`F1` before it cannot be sized yet" in one for one in said] == [True]
