"""Short circuits against a circuit simulator and against sums done by hand."""

import math

import pytest
from hypothesis import given, settings, strategies as st

from helpers.circuits import Made, Netlist, internal
from helpers.home import RIGS
from helpers.lamp import (
    BRANCH_LEAST_OHM,
    BRANCH_OHM,
    FEED_LEAST_OHM,
    FEED_OHM,
    HOT,
    LAMP,
    lamp,
)
from helpers.studies import studied, study_from
from rigfolio.isolation.energised import CLOSED, Open
from rigfolio.model.graph import Rig
from rigfolio.record import replace
from rigfolio.shorts.faults import Faults
from rigfolio.shorts.wiring import in_short
from rigfolio.study import Study

NEAR = {"rel": 1e-6, "abs": 1e-5}


def fault_at(study, terminal, to=None, opened=CLOSED):
    """A fault at one terminal; what may be None is asserted where it counts."""
    return Faults(study, opened).at(terminal, to)


def coldest(rig: Rig) -> Rig:
    """A rig as a fault finds it at worst: copper of 20 °C, full batteries, no load."""
    # Full and at rest, per 12 V: 12.73 V flooded (batteries.toml, maker's figure), 12.8 V AGM,
    # 13.6 V lithium (charts). A maker's short-circuit current flows at the posts of a full battery:
    # behind copper it gives more than the same current at the nominal voltage would leave.
    full = {"flooded": 12.73, "agm": 12.8, "lithium": 13.6}
    sources = []
    for source in rig.sources:
        volts = source.voltage_v
        if source.kind == "battery":
            volts = max(volts, full[source.chemistry] * round(volts / 12.0))
        filled = replace(source, voltage_v=volts)
        sources.append(replace(filled, internal_ohm=internal(filled)))
    wires = tuple(
        replace(wire, ambient_c=min(20.0, wire.ambient_c or rig.ambient_c or 20.0))
        for wire in rig.conductors
    )
    return replace(rig, conductors=wires, sources=tuple(sources), loads=())


def assert_holds(case, theirs, terminal: str) -> None:
    """Where one figure is a bound all are: no less than the simulator has."""
    told = [(blow.current_a, f"{blow.device.line} {blow.device.load}") for blow in case.blows]
    told += [(stress.current_a, stress.wire.name) for stress in case.stresses]
    for most_a, name in told:
        assert abs(theirs.current_a(name)) <= most_a * (1.0 + 1e-6) + 1e-5, (terminal, name)
    for name, most_a in case.sources:
        given_a = max(theirs.current_a(name), 0.0)
        assert given_a <= max(most_a, 0.0) * (1.0 + 1e-6) + 1e-5, (terminal, name)


def compare(study: Study, terminals: list[str]) -> int:
    """Compare faults at some terminals with the simulator; gives how many there were."""
    faults = Faults(study)
    rig = coldest(study.rig)
    done = 0
    posts = {s.plus for s in rig.sources if s.kind == "battery"}
    charging = {s.about.name for s in rig.sources if posts & study.net.walk([s.plus]).keys()}
    for terminal in terminals:
        found = faults.at(terminal)
        assert found is not None, terminal
        case = found.coldest
        feeding = dict(case.sources)
        limited = [s.about.name for s in rig.sources if s.limit_a is not None]
        idle = [name for name in limited if name not in feeding and name not in charging]
        netlist = Netlist(
            rig, [s.about.name for s in rig.sources], set(limited) - set(idle), idle, least=True
        )
        netlist.short(found.terminal, found.to)
        theirs = netlist.solve()
        flows_a = theirs.current_a("fault")
        if case.current_a is None:
            # What stands in for an unknown there holds nothing back in a bound.
            assert case.bound_a is not None
            assert flows_a * (1.0 - 1e-6) <= case.bound_a <= flows_a * 1.1, terminal
            assert_holds(case, theirs, terminal)
            done += 1
            continue
        assert case.bound_a == pytest.approx(flows_a, **NEAR), terminal
        for blow in case.blows:
            own_a = abs(theirs.current_a(f"{blow.device.line} {blow.device.load}"))
            assert blow.current_a == pytest.approx(own_a, **NEAR), (terminal, blow.device)
        for stress in case.stresses:
            own_a = abs(theirs.current_a(stress.wire.name))
            assert stress.current_a == pytest.approx(own_a, **NEAR), (terminal, stress.wire)
        for name, given_a in feeding.items():
            assert given_a == pytest.approx(theirs.current_a(name), **NEAR), (terminal, name)
        done += 1
    return done


