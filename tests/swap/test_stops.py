"""Every danger of a rig is met in its work plan before what is said of it is brought live."""

from collections.abc import Sequence
from pathlib import Path

import pytest

from helpers.home import CORPUS, FAULTY, RIGS
from helpers.studies import checked, study_from
from rigfolio.findings import Severity
from rigfolio.judgement.messages.places import place_at
from rigfolio.model import Log
from rigfolio.protection import over_input, rated_too_low, sun_sides
from rigfolio.study import Study
from rigfolio.swap import WorkPart, reading_stages, sheet_stages, work, work_elsewhere
from rigfolio.wording import on_paper

SUN = """rig "Sun"
    system 24 V
    rules rv
    coldest -15 degC
battery B1 gel, 24 V, 110 Ah, internal 12 mohm
array Y1 2 modules in series, open circuit 22.6 V, short circuit 6.2 A,
    gains 0.30 % a degree colder, series fuse 15 A
disconnect S2 20 A, rated 100 V
solar U1 "Roof controller" 15 A, input {input} V
panel P1 4 slots of 20 A, interrupts 2 kA
busbar N1 100 A
wire W1 N1 to B1- 10 mm2 black 1 m
wire W2 B1+ to P1 10 mm2 red 2 m, fuse 40 A at B1+, mega, interrupts 5 kA
wire W3 Y1+ to S2 4 mm2 red 5 m
wire W4 S2 to U1.in 4 mm2 red 1 m
wire W5 Y1- to U1.in- 4 mm2 black 6 m
wire W6 U1+ to B1+ 4 mm2 red 2 m, fuse 20 A at B1+, mega, interrupts 5 kA
wire W7 U1- to N1 4 mm2 black 2.5 m
circuit P1.3 "Fan" fuse 5 A
    wire 1.5 mm2 red 3 m
    load "Fan" 2 A
"""


def _plans(study: Study) -> list[tuple[WorkPart, ...]]:
    """The work at each panel, and that outside them."""
    plans = [work(study, panel.about.name) for panel in study.rig.panels]
    return [plan for plan in (*plans, work_elsewhere(study)) if plan]


def _words(parts: Sequence[WorkPart]) -> str:
    told = [*(words for part in parts for words in part.about)]
    told += [f"{task.do}; {task.see}" for part in parts for task in part.tasks]
    return "\n".join(told)


def _before_power(plan: Sequence[WorkPart]) -> tuple[WorkPart, ...]:
    """The parts before the first in which something is closed or switched on again."""
    on = [at for at, part in enumerate(plan) if any(task.on for task in part.tasks)]
    # Where what was opened is itself what may not go in, nothing is closed again.
    assert on or "NO FUSE GOES IN" in _words(plan)
    return tuple(plan[: on[0]] if on else plan)


@pytest.mark.parametrize("file", [*FAULTY, *RIGS, *CORPUS], ids=lambda one: one.stem)
def test_each_danger_is_met_before_its_place_is_live(file: Path) -> None:
    result = checked(file)
    if result.study is None:
        return
    dangers = [
        one for one in result.findings
        if one.severity is Severity.DANGER and one.accepted is None
    ]  # fmt: skip
    for plan in _plans(result.study):
        words = _words(_before_power(plan))
        first = _words(plan[:1])
        for one in dangers:
            assert on_paper(one.headline) in words
            assert on_paper(place_at(result.study, one) or one.headline) in first


@pytest.mark.parametrize("file", [*FAULTY, *RIGS, *CORPUS], ids=lambda one: one.stem)
def test_no_volts_are_expected_where_a_part_bears_less_without_a_word(file: Path) -> None:
    study = checked(file).study
    if study is None:
        return
    low = {end: one.about.name for one in rated_too_low(study) for end in one.ends}
    inputs = {
        side.controller.lit[0]: side.controller.about.name
        for side in sun_sides(study)
        if side.controller.lit and over_input(study, side) is not None
    }
    stages = sheet_stages(study)
    printed = reading_stages(study, stages, Log())
    for stage, told in zip(stages, printed, strict=True):
        for step, said in zip(stage.steps, told.steps, strict=True):
            for point in step.points:
                name = {**low, **inputs}.get(point.a)
                if name is not None and point.unit == "V" and point.high > 0.0:
                    assert f"{name} is rated" in said.do or f"{name} bears" in said.do


@pytest.mark.parametrize(("input_v", "is_parted"), [(50, True), (51, False)])
def test_a_controller_whose_input_bears_less_gets_no_modules(input_v: int, is_parted: bool) -> None:
    """By hand: 2 x 22.6 V at 25 degC, 0.3 % a degree for 40 degrees: 45.2 x 1.12 = 50.6 V."""
    plan = work(study_from(SUN.format(input=input_v)), "P1")
    words = _words(plan)
    assert ("U1 GETS NO MODULES: up to 50.7 V, its input bears 50 V" in words) is is_parted
    assert ("U1 bears 50 V, its leads stay off" in words) is is_parted
    assert ("then S2 closed: the battery shows more" in words) is not is_parted
    assert ("U1" in {name for part in plan for task in part.tasks for name in task.on}) is (
        not is_parted
    )


def test_what_was_told_at_the_first_panel_is_named_at_the_others() -> None:
    study = study_from(SUN.format(input=50))
    last = work(study, "P1", is_first=False)
    words = _words(_before_power(last))
    assert "the stops told at the first panel: U1 Roof controller; each put right" in words
    assert "DANGER at" not in words
