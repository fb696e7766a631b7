"""What a coil sets going is told where it is switched on; what a danger keeps dead is so alike."""

import pytest

from helpers.home import CORPUS, FAULTY, RIGS
from helpers.studies import checked, study_from
from rigfolio.cli.output import _WITH_FINDINGS
from rigfolio.findings import Severity
from rigfolio.judgement.trial import tried
from rigfolio.model import Log
from rigfolio.network import coils_of
from rigfolio.operating import numbered_points, set_going
from rigfolio.operating.coil_work import pressed_apart
from rigfolio.protection import exposures_of
from rigfolio.swap import every_stage, reading_stages, sheet_stages
from rigfolio.swap.held import dangers
from rigfolio.swap.held.by_danger import stopped
from rigfolio.swap.stops import stops
from rigfolio.wording import on_paper

RIG = """rig "Bench" system 12 V, rules boat, insulation 90 degC
battery B1 agm, 100 Ah, internal 5 mohm
busbar N1 300 A
busbar N2 300 A
fuse F1 100 A, class T, interrupts 20 kA, on B1+
disconnect S1 100 A
panel P1 4 slots of 20 A, negative N1
wire W1 F1 to N2 35 mm2 red 0.5 m
wire W2 B1- to N1 35 mm2 black 0.5 m
wire W3 N2 to S1 35 mm2 red 0.5 m
wire W4 S1 to P1 35 mm2 red 0.5 m
circuit N2 "Bilge pump" fuse {pump} A after 10 cm, always on
    wire W40 2.5 mm2 brown 3 m
    load "Bilge pump" 5 A, motor
circuit P1.1 "Buttons" fuse 5 A
    wire W41 1.5 mm2 brown 3 m
    splice Z1
    switch SW1 5 A, rests open
    wire W42 1.5 mm2 brown 3 m
    load "Windlass up coil" 1 A
    wire from Z1 tag W43 1.5 mm2 brown 3 m
    switch SW2 5 A, rests open
    wire W44 1.5 mm2 brown 3 m
    load "Windlass down coil" 1 A
relay K1 "Windlass up" 100 A, rests open
relay K2 "Windlass down" 100 A, rests open
breaker F4 60 A, interrupts 20 kA
busbar N4 100 A
busbar N5 100 A
load L3 "Windlass" 40 A, motor, momentary
wire W50 N2 to F4 {feed} mm2 red 0.6 m
wire W51 F4 to N4 16 mm2 red 1 m
wire W52 N4 to K1 16 mm2 red 1 m
wire W53 N4 to K2 16 mm2 red 1 m
wire W54 K1 to N5 16 mm2 red 1 m
wire W55 K2 to N5 16 mm2 red 1 m
wire W56 N5 to L3+ 16 mm2 red 1 m
wire W57 L3- to N1 16 mm2 black 1 m
"""
LAMP = """circuit P1.2 "Lamp" fuse 5 A
    wire 1.5 mm2 white 3 m
    relay K3 "Lamp relay" 20 A, rests open
    wire 1.5 mm2 white 3 m
    load "Lamp" 2 A
circuit P1.3 "Lamp button" fuse 2 A
    wire 1.5 mm2 white 3 m
    load "Lamp relay coil" 0.1 A
"""


def bench(feed=16, pump=30, more=""):
    return study_from(RIG.format(feed=feed, pump=pump) + more)


def steps(study, made=sheet_stages):
    return [step for stage in reading_stages(study, made(study), Log()) for step in stage.steps]


def done(study, made=sheet_stages):
    return [step.do for step in steps(study, made)]


def test_the_step_of_a_coil_says_what_closes_and_runs_and_what_keeps_it_from_that():
    study = bench(more=LAMP)
    (buttons,) = (one for one in done(study) if one.startswith("P1.1 Buttons: 5 A"))
    assert "Windlass up coil closes K1 and Windlass down coil closes K2, one at a time" in buttons
    assert buttons.endswith("each turns on L3 Windlass: F4 off first, then back")
    (lamp,) = (one for one in done(study) if one.startswith("P1.3 Lamp button: 2 A"))
    assert "closes K3, which turns on Lamp: P1.2 out first, then back" in lamp


def test_a_fuse_that_feeds_the_coil_as_well_is_no_way_to_keep_its_load_off():
    study = bench(more=LAMP.replace("P1.2", "P1.3", 1).replace('circuit P1.3 "Lamp button"', "#"))
    for coil in coils_of(study.rig).values():
        going = set_going(study, coil.about.name)
        circuit = study.circuit(coil.circuit)
        assert all(one.about.name != circuit.device for one in going.behind)


