"""Batteries side by side: what each gives, and what its leads carry.

Against a hand calculation, a published example, and the nodal solution of made-up banks by numpy.
"""

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st

from helpers.circuits import ohm
from rigfolio.books.conductors import resistance_ohm_per_m
from rigfolio.books.loader import load_book
from rigfolio.demand.banks import shared_banks
from rigfolio.demand.drop import drops_of
from rigfolio.demand.flows import flows_of
from rigfolio.units import awg_size

HEAD = 'rig "Bank"\n    system 12 V\n    rules vehicle\n    ambient 30 degC\n'
PAIR = (
    HEAD
    + """busbar D1
busbar N1
battery B1 agm, 100 Ah, internal 4 mohm
battery B2 agm, 100 Ah, internal 4 mohm
wire B1+ to D1 6 AWG red 2 ft, fuse 60 A at B1+ {more}, tag W1
wire B2+ to D1 6 AWG red {feet} ft, fuse 60 A at B2+ {more}, tag W2
wire B1- to N1 6 AWG black 2 ft, tag W3
wire B2- to N1 6 AWG black 2 ft, tag W4
load M1 100 A
wire D1 to M1+ 2/0 AWG red 1 ft, fuse 150 A at D1, tag W5
wire M1- to N1 2/0 AWG black 1 ft, tag W6
"""
)
# By hand: 6 AWG has 0.45 mohm a foot at 30 °C (26,240 circular mils, 10.371 ohm a circular mil-foot
# at 20 °C, 1.04 for the heat and 1.02 for stranding, from memory: 0.42). Through 4 ft B1 meets 4 +
# 1.7 = 5.7 mohm, through 12 ft B2 4 + 5.0 = 9.0 mohm: 61 and 39 A of 100 A.
NEAR_A, FAR_A = 61.3, 38.7


def pair(feet=10, more=""):
    return PAIR.format(feet=feet, more=more)


def demand_a(study, edge):
    return flows_of(study).demand(edge).current_a


def test_by_hand(study_of):
    study = study_of(pair())
    for name, by_hand in (("W1", NEAR_A), ("W2", FAR_A), ("W3", NEAR_A), ("W4", FAR_A)):
        assert demand_a(study, name) == pytest.approx(by_hand, rel=0.02), name
    assert demand_a(study, "W2 fuse") == pytest.approx(FAR_A, rel=0.02)
    assert demand_a(study, "W5") == demand_a(study, "W6") == 100.0
    (bank,) = shared_banks(study)
    assert bank.parts["B1"] == pytest.approx(NEAR_A / 100.0, rel=0.02)
    assert flows_of(study).asked_a("B1") == pytest.approx(NEAR_A, rel=0.02)


def test_the_drop_is_that_of_the_shares(study_of):
    """From the posts of B1: its 61 A through 4 ft of 6 AWG, then 100 A through 2 ft of 2/0."""
    drop = drops_of(study_of(pair())).of(study_of(pair()).rig.loads[0])
    # 0.083 mohm a foot of 2/0 AWG by the same figures; 12 % more where the copper is warm.
    by_hand = 1.12 * (NEAR_A * 4 * 0.42e-3 + 100.0 * 2 * 0.083e-3)
    assert drop.volts == pytest.approx(by_hand, rel=0.1)


def test_a_switch_of_its_own_may_leave_all_to_the_other(study_of):
    text = pair().replace(
        "wire B1+ to D1 6 AWG red 2 ft, fuse 60 A at B1+ , tag W1",
        "disconnect S1 200 A\nwire B1+ to S1 6 AWG red 1 ft, fuse 60 A at B1+, tag W1\n"
        "wire S1 to D1 6 AWG red 1 ft",
    )
    study = study_of(text)
    assert demand_a(study, "W2") == pytest.approx(100.0)
    assert demand_a(study, "W1") == pytest.approx(NEAR_A, rel=0.02)


def test_a_breaker_of_its_own_only_where_the_text_has_it_open(study_of):
    text = pair().replace("fuse 60 A at B", "breaker 60 A at B")
    assert demand_a(study_of(text), "W2") == pytest.approx(FAR_A, rel=0.02)
    named = pair().replace(
        "wire B1+ to D1 6 AWG red 2 ft, fuse 60 A at B1+ , tag W1",
        "breaker Q1 60 A on B1+\nwire Q1 to D1 6 AWG red 2 ft, tag W1",
    )
    assert demand_a(study_of(named), "W2") == pytest.approx(FAR_A, rel=0.02)
    off = named + "state service Q1 open\n"
    assert demand_a(study_of(off), "W2") == pytest.approx(100.0)


def test_a_length_that_nobody_measured_is_neither_all_nor_nothing(study_of):
    study = study_of(pair(feet="?"))
    for name in ("W1", "W2", "W3", "W4"):
        demand = flows_of(study).demand(name)
        assert demand.current_a == 0.0
        assert demand.unknown == ("M1",)
    assert demand_a(study, "W5") == 100.0


def test_unlike_batteries_do_not_share(study_of):
    """Lead beside lithium drives into it; each is counted with all, and a rule tells of the mix."""
    study = study_of(pair().replace("B2 agm", "B2 lithium"))
    assert demand_a(study, "W1") == 100.0
    assert shared_banks(study) == ()


