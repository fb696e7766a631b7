"""Voltage drop against a hand calculation and against an exact nodal solution."""

from fractions import Fraction

import numpy as np
import pytest

from helpers.cables import SAE, TINNED
from helpers.studies import numbered_study
from rigfolio.demand.drop import drops_of
from rigfolio.demand.flows import flows_of
from rigfolio.model.graph import Conductor
from rigfolio.units import Size


@pytest.fixture(scope="session")
def study_of():
    """Reads a text; its wires are called W1, W2, ... in their order."""
    return numbered_study


# NFPA 70-2023 chapter 9 table 8, uncoated stranded copper at 75 °C, ohm per 1000 ft (seen); in
# SAE cable, which the trailer book names (NFPA 70-2008 552.10(B), seen).
OHM_PER_KFT = {
    gauge: ohm * SAE[gauge]
    for gauge, ohm in {"14": 3.14, "12": 1.98, "10": 1.24, "6": 0.491}.items()
}
# IEC 60228 class 5 plain copper at 20 °C, ohm per km (seen).
OHM_PER_KM = {"2.5": 7.98, "10": 1.91}

RADIAL = """rig "Radial"
    system 12 V
    rules rv
    ambient 30 degC
battery B1 flooded, 100 Ah
fuse F1 50 A on B1+
panel P1 4 slots of 20 A
busbar N1 100 A
wire F1.load to P1 6 AWG red 10 ft
wire N1 to B1- 6 AWG white 12 ft
circuit P1.1 "Pump" fuse 15 A
    wire 14 AWG blue 20 ft
    load "Pump" 5 A
circuit P1.2 "Lamps" fuse 15 A
    wire 12 AWG brown 8 ft
    load "Lamp" 2 A
    wire 14 AWG brown 6 ft
    load "Lamp" 1 A
"""


def hot(ohm_75, rated_c, current_a, limit_a, ambient_c=30.0):
    """Heat balance: the rise follows the square of the current (memory); 234.5 for copper."""
    temperature_c = ambient_c + (rated_c - ambient_c) * (current_a / limit_a) ** 2
    return ohm_75 * (234.5 + temperature_c) / (234.5 + 75.0)


def test_radial_rig_by_hand(study_of):
    study = study_of(RADIAL)
    # NFPA 70 Table 310.16 at 75 °C (seen): 65 A warm 6 AWG by 45 K, 20 A 14 AWG, 25 A 12 AWG.
    feeder = hot(OHM_PER_KFT["6"], 75.0, 8.0, 65.0) / 1000
    pump = hot(OHM_PER_KFT["14"], 75.0, 5.0, 20.0) / 1000
    near = hot(OHM_PER_KFT["12"], 75.0, 3.0, 25.0) / 1000
    far = hot(OHM_PER_KFT["14"], 75.0, 1.0, 20.0) / 1000
    trunk = 8.0 * feeder * (10 + 12)
    by_hand = {
        "Pump": trunk + 5.0 * pump * 2 * 20,
        "Lamp at P1.2": trunk + 3.0 * near * 2 * 8,
        "Lamp 2 at P1.2": trunk + 3.0 * near * 2 * 8 + 1.0 * far * 2 * 6,
    }
    for load in study.rig.loads:
        drop = drops_of(study).of(load)
        assert drop is not None
        # The table is rounded to three figures, and its strands are laid a little differently.
        assert drop.volts == pytest.approx(by_hand[load.about.name], rel=0.015)
        assert drop.share == drop.volts / 12.0


def test_metric_wire_by_hand(study_of):
    study = study_of("""rig "Metric"
    system 24 V
    rules vehicle
    ambient 20 degC
    insulation 105 degC
battery B1 lithium, 100 Ah
load M1 "Heater" 8 A
wire B1+ to M1+ 2.5 mm2 red 6 m, fuse 15 A at B1+
wire M1- to B1- 10 mm2 black 5 m
""")
    # FAA AC 43.13-1B table 11-3: 15 A for 2.5 mm² (14 AWG below it), 50 A for 10 mm² (8 AWG).
    cold = (234.5 + 20.0) / (234.5 + 75.0)
    # The protector chart warms wire of 80 °C from 57.2 °C: by 22.8 K, wherever it lies.
    out = hot(OHM_PER_KM["2.5"] / cold, 42.8, 8.0, 15.0, 20.0) * 6 / 1000
    back = hot(OHM_PER_KM["10"] / cold, 42.8, 8.0, 50.0, 20.0) * 5 / 1000
    drop = drops_of(study).of(study.rig.loads[0])
    assert drop is not None
    assert drop.volts == pytest.approx(8.0 * (out + back), rel=1e-3)
    assert drop.nominal_v == 24.0


