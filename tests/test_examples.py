"""The example rigs: the sound ones stay sound and agree with hand calculation, the faulty ones say
exactly what their last column expects.

The hand calculations start from published tables and use nothing of the package but its answers.
"""

import math
from pathlib import Path

import pytest

from helpers.cases import read_cases
from helpers.home import EXAMPLES, FAULTY
from helpers.studies import checked
from rigfolio.demand.drop import drops_of
from rigfolio.demand.flows import flows_of
from rigfolio.findings import Severity
from rigfolio.judgement.result import Result, check
from rigfolio.study import Study

SOUND = ("heron-van", "kittiwake-30", "lapwing-cabin", "marsh-wren-17")
BOOK = {
    "heron-van": "vehicle",
    "kittiwake-30": "boat",
    "lapwing-cabin": "rv",
    "marsh-wren-17": "rv",
}

# Ohm per 1000 ft at 75 °C, uncoated stranded copper.
# Source: NFPA 70-2023 Chapter 9 Table 8 (seen as a data file).
TABLE_8 = {
    "14": 3.14, "12": 1.98, "10": 1.24, "6": 0.491, "4/0": 0.0608,
}  # fmt: skip
# Ohm per km at 20 °C, greatest. Source: IEC 60228 class 5, plain copper (seen).
IEC_60228 = {"1.5": 13.3, "16": 1.21, "70": 0.272}
# Per kelvin at 20 °C. Source: note to NFPA 70 Chapter 9 Table 8 (seen).
COPPER_PER_K = 0.00393
# Watts of AC over 0.85 are watts of DC. Source: common practice.
INVERTER_EFFICIENCY = 0.85


def _checked(name: str) -> Result:
    return checked(EXAMPLES / f"{name}.rig")


def _study(name: str) -> Study:
    study = _checked(name).study
    assert study is not None
    return study


def _loads_a(study: Study, edge: str) -> float:
    """What loads draw through a wire or device at one time, chargers left aside [A]."""
    return flows_of(study).demand(edge).loads_a


def _drop_v(study: Study, label: str) -> float:
    load = next(load for load in study.rig.loads if load.about.label == label)
    drop = drops_of(study).of(load)
    assert drop is not None
    return drop.volts


def _lost_v(
    ohm_20c: float, current_a: float, may_carry_a: float, ambient_c: float, rated_c: float
) -> float:
    """Voltage lost in copper that its own current has warmed [V].

    Source: FAA AC 43.13-1B 11-66d(6), T2 = T1 + (TR - T1) * sqrt(I2 / Imax) (memory).
    """
    hot_c = ambient_c + (rated_c - ambient_c) * math.sqrt(current_a / may_carry_a)
    return ohm_20c * (1.0 + COPPER_PER_K * (hot_c - 20.0)) * current_a


def _awg_ohm(gauge: str, feet: float) -> float:
    """Resistance at 20 °C, from the value at 75 °C of the table [ohm]."""
    return TABLE_8[gauge] / 1000.0 * feet / (1.0 + COPPER_PER_K * 55.0)


def _metric_ohm(square_mm: str, metres: float) -> float:
    """Resistance at 20 °C [ohm]."""
    return IEC_60228[square_mm] / 1000.0 * metres


@pytest.mark.parametrize("name", SOUND)
def test_nothing_above_advice_in_a_sound_example(name: str) -> None:
    result = _checked(name)
    above = [f"{f.rule}: {f.headline}" for f in result.findings if f.severity != Severity.ADVICE]
    assert above == []
    assert result.exit_code == 0
    assert result.book == BOOK[name]


def test_every_rig_file_is_tested() -> None:
    assert sorted(path.stem for path in EXAMPLES.glob("*.rig")) == sorted(SOUND)


@pytest.mark.parametrize("path", [*EXAMPLES.glob("*.rig"), *FAULTY], ids=lambda path: path.stem)
def test_an_example_can_be_read_at_one_sitting(path: Path) -> None:
    lines = path.read_text(encoding="utf-8").splitlines()
    assert len(lines) <= (25 if path in FAULTY else 200)
    assert max(len(line.split("#!")[0].rstrip()) for line in lines) <= 110


def test_three_rule_books_are_shown() -> None:
    assert set(BOOK.values()) == {"rv", "boat", "vehicle"}


@pytest.mark.parametrize("path", FAULTY, ids=lambda path: path.stem)
def test_a_faulty_example_says_what_it_expects(path: Path, tmp_path: Path) -> None:
    (case,) = read_cases(path)
    assert case.expected != ()
    result = check(case.write(tmp_path))
    assert case.mismatches(result.findings, result.texts) == []


