"""What has a danger on its own way is not run by a test sheet, and not ticked as fitting."""

from pathlib import Path

import pytest

from helpers.home import CORPUS
from helpers.studies import checked, study_from
from rigfolio.model import Log
from rigfolio.operating import numbered_points
from rigfolio.study import Study
from rigfolio.swap import every_stage, reading_stages, sheet_stages
from rigfolio.swap.held.by_danger import stopped

RIG = """rig "Knot" revised 2026-01-02
    system 12 V
    rules  boat
battery B1 "House bank" flooded, 200 Ah, stud M8
fuse F1 "House fuse" 200 A, class T, interrupts 20 kA
busbar D1 "Plus bar" 250 A
busbar N1 "Minus bar" 250 A
wire W1 B1+ to F1 2/0 AWG red 0.1 m, insulation 105 degC
wire W2 F1 to D1 2/0 AWG red 0.3 m, insulation 105 degC
wire W3 B1- to N1 2/0 AWG black 0.5 m, insulation 105 degC
breaker F6 "Windlass breaker" 100 A, interrupts 3 kA
load L1 "Windlass" 80 A, intermittent, motor, 5 min/day
wire W5 D1 to F6 2 AWG red 0.15 m, insulation 105 degC
wire W6 F6 to L1+ 2 AWG red 4 m, insulation 105 degC
wire W7 L1- to N1 {size} black 4 m, insulation 105 degC
panel P1 "Panel" 4 slots of 30 A, 60 A in all, negative N1
wire W8 D1 to P1 6 AWG red 1 m, fuse 60 A at D1
circuit P1.1 "Lamps" fuse 5 A
    wire 16 AWG blue 3 m
    load "Lamps" 2 A
"""


def _steps(study: Study) -> dict[str, list[str]]:
    made = reading_stages(study, sheet_stages(study), Log())
    return {
        step.do: [line.entry for line in step.lines]
        for stage in made if not stage.is_dead for step in stage.steps
    }  # fmt: skip


def test_a_windlass_with_too_thin_a_return_is_not_run() -> None:
    thin, right = (study_from(RIG.format(size=size)) for size in ("10 AWG", "2 AWG"))
    told = _steps(thin)
    (do,) = (one for one in told if one.startswith("L1 Windlass"))
    # By the book 10 AWG carries 60 A: the 80 A of the windlass are told before the fuse of 100 A.
    assert "STAYS DEAD: 80 A come back at one time through W7, it may carry 60 A" in do
    assert do.endswith("no reading before that is put right: print anew then")
    assert told[do] == []
    assert not any(point.on & {"L1"} for _, _, _, point in numbered_points(every_stage(thin)))
    (read,) = (lines for one, lines in _steps(right).items() if one.startswith("L1 Windlass"))
    assert any("L1 on" in line for line in read)


def test_what_hangs_on_another_way_is_read_all_the_same() -> None:
    told = _steps(study_from(RIG.format(size="10 AWG")))
    assert any(lines for do, lines in told.items() if do.startswith("P1.1 Lamps"))


@pytest.mark.parametrize("file", CORPUS, ids=lambda file: file.stem)
def test_nothing_is_read_of_what_is_stopped(file: Path) -> None:
    study = checked(file).study
    if study is not None:
        _nothing_stopped_is_on(study)


def _nothing_stopped_is_on(study: Study) -> None:
    held = stopped(study)
    off = {load.about.name for load in study.rig.loads
           if {load.circuit, load.about.name} & held.keys()}  # fmt: skip
    for stages in (sheet_stages(study), every_stage(study)):
        for _, _, step, point in numbered_points(stages):
            if point.on:
                assert not {step.circuit, step.of} & held.keys()
                assert not point.on & off, point


TAIL = """
breaker F7 15 A, interrupts 3 kA
wire D1 to F7 2.5 mm2 red 0.1 m
circuit F7.load "Stern lamp" {more}
    wire 2.5 mm2 red 3 m
    load "Stern lamp" 2 A
    return {size} white 3 m to N1
"""


@pytest.mark.parametrize("more", ["", "always on", "fuse 5 A"])
@pytest.mark.parametrize("size", ["0.5 mm2", "2.5 mm2"])
def test_a_circuit_without_a_fuse_of_its_own_that_is_stopped_is_not_on_with_all(size, more) -> None:
    study = study_from(RIG.format(size="2 AWG") + TAIL.format(size=size, more=more))
    is_thin = size == "0.5 mm2" and "fuse" not in more
    assert any("F7.load" in one for one in stopped(study)) is is_thin
    _nothing_stopped_is_on(study)
    told = _steps(study)
    (lines,) = (lines for do, lines in told.items() if do.startswith("on: "))
    (names,) = (do for do in told if do.startswith("on: "))
    assert ("Stern lamp" in names) is not is_thin
    assert lines
