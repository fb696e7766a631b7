"""Rings and wires side by side: drop and demand against hand calculations and nodal solutions."""

import random

import pytest
from hypothesis import given, settings, strategies as st

from demand.test_drop import OHM_PER_KFT, solved
from helpers.ringed_rigs import made
from helpers.studies import numbered_study
from rigfolio.demand.drop import drops_of
from rigfolio.demand.flows import flows_of
from rigfolio.findings import Unknown
from rigfolio.model.graph import Conductor
from rigfolio.network.graph import edge_name
from rigfolio.operating.copper import Copper


@pytest.fixture(scope="session")
def study_of():
    """Reads a text; its wires are called W1, W2, ... in their order."""
    return numbered_study


SIDE_BY_SIDE = """rig "Two feeders"
    system 12 V
    rules rv
    ambient 30 degC
battery B1 flooded, 100 Ah
busbar D1 200 A
load M1 {draw}
wire B1+ to D1 6 AWG red 10 ft, fuse 60 A at B1+
wire B1+ to D1 10 AWG red 20 ft, fuse 30 A at B1+
wire D1 to M1+ 6 AWG red 1 ft
wire M1- to B1- 6 AWG white 10 ft
"""


def hot(ohm_75, current_a, limit_a):
    """Heat balance: the rise follows the square of the current (memory); 234.5 for copper."""
    temperature_c = 30.0 + 45.0 * (current_a / limit_a) ** 2
    return ohm_75 * (234.5 + temperature_c) / (234.5 + 75.0)


def by_hand(total_a):
    """Currents and the common loss of the two feeders, by the current divider, again and again."""
    one_a = two_a = total_a / 2.0
    for _ in range(50):
        # NFPA 70 Table 310.16 at 75 °C (seen): 65 A warm 6 AWG by 45 K, 35 A 10 AWG.
        one = hot(OHM_PER_KFT["6"], one_a, 65.0) * 10 / 1000
        two = hot(OHM_PER_KFT["10"], two_a, 35.0) * 20 / 1000
        one_a, two_a = total_a * two / (one + two), total_a * one / (one + two)
    return one_a, two_a, one_a * one


def drop_of(study, place=0):
    drop = drops_of(study).of(study.rig.loads[place])
    assert drop is not None
    return drop


def test_two_unequal_feeders_by_hand(study_of):
    study = study_of(SIDE_BY_SIDE.format(draw="36 A"))
    one_a, two_a, lost_v = by_hand(36.0)
    # Cold it would be 36 A x 27.6 / (5.25 + 27.6) = 30.24 A; the one that carries more gets hotter.
    assert 29.5 < one_a < 30.24
    assert flows_of(study).from_source("B1", "W1") == pytest.approx(one_a, rel=0.01)
    assert flows_of(study).from_source("B1", "W2") == pytest.approx(two_a, rel=0.01)
    assert flows_of(study).demand("W1 fuse").current_a == pytest.approx(one_a, rel=0.01)
    assert flows_of(study).demand("W2 fuse").current_a == pytest.approx(two_a, rel=0.01)
    rest = 36.0 * hot(OHM_PER_KFT["6"], 36.0, 65.0) * 11 / 1000
    assert drop_of(study).volts == pytest.approx(lost_v + rest, rel=0.015)


def test_kirchhoff_holds_between_two_feeders(study_of):
    study = study_of(SIDE_BY_SIDE.format(draw="36 A"))
    wires = {wire.name: wire for wire in study.rig.conductors}
    lost = []
    for name in ("W1", "W2"):
        current_a = flows_of(study).from_source("B1", name)
        lost.append(current_a * drops_of(study).ohm(wires[name], current_a, wires[name].size))
    assert lost[0] == pytest.approx(lost[1], rel=1e-9)
    total_a = sum(flows_of(study).from_source("B1", name) for name in ("W1", "W2"))
    assert total_a == pytest.approx(36.0, rel=1e-12)