def places(study: Study, count: int) -> list[str]:
    """Some terminals of the plus side that a battery reaches, spread over the rig."""
    batteries = [s.plus for s in study.rig.sources if s.kind == "battery"]
    live = [t for t in study.net.walk(batteries) if study.side.get(t) == "+"]
    return live[:: max(len(live) // count, 1)]


@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_examples_as_a_simulator_has_them(file):
    study = studied(file)
    assert compare(study, places(study, 12)) >= 8


@pytest.mark.parametrize("seed", range(40))
def test_made_rigs_as_a_simulator_has_them(seed):
    study = study_from(Made(seed).text)
    assert compare(study, places(study, 6)) >= 6


def test_a_branch_by_hand():
    found = fault_at(lamp(), "P1.1~1")
    assert found is not None
    assert found.to == "P1.1-"
    # 12.73 V: full and at rest, from a battery maker's figures.
    cold_a = 12.73 / (0.010 + FEED_LEAST_OHM + BRANCH_LEAST_OHM)
    hot_a = 12.0 / (0.010 + (FEED_OHM + BRANCH_OHM) * HOT)
    assert found.coldest.current_a == pytest.approx(cold_a, rel=1e-9)
    assert found.hottest.current_a == pytest.approx(hot_a, rel=1e-9)
    assert dict(found.coldest.sources) == {"B1": pytest.approx(cold_a)}
    opens = found.coldest.opens
    assert opens is not None
    assert opens.device.about.name == "P1.1"
    # 92 A and more through 10 A are above the last gate: 0.1 s at the latest.
    assert (opens.window.min_s, opens.window.max_s) == (0.0, 0.1)
    assert opens.source.status == "memory"


def test_the_slot_has_no_branch_in_its_way():
    found = fault_at(lamp(), "P1.1")
    assert found is not None
    assert found.to == "N1"
    assert found.coldest.current_a == pytest.approx(12.73 / (0.010 + FEED_LEAST_OHM))


def test_a_fault_to_the_frame():
    found = fault_at(lamp(), "P1.1~1", "G1")
    assert found is not None
    loop_ohm = 0.010 + FEED_LEAST_OHM + BRANCH_LEAST_OHM / 2.0 + 1.82e-3
    assert found.coldest.current_a == pytest.approx(12.73 / loop_ohm)


def test_no_fault_on_the_minus_side_or_between_like_sides():
    study = lamp()
    assert fault_at(study, "N1") is None
    assert fault_at(study, "P1.1", "P1") is None
    assert fault_at(study, "nowhere") is None
    assert fault_at(study, "P1.1", opened=Open(sources=frozenset({"B1"}))) is None
    assert fault_at(study, "P1.1", opened=Open(frozenset({"P1.1"}))) is None


def test_copper_takes_what_k_says():
    found = fault_at(lamp(), "P1.1~1")
    assert found is not None
    wire = next(s for s in found.coldest.stresses if s.wire.name == "P1.1/1")
    # k from 105 °C to 160 °C by the formula of IEC 60364-5-54: 87.44.
    by_hand = (87.44 * 1.5 / found.coldest.current_a) ** 2
    assert wire.withstand_s == pytest.approx(by_hand, rel=1e-3)
    assert wire.clears_s == 0.1
    assert wire.holds is True


def test_copper_that_does_not_hold():
    text = LAMP.format(inside="internal 1 mohm", main="midi").replace(
        "1.5 mm2 5 m", "0.5 mm2 0.2 m"
    )
    found = fault_at(study_from(text), "P1.1~1")
    assert found is not None
    wire = next(s for s in found.coldest.stresses if s.wire.name == "P1.1/1")
    # The standard says 0.1 s at most, of a current far above its last gate: that is no verdict.
    assert wire.withstand_s < wire.clears_s == 0.1
    assert found.coldest.ends.beyond
    assert wire.holds is None


def test_copper_that_burns_by_the_gates():
    text = (
        LAMP.format(inside="internal 1 mohm", main="midi")
        .replace("1.5 mm2 5 m", "0.5 mm2 2 m")
        .replace("fuse 10 A", "fuse 30 A")
    )
    found = fault_at(study_from(text), "P1.1~1")
    assert found is not None
    wire = next(s for s in found.coldest.stresses if s.wire.name == "P1.1/1")
    assert not found.coldest.ends.beyond
    assert wire.withstand_s < wire.clears_s < 5.0
    assert wire.holds is False


def test_an_unknown_time_is_not_taken_for_a_short_one():
    found = fault_at(lamp(), "P1")
    assert found is not None
    assert found.coldest.opens.speed == "no table"
    assert found.coldest.ends.window is None
    assert {stress.holds for stress in found.coldest.stresses} == {None}
    assert found.coldest.is_selective is None


def test_nothing_in_the_way_never_ends():
    found = fault_at(lamp(), "B1+")
    assert found is not None
    assert found.coldest.opens is None
    assert math.isinf(found.coldest.ends.window.max_s)
    assert found.coldest.ends.by == ()


SELECTIVE = """rig "Selective"
    system 12 V
    rules vehicle
battery B1 flooded, 100 Ah, internal 10 mohm
busbar N1 100 A
fuse F1 {main} A regular on B1+
fuse F2 3 A regular
wire F1.load to F2.line 1.5 mm2 {run} m
wire F2.load to M1+ 1.5 mm2 {run} m
load M1 "Lamp" 1 A
wire M1- to N1 1.5 mm2 {run} m
wire N1 to B1- 10 mm2 1 m
"""


@pytest.mark.parametrize(
    ("main", "run", "selective"),
    [
        # 12.73 V over 3 x 30 m of 13.3 mohm and the rest: 10.5 A hold a fuse of 15 A, ...
        (15, 30, True),
        # ... and a fuse of 10 A, which is below its first gate;
        (10, 30, True),
        # over 3 x 2 m: 140 A are above the last gate of both, where nothing keeps them apart, ...
        (5, 2, False),
        # ... and where ratings of five to one are not said to open together either.
        (15, 2, None),
    ],
)
def test_selectivity_by_the_gates(main, run, selective):
    found = fault_at(study_from(SELECTIVE.format(main=main, run=run)), "M1+")
    assert found is not None
    assert found.coldest.opens.device.about.name == "F2"
    assert found.coldest.is_selective is selective


def test_a_usual_resistance_stands_in_for_the_hottest_case_only():
    found = fault_at(lamp("12 V"), "P1.1~1")
    assert found is not None
    assert found.coldest.current_a is None
    assert found.coldest.bound_a == pytest.approx(
        12.73 / (FEED_LEAST_OHM + BRANCH_LEAST_OHM), rel=1e-3
    )
    # The highest of the usual ones for 100 Ah of lead-acid: 12.6 mohm.
    hot_a = 12.0 / (0.0126 + (FEED_OHM + BRANCH_OHM) * HOT)
    assert found.hottest.current_a == pytest.approx(hot_a)
    assert [source.about.name for source in found.ask] == ["B1"]
    assert [(s.about.name, usual.value) for s, usual in found.assumed] == [("B1", 0.0126)]


def test_nothing_stands_in_for_a_battery_of_unknown_capacity():
    found = fault_at(study_from(LAMP.format(inside="12 V", main="midi").replace("100 Ah", "? Ah")),
                     "P1.1~1")  # fmt: skip
    assert found is not None
    assert found.hottest.current_a is None
    assert found.hottest.bound_a is None


def test_strings_in_parallel_add():
    text = LAMP.format(inside="delivers 1 kA", main="midi") + (
        "battery B2 flooded, 100 Ah, delivers 2 kA\n"
        "wire B2+ to B1+ 120 mm2 0 m\nwire B2- to B1- 120 mm2 0 m\n"
    )
    study = study_from(text)
    found = fault_at(study, "F1.load")
    assert found is not None
    # 12 mohm and 6 mohm side by side.
    assert found.coldest.current_a == pytest.approx(3000.0)
    assert dict(found.coldest.sources) == {
        "B1": pytest.approx(1000.0), "B2": pytest.approx(2000.0),
    }  # fmt: skip


def test_a_charger_adds_no_more_than_its_limit_and_feeds_on():
    text = LAMP.format(inside="internal 10 mohm", main="midi") + (
        "charger C1 30 A\nwire C1+ to P1 10 mm2 0 m, fuse 40 A at P1\nwire C1- to N1 10 mm2 0 m\n"
    )
    found = fault_at(study_from(text), "P1")
    assert found is not None
    # The charger raises the bar by 30 A through the battery's side before the fault.
    way_ohm = 0.010 + FEED_LEAST_OHM
    assert found.coldest.current_a == pytest.approx((12.73 + 30.0 * way_ohm) / way_ohm)
    assert dict(found.coldest.sources)["C1"] == 30.0
    assert found.coldest.ends.feeds_on == ("C1",)
    assert "C1" not in dict(found.hottest.sources)


def test_a_source_of_another_battery_is_none_of_the_fault():
    """An alternator that charges the starter battery drives nothing into a short of the house."""
    study = study_from(
        """\
rig "Dunlin"
    system   12 V
    rules    vehicle
    revised  2026-03-14
battery    B1 "House"   100 Ah, internal 10 mohm
battery    B2 "Starter" 90 Ah, internal 5 mohm
alternator A1 "Alternator" 120 A
busbar     N1
fuse       F1 100 A, on B1+, interrupts 2 kA
wire A1+ to B2+  25 mm2 red 1 m
wire A1- to N1   25 mm2 black 1 m
wire B2- to N1   25 mm2 black 1 m
wire B1- to N1   25 mm2 black 1 m
"""
    )
    found = Faults(study).at("F1.load", "B1-")
    assert [name for name, _ in found.coldest.sources] == ["B1"]
    assert [name for name, _ in found.hottest.sources] == ["B1"]


def test_a_converter_alone_never_opens_a_large_fuse():
    text = (
        'rig "Converter"\n    system 48 V\n    rules vehicle\n'
        "battery B1 lithium, 100 Ah, delivers 1 kA\n"
        "dc-dc E1 30 A from 48 V to 12 V, draws 8.5 A\n"
        "wire B1+ to E1.in 2.5 mm2 1 m, fuse 15 A at B1+\nwire E1- to B1- 2.5 mm2 1 m\n"
        'circuit E1.out "Pump" fuse {fuse} A regular\n    wire 2.5 mm2 {run} m\n'
        '    load "Pump" 5 A\n    return 2.5 mm2 {run} m to E1-\n'
    )
    found = fault_at(study_from(text.format(fuse=30, run=5)), "E1.out~1")
    assert found is not None
    assert found.coldest.current_a == found.hottest.current_a == 30.0
    assert found.coldest.opens is None
    assert math.isinf(found.coldest.ends.window.max_s)
    # 12 V over 2 x 60 m of 7.41 mohm (IEC 60228 class 2, seen): it no longer gives 30 A.
    far = fault_at(study_from(text.format(fuse=10, run=60)), "E1.out~1")
    assert far is not None
    assert far.coldest.current_a == pytest.approx(12.0 / (120 * 7.41e-3))
    assert dict(far.coldest.sources) == {"E1": far.coldest.current_a}
    assert far.coldest.opens.speed == "timed"


def test_unknown_copper_leaves_a_bound():
    text = LAMP.format(inside="internal 10 mohm", main="midi").replace(
        "wire 1.5 mm2 5 m", "wire ? 5 m"
    )
    found = fault_at(study_from(text), "P1.1~1")
    assert found is not None
    assert [wire.name for wire in found.unknown] == ["P1.1/1"]
    assert found.coldest.current_a is None
    assert found.coldest.bound_a == pytest.approx(
        12.73 / (0.010 + FEED_LEAST_OHM + BRANCH_LEAST_OHM / 2.0)
    )
    assert found.hottest.current_a is None


def test_what_goes_dark():
    text = LAMP.format(inside="internal 10 mohm", main="midi") + (
        'circuit P1.2 "Other" fuse 5 A\n    wire 2.5 mm2 2 m\n    load "Other" 1 A\n'
    )
    study = study_from(text)
    devices = {device.about.name: device for device in study.rig.devices}
    names = [*in_short(study, CLOSED, [devices["P1.1"]]).dark]
    assert names == ["Lamp"]
    assert len(in_short(study, CLOSED, [devices["F1"]]).dark) == 2


def test_what_a_converter_feeds_goes_dark_with_its_input():
    text = LAMP.format(inside="internal 10 mohm", main="midi") + (
        "dc-dc E1 10 A, from 12 V to 24 V\n"
        'circuit P1.2 "Converter" fuse 20 A\n    wire 4 mm2 1 m to E1.in\n'
        'load M9 "Gas detector" 1 A\nwire E1.out to M9+ 2.5 mm2 1 m, fuse 5 A at E1.out\n'
        "wire M9- to E1- 2.5 mm2 1 m\nwire E1- to B1- 4 mm2 1 m\n"
    )
    study = study_from(text)
    slot = next(device for device in study.rig.devices if device.about.name == "P1.2")
    assert "M9" in in_short(study, CLOSED, [slot]).dark


def test_two_batteries_need_both_fuses_to_open():
    text = (
        'rig "Two"\n    system 12 V\n    rules vehicle\nbusbar A1 300 A\nbusbar N1 300 A\n'
        "battery B1 flooded, 100 Ah, internal 10 mohm\n"
        "battery B2 flooded, 100 Ah, internal 10 mohm\n"
        "wire B1+ to A1 10 mm2 5 m, fuse 40 A regular at B1+\n"
        "wire B2+ to A1 10 mm2 9 m, fuse 40 A regular at B2+\n"
        "wire B1- to N1 10 mm2 1 m\nwire B2- to N1 10 mm2 1 m\n"
    )
    found = fault_at(study_from(text), "A1", "N1")
    assert found is not None
    assert {device.about.name for device in found.coldest.ends.by} == {"A1/B1+ fuse", "A1/B2+ fuse"}
    assert found.coldest.ends.window.max_s == 0.1
    ones = dict(found.coldest.sources)
    assert found.coldest.current_a == pytest.approx(ones["B1"] + ones["B2"])


def test_there_is_a_fault_at_every_terminal_of_the_plus_side():
    study = lamp()
    plus = [terminal for terminal in study.net.at if study.side.get(terminal) == "+"]
    assert "P1.1~1" in plus
    assert all(fault_at(study, terminal).terminal == terminal for terminal in plus)


def _most_a(rig: str) -> float:
    found = fault_at(study_from(LAMP.format(inside="internal 10 mohm", main="midi").replace(
        "    ambient 40 degC\n", rig)), "P1.1~1")  # fmt: skip
    assert found is not None
    assert found.coldest.current_a is not None
    return found.coldest.current_a


@pytest.mark.parametrize(
    ("rig", "copper_c"),
    [
        ("    ambient 40 degC\n", 20.0),
        ("    ambient 5 degC\n", 5.0),
        ("    ambient 40 degC\n    coldest -20 degC\n", -20.0),
        ("    ambient 40 degC\n    coldest 30 degC\n", 30.0),
        ("    ambient -30 degC\n    coldest -20 degC\n", -30.0),
    ],
)
def test_the_most_of_a_short_is_that_of_the_coldest_copper(rig, copper_c):
    """By hand: 12.73 V over 10 mohm and copper of (234.5 + T) / 254.5 of what it has at 20 °C."""
    copper_ohm = (FEED_LEAST_OHM + BRANCH_LEAST_OHM) * (234.5 + copper_c) / 254.5
    assert _most_a(rig) == pytest.approx(12.73 / (0.010 + copper_ohm), rel=1e-9)


@settings(derandomize=True, max_examples=25, deadline=None)
@given(st.floats(-40.0, 39.0), st.floats(0.0, 30.0))
def test_colder_copper_never_lets_less_through(cold_c, less_k):
    warmer, colder = (_most_a(f"    ambient 40 degC\n    coldest {at:.1f} degC\n")
                      for at in (cold_c, cold_c - less_k))  # fmt: skip
    assert colder >= warmer * (1.0 - 1e-12)
