"""What hangs behind the contact of a relay is fed as switches stand that feed its coil."""

import pytest

from helpers.searches import diagnosed
from helpers.studies import heard, study_from
from rigfolio.demand import demand_by_level
from rigfolio.isolation import fed_by_position
from rigfolio.network import stands_for, together, turns_in

UP, DOWN = frozenset({("SW8", "1")}), frozenset({("SW8", "2")})
WINDLASS = """rig "Bow" system 12 V, rules boat, revised 2026-12-01
battery B1 "House" flooded, 105 Ah, internal 5 mohm
busbar N1 200 A
wire B1- to N1 2 AWG black 2 ft
panel P1 4 slots
wire B1+ to P1 6 AWG red 3 ft, fuse 40 A at B1+
wire P1- to N1 6 AWG black 3 ft
breaker F4 "Windlass breaker" 100 A, interrupts 5 kA
wire B1+ to F4 2 AWG red 2 ft
busbar N3 150 A
wire F4 to N3 2 AWG red 20 ft
relay K3 "Windlass up" 150 A, rests open
relay K4 "Windlass down" 150 A, rests open
wire N3 to K3 2 AWG red 1 ft
wire N3 to K4 2 AWG red 1 ft
wire K3 to L2+ 2 AWG red 3 ft
wire K4 to L3+ 2 AWG red 3 ft
load L2 "Motor up" 80 A, motor, intermittent
load L3 "Motor down" 80 A, motor, intermittent
wire L2- to N1 2 AWG black 24 ft
wire L3- to N1 2 AWG black 24 ft
circuit P1.1 "Windlass control" fuse 5 A
    wire 16 AWG orange 3 ft
    changeover SW8 10 A, rests off, 1 "up", 2 "down"
    wire from SW8.1 16 AWG orange 18 ft
    load "Windlass up coil" 1.5 A, intermittent
    wire from SW8.2 16 AWG black 18 ft
    load "Windlass down coil" 1.5 A, intermittent
"""
# A relay for each coil beside the switch, whose contact takes the fuse to the coil at the bow.
BY_TWO = (
    WINDLASS.replace('"Windlass up coil"', '"Helper K5 coil"')
    .replace('"Windlass down coil"', '"Helper K6 coil"')
    .replace(
        "circuit P1.1",
        """relay K5 "Small one" 30 A, rests open
relay K6 "Small two" 30 A, rests open
wire B1+ to K5 12 AWG red 1 ft, fuse 10 A at B1+
wire B1+ to K6 12 AWG red 1 ft, fuse 10 A at B1+
wire K5 to C3+ 14 AWG red 1 ft
wire K6 to C4+ 14 AWG red 1 ft
load C3 "Windlass up coil" 1.5 A, intermittent
load C4 "Windlass down coil" 1.5 A, intermittent
wire C3- to N1 14 AWG black 1 ft
wire C4- to N1 14 AWG black 1 ft
circuit P1.1""",
    )
)


@pytest.mark.parametrize("text", [WINDLASS, BY_TWO], ids=["one relay each", "two in line"])
def test_a_motor_runs_as_the_switch_of_its_coil_stands(text):
    rig = study_from(text).rig
    loads = rig.by_name.loads
    assert stands_for(rig, loads["L2"]) == (UP,)
    assert stands_for(rig, loads["L3"]) == (DOWN,)
    assert together(rig, ["L3", "L2"]) == ("L3",)
    assert together(rig, ["L2", "L3"], DOWN) == ("L3",)
    assert turns_in(rig, ["L2", "L3"]) == (("L2",), ("L3",))


def test_both_motors_are_never_connected_at_once():
    # By hand: 80 A one motor, 1.5 A its coil; the other of each cannot be on beside them.
    levels = {one.name: one for one in demand_by_level(study_from(WINDLASS))}
    assert levels["F4"].connected_a == pytest.approx(80.0)
    assert levels["B1"].connected_a == pytest.approx(81.5)


def test_a_position_is_told_with_the_motor_that_it_starts():
    told = dict(fed_by_position(study_from(WINDLASS), "SW8"))
    assert told == {
        "1 up": ("Motor up", "Windlass up coil"),
        "2 down": ("Motor down", "Windlass down coil"),
    }


@pytest.mark.parametrize(
    "readings", [("L3 dead", "L2 works"), ("L3 dead, SW8 2", "L2 works, SW8 1")]
)
def test_each_complaint_is_held_against_its_own_position(readings):
    study = study_from(WINDLASS)
    found = diagnosed(study, heard(study.rig, *readings))
    on = [scene.on & {"L2", "L3"} for scene in found.evidence.scenes]
    assert on == [{"L3"}, {"L2"}]