def solved(study, wires, currents):
    """Volts of every terminal below the source, by exact elimination of the nodal equations.

    `wires` give (one end, other end, ohm), `currents` what is drawn from a terminal; plus and minus
    posts are held at 0, so that the plus side comes out as what it loses, and so does the minus.
    """
    ends = sorted({end for one, two, _ in wires for end in (one, two)} - {"B1+", "B1-"})
    place = {end: number for number, end in enumerate(ends)}
    rows = [[Fraction(0)] * (len(ends) + 1) for _ in ends]
    for one, two, ohm in wires:
        siemens = 1 / Fraction(ohm)
        for here, there in ((one, two), (two, one)):
            if here in place:
                rows[place[here]][place[here]] += siemens
                if there in place:
                    rows[place[here]][place[there]] -= siemens
    for end, current in currents.items():
        rows[place[end]][-1] += Fraction(current)
    for pivot in range(len(ends)):
        swap = next(row for row in range(pivot, len(ends)) if rows[row][pivot] != 0)
        rows[pivot], rows[swap] = rows[swap], rows[pivot]
        lead = rows[pivot][pivot]
        rows[pivot] = [value / lead for value in rows[pivot]]
        for row in range(len(ends)):
            factor = rows[row][pivot]
            if row != pivot and factor != 0:
                rows[row] = [a - factor * b for a, b in zip(rows[row], rows[pivot], strict=True)]
    return {end: float(rows[place[end]][-1]) for end in ends}


def test_radial_rig_by_an_exact_nodal_solution(study_of):
    study = study_of("""rig "Tree"
    system 12 V
    rules rv
battery B1 flooded, 100 Ah
busbar D1 100 A
busbar D2 100 A
busbar N1 100 A
busbar N2 100 A
load M1 3 A
load M2 4 A
load M3 5 A
wire B1+ to D1 6 AWG red 9 ft
wire D1 to D2 10 AWG red 7 ft
wire D1 to M1+ 14 AWG red 5 ft
wire D2 to M2+ 12 AWG red 4 ft
wire D2 to M3+ 12 AWG red 11 ft
wire M1- to N1 14 AWG white 5 ft
wire M2- to N2 12 AWG white 4 ft
wire M3- to N2 10 AWG white 11 ft
wire N2 to N1 8 AWG white 7 ft
wire N1 to B1- 6 AWG white 9 ft
""")
    through = {"W1": 12, "W2": 9, "W3": 3, "W4": 4, "W5": 5,
               "W6": 3, "W7": 4, "W8": 5, "W9": 9, "W10": 12}  # fmt: skip
    wires = []
    for wire in study.rig.conductors:
        assert isinstance(wire, Conductor)
        assert isinstance(wire.size, Size)
        wires.append(
            (wire.a, wire.b, drops_of(study).ohm(wire, float(through[wire.name]), wire.size))
        )
    draws = {"M1": 3, "M2": 4, "M3": 5}
    lost = solved(study, wires, {f"{name}{sign}": a for name, a in draws.items() for sign in "+-"})
    for load in study.rig.loads:
        drop = drops_of(study).of(load)
        assert drop is not None
        assert drop.volts == pytest.approx(lost[load.plus] + lost[load.minus], rel=1e-9)


def test_unknown_length_gives_no_drop(study_of):
    study = study_of(RADIAL.replace("blue 20 ft", "blue ? ft"))
    drops = {load.about.name: drops_of(study).of(load) for load in study.rig.loads}
    assert drops["Pump"] is None
    assert drops["Lamp at P1.2"] is not None


