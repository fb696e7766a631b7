"""What can come back through a return, against figures worked out by hand."""

import math

import pytest

from helpers.studies import numbered_study
from rigfolio.protection.returns import returns_of, start_shares


@pytest.fixture(scope="session")
def study_of():
    """Reads a text; its wires are called W1, W2, ... in their order."""
    return numbered_study


RIG = """rig "Returns"
    system 12 V
    rules rv
battery B1 flooded, 100 Ah
charger C1 45 A
fuse F1 50 A on B1+
panel P1 6 slots of 20 A, negative R1
busbar R1
busbar N1 200 A
chassis G1
wire F1.load to P1 6 AWG red 1 ft
wire C1+ to P1 6 AWG red 1 ft, fuse 50 A at P1
wire C1- to N1 6 AWG white 1 ft
wire R1 to N1 10 AWG white 1 ft
wire N1 to B1- 6 AWG white 1 ft
wire N1 to G1 8 AWG green 1 ft
circuit P1.1 "Lamps" fuse 5 A
    wire 14 AWG blue 1 ft
    load "Lamps" 1 A
circuit P1.2 "Fan" fuse 10 A
    wire 14 AWG blue 1 ft
    load "Fan" 1 A
    return 14 AWG white 1 ft
circuit P1.3 "Jack" fuse 20 A
    wire 12 AWG blue 1 ft
    load "Jack" 1 A
    return to G1
"""


def test_by_hand(study_of):
    returns = returns_of(study_of(RIG))
    most = {name: back.current_a for name, back in returns.items()}
    assert most["P1.2/1R"] == pytest.approx(10.0)
    # 5 A and 10 A come by the bar of the panel.
    assert most["W4"] == pytest.approx(15.0)
    # By the frame comes the circuit that returns there.
    assert most["W6"] == pytest.approx(20.0)
    # From the battery all three, 35 A, which is less than its fuse; the charger drives 45 A into
    # the battery, and that comes back here as well. When it has failed the battery drives into it
    # what their two fuses of 50 A let through.
    assert most["W5"] == pytest.approx(50.0)
    assert most["W3"] == pytest.approx(50.0)


def test_what_comes_back_is_told_by_circuits_and_a_load_of_none_by_its_name(study_of):
    lone = "load L9 1 A\nwire P1 to L9+ 14 AWG red 1 ft, fuse 5 A at P1\n"
    returns = returns_of(study_of(RIG + lone + "wire L9- to R1 14 AWG black 1 ft\n"))
    assert set(returns["W4"].circuits) == {"P1.1", "P1.2", "L9"}
    assert returns["W6"].circuits == ("P1.3",)


def test_a_load_that_nothing_feeds_brings_nothing_back(study_of):
    lone = "load L9 1 A\nwire L9- to R1 14 AWG black 1 ft\n"
    assert set(returns_of(study_of(RIG + lone))["W4"].circuits) == {"P1.1", "P1.2"}


def test_the_bond_of_a_frame_that_nothing_uses_carries_nothing(study_of):
    returns = returns_of(study_of(RIG.replace("    return to G1\n", "")))
    assert returns["W6"].current_a == 0.0


def test_assumed_returns_are_left_to_their_wires(study_of):
    study = study_of(RIG)
    assumed = [wire.name for wire in study.rig.conductors if wire.assumed]
    assert assumed == ["P1.1/1R"]
    assert "P1.1/1R" not in returns_of(study)


def test_without_a_fuse_nothing_bounds_it(study_of):
    study = study_of("""rig "Bare"
    rules rv
battery B1 100 Ah
load M1 5 A
wire B1+ to M1+ 10 AWG red 1 ft
wire M1- to B1- 10 AWG white 1 ft
""")
    assert math.isinf(returns_of(study)["W2"].current_a)


def test_two_ways_back_share_what_comes_by_their_copper(study_of):
    study = study_of(RIG + "wire B1- to G1 8 AWG green 1 ft\n")
    most = {name: back.current_a for name, back in returns_of(study).items()}
    # A ring of three, each 1 ft: 6 AWG 0.431 mohm, 8 AWG 0.714 mohm twice. The fuses let 15 A come
    # back at the bar and 20 A at the frame; the charger drives 45 A, which leave again at the bar.
    ring, bar, frame = 0.431 + 2 * 0.714, 0.431, 0.714
    # All 45 A into the battery come from its post to the bar, three quarters of them straight.
    assert most["W5"] == pytest.approx(45.0 * (ring - bar) / ring, rel=0.005)
    # What the battery drives: the 15 A at the bar by the long way, the 20 A at the frame straight.
    straight = 20.0 * (ring - frame) / ring
    assert most["W7"] == pytest.approx(15.0 * bar / ring + straight, rel=0.005)
    # Across runs most while the charger drives: 20 A of it come by the frame, and the other 25 A
    # from the battery by the long way.
    assert most["W6"] == pytest.approx(straight + 25.0 * bar / ring, rel=0.005)