@pytest.mark.parametrize("made", [sheet_stages, every_stage])
def test_up_and_down_are_never_pressed_together(made):
    points = [point for _, _, _, point in numbered_points(made(bench()))]
    (circuit,) = (one for one in bench().rig.circuits if one.place == "P1.1")
    coils = {one.about.name for one in pressed_apart(bench(), circuit)}
    assert len(coils) == 2
    pressed = [point.on & coils for point in points if point.on & coils]
    assert {len(one) for one in pressed} == {1}
    assert set().union(*pressed) == coils


def test_coils_behind_one_switch_are_on_together():
    assert "splice Z1" in RIG
    one = "splice Z1\n    switch SW1 5 A, rests open\n    wire W42"
    other = (
        "switch SW1 5 A, rests open\n    wire W42 1.5 mm2 brown 3 m\n    splice Z1\n    wire W47"
    )
    text = RIG.format(feed=16, pump=30).replace(one, other)
    text = text.replace("    switch SW2 5 A, rests open\n    wire W44 1.5 mm2 brown 3 m\n", "")
    study = study_from(text)
    circuit = study.circuit("P1.1")
    assert not pressed_apart(study, circuit)


@pytest.mark.parametrize("file", dict.fromkeys((*RIGS, *FAULTY, *CORPUS)), ids=lambda one: one.stem)
@pytest.mark.parametrize("made", [sheet_stages, every_stage])
def test_no_coil_is_switched_on_without_a_word_of_what_runs(file, made):
    study = checked(file).study
    if study is None or not coils_of(study.rig):
        return
    told = [step.do for stage in reading_stages(study, made(study), Log()) for step in stage.steps]
    asked = [step for stage in made(study) for step in stage.steps]
    for do, step in zip(told, asked, strict=True):
        for name in {name for point in step.points for name in point.on}:
            going = set_going(study, name)
            for load in going.loads if going is not None else ():
                assert "turn" in do, do
                assert str(load.about) in do, do


def test_a_danger_on_what_serves_one_load_keeps_it_dead_past_contacts_side_by_side():
    # W50 feeds nothing but the windlass, by two contactors.
    study = bench(feed=2.5)
    assert {"L3", "P1.1"} <= set(stopped(study))
    (windlass,) = (one for one in done(study) if one.startswith("L3 Windlass"))
    (buttons,) = (one for one in done(study) if one.startswith("P1.1 Buttons: STAYS"))
    assert "STAYS DEAD: F1: 100 A fuse, 2.5 mm² may be fused at 45 A" in windlass
    # Its coils do not run it either.
    assert "STAYS DEAD: F1" in buttons
    assert not any(point.on & {"L3"} for _, _, _, point in numbered_points(every_stage(study)))


def test_what_must_stay_on_and_is_left_dead_is_told_on_sheet_and_plan():
    study = bench(pump=100)
    assert "circuit N2" in stopped(study)
    (told,) = (one for one in done(study) if "MUST STAY ON" in one)
    assert told.startswith("Bilge pump: MUST STAY ON, yet DEAD")
    assert any("Bilge pump: MUST STAY ON, yet DEAD" in one for one in stops(study).about)
    sound = bench()
    assert not any("MUST STAY ON" in one for one in done(sound))


def test_what_one_missing_fuse_exposes_runs_once_that_wire_is_dead():
    """All behind it fares alike: the wire that lacks the fuse is dead, and they are fed past it."""
    extra = """battery B2 agm, 100 Ah, internal 5 mohm
wire W60 B2- to N1 35 mm2 black 0.5 m
wire W61 B2+ to N2 35 mm2 red 3 m
"""
    study = bench(more=extra)
    assert {one.wire.name for one in exposures_of(study)} >= {"W40a", "W50"}
    assert not {"L3", "circuit N2"} & set(stopped(study))


WITH_EDITS = [
    file
    for file in FAULTY
    if any(one.severity is Severity.DANGER and one.is_untried for one in checked(file).findings)
]


@pytest.mark.parametrize("file", WITH_EDITS, ids=lambda one: one.stem)
def test_a_stop_tells_the_way_out_that_check_tells(file):
    result = checked(file)
    after = tried(result)
    ways = {(one.rule, one.at.span, one.headline): one.way_out for one in after.findings}
    tasks = stops(result.study, tried=after.findings).tasks
    told = dangers(result.study)
    assert len(tasks) == len(told) > 0
    for task, one in zip(tasks, told, strict=True):
        way = ways[one.rule, one.at.span, one.headline]
        assert not way or task.see == on_paper(way)
    # The sheet itself is given what was tried.
    assert "work_plan" in _WITH_FINDINGS


def test_of_a_way_out_that_nobody_tried_what_else_there_is_to_do_is_told():
    study = bench(feed=2.5)
    told = [one.see for one in stops(study).tasks]
    assert told
    assert not any("sheet of findings" in one for one in told)