def test_two_conductors_side_by_side_lose_half(study_of):
    text = """rig "Pair"
    system 12 V
    rules rv
battery B1 flooded, 100 Ah
load M1 6 A
wire B1+ to M1+ 10 AWG red 10 ft{pair}, fuse 20 A at B1+
wire M1- to B1- 10 AWG white 10 ft{pair}
"""
    one = study_of(text.format(pair=""))
    two = study_of(text.format(pair=", 2 conductors in parallel"))
    single, pair = (drops_of(study).of(study.rig.loads[0]) for study in (one, two))
    assert single is not None
    assert pair is not None
    # Each of the two carries half and stays cooler, so it is a little less than half.
    assert 0.45 * single.volts < pair.volts < 0.5 * single.volts


def test_a_panel_feeder_by_hand(study_of):
    study = study_of(RADIAL)
    drop = drops_of(study).feeder(study.rig.panels[0])
    assert drop is not None
    ohm = hot(OHM_PER_KFT["6"], 75.0, 8.0, 65.0) / 1000
    assert drop.volts == pytest.approx(8.0 * ohm * 22, rel=0.015)
    assert drop.worst is not None
    assert drop.worst.name == "W2"


# At 75 °C: FAA Table 11-9 of the vehicle book (seen at 20 °C), tinned boat cable, SAE cable.
_WARM = (234.5 + 75.0) / (234.5 + 20.0)
CABLES = {
    "vehicle": (3.06 * _WARM, 0.44 * 1.005 * _WARM),
    "boat": (3.14 * TINNED, 0.491 * TINNED),
    "rv": (OHM_PER_KFT["14"], OHM_PER_KFT["6"]),
}


@pytest.mark.parametrize(("book", "from_bar"), [("vehicle", True), ("boat", False), ("rv", False)])
def test_a_limit_from_bus_to_equipment_is_held_against_that_span_alone(study_of, book, from_bar):
    """FAA AC 43.13-1B Table 11-6 counts from the bus (memory); the other books from the battery.

    By hand: 5 A in 2 x 20 ft of 14 AWG and 8 A in 22 ft of 6 AWG, cold copper at the least.
    """
    study = study_of(RADIAL.replace("rules rv", f"rules {book}"))
    pump = study.rig.loads[0]
    drop = drops_of(study).of(pump)
    fourteen, six = CABLES[book]
    branch_v = 5.0 * fourteen * 40 / 1000
    feeder_v = 8.0 * six * 22 / 1000
    whole_v = branch_v if from_bar else branch_v + feeder_v
    cold = (234.5 + 30.0) / (234.5 + 75.0)
    assert cold * whole_v * 0.98 < drop.volts < whole_v
    assert drop.bar == ("P1" if from_bar else "")
    assert ("the bar of `P1`" in drop.origin) == from_bar
    # The feeder keeps a limit of its own.
    feeder = drops_of(study).feeder(study.rig.panels[0])
    assert cold * feeder_v * 0.98 < feeder.volts < feeder_v


@pytest.mark.parametrize(
    ("book", "printed", "ohm_per_kft_20c"),
    [
        ("rv", "", 2.525 * 1.02 * SAE["14"]),
        ("rv", ", insulation THHN", 2.525 * 1.02),
        ("boat", "", 2.525 * 1.02 * TINNED),
        ("boat", ", insulation GXL", 2.525 * 1.02 * SAE["14"]),
        ("vehicle", "", 3.06),
        ("vehicle", ", insulation gxl", 2.525 * 1.02 * SAE["14"]),
    ],
)
def test_a_wire_loses_what_the_cable_of_its_book_or_of_its_print_does(
    study_of, book, printed, ohm_per_kft_20c
):
    """Solid 14 AWG 2.525 ohm per 1000 ft at 20 °C (ASTM B258, memory), 2 % more in strands.

    A tenth of an ampere leaves the copper cold: 100 ft lose a hundredth of its resistance.
    """
    study = study_of(f"""rig "Lamp"
    system 12 V
    rules {book}
    ambient 20 degC
battery B1 flooded, 100 Ah
load M1 "Lamp" 0.1 A
wire B1+ to M1+ 14 AWG red 50 ft{printed}, fuse 1 A at B1+
wire M1- to B1- 14 AWG black 50 ft{printed}
""")
    drop = drops_of(study).of(study.rig.loads[0])
    assert drop is not None
    assert drop.volts == pytest.approx(0.1 * ohm_per_kft_20c * 0.1, rel=2e-3)


