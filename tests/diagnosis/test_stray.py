"""What an open line picks up, what a burnt converter lets through, what nobody thought of."""

from functools import cache

import pytest

from helpers.home import EXAMPLES
from helpers.searches import diagnosed
from helpers.studies import heard, studied, study_from
from rigfolio.answers.diagnose import diagnosis_report
from rigfolio.books import figure, origin
from rigfolio.diagnosis.choice import next_reading
from rigfolio.diagnosis.verdicts import Diagnosis
from rigfolio.study import Study

RIG = """
rig "Dipper"
    system 24 V
    rules  rv
battery B1 gel, 24 V, 110 Ah, internal 12 mohm
panel P1 4 slots of 20 A
panel P2 4 slots of 20 A
busbar N1 100 A
dc-dc D1 15 A, from 24 V to 12 V, efficiency 88 %{isolated}
wire W1 N1 to B1- 10 mm2 black 1 m
wire W2 B1+ to P1 10 mm2 red 2 m, fuse 40 A at B1+
wire W3 P1 to D1.in 2.5 mm2 red 2 m, fuse 15 A at P1
{back}
wire W4 D1- to N1 4 mm2 black 1 m
wire W5 D1.out to P2 4 mm2 red 2 m
circuit P1.1 "Lamp" fuse 5 A
    wire 1.5 mm2 red 3 m
    load "Lamp" 24 W, led
circuit P1.2 "Alarm" fuse 2 A
    wire 1.5 mm2 red 3 m
    load "Alarm" 0.08 A
circuit P2.1 "Radio" fuse 5 A
    wire 1.5 mm2 red 3 m
    load "Radio" 1.5 A
"""


@cache
def dipper() -> Study:
    return study_from(RIG.format(isolated="", back=""))


def found(*lines: str, study: Study | None = None) -> Diagnosis:
    asked = study or dipper()
    return diagnosed(asked, heard(asked.rig, *lines))


def shares(told: Diagnosis) -> dict[tuple[tuple[str, str], ...], float]:
    """How likely each verdict is, by the kinds and parts of its faults."""
    return {tuple((f.kind, f.name) for f in o.faults): o.share for o in told.verdicts}


@pytest.mark.parametrize("place", ["P1.1", "Lamp", "Alarm", "P1.2", "P1"])
@pytest.mark.parametrize("stray", [0.05, 0.2, 0.35])
def test_tenths_of_a_volt_say_of_a_line_what_none_say(place: str, stray: float) -> None:
    """A floating line shows anything up to some tenths on 10 Mohm (common practice)."""
    none, some = (shares(found(f"{place} = {volts} V")) for volts in (0, stray))
    for faults, share in none.items():
        if share > 0.02:
            assert some[faults] == pytest.approx(share, rel=0.25, abs=0.05), faults


def test_an_open_line_is_not_blamed_on_a_battery() -> None:
    told = found("P1.1 = 0.2 V")
    battery = sum(one.share for one in told.verdicts if one.faults[0].name == "B1")
    assert battery < 0.1
    assert {one.faults[0].kind for one in told.verdicts[:2]} == {"open device"}


def test_volts_of_a_dead_battery_under_a_load_are_still_its_own() -> None:
    """What a load pulls down to volts, not tenths, comes from something that gives a little."""
    told = found("Lamp = 3 V, with Lamp on", "B1 = 3.1 V, with Lamp on")
    assert all(fault.name == "B1" for fault in told.verdicts[0].faults)


def test_a_converter_may_let_its_input_through() -> None:
    told = found("P2 = 25.1 V, with all off")
    assert [(f.kind, f.name) for f in told.verdicts[0].faults] == [("passes through", "D1")]
    assert told.fits
    report = diagnosis_report(dipper(), heard(dipper().rig, "P2 = 25.1 V, with all off"))
    assert "lets its input through" in str(report.parts)


def test_its_volts_are_those_of_the_input_whatever_that_has() -> None:
    """Joined by next to nothing: what the bank has, the output has."""
    told = found("P2 = 24.2 V, with all off", "B1 = 24.2 V, with all off")
    assert "passes through" in {fault.kind for fault in told.verdicts[0].faults}
    apart = found("P2 = 21.0 V, with all off", "B1 = 25.2 V, with all off")
    kinds = {fault.kind for fault in apart.verdicts[0].faults}
    assert apart.verdicts[0].unexplained or kinds != {"passes through"}


def test_one_that_is_isolated_lets_nothing_through() -> None:
    back = "wire W6 D1.in- to N1 4 mm2 black 1 m"
    text = RIG.format(isolated=", isolated", back=back).replace("W4 D1- ", "W4 D1.out- ")
    study = study_from(text)
    told = found("P2 = 25.1 V, with all off", study=study)
    assert not any(f.kind == "passes through" for o in told.verdicts for f in o.faults)


@pytest.mark.parametrize(
    "line",
    ["P2 = 25.1 V, with all off", "P1.1 = 0.2 V", "P2 = 0 V", "Radio = 11.0 V", "Lamp = 17 V",
     "P2 = 9 V, with all off", "Radio = -12 V", "B1 = 1 V", "P1 = 30 V"],
)  # fmt: skip
def test_one_reading_alone_never_settles_which_rare_fault_there_is(line: str) -> None:
    """A fault that is one in a hundred before is not nineteen in twenty after one figure."""
    told = found(line)
    assert told.verdicts[0].share < 0.95 or told.verdicts[0].faults[0].kind == "nothing"
    assert sum(one.share for one in told.verdicts) + told.unlisted == pytest.approx(1.0)


def test_what_is_burnt_through_is_proved_at_the_converter_itself() -> None:
    best = next_reading(found("P2 = 25.1 V, with all off"))
    assert best is not None
    assert {best.a, best.b} <= {"D1.in", "D1.out", "D1-", "D1+"}


def test_what_is_said_where_nothing_parts_what_is_left_claims_no_more_than_that() -> None:
    told = found("P2 = 25.1 V, with all off")
    report = str(diagnosis_report(dipper(), heard(dipper().rig, "P2 = 25.1 V, with all off")).parts)
    assert next_reading(told) is not None or "none of the faults that are thought of" in report
    assert told.unlisted > 0.005
    assert "none of the faults thought of here" in report


def test_pairs_that_a_lone_reading_allows_are_less_likely_than_what_nobody_thought_of() -> None:
    for line in ("P2 = 18 V, with all off", "Radio = 17 V"):
        told = found(line)
        pairs = sum(one.share for one in told.verdicts if len(one.faults) == 2)
        assert pairs < told.unlisted, line


@pytest.mark.parametrize("group", ["stray", "coil", "weight"])
def test_figures_say_where_they_come_from(group: str) -> None:
    assert origin(group).status in ("memory", "common practice")


def test_stray_volts_are_tenths() -> None:
    assert 0.1 < figure("stray", "volt") < 1.0
    assert studied(EXAMPLES / "lapwing-cabin.rig").rig.system_v * 0.1 > figure("stray", "volt")