@pytest.mark.parametrize("path", FAULTY, ids=lambda path: path.stem)
def test_a_faulty_example_reads_as_a_lesson(path: Path) -> None:
    """It opens with a comment in plain words and bears the name of its hazard."""
    text = path.read_text(encoding="utf-8")
    opening = text.split("\nrig ", maxsplit=1)[0].split("\n")
    assert [line for line in opening if not line.startswith("# ")] == []
    assert len(" ".join(opening).split()) >= 20
    title = text.split('rig "', maxsplit=1)[1].split('"', maxsplit=1)[0]
    assert title.lower().replace(" ", "-") == path.stem


def test_the_faulty_examples_show_most_rules() -> None:
    shown = {one.rule for path in FAULTY for case in read_cases(path) for one in case.expected}
    assert shown >= {
        "fuse-over-wire", "fuse-too-far", "unprotected-wire", "return-too-thin", "voltage-drop",
        "panel-overloaded", "busbar-overloaded", "switch-overloaded", "fuse-overloaded",
        "fuse-over-slot", "voltage-rating-low", "always-on-behind-disconnect", "missing-return",
        "load-without-path", "load-reversed", "plus-joined-to-minus", "slot-used-twice",
        "slot-not-in-panel", "no-battery-fuse", "chassis-bond-thin", "name-used-twice",
        "name-not-defined", "not-surveyed",
    }  # fmt: skip


# Marsh Wren: 12 V, 40 °C, insulation taken for 75 °C.
# Steady loads of the panel, slot by slot, in amperes at 12 V; the pump is the largest of the rest.
WREN_PANEL_A = 13 / 12 + 4 + 0.5 + 2 + (3 / 12 + 0.5) + 1.5 + 2.4 + 0.6 + 6 / 12
WREN_PUMP_A = 7.0
WREN_DETECTOR_A = 0.15
WREN_BRAKES_A = 12 / 1.5


def test_marsh_wren_feeders_carry_the_sum_worked_out_by_hand() -> None:
    """Continuous loads in full and the largest intermittent one. Source: from memory."""
    study = _study("marsh-wren-17")
    feed, post, back = "W3", "W1", "W5"
    assert _loads_a(study, feed) == pytest.approx(WREN_PANEL_A + WREN_PUMP_A)
    assert _loads_a(study, post) == pytest.approx(WREN_PANEL_A + WREN_DETECTOR_A + WREN_BRAKES_A)
    assert _loads_a(study, back) == pytest.approx(WREN_PANEL_A + WREN_DETECTOR_A + WREN_PUMP_A)
    assert flows_of(study).demand(post).charge_a == pytest.approx(45.0)


def test_marsh_wren_lamp_loses_what_the_table_says() -> None:
    """Largest currents: 15 A for 14 AWG; 65 A for 6 AWG, corrected for 40 °C.

    Sources: NFPA 70 Table 552.10(E)(1) (memory), NFPA 70-2023 Table 310.16 (seen) and the ambient
    formula of 310.15(B).
    """
    six_a = 65.0 * math.sqrt((75.0 - 40.0) / (75.0 - 30.0))
    legs = (
        ("6", 10.0 / 12.0 + 3.0, WREN_PANEL_A + WREN_DETECTOR_A + WREN_BRAKES_A, six_a),
        ("6", 7.0, WREN_PANEL_A + WREN_PUMP_A, six_a),
        ("6", 9.0, WREN_PANEL_A + WREN_DETECTOR_A + WREN_PUMP_A, six_a),
        ("14", 18.0 + 18.0, 13.0 / 12.0, 15.0),
    )
    by_hand_v = sum(
        _lost_v(_awg_ohm(gauge, feet), amps, most_a, 40.0, 75.0)
        for gauge, feet, amps, most_a in legs
    )
    # The table is printed to three digits, and strands are laid a little differently by size.
    assert _drop_v(_study("marsh-wren-17"), "Galley lamp") == pytest.approx(by_hand_v, rel=0.01)


# Heron: loads are drawn at the 12.8 V of the lithium bank.
HERON_PANEL_A = (48 + 18 + 5 + 67 + 27 + 4) / 12.8 + 2 + 0.2
HERON_FAN_A = 1.5
HERON_ALARM_A = 0.1
HERON_INVERTER_A = 1000 / INVERTER_EFFICIENCY / 12.8


def test_heron_trunk_carries_the_inverter_and_all_that_runs_beside_it() -> None:
    study = _study("heron-van")
    assert _loads_a(study, "H2P") == pytest.approx(HERON_PANEL_A + HERON_FAN_A + HERON_INVERTER_A)
    assert _loads_a(study, "F1") == pytest.approx(
        HERON_PANEL_A + HERON_FAN_A + HERON_INVERTER_A + HERON_ALARM_A
    )


