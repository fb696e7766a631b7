"""A short is told source by source: what one fuse ends for one battery goes on from another."""

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, strategies as st

from helpers.home import CORPUS, RIGS
from helpers.studies import studied, study_from
from rigfolio.answers.short import short_report
from rigfolio.judgement.result import check
from rigfolio.network import edge_name
from rigfolio.reports import printed
from rigfolio.reports.terminal import as_text
from rigfolio.shorts.faults import Faults
from rigfolio.shorts.in_turn import faults_of
from rigfolio.units import awg_size

# NFPA 70 chapter 9 table 8, uncoated stranded, 75 °C: ohm per 1000 ft (seen); at 20 °C by 234.5 °C.
_75_C = {"10": 1.24, "6": 0.491, "2": 0.194}
_COLD = (234.5 + 20.0) / (234.5 + 75.0)
_FULL_V = 12.73
"""Flooded, full and at rest (maker's figure, seen)."""


def _ohm(gauge, feet):
    return _75_C[gauge] * 1e-3 * feet * _COLD


def _text(batteries, branch, interrupts="1 kA"):
    """Batteries side by side on a bar, each with its lead and perhaps a fuse, and one branch."""
    lines = ['rig "Case"', "    system 12 V", "    rules rv", "busbar D1", "busbar N1"]
    for number, (fuse_a, mohm, gauge, feet) in enumerate(batteries, 1):
        lines.append(f"battery B{number} flooded, 100 Ah, internal {mohm} mohm")
        lines.append(f"wire B{number}- to N1 2 AWG black 1 ft")
        start = f"B{number}+"
        if fuse_a:
            lines.append(f"fuse F{number} {fuse_a} A regular on B{number}+ interrupts 20 kA")
            start = f"F{number}.load"
        lines.append(f"wire {start} to D1 {gauge} AWG red {feet} ft")
    lines.append(f"fuse F9 10 A interrupts {interrupts}")
    lines.append(f"wire D1 to F9.line 10 AWG red {branch} ft")
    lines += [
        "load M1 5 A",
        "wire F9.load to M1+ 10 AWG red 1 ft",
        "wire M1- to N1 10 AWG black 1 ft",
    ]
    return "\n".join(lines) + "\n"


_batteries = st.lists(
    st.tuples(
        st.sampled_from([0, 15, 40]), st.integers(3, 20), st.sampled_from(["6", "2"]),
        st.integers(1, 9),
    ),
    min_size=1, max_size=3,
)  # fmt: skip


@given(_batteries)
def test_nothing_opens_for_a_source_without_a_fuse(batteries):
    fault = Faults(study_from(_text(batteries, 1))).at("D1")
    assert fault is not None
    bare = {f"B{number}" for number, one in enumerate(batteries, 1) if not one[0]}
    for case in (fault.coldest, fault.hottest):
        assert {source.about.name for source in case.ends.endless} == bare
        assert (case.ends.window is not None and case.ends.window.max_s == np.inf) == bool(bare)


@given(_batteries, st.integers(1, 9), st.sampled_from(["500 A", "1 kA", "2 kA", "5 kA"]))
def test_check_and_short_ask_the_same_figure(tmp_path_factory, batteries, branch, interrupts):
    text = _text(batteries, branch, interrupts)
    faults = Faults(study_from(text))
    device = faults.study.rig.by_name.devices["F9"]
    found = faults.interrupt(device)
    assert found is not None
    # A short beside the fuse finds its minus at the post of the first battery that reaches it.
    ohms = np.zeros((2, 2))
    into = np.zeros(2)
    for number, (_, mohm, gauge, feet) in enumerate(batteries):
        if number == 0:
            own, back = mohm * 1e-3 + _ohm(gauge, feet), _ohm("2", 1)
            ohms += [[1 / own, 0.0], [0.0, 1 / back]]
            into[0] += _FULL_V / own
        else:
            own = mohm * 1e-3 + _ohm(gauge, feet) + _ohm("2", 1)
            ohms += np.array([[1, -1], [-1, 1]]) / own
            into += np.array([1, -1]) * _FULL_V / own
    open_v = np.linalg.solve(ohms, into)[0]
    seen_ohm = np.linalg.solve(ohms, [1.0, 0.0])[0]
    short_a = open_v / (seen_ohm + _ohm("10", branch))
    assert found.current_a == pytest.approx(short_a, rel=0.01)
    limit_a = float(interrupts.split()[0]) * (1000.0 if "kA" in interrupts else 1.0)
    if abs(short_a / limit_a - 1.0) < 0.01:
        return
    file = tmp_path_factory.mktemp("rig") / "case.rig"
    file.write_text(text)
    rules = {"interrupt-too-low", "branch-interrupt-low"}
    findings = [one for one in check(str(file)).findings if one.rule in rules]
    loud = [one for one in findings if "`F9`" in one.headline]
    assert bool(loud) == (found.may is False) == (short_a > limit_a)


