"""A wire is known again by its copper and what it leads to, and not by its place in a list."""

import pytest

from helpers.studies import study_from
from rigfolio.compare import same_wires, work_between

ALARM = """rig "Alarm"
    system 24 V
    rules rv
battery B1 gel, 24 V, 110 Ah, internal 12 mohm
disconnect S1 100 A
panel P1 4 slots of 20 A, interrupts 2 kA
busbar N1 100 A
wire W1 N1 to B1- 10 mm2 black 1 m
wire W2 B1+ to S1.line 10 mm2 red 2 m, fuse 40 A at B1+, mega, interrupts 5 kA
wire W3 S1.load to P1 10 mm2 red 2 m
wire W4 P1- to N1 10 mm2 black 2 m
{}
"""
BEFORE = """circuit S1.line "Gas alarm" fuse 2 A after 10 cm, interrupts 5 kA, always on
    wire 1.5 mm2 pink 4 m
    load "Gas alarm" 0.08 A"""
AFTER = """circuit P1.2 "Gas alarm" fuse 2 A
    wire 1.5 mm2 pink {} m
    load "Gas alarm" 0.08 A"""


@pytest.mark.parametrize("long_m", ["4", "3.5"])
def test_what_stays_of_a_circuit_that_moves_is_its_long_wire_and_not_its_stub(long_m: str) -> None:
    before = study_from(ALARM.format(BEFORE)).rig
    after = study_from(ALARM.format(AFTER.format(long_m))).rig
    same = same_wires(before, after)
    assert same["P1.2/1"] == "S1.line/Gas alarm"
    assert same["P1.2/1R"] == "S1.line/Gas alarm R"
    wires = {work.before or work.after: work.deed for work in work_between(before, after)
             if work.thing == "wire"}  # fmt: skip
    assert wires["S1.line/Gas alarm stub"] == "remove"
    assert wires["S1.line/Gas alarm"] == "move"
    assert "pull new" not in wires.values()
    assert "replace" not in wires.values()


RUNS = """circuit P1.1 "Lamps" fuse 2 A
    wire 1.5 mm2 red {}
    splice Z1
    wire {} mm2 blue {}
    load "Left" 10 W
    wire from Z1 {} mm2 blue {}
    load "Right" 10 W"""


def test_a_wire_that_has_its_name_keeps_it_whatever_it_is_made_of() -> None:
    """What leads to each lamp is the same wire though the lengths are the other way round now."""
    before = study_from(ALARM.format(RUNS.format("3 m", "1.5", "2 m", "1.5", "5 m"))).rig
    after = study_from(ALARM.format(RUNS.format("3 m", "1.5", "5 m", "1.5", "2 m"))).rig
    same = same_wires(before, after)
    assert {now: was for now, was in same.items() if now != was} == {}
    assert len([name for name in same if name.startswith("P1.1/")]) == 6