FRAMED = """rig "Frame"
    system 12 V
    rules rv
    ambient 20 degC
battery B1 flooded, 100 Ah
fuse F1 40 A on B1+
panel P1 4 slots of 20 A, negative N1
busbar N1
chassis G1 "Frame" {frame}
wire F1.load to P1 8 AWG red 5 ft
wire N1 to B1- 8 AWG white 5 ft
wire B1- to G1 8 AWG bare 2 ft
circuit P1.1 "Lamp" fuse 15 A
    wire 14 AWG red 10 ft
    load "Lamp" 5 A
    return {back} to G1
circuit P1.2 "Fan" fuse 15 A
    wire 14 AWG red 10 ft
    load "Fan" 5 A
    return 14 AWG white 10 ft to N1
"""


@pytest.mark.parametrize("back", ["", "14 AWG white 1 ft"])
def test_a_stated_resistance_of_the_frame_counts_for_what_comes_back_by_it(study_of, back):
    """By hand: the 5 A of the lamp lose 5 A x 20 mohm in the metal; the fan does not use it."""
    lost = {}
    for frame in ("", "20 mohm"):
        study = study_of(FRAMED.format(frame=frame, back=back))
        lost[frame] = [drops_of(study).of(load).volts for load in study.rig.loads]
    assert lost["20 mohm"][0] - lost[""][0] == pytest.approx(5.0 * 0.020, rel=1e-9)
    assert lost["20 mohm"][1] == pytest.approx(lost[""][1], rel=1e-9)


RING = """rig "Ring"
    system 12 V
    rules rv
    ambient 20 degC
battery B1 flooded, 100 Ah
fuse F1 40 A on B1+
panel P1 4 slots of 30 A, negative N1
busbar N1
chassis G1 "Frame" {frame}
wire F1.load to P1 6 AWG red {feet} ft
wire N1 to B1- 6 AWG white {feet} ft
{bonds}circuit P1.1 "Fan" fuse 30 A
    wire 8 AWG red 2 ft
    load "Fan" 20 A
    return 8 AWG white 2 ft to N1
"""
BONDS = "wire B1- to G1 6 AWG bare 1 ft\nwire N1 to G1 6 AWG bare 1 ft\n"


def test_a_ring_through_the_frame_splits_by_its_resistance(study_of):
    """Kirchhoff's laws by numpy: 20 A from the bar to the post, by the wire and by the frame."""
    study = study_of(RING.format(frame="5 mohm", feet=10, bonds=BONDS))
    flows, drops = flows_of(study), drops_of(study)
    wires = {wire.name: wire for wire in study.rig.conductors}
    carried = {name: flows.from_source("B1", name) for name in ("W2", "W3", "W4")}
    wire, post, bar = (
        drops.ohm(wires[name], carried[name], wires[name].size) for name in ("W2", "W3", "W4")
    )
    # SAE cable of 6 AWG: 1.41 mohm/m; each bond has the 5 mohm of the metal besides.
    assert post == pytest.approx(bar)
    assert 5.0e-3 + 0.42e-3 < post < 5.0e-3 + 0.45e-3
    across = np.array([[1.0, 1.0], [wire, -(post + bar)]])
    by_wire, by_frame = np.linalg.solve(across, [20.0, 0.0])
    assert carried["W2"] == pytest.approx(by_wire, rel=1e-6)
    assert carried["W3"] == pytest.approx(by_frame, rel=1e-6)


@pytest.mark.parametrize("feet", [5, 10, 20, 40])
def test_a_frame_that_nobody_measured_takes_nothing_off_a_feeder(study_of, feet):
    """With bonds a foot long the frame would bring back nearly all; by its wire alone it is judged.

    A stated resistance is believed, and takes off what it does.
    """
    found = {
        (frame, bool(bonds)): drops_of(study).feeder(study.rig.panels[0]).volts
        for frame in ("", "5 mohm")
        for bonds in ("", BONDS)
        for study in [study_of(RING.format(frame=frame, feet=feet, bonds=bonds))]
    }
    assert found["", True] == pytest.approx(found["", False], rel=1e-9)
    assert found["5 mohm", True] < found["5 mohm", False]