def test_occasional_loads_lose_what_the_worst_of_them_makes(study_of):
    """Of two jacks one runs at a time; beside a lasting load the larger loss counts."""
    text = """rig "Jacks"
    system 12 V
    rules rv
battery B1 flooded, 100 Ah
busbar D1 200 A
busbar D2 200 A
load M1 2 A
load M2 20 A, momentary
load M3 10 A, momentary
wire B1+ to D1 8 AWG red 10 ft
wire B1+ to D2 8 AWG red 10 ft
wire D1 to D2 8 AWG red 10 ft
wire D1 to M1+ 10 AWG red 1 ft
wire D1 to M2+ 10 AWG red 1 ft
wire D2 to M3+ 10 AWG red 1 ft
wire M1- to B1- 8 AWG white 1 ft
wire M2- to B1- 8 AWG white 1 ft
wire M3- to B1- 8 AWG white 1 ft
"""
    study = study_of(text)
    way = flows_of(study).ways["M2"][0]
    settled = flows_of(study).counts.fed("B1", way.stretches[0]).settled()
    assert settled is not None
    one, across, two = (settled.ohms[name] for name in ("W1", "W3", "W2"))
    total = one + two + across
    own, shared = one * (two + across) / total, one * two / total
    lost_v = (2.0 + 20.0) * own
    assert lost_v > 2.0 * own + 10.0 * shared
    lead = study.rig.conductors[4]
    rest = [w for w in study.rig.conductors if w.name in ("W5", "W8")]
    single_v = sum(20.0 * drops_of(study).ohm(wire, 20.0, wire.size) for wire in rest)
    assert lead.name == "W5"
    assert drop_of(study, 1).volts == pytest.approx(lost_v + single_v, rel=1e-12)


def test_a_return_beside_the_frame_shares_with_it(study_of):
    """The frame takes most of what comes back where its bond is short and thick."""
    text = """rig "Frame"
    system 12 V
    rules vehicle
battery B1 flooded, 100 Ah
busbar N1 200 A
chassis G1
load M1 10 A
wire B1+ to M1+ 10 AWG red 3 m, fuse 30 A at B1+
wire M1- to N1 10 AWG black 1 m
wire N1 to B1- 10 AWG black 6 m
wire N1 to G1 4 AWG black 0.5 m
wire G1 to B1- 4 AWG black 0.5 m
"""
    flows = flows_of(study_of(text))
    wire_a, frame_a = flows.from_source("B1", "W3"), flows.from_source("B1", "W4")
    assert frame_a > 9.0
    assert wire_a + frame_a == pytest.approx(10.0)
    assert flows.from_source("B1", "W5") == pytest.approx(frame_a)


def test_a_switch_in_one_feeder_leaves_all_to_the_other(study_of):
    text = SIDE_BY_SIDE.replace(
        "wire B1+ to D1 6 AWG red 10 ft, fuse 60 A at B1+",
        "disconnect S1 100 A\nwire B1+ to S1.line 6 AWG red 5 ft, fuse 60 A at B1+\n"
        "wire S1.load to D1 6 AWG red 5 ft",
    )
    flows = flows_of(study_of(text.format(draw="36 A")))
    assert flows.demand("W3 fuse").current_a == pytest.approx(36.0)
    one_a, two_a, _ = by_hand(36.0)
    assert flows.demand("W1 fuse").current_a == pytest.approx(one_a, rel=0.01)
    assert flows.from_source("B1", "W3") == pytest.approx(two_a, rel=0.02)


def test_what_is_side_by_side_without_resistance_may_each_carry_all(study_of):
    """How much goes through which pin is up to their contacts, and to wires of unknown length."""
    study = study_of("""rig "Side by side"
    system 12 V
    rules rv
battery B1 flooded, 100 Ah
connector J1 2 pins
load M1 20 A
wire B1+ to J1.1.line 8 AWG red ?
wire J1.1.load to M1+ 8 AWG red ?
wire B1+ to J1.2.line 8 AWG red ?
wire J1.2.load to M1+ 8 AWG red ?
wire M1- to B1- 8 AWG white 1 ft
""")
    assert flows_of(study).demand("J1.1.line").current_a == pytest.approx(20.0)
    assert flows_of(study).demand("J1.2.line").current_a == pytest.approx(20.0)


def test_an_unknown_length_in_a_ring_counts_for_the_worst_and_gives_no_drop(study_of):
    text = SIDE_BY_SIDE.format(draw="36 A")
    study = study_of(text.replace("10 AWG red 20 ft", "10 AWG red ? ft"))
    assert drops_of(study).of(study.rig.loads[0]) is None
    assert flows_of(study).demand("W1 fuse").current_a == pytest.approx(36.0)
    assert flows_of(study).demand("W2 fuse").current_a == pytest.approx(36.0)


def test_currents_that_meet_in_a_ring_do_not_hide_each_other(study_of):
    """With two equal loads nothing runs across; with one of them off a third of the other does."""
    flows = flows_of(
        study_of("""rig "Ring"
    system 12 V
    rules rv
battery B1 flooded, 100 Ah
busbar D1 200 A
busbar D2 200 A
load M1 30 A
load M2 30 A
wire B1+ to D1 6 AWG red 10 ft
wire B1+ to D2 6 AWG red 10 ft
wire D1 to D2 6 AWG red 10 ft
wire D1 to M1+ 8 AWG red 1 ft
wire D2 to M2+ 8 AWG red 1 ft
wire M1- to B1- 8 AWG white 1 ft
wire M2- to B1- 8 AWG white 1 ft
""")
    )
    assert flows.from_source("B1", "W3") == pytest.approx(0.0, abs=1e-9)
    # All three are equally long, the one across stays cold: a little more than a third.
    assert 10.0 <= flows.demand("W3").current_a < 11.5
    assert flows.demand("W1").current_a == pytest.approx(30.0)
    assert flows.users("W3") == {"M1", "M2"}


