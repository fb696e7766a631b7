"""Faults put into the examples, read with a meter, and found again."""

from math import log

import pytest

from helpers.forgotten import cache
from helpers.home import EXAMPLES
from helpers.searches import diagnosed
from helpers.studies import studied, study_from
from rigfolio.answers.diagnose import diagnosis_report, entry_words, measure_words
from rigfolio.diagnosis.choice import choices, next_reading
from rigfolio.diagnosis.posterior import diagnose
from rigfolio.diagnosis.verdicts import Diagnosis
from rigfolio.isolation.energised import CLOSED
from rigfolio.operating import Scene, Wrong
from rigfolio.reading.logs.meter import read_log
from rigfolio.reports.terminal import as_text
from rigfolio.study import Study

SMALL = """
rig "Bench"
    system 12 V
    rules vehicle
battery B1 agm, 100 Ah, internal 20 mohm
panel P1 2 slots of 20 A
busbar N1 100 A
wire B1+ to P1 6 AWG red 1 ft, fuse 50 A at B1+
wire N1 to B1- 6 AWG black 1 ft
circuit P1.1 "Heater" fuse 10 A
    wire 14 AWG red 10 ft
    load "Element" 2 ohm
circuit P1.2 "Lamp" fuse 5 A
    wire 16 AWG blue 10 ft
    load "Lamp" 12 W
"""


@cache
def study(name: str) -> Study:
    return study_from(SMALL) if name == "bench" else studied(EXAMPLES / f"{name}.rig")


def found(name: str, *lines: str) -> Diagnosis:
    log_, problems = read_log("\n".join(lines), "readings.txt", study(name).rig)
    assert not problems
    return diagnosed(study(name), log_.readings)


def first(diagnosis: Diagnosis) -> set[tuple[str, str]]:
    return {(fault.kind, fault.name) for fault in diagnosis.verdicts[0].faults}


def test_a_joint_of_half_an_ohm_by_hand() -> None:
    # A 2 ohm element behind 0.5 ohm more than sound copper: of 12.42 V it gets about
    # 12.42 * 2 / (2 + 0.5 + 0.02 + copper); 20 ft of 14 AWG at 30 degC are 0.0547 ohm,
    # 2 ft of 6 AWG 0.0008 ohm (NEC ch. 9 table 8: 3.14 and 0.491 ohm/kFT at 75 degC, seen),
    # 4107 / 3702 and 26251 / 24538 of that in SAE cable.
    scene = Scene(study("bench"), CLOSED, frozenset({"Element"}))
    shown = scene.solve(Wrong(ohm=(("P1.1", 0.5),)))
    current_a = 12.42 / (2.0 + 0.5 + 0.02 + 0.0595 + 0.0009)
    assert shown.between_v("P1", "P1.1") == pytest.approx(0.5 * current_a, rel=2e-3)
    assert shown.current_a("P1.1") == pytest.approx(current_a, rel=2e-3)


def test_a_lamp_that_starves_counts_as_a_resistance() -> None:
    # 12 W at 12 V are 12 ohm; behind 12 ohm more it gets half of what the battery has.
    scene = Scene(study("bench"), CLOSED, frozenset({"Lamp"}))
    shown = scene.solve(Wrong(ohm=(("P1.2/1", 24.0),)))
    assert shown.between_v("P1.2~1", "P1.2~1-") == pytest.approx(12.42 / 3.0, rel=0.01)


def test_ohms_are_those_of_the_load_and_of_a_short() -> None:
    scene = Scene(study("bench"), CLOSED, frozenset({"Element", "Lamp"}))
    assert scene.ohms("P1.1", "N1") == pytest.approx(2.05, rel=0.02)
    shorted = Wrong(shunt_ohm=(("P1.1", "N1", 0.05),))
    assert scene.ohms("P1.1", "N1", shorted) == pytest.approx(0.05, rel=0.05)
    assert log(scene.ohms("P1", "N1")) > log(1e5)


def test_a_fuse_clip_is_found_and_its_heat_told() -> None:
    diagnosis = found("bench", "P1 = 12.3 V", "P1 to P1.1 = 1.2 V", "Element = 10.9 V")
    assert first(diagnosis) == {("contact", "P1.1")}
    assert diagnosis.verdicts[0].share > 0.9
    low, high = diagnosis.verdicts[0].spans[0]
    # 1.2 V at some 5.5 A.
    assert low < 0.22 < high
    assert high / low < 1.8


@pytest.mark.parametrize(
    ("lines", "fault"),
    [
        (("P1 = 12.4 V", "P1.2 = 0 V", "Lamp dead"), ("open device", "P1.2")),
        (("P1.2 = 12.4 V", "Lamp = 12.3 V", "Lamp dead"), ("dead load", "Lamp")),
        (("P1.2 = 12.4 V", "Lamp = -12.3 V", "Lamp dead"), ("reversed", "Lamp")),
        (("B1 = 10.4 V, with all off", "Lamp dim"), ("flat", "B1")),
        (
            ("B1 = 12.6 V, with all off", "B1 = 9.3 V, with Element on", "Element dim"),
            ("tired", "B1"),
        ),
        (("P1.2 = 12.4 V", "Lamp = 0 V", "P1.2 to P1.2~1 = 0 V"), ("open wire", "P1.2/1R")),
        (("P1.2 = 12.4 V", "Lamp = 0 V", "P1.2 to P1.2~1 = 12.4 V"), ("open wire", "P1.2/1")),
        (("P1.1 blows its fuse", "P1.1 to N1 = 0.1 ohm"), ("short", "P1.1")),
        (("P1.1 = 9.8 A", "P1.1 = 12.1 V", "Element = 11.6 V"), ("overload", "Element")),
    ],
)
def test_what_readings_say(lines: tuple[str, ...], fault: tuple[str, str]) -> None:
    assert first(found("bench", *lines)) == {fault}


