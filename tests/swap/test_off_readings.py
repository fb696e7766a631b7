"""What is read outside what is expected is said when it is logged, and marked on the next sheet."""

from pathlib import Path

import pytest

from helpers.home import CORPUS, RIGS
from helpers.studies import heard, studied, study_from
from rigfolio.answers import odd_words
from rigfolio.model import Log
from rigfolio.operating import MeterPoint, judged_bounds, numbered_points
from rigfolio.study import Study
from rigfolio.swap import every_stage, is_off, off_remarks, reading_stages, sheet_stages

RIG = """
rig "Brambling"
    system 24 V
    rules  rv
battery B1 gel, 24 V, 110 Ah, internal 12 mohm
disconnect S1 100 A
charger C1 16 A, 28.2 V
array Y1 2 modules in series, open circuit 22.6 V, short circuit 6.2 A, 110 W, works at 18.8 V
solar U1 15 A, input 75 V
panel P1 4 slots of 20 A
busbar N1 100 A
wire W1 N1 to B1- 10 mm2 black 1 m
wire W2 B1+ to S1 10 mm2 red 1 m, fuse 40 A at B1+
wire W3 S1 to P1 10 mm2 red 1 m
wire C1+ to P1 4 mm2 red 1 m, fuse 20 A at P1
wire C1- to N1 4 mm2 black 1 m
wire Y1+ to U1.in 4 mm2 red 5 m
wire Y1- to U1.in- 4 mm2 black 5 m
wire U1+ to P1 4 mm2 red 2 m, fuse 20 A at P1
wire U1- to N1 4 mm2 black 2 m
circuit P1.1 "Fridge" fuse 10 A
    wire 2.5 mm2 blue 6 m
    load "Fridge" 60 W, motor
circuit S1.line "Gas alarm" fuse 2 A, always on
    wire 1.5 mm2 pink 4 m
    load "Gas alarm" 0.08 A, 24 h/day
state "on mains" S1 closed, C1 on
"""


def brambling() -> Study:
    return study_from(RIG)


def told(*lines: str) -> tuple[str, ...]:
    study = brambling()
    return odd_words(study, heard(study.rig, *lines))


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("U1.in to U1.in- = -44 V", "swapped"),
        ("Gas alarm = 0.2 V, S1 open", "expected 24"),
        ("Fridge = 22.4 V, with Fridge on", "expected 23"),
        ("P1 = 12 V", "expected 24"),
        ("P1 = 20 V, with all off", "expected 24"),
        ("P1.1 = 9 A, with Fridge on", "expected 1.99 to 2.92 A"),
        ("P1.1 to N1 = 0.2 ohm", "ohm or more"),
        ("S1.line to S1.load = 0.9 V, with Fridge on", "up to"),
    ],
)
def test_what_is_not_as_expected_is_said_with_what_is(line: str, words: str) -> None:
    (said,) = told(line)
    assert words in said
    assert f"`{line}`" in said


@pytest.mark.parametrize(
    "line",
    ["U1.in to U1.in- = 42 V", "Gas alarm = 24.7 V, S1 open", "Fridge = 24.3 V, with Fridge on",
     "P1 = 24.8 V", "P1 = 24.8 V, with all off", "B1 = 27.6 V", "P1.1 = 2.5 A, with Fridge on",
     'P1 = 27.9 V, in "on mains"', "Fridge does not work"],
)  # fmt: skip
def test_nothing_is_said_of_what_fits(line: str) -> None:
    assert told(line) == ()


def logged(study: Study, point: MeterPoint, value: float) -> Log:
    return Log(heard(study.rig, point.written(f"{value:.6f}")))


@pytest.mark.parametrize("file", [*RIGS, *CORPUS], ids=lambda one: one.stem)
def test_the_sheet_marks_what_the_log_asks_about(file: Path) -> None:
    """Every fifth point of a sheet, in the midst of its bounds and far outside."""
    study = studied(file)
    found = sheet_stages(study)
    marked = []
    for _, _, _, point in [*numbered_points(found)][::5]:
        low, high = judged_bounds(point)
        inside = low + (min(high, low + 1.0) - low) / 2.0
        outside = 0.5 * low if low > 0.0 else 3.0 * high + 1.0
        for value in (inside, outside):
            log = logged(study, point, value)
            lines = [o.before for stage in reading_stages(study, found, log)
                     for step in stage.steps for o in step.lines if o.before]  # fmt: skip
            off = [one for one in lines if one.startswith("!")]
            assert bool(off) == is_off(point, value) or len(lines) > 1, (point.written(), value)
            if off and len(lines) == 1 and point.unit != "ohm":
                marked += log.readings
    asked = {line.split("`")[1] for line in odd_words(study, marked)}
    assert asked == {one.text for one in marked}


def test_the_mark_is_explained_where_it_stands() -> None:
    study = brambling()
    found = sheet_stages(study)
    good, bad = (
        reading_stages(study, found, Log(heard(study.rig, f"Fridge = {volts} V, with P1.1 on")))
        for volts in (24.3, 22.4)
    )
    assert not [*off_remarks(good)]
    (words,) = off_remarks(bad)
    assert "not as expected" in words
    shown = [one.before for stage in bad for step in stage.steps for one in step.lines]
    assert "!22.4 V" in shown


def test_volts_of_a_place_are_not_taken_for_what_a_holder_takes() -> None:
    """`P1 = 24.8 V` is no reading from P1 to a slot of it."""
    study = brambling()
    log = Log(heard(study.rig, "P1 = 24.8 V"))
    for _, _, _, point in numbered_points(every_stage(study)):
        (reading,) = log.readings
        if point.unit == "V" and point.high < 1.0:
            lines = reading_stages(study, every_stage(study), log)
            small = [
                o for stage in lines for s in stage.steps for o in s.lines if "mV" in o.expected
            ]
            assert not [one for one in small if one.before], reading.text
            break