def test_heron_reading_lights_lose_what_iec_60228_says() -> None:
    """Largest currents: 10 A for 1.5 mm², 70 A for 16 mm², 150 A for 70 mm² (as 16, 6 and 1/0 AWG).

    Source: FAA AC 43.13-1B Table 11-3 (seen but for the row of 6 AWG).
    """
    bus_a = HERON_PANEL_A + HERON_FAN_A + HERON_INVERTER_A
    legs = (
        ("70", 0.5, bus_a + HERON_ALARM_A, 330.0),
        ("70", 0.7, bus_a, 330.0),
        ("16", 4.1, HERON_PANEL_A + 8.0, 70.0),
        ("1.5", 5.0 + 5.0, 5.0 / 12.8, 10.0),
        ("70", 0.4 + 0.4, bus_a + HERON_ALARM_A, 330.0),
    )
    by_hand_v = sum(
        _lost_v(_metric_ohm(area, metres), amps, most_a, 40.0, 105.0)
        for area, metres, amps, most_a in legs
    )
    assert _drop_v(_study("heron-van"), "Reading lights, two") == pytest.approx(by_hand_v, rel=0.01)


def test_kittiwake_panel_carries_the_sum_worked_out_by_hand() -> None:
    """Watts over 12 V and amperes of all that runs on; the toilet is the largest of the rest."""
    watts = 4 + 2 + 3 + 2.5 + 5 + 20 + 30 + 15 + 18 + 1 + 8 + 6 + 3 + 55 + 24
    steady_a = watts / 12 + 0.4 + 0.5 + 0.5 + 3 + 0.5 + 1.5
    study = _study("kittiwake-30")
    assert _loads_a(study, "F3") == pytest.approx(steady_a + 16.0)
    assert _loads_a(study, "F2") == pytest.approx(steady_a + 90.0)  # the windlass instead


def test_kittiwake_bilge_pump_loses_what_the_table_says() -> None:
    """Largest currents: 60, 45 and 445 A for 10, 12 and 4/0 AWG at 105 °C, corrected for 40 °C.

    Source: 33 CFR 183.425 Table 5 (seen) and the formula behind its note 1. The pump is the largest
    of the loads that are not always running, so it runs beside the detector alone.
    """
    hot = math.sqrt((105.0 - 40.0) / (105.0 - 30.0))
    block_a = 0.12 + 3.0
    back_a = _loads_a(_study("kittiwake-30"), "H1")
    legs = (
        ("10", 12.0, block_a, 60.0),
        ("12", 12.0 + 12.0, 3.0, 45.0),
        ("4/0", 1.0 + 2.0, back_a, 445.0),
    )
    by_hand_v = sum(
        _lost_v(_awg_ohm(gauge, feet), amps, most_a * hot, 40.0, 105.0)
        for gauge, feet, amps, most_a in legs
    )
    assert _drop_v(_study("kittiwake-30"), "Bilge pump, deep sump") == pytest.approx(
        by_hand_v, rel=0.01
    )


# Lapwing: 12.8 V behind the converter, house first, then the bunkhouse.
LAPWING_BUNKHOUSE_A = (12 + 24) / 12.8 + 0.5
LAPWING_HOUSE_A = (15 + 12 + 12 + 24) / 12.8 + 0.6


def test_lapwing_converter_feeds_the_house_and_the_bunkhouse() -> None:
    study = _study("lapwing-cabin")
    assert _loads_a(study, "P1.8") == pytest.approx(LAPWING_BUNKHOUSE_A)
    feed = next(wire.name for wire in study.rig.conductors if (wire.a, wire.b) == ("E1.out", "P1"))
    assert _loads_a(study, feed) == pytest.approx(LAPWING_HOUSE_A + LAPWING_BUNKHOUSE_A + 7.0)


def test_lapwing_radio_link_loses_what_the_table_says() -> None:
    """Largest currents: 30 A for 10 AWG, 15 A for 14 AWG.

    Source: NFPA 70 Table 552.10(E)(1) (memory).
    """
    feed_a = LAPWING_HOUSE_A + LAPWING_BUNKHOUSE_A + 7.0
    legs = (
        ("10", 5.0 + 5.0, feed_a, 30.0),
        ("14", 12.0 + 12.0, 12.0 / 12.8, 15.0),
    )
    by_hand_v = sum(
        _lost_v(_awg_ohm(gauge, feet), amps, most_a, 30.0, 75.0)
        for gauge, feet, amps, most_a in legs
    )
    assert _drop_v(_study("lapwing-cabin"), "Radio modem") == pytest.approx(by_hand_v, rel=0.01)