def test_two_faults_are_found_together() -> None:
    diagnosis = found(
        "bench", "P1 to P1.1 = 1.2 V", "P1.2 = 12.4 V", "Lamp = 3 V", "P1.2 to P1.2~1 = 9.4 V",
        "P1 = 12.3 V", "Element = 10.8 V",
    )  # fmt: skip
    assert first(diagnosis) == {("contact", "P1.1"), ("joint", "P1.2/1")}


def test_readings_as_expected_point_nowhere() -> None:
    diagnosis = found("bench", "P1 = 12.38 V", "P1.1 = 12.3 V", "Element = 11.95 V")
    assert sum(one.share for one in diagnosis.verdicts if not one.touches) > 0.7
    assert sum(one.share for one in diagnosis.verdicts) == pytest.approx(1.0)


def test_readings_that_cannot_be_are_called_a_poor_fit() -> None:
    diagnosis = found("bench", "B1 = 12.6 V", "P1 = 19 V", "P1.1 = 3 V", "Element = 25 V")
    assert not diagnosis.fits


def test_the_next_reading_parts_the_way_out_from_the_way_back() -> None:
    choice = next_reading(found("marsh-wren-17", "Porch lamp = 3.1 V", "P1.11 = 12.4 V"))
    assert choice is not None
    assert {choice.a, choice.b} == {"P1.11", "P1.11~1"}
    assert choice.bits > 0.8


def test_no_reading_is_no_question() -> None:
    with pytest.raises(ValueError, match="no readings"):
        diagnose(study("bench"), ())


@pytest.mark.parametrize(
    ("how", "unit", "measure", "amount", "on"),
    [
        ("volts", "volts", "voltage", 3.0, None),
        ("volts at rest", "volts", "voltage", 3.0, ()),
        ("amperes", "amperes", "current", 3.0, None),
        ("ohms", "ohms", "resistance", 3.0, None),
    ],
)
def test_every_kind_of_reading_is_told_and_read_back_as_it_is_written_down(
    how, unit, measure, amount, on
) -> None:
    told = [
        found("marsh-wren-17", "Furnace blows its fuse"),
        found("marsh-wren-17", "Pump dim", "P1.2 = 9.0 V"),
    ]
    kind = [(one, choice) for one in told for choice in choices(one) if choice.how == how]
    assert kind
    for one, choice in kind:
        words = measure_words(one, choice)
        assert words.startswith(f"{unit} ")
        assert ("all loads off" in words) is (how == "volts at rest")
        assert ("every source off" in words) is (how == "ohms")
        rig = study("marsh-wren-17").rig
        log_, problems = read_log(entry_words(one, choice, "3"), "log", rig)
        assert not problems
        (reading,) = log_.readings
        assert (reading.measure, reading.value, reading.on) == (measure, amount, on)
        place = (reading.part,) if how == "amperes" else (reading.a, reading.b)
        assert place == ((choice.a,) if how == "amperes" else (choice.a, choice.b))


@pytest.mark.parametrize(("slot", "posts"), [("0 V", "0 V"), ("0.09 V", "0.1 V")])
def test_a_battery_that_gives_nothing_is_told_from_one_that_is_flat(slot, posts) -> None:
    lines = ("Pump dead", f"P1.2 = {slot}", f"B1 = {posts}, with Pump on")
    assert first(found("marsh-wren-17", *lines)) == {("open battery", "B1")}
    log_, _ = read_log("\n".join(lines), "log", study("marsh-wren-17").rig)
    assert "gives nothing" in as_text(diagnosis_report(study("marsh-wren-17"), log_.readings))


def test_banks_that_nothing_charges_stand_apart() -> None:
    # By hand: at rest a bank shows 12.4 V +- 0.3 V. 12.1 V on the one and 12.8 V on the other are
    # what two sound banks show that nothing joins; joined by the 0.003 ohm of their cables they
    # would differ by some millivolts, and their combiner or its fuses would be the suspects.
    lines = ("B1+ to B1- = 12.1 V, with all off", "B2+ to B2- = 12.8 V, with all off")
    told = found("kittiwake-30", *lines)
    assert told.fits
    joined = {"Q1", "W14", "W15", "W14 fuse", "W15 fuse", "X1"}
    for verdict in told.verdicts:
        if verdict.share > 0.05:
            assert not joined & {fault.name for fault in verdict.faults}
    log_, _ = read_log("\n".join(lines), "r", study("kittiwake-30").rig)
    words = as_text(diagnosis_report(study("kittiwake-30"), log_.readings))
    assert "no state was named: selector `X1` on 2, as in `moored`" in words
    assert "no state was named: combiner `Q1` open, since nothing charges" in words
    log_, _ = read_log(f"{lines[0]}, in sailing", "r", study("kittiwake-30").rig)
    words = as_text(diagnosis_report(study("kittiwake-30"), log_.readings))
    assert "no state was named" not in words
