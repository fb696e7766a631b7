"""Searches that went wrong once, each with the mechanism that was behind it."""

import pytest

from helpers.forgotten import cache
from helpers.home import EXAMPLES
from helpers.searches import diagnosed
from helpers.studies import heard, studied, study_from
from rigfolio.answers.diagnose import _shown_words, diagnosis_report
from rigfolio.answers.fault_words import kinds_told
from rigfolio.books.trade.diagnosis import figure
from rigfolio.diagnosis.choice import choices, next_reading
from rigfolio.diagnosis.effort import effort, reaches_of
from rigfolio.diagnosis.places import written_step
from rigfolio.diagnosis.suspects import suspects
from rigfolio.diagnosis.verdicts import Diagnosis, by_part
from rigfolio.model.reading import Reading
from rigfolio.reports.terminal import as_text
from rigfolio.study import Study

BENCH = """
rig "Bench"
    system 12 V
    rules vehicle
battery B1 {battery}, 100 Ah, internal 10 mohm
panel P1 2 slots of 20 A
busbar N1 100 A
wire B1+ to P1 6 AWG red 3 ft, fuse 50 A at B1+
wire N1 to B1- 6 AWG black 3 ft
circuit P1.1 "Floodlight" fuse 15 A
    wire 12 AWG red 20 ft
    load "Lamp" 7.5 A
circuit P1.2 "Roof fan" fuse 15 A
    wire 14 AWG blue 16 ft
    load "Fan" 8 A, motor
"""


@cache
def bench(battery: str = "flooded") -> Study:
    return study_from(BENCH.format(battery=battery))


def read(*lines: str, study: Study | None = None) -> tuple[Reading, ...]:
    return heard((study or bench()).rig, *lines)


def found(*lines: str, study: Study | None = None) -> Diagnosis:
    return diagnosed(study or bench(), read(*lines, study=study))


def first(diagnosis: Diagnosis) -> set[tuple[str, str]]:
    return {(fault.kind, fault.name) for fault in diagnosis.verdicts[0].faults}


def told(*lines: str, study: Study | None = None) -> str:
    study = study or bench()
    return " ".join(as_text(diagnosis_report(study, read(*lines, study=study))).split())


# 20 ft of 18 AWG in place of 12 AWG: 6.39 ohm against 1.59 ohm in 1000 ft (ASTM B258 by way of
# NEC ch. 9 table 8, solid at 20 degC, from memory); at 7.5 A some 0.96 V in each leg.
THIN = ("B1 = 12.40 V", "P1.1 = 12.38 V", "Lamp = 10.37 V", "P1.1 to P1.1~1 = 1.01 V")


def test_thin_wire_both_ways_is_found() -> None:
    diagnosis = found(*THIN, "Floodlight = 7.4 A")
    assert first(diagnosis) == {("thin wire", "P1.1")}
    assert diagnosis.verdicts[0].share > 0.9
    low, high = diagnosis.verdicts[0].spans[0]
    assert low < 4.0 < high * 1.2
    words = told(*THIN, "Floodlight = 7.4 A")
    assert "P1.1 Floodlight is thinner or longer than the text says" in words


def test_a_clamp_outweighs_a_guess() -> None:
    # Without the clamp the lamp might draw 13 A through its 15 A fuse; with it, it does not.
    drawn = [one for one in found(*THIN, "Floodlight = 7.4 A").verdicts
             if ("overload", "Lamp") in {(f.kind, f.name) for f in one.faults}]  # fmt: skip
    assert sum(one.share for one in drawn) < 0.02
    # The same volts with a clamp that shows what such a load would draw.
    lines = ("B1 = 12.30 V", "P1.1 = 12.26 V", "Lamp = 11.21 V", "P1.1 to P1.1~1 = 0.52 V")
    assert first(found(*lines, "Floodlight = 15.5 A")) == {("overload", "Lamp")}


