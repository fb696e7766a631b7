"""What is read on a roof and in which order, on the test sheet and in the work plan alike."""

import pytest

from helpers.home import TESTS
from rigfolio.judgement.result import check
from rigfolio.operating import bounds_words, numbered_points
from rigfolio.swap import every_stage, sheet_stages, work

HUT = """rig "Hut"
    system 12 V
    rules vehicle
    coldest -15 degC
battery B1 agm, 100 Ah, delivers 900 A
panel P1 4 slots of 20 A
busbar N1 100 A
wire B1+ to P1 4 AWG red 1 ft, fuse 60 A at B1+ class-t interrupts 20 kA
wire B1- to N1 4 AWG black 1 ft
solar U1 20 A, input 75 V
wire U1+ to B1+ 8 AWG red 4 ft, fuse 30 A at B1+ class-t interrupts 20 kA
wire U1- to N1 8 AWG black 4 ft
circuit P1.1 "Lamp" fuse 5 A
    wire 16 AWG red 6 ft
    load "Lamp" 2 A
"""
ONE = """array Y1 2 modules in series, {open}, short circuit 6 A, gains 0.3 % a degree colder
wire Y1+ to U1.in 10 AWG red 6 ft
wire Y1- to U1.in- 10 AWG black 6 ft
"""


def hut(more=""):
    return check("made.rig", text=HUT + more).study


def roof(study):
    """Title, steps and readings of the stage of the sun."""
    stage = sheet_stages(study)[-1]
    return stage, [step.do for step in stage.steps], [p for s in stage.steps for p in s.points]


def test_a_rig_without_modules_has_no_stage_of_the_sun():
    assert not any("sun" in stage.title for stage in sheet_stages(hut()))


def test_what_one_string_shows_by_day():
    """44 V at 25 °C; a fifth less hot; 40 K colder 12 % more; 6 A, a quarter more in bright sun."""
    stage, _, points = roof(hut(ONE.format(open="open circuit 22 V")))
    shown = [(point.written(), bounds_words(point)) for point in points]
    assert shown == [
        ("Y1+ to Y1- = ___ V", f"{44 * 0.8:.1f} to {44 * (1 + 0.003 * 40):.1f} V"),
        ("Y1 = ___ A", f"{6 * 0.05:.2f} to {6 * 1.25:.2f} A"),
        ("U1.in to U1.in- = ___ V", "35.2 to 49.3 V"),
    ]
    assert "up to 49.3 V" in stage.about


def test_what_nobody_has_read_is_not_expected():
    study = check("made.rig", text=HUT + ONE.format(open="open circuit ?")).study
    _, does, points = roof(study)
    assert [point.written() for point in points] == ["Y1 = ___ A"]
    assert len(does) == 3


@pytest.fixture(scope="module")
def ringing():
    return check(str(TESTS / "corpus/field-hut.rig")).study


def test_the_battery_comes_first_and_the_modules_last(ringing):
    _, does, points = roof(ringing)
    order = [
        "battery side goes on first", "each string by itself, S2 open, string fuses out",
        "amperes of each string", "leads still off U1", "then S2 closed",
    ]  # fmt: skip
    assert len(does) == len(order)
    assert all(words in do for words, do in zip(order, does, strict=True))
    assert [point.a for point in points[:3]] == ["Y1+", "Y2+", "Y3+"]


def test_the_work_plan_says_the_same_in_the_same_order(ringing):
    _, does, _ = roof(ringing)
    part = next(one for one in work(ringing, "P1") if one.title == "Live: what charges")
    assert [task.do for task in part.tasks] == does
    assert [task.on for task in part.tasks] == [(), (), (), (), ("U1",)]
    numbers = [number for number, *_ in numbered_points(sheet_stages(ringing))]
    assert part.tasks[1].see == f"readings {numbers[-7]} to {numbers[-5]} of the test sheet"
    assert numbers[-1] in part.tasks[3].see


def test_all_readings_end_with_the_sun_as_well(ringing):
    assert every_stage(ringing)[-1] == sheet_stages(ringing)[-1]