def test_a_charger_splits_its_current_too(study_of):
    flows = flows_of(
        study_of("""rig "Charger"
    system 12 V
    rules rv
battery B1 flooded, 100 Ah
charger C1 30 A
busbar D1 200 A
wire C1+ to D1 8 AWG red 1 ft
wire D1 to B1+ 8 AWG red 6 ft
wire D1 to B1+ 8 AWG red 3 ft
wire B1- to C1- 8 AWG white 1 ft
""")
    )
    assert flows.demand("W1").charge_a == pytest.approx(30.0)
    assert flows.demand("W2").charge_a == pytest.approx(10.0)
    assert flows.demand("W3").charge_a == pytest.approx(20.0)


def test_banks_behind_a_selector_are_fed_each_by_its_own(study_of):
    """Two banks, a link of two wires side by side between selector and bar."""
    text = """rig "Banks"
    system 12 V
    rules boat
battery B1 flooded, 100 Ah
battery B2 flooded, 100 Ah
selector S1 300 A
busbar D1 200 A
load M1 30 A
wire B1+ to S1.1 4 AWG red 3 ft, fuse 100 A at B1+
wire B2+ to S1.2 4 AWG red 3 ft, fuse 100 A at B2+
wire S1.common to D1 8 AWG red 6 ft
wire S1.common to D1 8 AWG red 3 ft
wire D1 to M1+ 8 AWG red 1 ft
wire M1- to B1- 4 AWG yellow 1 ft
wire B1- to B2- 4 AWG yellow 1 ft
"""
    flows = flows_of(study_of(text))
    for bank in ("B1", "B2"):
        assert flows.from_source(bank, "W3") == pytest.approx(10.0, rel=0.03)
        assert flows.from_source(bank, "W4") == pytest.approx(20.0, rel=0.03)
    assert flows.from_source("B1", "W2") == 0.0


def test_thicker_copper_in_a_ring_is_tried_in_the_ring(study_of):
    study = study_of(SIDE_BY_SIDE.format(draw="36 A"))
    ring = next(w for w in study.rig.conductors if w.name == "W2")
    thick = next(w for w in study.rig.conductors if w.name == "W1").size

    def on_trial(wire):
        return thick if wire.name == ring.name else wire.size

    better = drops_of(study).of(study.rig.loads[0], on_trial)
    same = study_of(SIDE_BY_SIDE.format(draw="36 A").replace("10 AWG red 20", "6 AWG red 20"))
    assert better is not None
    assert better.volts < drop_of(study).volts
    assert better.volts == pytest.approx(drop_of(same).volts, rel=1e-12)


def test_a_panel_fed_twice_by_hand(study_of):
    study = study_of("""rig "Twice"
    system 12 V
    rules rv
    ambient 30 degC
battery B1 flooded, 100 Ah
panel P1 4 slots of 40 A
busbar N1 200 A
wire B1+ to P1 6 AWG red 10 ft, fuse 60 A at B1+
wire B1+ to P1 10 AWG red 20 ft, fuse 30 A at B1+
wire N1 to B1- 6 AWG white 10 ft
circuit P1.1 "Heater" fuse 40 A
    wire 8 AWG blue 1 ft
    load "Heater" 36 A
""")
    _, _, lost_v = by_hand(36.0)
    back_v = 36.0 * hot(OHM_PER_KFT["6"], 36.0, 65.0) * 10 / 1000
    drop = drops_of(study).feeder(study.rig.panels[0])
    assert drop is not None
    assert drop.volts == pytest.approx(lost_v + back_v, rel=0.015)


def test_what_a_bank_serves_by_a_combiner_comes_on_top_of_its_own(study_of):
    """Both loads come by the same two wires; one of them keeps to the bank, one does not."""
    flows = flows_of(
        study_of("""rig "Combined"
    system 12 V
    rules rv
battery B1 flooded, 100 Ah
busbar D1 200 A
busbar D2 200 A
combiner K1 120 A
load M1 10 A
load M2 20 A
wire B1+ to D1 6 AWG red 10 ft
wire B1+ to D1 6 AWG red 10 ft
wire D1 to K1.1 6 AWG red 1 ft
wire K1.2 to D2 6 AWG red 1 ft
wire D1 to M1+ 8 AWG red 1 ft
wire D2 to M2+ 8 AWG red 1 ft
wire M1- to B1- 8 AWG white 1 ft
wire M2- to B1- 8 AWG white 1 ft
""")
    )
    for name in ("W1", "W2"):
        assert flows.demand(name).current_a == pytest.approx(15.0)
        assert flows.from_source("B1", name) == pytest.approx(15.0)