def test_no_load_draws_more_than_its_closed_fuse_carries() -> None:
    # 32 A in a fan need 1 V and more in 16 ft of 14 AWG each way; its fuse of 15 A would be open.
    for one in found("Roof fan = 12.0 V", "Fan = 9.2 V").verdicts:
        for fault, amount in zip(one.faults, one.amounts, strict=True):
            if fault.kind == "overload" and fault.name == "Fan":
                assert 8.0 * amount <= 1.35 * 15.0


@pytest.mark.parametrize("lines", [("B1 = 11.9 V",), ("B1 = 11.9 V at rest",)])
def test_a_battery_that_rests_below_empty_is_flat(lines: tuple[str, ...]) -> None:
    diagnosis = found(*lines)
    assert first(diagnosis) == {("flat", "B1")}
    assert diagnosis.verdicts[0].share > 0.5


@pytest.mark.parametrize(
    "lines",
    [
        ("B1 = 12.3 V", "B1 = 11.8 V, with Lamp on"),
        ("B1 = 12.3 V, with all off", "B1 = 11.8 V, with Lamp on"),
        ("B1 = 12.3 V at rest", "B1 = 11.8 V at 7.5 A"),
        ("B1 = 12.3 V", "B1 = 11.8 V at 7.5 A"),
    ],
)
def test_a_weak_battery_is_found_without_words_of_art(lines: tuple[str, ...]) -> None:
    diagnosis = found(*lines)
    assert first(diagnosis) == {("tired", "B1")}
    assert diagnosis.verdicts[0].share > 0.7
    # 0.5 V at 7.5 A are 0.067 ohm, of which 0.010 ohm are stated.
    assert diagnosis.verdicts[0].amounts[0] == pytest.approx(0.057, rel=0.35)


def test_a_bare_reading_beside_a_loaded_one_is_said_to_be_at_rest() -> None:
    words = told("B1 = 12.3 V", "B1 = 11.8 V, with Lamp on")
    assert "`B1 = 12.3 V`: with all loads off" in words


def test_a_fuse_that_keeps_blowing_over_a_sound_load_points_to_a_chafed_wire() -> None:
    diagnosis = found("Roof fan keeps blowing", "P1.2 to N1 = 36 ohm")
    assert first(diagnosis) == {("chafed", "P1.2")}
    assert by_part(diagnosis)[0][1] > 0.5
    assert "move it along its way" in told("Roof fan keeps blowing", "P1.2 to N1 = 36 ohm")


def test_the_wire_is_open_before_the_load_is() -> None:
    share: dict[str, float] = {}
    for one in found("Lamp dead", "P1.1 = 12.4 V").verdicts:
        if len(one.faults) == 1 and one.touches:
            name = one.faults[0].kind
            share[name] = share.get(name, 0.0) + one.share
    assert share["open wire"] > share["dead load"] > 0.0


def test_a_stuck_load_has_opened_its_fuse() -> None:
    lines = ("Roof fan keeps blowing", "P1.2 = 0 V", "P1.2 to N1 = 0.35 ohm")
    assert first(found(*lines)) == {("stuck load", "Fan")}
    assert "draws so much that `P1.2` has opened" in told(*lines)


@pytest.mark.parametrize(
    "lines", [("B1 = 24 V",), ("P1.1 = 24.3 V",), ("P1.1 = 24.3 V", "Lamp = 24.1 V")]
)
def test_what_nothing_explains_is_told_so(lines: tuple[str, ...]) -> None:
    assert not found(*lines).explains
    words = told(*lines)
    assert "Nothing explains these readings" in words
    assert f"no single fault and no pair of faults that was tried shows `{lines[0]}`" in words
    assert " %  " not in words
    assert "Measure next" not in words


def test_one_reading_among_many_that_nothing_explains_is_named() -> None:
    lines = ("B1 = 12.5 V", "P1.1 = 12.3 V", "Lamp = 11.9 V", "P1.2 = 24.4 V, with Fan on")
    diagnosis = found(*lines)
    assert [one.text for one in diagnosis.verdicts[0].unexplained] == [lines[-1]]
    assert diagnosis.explains
    assert not diagnosis.fits