def test_one_of_two_ways_back_carries_all_while_the_switch_in_the_other_is_open(study_of):
    # The fuse lets 20 A out. Both ways have the same copper: 10 A each, until S1 is opened.
    study = study_of("""rig "Two ways"
    system 12 V
    rules rv
battery B1 flooded, 100 Ah
fuse F1 20 A on B1+
disconnect S1 100 A
load M1 5 A
busbar N1 100 A
wire F1.load to M1+ 10 AWG red 1 ft
wire M1- to N1 10 AWG white 1 ft
wire N1 to B1- 8 AWG white 4 ft tag T1
wire N1 to S1.line 8 AWG white 2 ft tag T2
wire S1.load to B1- 8 AWG white 2 ft tag T3
""")
    most = {name: back.current_a for name, back in returns_of(study).items()}
    assert most["T1"] == pytest.approx(20.0)
    assert most["T2"] == pytest.approx(10.0)
    assert most["T3"] == pytest.approx(10.0)


def test_a_bar_that_nothing_joins_takes_nothing_back(study_of):
    lost = RIG.replace("wire R1 to N1 10 AWG white 1 ft", "wire R1 to Z9 16 AWG white 1 ft")
    returns = returns_of(study_of(lost.replace("busbar R1\n", "busbar R1\nsplice Z9\n")))
    assert returns.get("W4") is None
    assert returns["W5"].current_a == pytest.approx(50.0)


TWO_SYSTEMS = """rig "Two systems"
    system 12 V
    rules vehicle
battery B1 flooded, 100 Ah, 24 V
battery B2 flooded, 100 Ah, 12 V
dc-dc E1 30 A from 24 V to 12 V, draws 17 A
busbar N1 200 A
busbar N2 200 A
wire B1+ to E1.in 8 AWG red 2 ft, fuse 30 A at B1+
wire B1+ to L1+ 6 AWG red 2 ft, fuse 60 A at B1+
wire B2+ to L2+ 6 AWG red 2 ft, fuse 60 A at B2+
wire E1.out to B2+ 8 AWG red 2 ft, fuse 40 A at B2+
wire E1- to N2 8 AWG black 2 ft
wire B1- to N2 2 AWG black 1 ft
wire B2- to N2 2 AWG black 1 ft
wire N1 to N2 6 AWG black 2 ft
load L1 "Lift" 50 A
load L2 "Heater" 50 A
wire L1- to N1 6 AWG black 2 ft
wire L2- to N1 6 AWG black 2 ft
"""


def test_a_minus_that_two_systems_share_carries_both(study_of):
    returns = returns_of(study_of(TWO_SYSTEMS))
    # 60 A from each side of the converter, by their fuses.
    assert returns["W8"].current_a == pytest.approx(120.0)
    # By the minus of the 24 V bank what it drives alone: the lift, and 30 A into the converter.
    assert returns["W6"].current_a == pytest.approx(60.0 + 30.0)


# By hand, per 1000 ft at 20 °C (FAA AC 43.13-1B Table 11-9): 2/0 AWG 0.091 ohm, 10 AWG 1.26 ohm.
# 3 ft of 10 AWG beside 10 ft of 2/0 take 0.91 / (0.91 + 3.78) = 0.194 of what comes back.
BONDED = """rig "Engines"
    system 12 V
    rules vehicle
battery B1 flooded, 100 Ah
busbar G1
wire G1 to B1- 2/0 AWG black 10 ft cranking
wire G1 to B1- 10 AWG black 3 ft tag T1
"""
STARTER = """load M{0} "Starter" {1} A, momentary, motor
wire B1+ to M{0}+ 2/0 AWG red 4 ft cranking
wire M{0}- to G1 2/0 AWG black 1 ft cranking
"""