def test_a_short_lead_of_unknown_size_in_a_ring_counts_as_none(study_of):
    """As on a single way it is left to the maker of the fixture."""
    study = study_of(
        SIDE_BY_SIDE.format(draw="36 A").replace("6 AWG red 10 ft, fuse 60 A at B1+", "? red 10 ft")
    )
    assert drops_of(study).of(study.rig.loads[0]) is None
    copper = drops_of(study).copper
    wire = study.rig.conductors[0]
    assert isinstance(wire.size, Unknown)
    assert copper.counted_ohm(wire, 1.0, wire.size) is None
    lenient = Copper(
        copper.carries, copper.ambient_c, copper.at_limit_c, lambda _: False, copper.ohm_per_m
    )
    assert lenient.counted_ohm(wire, 1.0, wire.size) == 0.0


def carried(study):
    """The wires with what they carry from B1 and their resistance under it."""
    found = []
    for wire in study.rig.conductors:
        current_a = flows_of(study).from_source("B1", wire.name)
        found.append((wire, current_a, drops_of(study).ohm(wire, current_a, wire.size)))
    return found


def draws_of(study):
    currents = {}
    for load in study.rig.loads:
        current_a = flows_of(study).expected[load.about.name].current_a
        assert not isinstance(current_a, Unknown)
        currents |= {load.plus: current_a, load.minus: current_a}
    return currents


@settings(settings.get_profile("study"), max_examples=40)
@given(seed=st.integers(0, 10**6), rings=st.integers(1, 5))
def test_a_meshed_rig_is_its_nodal_solution(seed, rings):
    study = made(seed, rings=rings)
    assert any(way.stretches for ways in flows_of(study).ways.values() for way in ways)
    wires = carried(study)
    lost = solved(study, [(w.a, w.b, ohm) for w, _, ohm in wires], draws_of(study))
    lost |= {"B1+": 0.0, "B1-": 0.0}
    for load in study.rig.loads:
        drop = drops_of(study).of(load)
        assert drop is not None
        assert drop.volts == pytest.approx(lost[load.plus] + lost[load.minus], rel=1e-9)
    for wire, current_a, ohm in wires:
        most_a = max(draws_of(study).values())
        assert current_a == pytest.approx(
            abs(lost[wire.a] - lost[wire.b]) / ohm, rel=1e-9, abs=1e-9 * most_a
        )


@settings(settings.get_profile("study"), max_examples=40)
@given(seed=st.integers(0, 10**6))
def test_a_radial_rig_is_added_up_along_its_ways(seed):
    """The very figures, to the last bit, of currents and losses added up along each way."""
    study = made(seed, rings=0)
    through = {}
    for load in study.rig.loads:
        (way,) = flows_of(study).ways[load.about.name]
        assert way.stretches == ()
        for edge in (*way.out, *way.back):
            current_a = flows_of(study).expected[load.about.name].current_a
            through[edge_name(edge)] = through.get(edge_name(edge), 0.0) + current_a
    for load in study.rig.loads:
        (way,) = flows_of(study).ways[load.about.name]
        wires = [edge for edge in (*way.out, *way.back) if isinstance(edge, Conductor)]
        lost_v = 0.0
        for wire in wires:
            current_a = through[wire.name]
            lost_v += drops_of(study).ohm(wire, current_a, wire.size) * current_a
        assert drop_of(study, study.rig.loads.index(load)).volts == lost_v


@settings(settings.get_profile("study"), max_examples=40)
@given(seed=st.integers(0, 10**6), rings=st.integers(1, 4))
def test_no_wire_of_a_ring_carries_more_than_is_said(seed, rings):
    """Whichever loads run, by the nodal solution of the same copper."""
    study = made(seed, rings=rings)
    wires = carried(study)
    pick = random.Random(seed)
    on = {load.about.name for load in study.rig.loads if pick.random() < 0.5}
    draws = draws_of(study)
    for load in study.rig.loads:
        if load.about.name not in on:
            draws |= {load.plus: 0.0, load.minus: 0.0}
    lost = solved(study, [(w.a, w.b, ohm) for w, _, ohm in wires], draws)
    lost |= {"B1+": 0.0, "B1-": 0.0}
    for wire, _, ohm in wires:
        runs_a = abs(lost[wire.a] - lost[wire.b]) / ohm
        assert runs_a <= flows_of(study).demand(wire.name).current_a + 1e-6