@pytest.mark.parametrize("shown", [-0.0, -0.001, -0.004, 0.004])
def test_nought_has_no_sign(shown: float) -> None:
    assert _shown_words("volts", shown) == "0.00 V"
    assert _shown_words("amperes", shown) == "0.00 A"


@pytest.mark.parametrize(
    ("line", "step"),
    [("B1 = 12 V", 1.0), ("B1 = 12.3 V", 0.1), ("B1 = 12.30 V", 0.01), ("B1 = 0 V", 0.0),
     ("P1 to P1.1 = 40 mV", 0.001), ("P1 to P1.1 = 40.5 mV", 0.0001)],
)  # fmt: skip
def test_the_last_digit_that_was_written_is_known(line: str, step: float) -> None:
    assert written_step(read(line)[0]) == pytest.approx(step)


def test_the_slot_is_read_before_what_lies_behind_the_panel() -> None:
    study = studied(EXAMPLES / "kittiwake-30.rig")
    slot = study.rig.circuits[0].start
    panel = study.rig.panels[0]
    minus = panel.negative or ""
    assert effort(study, "volts", slot, minus) < effort(study, "volts", panel.feed, minus)
    assert effort(study, "volts", slot, minus) < effort(study, "volts at rest", slot, minus)
    assert effort(study, "amperes", study.rig.circuits[0].place, "") == 1.5
    assert reaches_of(study).cost("no such place") == figure("reach", "hidden")


def test_of_two_readings_that_tell_the_same_the_handy_one_is_asked_for() -> None:
    study = studied(EXAMPLES / "heron-van.rig")
    diagnosis = found("Roof fan dead", study=study)
    best = next_reading(diagnosis)
    assert best is not None
    for other in choices(diagnosis):
        if other.bits >= best.bits - 1e-9:
            assert other.cost >= best.cost


def test_every_suspect_can_be_told() -> None:
    study = bench()
    kinds = {one.kind for one in suspects(study)}
    assert {"thin wire", "chafed", "stuck load"} <= kinds
    lines = ("Roof fan keeps blowing",)
    assert "chafed wire behind P1.2" in told(*lines)


def test_a_bank_that_feeds_nothing_is_no_end_for_a_probe() -> None:
    # The selector of this boat stands on the second bank.
    study = studied(EXAMPLES / "kittiwake-30.rig")
    for one in choices(found("Radar dead", study=study)):
        assert {one.a, one.b} == {"B1+", "B1-"} or "B1+" not in (one.a, one.b)


# Half full to full, at rest: 12.1 to 12.7 V (flooded and agm charts), lithium 13.0 to 13.4 V.
@pytest.mark.parametrize(
    ("battery", "volts"),
    [("flooded", "12.15"), ("agm", "12.4"), ("agm", "12.7"), ("lithium", "13.0"),
     ("lithium", "13.35")],
)  # fmt: skip
def test_a_battery_that_reads_well_is_not_called_flat(battery: str, volts: str) -> None:
    study = bench(battery)
    for said in ((), ("everything dim",), ("Lamp dim",)):
        reading = f"B1 = {volts} V, with all off"
        shares = dict.fromkeys(("flat", "sound"), 0.0)
        for one in found(reading, *said, study=study).verdicts:
            kinds = {fault.kind for fault in one.faults}
            shares["flat" if "flat" in kinds else "sound"] += one.share
        assert shares["flat"] < 0.1, (said, shares)


def test_before_anything_is_measured_each_kind_is_told_with_its_share() -> None:
    dim = found("everything dim")
    joints = sum(
        one.share for one in dim.verdicts
        if one.touches and len(one.faults) == 1
        and one.faults[0].kind in ("joint", "contact", "open wire")
    )  # fmt: skip
    lines = [line.strip().split("  ") for line in kinds_told(dim)]
    shares = {words: int(share.removesuffix(" %")) for share, words in lines}
    assert shares["a bad joint or contact, or a wire that is open"] == round(joints * 100)
    assert list(shares.values()) == sorted(shares.values(), reverse=True)
    # Of a rig that was measured the parts are told alone.
    assert "By kind" in told("everything dim")
    assert "By kind" not in told("everything dim", "B1 = 12.4 V")