def test_by_hand_the_bare_battery_burns_its_lead_and_the_fused_one_does_not():
    """Two batteries of 10 mohm behind 6 AWG: each about 1.2 kA into the bar, one of them for ever.

    6 AWG is 13.30 mm²; with k = 115 A √s/mm² (IEC 60364-5-54, PVC 70 to 160 °C, seen) or less it
    takes 1.1 kA for less than 2 s: what nothing ends burns it.
    """
    assert awg_size(6).area_m2 == pytest.approx(13.30e-6, rel=1e-3)
    study = study_from(_text([(15, 10, "6", 3), (0, 10, "6", 3)], 1))
    fault = Faults(study).at("D1")
    assert fault is not None
    burns = {one.wire.name: one.holds for one in fault.hottest.stresses}
    leads = {wire.name: wire for wire in study.rig.conductors}
    fused = next(name for name, wire in leads.items() if "F1.load" in (wire.a, wire.b))
    bare = next(name for name, wire in leads.items() if "B2+" in (wire.a, wire.b))
    assert burns[bare] is False
    assert burns[fused] is not False


def test_a_short_at_one_battery_runs_through_its_fuse_from_the_other(tmp_path):
    """9 kA stand against a blade of 1 kA, although the battery behind the blade gives 900 A."""
    file = tmp_path / "case.rig"
    file.write_text(
        'rig "Case"\n    system 12 V\n    rules rv\n'
        "battery B1 flooded, 105 Ah, delivers 900 A\nbattery B2 flooded, 105 Ah, delivers 9 kA\n"
        "fuse F1 30 A regular on B1+\nfuse F2 30 A class-t on B2+\n"
        "wire F1.load to F2.load 4 AWG red 1 ft\nwire B1- to B2- 2/0 AWG black 1 ft\n"
    )
    said = [one.headline for one in check(str(file)).findings if one.rule == "branch-interrupt-low"]
    # 4 AWG holds 0.308 ohm per 1000 ft at 75 °C, 2/0 0.0967 (NFPA 70 chapter 9 table 8, seen).
    ohm = 12.73 / 9000.0 + (0.308 + 0.0967) * 1e-3 * _COLD
    assert len(said) == 1
    assert float(said[0].split(" A ")[0]) == pytest.approx(12.73 / ohm, rel=0.01)


@pytest.mark.parametrize("file", [*RIGS, *CORPUS], ids=lambda file: file.stem)
def test_what_goes_on_has_a_way_past_what_opens(file: Path) -> None:
    study = studied(file)
    ends = [*(one.bus for one in study.rig.panels), *(one.plus for one in study.rig.sources)]
    for end in ends:
        fault = faults_of(study).at(end)
        for case in (fault.coldest, fault.hottest) if fault is not None else ():
            opened = {edge_name(device) for device in case.ends.firsts}
            way = study.net.walk([end], lambda edge, off=opened: edge_name(edge) in off)
            held = [one for one in case.ends.each if one.is_limited and opened]
            assert {one.source.about.name for one in held if one.is_parted} == {
                one.source.about.name for one in held if one.source.plus not in way
            }


def test_a_charger_behind_the_breaker_that_opens_is_parted_with_it() -> None:
    # Both come by F3, which opens on what the bank drives; no table tells when.
    text = """rig "T"
    system 12 V
    rules boat
battery B1 agm, 100 Ah, internal 4 mohm
charger C1 30 A
busbar N2 250 A
busbar N1 250 A
breaker F3 100 A
load L1 "Windlass" 80 A
wire B1+ to N2 2 AWG red 2 ft
wire C1+ to N2 10 AWG red 2 ft
wire N2 to F3 2 AWG red 2 ft
wire F3 to L1+ 2 AWG red 2 ft
wire L1- to N1 2 AWG black 2 ft
wire B1- to N1 2 AWG black 2 ft
wire C1- to N1 10 AWG black 2 ft
"""
    study = study_from(text)
    fault = faults_of(study).at("L1+")
    assert fault is not None
    assert fault.coldest.ends.feeds_on == ()
    assert "C1: nothing" not in as_text(short_report(study, "L1+"))
    # At the bar nothing opens at all.
    assert "NOTHING OPENS" in as_text(short_report(study, "N2"))


def test_beside_a_battery_of_which_nobody_knows_check_and_short_tell_one_figure(tmp_path):
    """`B1` has no figure: all that the copper lets through may flow, and that is what both say."""
    text = (
        'rig "Case"\n    system 12 V\n    rules boat\n'
        "battery B1 flooded, 90 Ah\nbattery B2 agm, 100 Ah, internal 4 mohm\n"
        "busbar D1\nbusbar D2\nfuse F1 80 A anl\npanel P1 4 slots of 20 A\n"
        "wire B1+ to D1 1/0 AWG red 3 ft\nwire B2+ to D1 2 AWG red 2 ft\n"
        "wire B1- to D2 1/0 AWG black 3 ft\nwire B2- to D2 2 AWG black 2 ft\n"
        "wire D1 to F1 6 AWG red 1 ft\nwire F1 to P1 6 AWG red 4 ft\n"
        "wire P1- to D2 6 AWG black 4 ft\n"
        'circuit P1.1 "Lamp" fuse 5 A\n    wire 16 AWG red 4 ft\n    load 1 A\n'
    )
    file = tmp_path / "case.rig"
    file.write_text(text)
    said = [one for one in check(str(file)).findings if one.rule == "branch-interrupt-low"]
    found = Faults(study_from(text)).interrupt(study_from(text).rig.by_name.devices["P1.1"])
    assert found is not None
    assert found.may is False
    assert (found.least_a or 0.0) < (found.bound_a or 0.0)
    assert [one.headline.split(" can ")[0] for one in said] == [found.flows]
    short = printed(short_report(study_from(text), "P1.1"))
    assert f"right behind it {found.flows} can flow" in " ".join(short.split())