@pytest.mark.parametrize("amperes", [(180, 360), (360, 180)])
def test_a_bond_beside_the_cable_takes_its_share_of_the_heavier_start(study_of, amperes):
    engines = "".join(STARTER.format(at, amps) for at, amps in enumerate(amperes))
    shares = start_shares(study_of(BONDED + engines))
    ((share_a, load),) = shares.values()
    assert share_a == pytest.approx(0.194 * 360.0, rel=0.02)
    assert load.current_a(12.0) == 360.0


def test_a_start_is_counted_at_what_it_takes_for_its_first_moment(study_of):
    # 180 A that start at 2.5 times are 450 A.
    engine = STARTER.format(1, 180).replace("momentary", "momentary, starts at 2.5 times")
    ((share_a, _),) = start_shares(study_of(BONDED + engine)).values()
    assert share_a == pytest.approx(0.194 * 450.0, rel=0.02)


def test_a_start_comes_back_to_a_battery_and_to_no_charger(study_of):
    # By a bar on which a charger stands: 0.91 / (0.91 + 3.78 + 3.78) = 0.107 of what comes back.
    by_bar = "busbar G2\nwire G1 to G2 10 AWG black 3 ft tag T1\nwire G2 to B1- 10 AWG black 3 ft\n"
    text = BONDED.replace("wire G1 to B1- 10 AWG black 3 ft tag T1\n", by_bar)
    text += "charger C1 20 A\nwire C1- to G2 10 AWG black 1 ft\nwire C1+ to B1+ 10 AWG red 1 ft\n"
    share_a, _ = start_shares(study_of(text + STARTER.format(1, 360)))["T1"]
    assert share_a == pytest.approx(0.107 * 360.0, rel=0.02)


LOOP = """rig "Loop"
    system 12 V
    rules rv
battery B1 flooded, 100 Ah
busbar R1
busbar R2
splice Z1
wire B1- to R1 6 AWG white 1 ft
wire B1+ to Z1 6 AWG red 1 ft, fuse 20 A at B1+
load M1 5 A
wire Z1 to M1+ 14 AWG red 1 ft
wire M1- to {} 14 AWG white 1 ft
wire R1 to R2 10 AWG white {}, tag T1
wire R1 to R2 10 AWG white 3 ft, tag T2
"""


@pytest.mark.parametrize(
    ("end", "length", "back_a", "maybe"),
    [
        # Nothing hangs on R2: whatever is not known of the ring, nothing comes back by it.
        ("R1", "3 ft", 0.0, False), ("R1", "?", 0.0, False),
        # Alike, each brings half of what the fuse lets through; how much, turns on the lengths.
        ("R2", "3 ft", 10.0, False), ("R2", "?", 0.0, True),
    ],
)  # fmt: skip
def test_a_ring_carries_what_has_to_cross_it(study_of, end, length, back_a, maybe):
    found = returns_of(study_of(LOOP.format(end, length)))
    for name in ("T1", "T2"):
        back = found.get(name)
        told = (0.0, False) if back is None else (back.current_a, back.maybe)
        assert told == (pytest.approx(back_a), maybe), name


SUN = """rig "Roof"
    system 12 V
    rules rv
battery B1 agm, 100 Ah
solar U1 20 A
busbar N1 100 A
busbar N2 100 A
wire U1+ to B1+ 10 AWG red 3 ft, fuse 30 A at B1+
wire U1- to N1 10 AWG black 3 ft, tag T1
wire N1 to B1- 6 AWG black 1 ft, tag T2
array Y1 open circuit 22.4 V, short circuit 5.3 A
array Y2 open circuit 22.4 V, short circuit 6.1 A
wire Y1+ to U1.in 10 AWG red 9 ft
wire Y2+ to U1.in 10 AWG red 9 ft
wire Y1- to N2 10 AWG black 9 ft, tag T3
wire Y2- to N2 10 AWG black 9 ft, tag T4
wire N2 to U1.in- 10 AWG black 9 ft, tag T5
"""


@pytest.mark.parametrize("bond", ["", "wire N2 to N1 10 AWG black 2 ft, tag T6\n"])
def test_what_modules_give_comes_back_to_them_by_the_minus_of_their_controller(study_of, bond):
    # What a fuse lets into a controller that failed comes back by its minus, 30 A; by the minus of
    # its input no more than the modules give. A bond of both joins two ways that have their own.
    found = {name: back.current_a for name, back in returns_of(study_of(SUN + bond)).items()}
    wanted = {"T1": 30.0, "T2": 30.0, "T3": 5.3, "T4": 6.1, "T5": 11.4}
    assert found == pytest.approx(wanted | ({"T6": 0.0} if bond else {}))
