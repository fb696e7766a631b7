"""The graph of whole rigs: their objects and places, and what is kept of `?`."""

import pytest

from rigfolio.findings import UNKNOWN
from rigfolio.judgement.result import load
from rigfolio.model.asides import Gap, Remark

MARSH_WREN = """\
# Marsh Wren 17: house side of a small towable. Lengths are one way, along the wire.

rig "Marsh Wren 17"
    system   12 V
    rules    rv
    ambient  40 degC
    revised  2026-03-14

battery     B1  "House battery"       flooded, 105 Ah, internal 10 mohm
fuse        F1  "Battery fuse"        50 A, interrupts 10 kA
disconnect  S1  "Battery disconnect"  100 A
charger     C1  "Converter"           45 A
panel       P1  "Galley panel"        12 slots of 20 A, 75 A in all, pitch 14 mm
busbar      N1  "Negative bar"        100 A
chassis     G1  "Frame"

wire  B1+ to F1        6 AWG red    10 in
wire  F1  to S1.line   6 AWG red    3 ft
wire  S1.load to P1    6 AWG black  7 ft   # black is positive here; colour never tells polarity
wire  C1+ to P1        6 AWG black  4 ft, fuse 50 A at P1
wire  N1  to B1-       6 AWG white  9 ft
wire  C1- to N1        6 AWG white  4 ft
wire  B1- to G1        6 AWG bare   2 ft

circuit P1.1 "Ceiling lights"  fuse 7.5 A
    wire   14 AWG red/black 18 ft
    load   "Galley lamp"  8 W,  4 h/day
    load   "Bunk lamp"    5 W,  2 h/day
circuit P1.2 "Water pump"      fuse 10 A
    wire   14 AWG yellow 11 ft
    load   "Pump"  7 A, intermittent, starts at 3 times
circuit S1.line "Gas detector" fuse 3 A, always on
    wire   16 AWG ? 9 ft                # colour not surveyed yet
    load   "LP/CO detector"  0.15 A, 24 h/day
slot P1.12 spare

state stored   S1 open, C1 off
state shore    S1 closed, C1 on
"""


def build(text):
    _, rig, found = load("x.rig", text)
    assert found == ()
    assert rig is not None
    return rig


@pytest.fixture
def rig():
    return build(MARSH_WREN)


def test_the_example_of_the_brief_is_read_whole(rig):
    assert rig.problems == ()
    assert rig.gaps == ()
    assert [source.about.name for source in rig.sources] == ["B1", "C1"]
    assert [device.about.name for device in rig.devices] == [
        "F1", "S1", "C1+/P1 fuse", "P1.1", "P1.2", "S1.line/Gas detector fuse",
    ]  # fmt: skip
    assert [circuit.place for circuit in rig.circuits] == ["P1.1", "P1.2", "circuit S1.line"]
    assert [(wire.a, wire.b) for wire in rig.conductors if wire.circuit == "P1.1"] == [
        ("P1.1", "P1.1~1"),
        ("P1.1~1-", "N1"),
    ]
    assert [slot.number for slot in rig.slots] == [12]
    assert rig.conductor("S1.line/Gas detector").colour is UNKNOWN


def test_assumed_returns_are_recorded(rig):
    assert [one.text for one in rig.assumptions] == [
        f"{place} is taken to return to N1 with the same wire beside each wire out"
        for place in ("P1.1", "P1.2", "circuit S1.line")
    ]
    assert {wire.name for wire in rig.conductors if wire.assumed} == {
        "P1.1/1R", "P1.2/1R", "S1.line/Gas detector R",
    }  # fmt: skip
    assert all(wire.colour is None for wire in rig.conductors if wire.assumed)


def test_every_object_knows_its_place(rig):
    parts = [one.about.span for one in (*rig.sources, *rig.devices, *rig.panels, *rig.loads)]
    spans = [*parts, *(wire.span for wire in rig.conductors), *(c.span for c in rig.circuits)]
    cut = [MARSH_WREN[span.start : span.end] for span in spans]
    heads = {"battery", "charger", "fuse", "disconnect", "panel", "load", "wire", "circuit"}
    assert {text.split()[0] for text in cut} == heads
    size = rig.conductor("B1+/F1").size_span
    assert MARSH_WREN[size.start : size.end] == "6 AWG"


def test_every_terminal_of_a_wire_has_words(rig):
    ends = {end for wire in rig.conductors for end in (wire.a, wire.b)}
    assert [end for end in ends if end not in rig.where and not end.endswith("-")] == []
    assert rig.where["S1.load"].words == "S1.load Battery disconnect"
    assert rig.where["P1.1~1"].words == "Galley lamp; Bunk lamp +"


def test_what_has_no_room_in_the_graph_is_a_gap():
    text = 'rig "X" system 12 V, rules rv\nwire B1+ to P1 6 AWG red 3 ft, insulation ?\n'
    rig = build(text + "battery B1 100 Ah, rated ?\npanel P1 4 slots\n")
    assert [(gap.name, gap.key, gap.what) for gap in rig.gaps] == [
        ("", "insulation", "insulation temperature"),
        ("B1", "rated", "rated voltage"),
    ]
    assert all(isinstance(gap, Gap) for gap in rig.gaps)
    assert text[rig.gaps[0].span.start : rig.gaps[0].span.end] == "insulation ?"


def test_remarks_on_places_are_kept():
    rig = build("battery B1 100 Ah\nnote B1- corroded\nnote B1 loose\n")
    assert [(one.place, one.condition) for one in rig.remarks] == [("B1-", "corroded")]
    assert isinstance(rig.remarks[0], Remark)
    assert rig.sources[0].about.condition == "loose"


def test_problems_point_at_the_name_and_name_the_nearest():
    text = "battery B1 100 Ah\npanel P1 4 slots\nwire B1+ to P7 6 AWG red 3 ft\n"
    (problem,) = build(text).problems
    assert (problem.kind, problem.name, problem.near) == ("not-defined", "P7", "P1")
    assert text[problem.at.start : problem.at.end] == "P7"


def test_a_rig_of_many_parts_is_built_in_bounded_time():
    panels = [f"panel P{n} 120 slots\nwire P{n} to P{n + 1} 6 AWG red 3 ft" for n in range(1, 30)]
    circuits = [f'circuit P{n}.{slot} "x" fuse 5 A\n  wire 16 AWG red 3 ft\n  load "y" 1 A'
                for n in range(1, 30) for slot in range(1, 34)]  # fmt: skip
    rig = build("\n".join(["battery B1 1 Ah", *panels, "panel P30 4 slots", *circuits]))
    assert len(rig.circuits) == 29 * 33
    assert rig.problems == ()
