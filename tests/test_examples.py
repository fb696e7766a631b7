"""The example rigs: the sound ones stay sound and agree with hand calculation, the faulty ones say
exactly what their last column expects.

The hand calculations start from published tables and use nothing of the package but its answers.
"""

import math
from collections.abc import Mapping
from pathlib import Path

import pytest

from helpers.cables import SAE, TINNED
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
# Source: NFPA 70-2023 Chapter 9 Table 8 (seen as a data file, that of 16 AWG from memory).
TABLE_8 = {
    "16": 4.99, "14": 3.14, "12": 1.98, "10": 1.24, "6": 0.491, "4/0": 0.0608,
}  # fmt: skip
# What the book names: SAE cable in trailers and cabins, tinned boat cable of full gauge in boats.
CABLE: dict[str, Mapping[str, float]] = {"rv": SAE, "boat": dict.fromkeys(SAE, TINNED)}
# Ohm per km at 20 °C, greatest. Source: IEC 60228 class 5, plain copper (seen).
IEC_60228 = {"1": 19.5, "1.5": 13.3, "2.5": 7.98, "4": 4.95, "16": 1.21, "70": 0.272}
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

    Source: heat balance, the rise follows the square of the current (memory).
    """
    hot_c = ambient_c + (rated_c - ambient_c) * (current_a / may_carry_a) ** 2
    return ohm_20c * (1.0 + COPPER_PER_K * (hot_c - 20.0)) * current_a


def _awg_ohm(gauge: str, feet: float, book: str = "rv") -> float:
    """Resistance at 20 °C, from the value at 75 °C of the table [ohm]."""
    ohm = TABLE_8[gauge] * CABLE[book][gauge]
    return ohm / 1000.0 * feet / (1.0 + COPPER_PER_K * 55.0)


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
def test_a_faulty_example_says_what_it_expects(path: Path) -> None:
    (case,) = read_cases(path)
    assert case.expected != ()
    result = case.asked(check)
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


def _behind_a(watts: float, amperes: float, start_v: float, ohm_20c: float) -> float:
    """What loads of watts and amperes draw at the end of a line of their own [A].

    By hand: I = A + P / (U - R I), the smaller root, with copper at 45 °C: a line of ten degrees
    more or less moves no feeder below by more than one part in a thousand.
    """
    ohm, current_a = ohm_20c * (1.0 + COPPER_PER_K * 25.0), amperes + watts / start_v
    for _ in range(100):
        current_a = amperes + watts / (start_v - ohm * current_a)
    return current_a


def _at_bus_a(watts: float, amperes: float, emf_v: float, ohm: float) -> float:
    """What loads of watts and amperes draw behind a resistance that all of it runs through [A].

    By hand: I = A + P / (E - R I), the smaller root; what the loads' own wires lose is left out.
    """
    return _behind_a(watts, amperes, emf_v, ohm / (1.0 + COPPER_PER_K * 25.0))


# Marsh Wren: 12 V, 40 °C, insulation taken for 75 °C; of what comes and goes the pump is the
# largest in the panel, the brakes on the post.
WREN_PUMP_A = 7.0
WREN_DETECTOR_A = 0.15
WREN_SIX_A = 65.0 * math.sqrt((75.0 - 40.0) / (75.0 - 30.0))


def _wren() -> tuple[float, float, float]:
    """What lasts in the panel and the brakes draw [A], and the volts at the panel.

    Amperes of furnace, its control, fan, radio, outlets, igniter; watts of ceiling, bath, porch
    and step lamps. Ahead of them 10 mohm of battery and 6 AWG, out and back; the brakes have 19 ft
    of 12 AWG and the frame. They run a moment: what they take inside the battery they alone feel.
    """
    panel_a, brakes_a, panel_v = 13.0, 8.0, 12.0
    for _ in range(100):
        given_a = panel_a + WREN_DETECTOR_A + WREN_PUMP_A
        line_v = -_six_v(10.0 / 12.0 + 3.0, panel_a + WREN_DETECTOR_A + brakes_a)
        panel_v = 12.0 - 0.010 * given_a + line_v - _six_v(7.0, panel_a + WREN_PUMP_A)
        panel_v -= _six_v(9.0, panel_a + WREN_PUMP_A + WREN_DETECTOR_A)
        panel_a = 4.0 + 0.5 + 2.0 + 1.5 + 2.4 + 0.6
        panel_a += _behind_a(13.0, 0.0, panel_v, _awg_ohm("14", 2 * 18.0))
        panel_a += _behind_a(3.0, 0.5, panel_v, _awg_ohm("16", 2 * 12.0))
        panel_a += _behind_a(6.0, 0.0, panel_v, _awg_ohm("16", 2 * 14.0))
        own_ohm = _awg_ohm("12", 5.0 + 12.0 + 2.0) + _awg_ohm("6", 2.0)
        brakes_v = 12.0 - 0.010 * (given_a + brakes_a) + line_v
        brakes_a = brakes_v / (1.5 + own_ohm * (1.0 + COPPER_PER_K * 25.0))
    return panel_a, brakes_a, panel_v


def _six_v(feet: float, current_a: float) -> float:
    return _lost_v(_awg_ohm("6", feet), current_a, WREN_SIX_A, 40.0, 75.0)


WREN_PANEL_A, WREN_BRAKES_A, WREN_PANEL_V = _wren()


def test_marsh_wren_feeders_carry_the_sum_worked_out_by_hand() -> None:
    """Continuous loads in full and the largest intermittent one. Source: from memory."""
    study = _study("marsh-wren-17")
    feed, post, back = "W3", "W1", "W5"
    panel_a, post_a = WREN_PANEL_A + WREN_PUMP_A, WREN_PANEL_A + WREN_DETECTOR_A + WREN_BRAKES_A
    assert _loads_a(study, feed) == pytest.approx(panel_a, rel=5e-4)
    assert _loads_a(study, back) == pytest.approx(panel_a + WREN_DETECTOR_A, rel=5e-4)
    assert _loads_a(study, post) == pytest.approx(post_a, rel=5e-4)
    # At nominal volts the panel would draw 20.33 A.
    assert panel_a > 20.4
    assert flows_of(study).demand(post).charge_a == pytest.approx(45.0)


def test_marsh_wren_lamp_loses_what_the_table_says() -> None:
    """Largest currents: 15 A for 14 AWG; 65 A for 6 AWG, corrected for 40 °C.

    Sources: NFPA 70 Table 552.10(E)(1) (memory), NFPA 70-2023 Table 310.16 (seen) and the ambient
    formula of 310.15(B).
    """
    six_a = WREN_SIX_A
    lamps_a = _behind_a(13.0, 0.0, WREN_PANEL_V, _awg_ohm("14", 2 * 18.0))
    legs = (
        ("6", 10.0 / 12.0 + 3.0, WREN_PANEL_A + WREN_DETECTOR_A + WREN_BRAKES_A, six_a),
        ("6", 7.0, WREN_PANEL_A + WREN_PUMP_A, six_a),
        ("6", 9.0, WREN_PANEL_A + WREN_DETECTOR_A + WREN_PUMP_A, six_a),
        ("14", 18.0 + 18.0, lamps_a, 15.0),
    )
    by_hand_v = sum(
        _lost_v(_awg_ohm(gauge, feet), amps, most_a, 40.0, 75.0)
        for gauge, feet, amps, most_a in legs
    )
    # The table is printed to three digits, and strands are laid a little differently by size.
    assert _drop_v(_study("marsh-wren-17"), "Galley lamp") == pytest.approx(by_hand_v, rel=0.01)


# Heron: 12.8 V that give 1.5 kA into a short, 40 °C, insulation for 105 °C. The inverter is the
# largest of what comes and goes, in the panel a socket of 8 A.
HERON_FAN_A = 1.5
HERON_ALARM_A = 0.1
HERON_INVERTER_W = 1000 / INVERTER_EFFICIENCY
HERON_LAMPS = (
    (48.0, "4", 2 * 2.4), (18.0, "1.5", 2 * 3.3), (5.0, "1.5", 2 * 5.0),
    (67.0, "4", 2 * 3.0), (27.0, "2.5", 2 * 5.0), (4.0, "1", 5.0),
)  # fmt: skip
"""Watts, size [mm²] and length [m] of the circuits of watts; of two ways out the mean."""


def _heron() -> tuple[float, float, float]:
    """What lasts in the panel and the inverter draw [A], and the volts at the panel."""
    panel_a, inverter_a, panel_v = 16.0, 100.0, 12.8
    for _ in range(100):
        bus_a = panel_a + HERON_FAN_A + inverter_a
        bus_v = 12.8 - 12.8 / 1500.0 * (bus_a + HERON_ALARM_A)
        bus_v -= _metric_v("70", 0.5 + 0.8, bus_a + HERON_ALARM_A, 330.0)
        bus_v -= _metric_v("70", 0.7, bus_a, 330.0)
        inverter_a = _behind_a(HERON_INVERTER_W, 0.0, bus_v, _metric_ohm("70", 2 * 1.1))
        panel_v = bus_v - _metric_v("16", 4.1, panel_a + 8.0, 70.0)
        panel_a = 2.0 + 0.2 + sum(
            _behind_a(watts, 0.0, panel_v, _metric_ohm(area, metres))
            for watts, area, metres in HERON_LAMPS
        )  # fmt: skip
    return panel_a, inverter_a, panel_v


def _metric_v(area: str, metres: float, current_a: float, most_a: float) -> float:
    return _lost_v(_metric_ohm(area, metres), current_a, most_a, 40.0, 105.0)


HERON_PANEL_A, HERON_INVERTER_A, HERON_PANEL_V = _heron()


def test_heron_trunk_carries_the_inverter_and_all_that_runs_beside_it() -> None:
    study, trunk_a = _study("heron-van"), HERON_PANEL_A + HERON_FAN_A + HERON_INVERTER_A
    assert _loads_a(study, "H2P") == pytest.approx(trunk_a, rel=1e-3)
    assert _loads_a(study, "F1") == pytest.approx(trunk_a + HERON_ALARM_A, rel=1e-3)


def test_heron_reading_lights_lose_what_iec_60228_says() -> None:
    """From the bar of the panel, as the limit is meant: 10 m of 1.5 mm² out and back.

    10 A warm 16 AWG, the next smaller copper, by 22.8 K. Source: FAA AC 43.13-1B Table 11-3, from
    57.2 °C to the 80 °C of plain vehicle wire (seen, memory).
    """
    current_a = 5.0 / (HERON_PANEL_V - 0.1)
    by_hand_v = _lost_v(_metric_ohm("1.5", 5.0 + 5.0), current_a, 10.0, 40.0, 62.8)
    assert _drop_v(_study("heron-van"), "Reading lights, two") == pytest.approx(by_hand_v, rel=0.01)


def test_kittiwake_panel_carries_the_sum_worked_out_by_hand() -> None:
    """Watts over their volts and amperes of what runs on; the toilet is the largest of the rest."""
    watts = 4 + 2 + 3 + 2.5 + 5 + 20 + 30 + 15 + 18 + 1 + 8 + 6 + 3 + 55 + 24
    amperes = 0.4 + 0.5 + 0.5 + 3 + 0.5 + 1.5
    # The bank's 4.8 mohm count; the lamps' own wires and the feed are left out: they take at most
    # 3 % of the volts of 16 of the 40 A. The windlass runs a moment.
    steady_a = _at_bus_a(watts, amperes + 16.0, 12.0, 0.0048) - 16.0
    study = _study("kittiwake-30")
    assert _loads_a(study, "F3") == pytest.approx(steady_a + 16.0, rel=1e-2)
    assert _loads_a(study, "F2") == pytest.approx(steady_a + 90.0, rel=1e-2)


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
        _lost_v(_awg_ohm(gauge, feet, "boat"), amps, most_a * hot, 40.0, 105.0)
        for gauge, feet, amps, most_a in legs
    )
    assert _drop_v(_study("kittiwake-30"), "Bilge pump, deep sump") == pytest.approx(
        by_hand_v, rel=0.01
    )


# Lapwing: 12.8 V behind the converter, 30 °C, insulation for 75 °C; the pump of 7 A is the largest
# of what comes and goes. House first, then the bunkhouse.
def _lapwing() -> tuple[float, float, float]:
    """What the house and the bunkhouse draw beside the pump [A], and the volts at the house."""
    house_a, bunk_a, house_v = 5.5, 3.3, 12.8
    for _ in range(100):
        feed_a = house_a + bunk_a + 7.0
        house_v = 12.8 - _lost_v(_awg_ohm("10", 5.0 + 5.0), feed_a, 30.0, 30.0, 75.0)
        bunk_v = house_v - _lost_v(_awg_ohm("6", 42.0 + 42.0), bunk_a, 65.0, 30.0, 75.0)
        house_a = 0.6 + sum(
            _behind_a(watts, 0.0, house_v, _awg_ohm(gauge, 2 * feet))
            for watts, gauge, feet in
            ((15.0, "16", 16.0), (12.0, "16", 20.0), (12.0, "14", 12.0), (24.0, "14", 12.0))
        )  # fmt: skip
        bunk_a = 0.5 + sum(
            _behind_a(watts, 0.0, bunk_v, _awg_ohm(gauge, 2 * feet))
            for watts, gauge, feet in ((12.0, "16", 15.0), (24.0, "14", 12.0))
        )
    return house_a, bunk_a, house_v


LAPWING_HOUSE_A, LAPWING_BUNKHOUSE_A, LAPWING_HOUSE_V = _lapwing()


def test_lapwing_converter_feeds_the_house_and_the_bunkhouse() -> None:
    study = _study("lapwing-cabin")
    assert _loads_a(study, "P1.8") == pytest.approx(LAPWING_BUNKHOUSE_A, rel=1e-3)
    feed = next(wire.name for wire in study.rig.conductors if (wire.a, wire.b) == ("E1.out", "P1"))
    assert _loads_a(study, feed) == pytest.approx(
        LAPWING_HOUSE_A + LAPWING_BUNKHOUSE_A + 7.0, rel=1e-3
    )


def test_lapwing_radio_link_loses_what_the_table_says() -> None:
    """35 A warm 10 AWG from 30 to 75 °C, 20 A 14 AWG.

    Source: NFPA 70-2023 Table 310.16 (seen).
    """
    feed_a = LAPWING_HOUSE_A + LAPWING_BUNKHOUSE_A + 7.0
    modem_a = _behind_a(12.0, 0.0, LAPWING_HOUSE_V, _awg_ohm("14", 2 * 12.0))
    legs = (
        ("10", 5.0 + 5.0, feed_a, 35.0),
        ("14", 12.0 + 12.0, modem_a, 20.0),
    )
    by_hand_v = sum(
        _lost_v(_awg_ohm(gauge, feet), amps, most_a, 30.0, 75.0)
        for gauge, feet, amps, most_a in legs
    )
    assert _drop_v(_study("lapwing-cabin"), "Radio modem") == pytest.approx(by_hand_v, rel=0.01)


# --- the figures of the faulty examples, where watts draw at their own volts ---

# Batteries of 12 V that give 900 A into a short.
SHORT_OHM = 12.0 / 900.0
MORE_OF_TABLE_8 = {"8": 0.778, "6": 0.491, "3/0": 0.0766} | TABLE_8


def _between_a(watts: float, amperes: float, legs: tuple[tuple[str, float], ...]) -> list[float]:
    """What a circuit draws with its copper at 30 °C and at 75 °C [A], by gauge and feet."""
    ohm = sum(MORE_OF_TABLE_8[gauge] * SAE[gauge] * feet / 1000.0 for gauge, feet in legs)
    colder = 1.0 - COPPER_PER_K / (1.0 + COPPER_PER_K * 55.0) * 45.0
    return [_at_bus_a(watts, amperes, 12.0, SHORT_OHM + share * ohm) for share in (colder, 1.0)]


def _faulty(name: str) -> Study:
    study = check(str(EXAMPLES / "faulty" / f"{name}.rig")).study
    assert study is not None
    return study


def test_old_lamps_and_a_fan_overload_their_fuse_as_by_hand() -> None:
    """63 W and 0.5 A: 5.75 A at 12 V; what the text says, 5.95 A, is that rounded up."""
    least_a, most_a = _between_a(63.0, 0.5, (("8", 4.0 + 3.0), ("14", 2 * 9.0)))
    found_a = _loads_a(_faulty("fuse-smaller-than-its-loads"), "P1.1")
    assert least_a < found_a < most_a
    assert 5.92 < least_a < most_a < 5.98


def test_an_inverter_overloads_a_bar_as_by_hand() -> None:
    """1200 W over 0.85, at the 10 V that 13.3 mohm leave: 142 A, and 40 W of lamps beside it."""
    cable = (("3/0", 2.0 + 2.0 + 3.0 + 3.0),)
    least_a, most_a = _between_a(1200.0 / INVERTER_EFFICIENCY + 40.0, 0.0, cable)
    result = check(str(EXAMPLES / "faulty" / "bus-overloaded.rig"))
    (told,) = [one for one in result.findings if one.rule == "busbar-overloaded"]
    found_a = dict(told.numbers)["demand_a"]
    # Not all of it runs through all of the cable: up to a third less of that one's 0.1 V.
    assert least_a * 0.995 < found_a < most_a * 1.005


def test_a_navigation_light_loses_as_by_hand() -> None:
    """25 W at the end of 100 ft of 16 AWG, which may carry 25 A by the boat's table at 105 °C."""
    current_a = 25.0 / 12.0
    for _ in range(100):
        lost_v = _lost_v(_awg_ohm("16", 2 * 50.0, "boat"), current_a, 25.0, 30.0, 105.0)
        lost_v += _lost_v(_awg_ohm("6", 4.0 + 3.0, "boat"), current_a, 120.0, 30.0, 105.0)
        current_a = 25.0 / (12.0 - SHORT_OHM * current_a - lost_v)
    assert _drop_v(_faulty("navigation-light-dims"), "Tricolour") == pytest.approx(lost_v, rel=0.01)
    assert lost_v / 12.0 == pytest.approx(0.0842, abs=0.001)