def test_one_size_larger_has_the_smaller_resistance_inside(study_of):
    """Nothing stated: 100 Ah beside 200 Ah have twice the resistance, leads left aside."""
    text = pair(feet=2).replace(", internal 4 mohm", "").replace("B2 agm, 100", "B2 agm, 200")
    parts = shared_banks(study_of(text))[0].parts
    # Least inside of AGM: 3.15 mohm for 100 Ah (`trade/faults.toml`), and 1.7 mohm of leads each.
    one, two = 3.15 + 1.7, 1.575 + 1.7
    assert parts["B1"] == pytest.approx(two / (one + two), rel=0.02)


LADDER = HEAD + "load M1 100 A, momentary\nwire B0+ to M1+ 4/0 AWG red 1 in\n"


@pytest.mark.parametrize(
    ("minus", "published"), [(0, [35.9, 26.2, 20.4, 17.8]), (3, [26.7, 23.2, 23.2, 26.7])]
)
def test_four_in_a_row_as_published(study_of, minus, published):
    """A published example: 20 mohm inside, links of 1.5 mohm, 100 A (figures from memory)."""
    feet_m = 1.5e-3 / resistance_ohm_per_m(awg_size(6), 30.0, load_book("vehicle").cable.name)
    text = LADDER + f"wire M1- to B{minus}- 4/0 AWG black 1 in\n"
    for number in range(4):
        text += f"battery B{number} agm, 100 Ah, internal 20 mohm\n"
    for number in range(3):
        for sign, colour in (("+", "red"), ("-", "black")):
            text += f"wire B{number}{sign} to B{number + 1}{sign} 6 AWG {colour} {feet_m:.6f} m\n"
    (bank,) = shared_banks(study_of(text))
    for name, by_hand in zip(("B0", "B1", "B2", "B3"), published, strict=True):
        assert bank.parts[name] == pytest.approx(by_hand / 100.0, rel=0.01), name


GAUGES = ["6", "8", "10"]


@st.composite
def made(draw):
    """Two to four batteries on bars that links join, loads on any of the bars."""
    bars = draw(st.integers(1, 3))
    bar = st.integers(0, bars - 1)
    lines, wires = [f"busbar D{n}\nbusbar N{n}" for n in range(bars)], []

    def wire(one, two, colour):
        gauge, feet = draw(st.sampled_from(GAUGES)), draw(st.integers(1, 12))
        lines.append(f"wire {one} to {two} {gauge} AWG {colour} {feet} ft tag T{len(wires)}")
        wires.append((one, two))

    for number in range(1, bars):
        wire(f"D{number - 1}", f"D{number}", "red")
        wire(f"N{number - 1}", f"N{number}", "black")
    insides = draw(st.lists(st.sampled_from([3, 5, 9]), min_size=2, max_size=4))
    for number, inside in enumerate(insides):
        lines.append(f"battery B{number} agm, 100 Ah, internal {inside} mohm")
        wire(f"B{number}+", f"D{draw(bar)}", "red")
        wire(f"B{number}-", f"N{draw(bar)}", "black")
    loads = []
    for number in range(draw(st.integers(1, 3))):
        out, back, drawn = draw(bar), draw(bar), draw(st.sampled_from([3, 6, 9]))
        lines += [f"load M{number} {drawn} A",
                  f"wire D{out} to M{number}+ 2 AWG red 1 ft",
                  f"wire M{number}- to N{back} 2 AWG black 1 ft"]  # fmt: skip
        loads.append((f"D{out}", f"N{back}", drawn))
    return HEAD + "\n".join(lines) + "\n", wires, insides, loads


def currents(wires, insides, loads):
    """What runs through each wire, from its first end on [A], by nodal analysis."""
    branches = list(wires)
    branches += [(f"B{n}-", f"B{n}+", 1e-3 * mohm) for n, mohm in enumerate(insides)]
    place = {node: n for n, node in enumerate(dict.fromkeys(e for b in branches for e in b[:2]))}
    laplacian, right = np.zeros((len(place), len(place))), np.zeros(len(place))
    for one, two, each_ohm in branches:
        ends = [place[one], place[two]]
        laplacian[ends, ends] += 1.0 / each_ohm
        laplacian[ends, ends[::-1]] -= 1.0 / each_ohm
    for out, back, drawn in loads:
        right[place[out]] -= drawn
        right[place[back]] += drawn
    volts = np.append(0.0, np.linalg.solve(laplacian[1:, 1:], right[1:]))
    return [(volts[place[one]] - volts[place[two]]) / each_ohm for one, two, each_ohm in branches]


@settings(settings.get_profile("study"))
@given(made())
def test_each_lead_carries_what_nodal_analysis_gives(study_of, drawn):
    text, wires, insides, loads = drawn
    study = study_of(text)
    ohms = {wire.name: ohm(study.rig, wire) for wire in study.rig.conductors}
    wires = [(*ends, ohms[f"T{number}"]) for number, ends in enumerate(wires)]
    alone = [currents(wires, insides, [load]) for load in loads]
    for number in range(len(wires)):
        # Loads that would take some of it off again may be off.
        held = [own[number] for own in alone]
        worst = max(sum(a for a in held if a > 0.0), -sum(a for a in held if a < 0.0))
        # So little warms no copper.
        assert demand_a(study, f"T{number}") == pytest.approx(worst, rel=0.01, abs=0.02), number
