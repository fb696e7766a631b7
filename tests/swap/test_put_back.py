"""What was pulled goes back as what belongs there, and what may not go in does not go back."""

from pathlib import Path

import pytest

from helpers.home import CORPUS, FAULTY, RIGS
from helpers.studies import checked, study_from
from rigfolio.shorts import is_barred
from rigfolio.study import Study
from rigfolio.swap import Task, sheet_stages, work, work_elsewhere

FEED = """
rig "Feed" system 12 V, rules rv
battery B1 lithium, 100 Ah, delivers 900 A
busbar N1 100 A
fuse F1 {fuse} on B1+
panel P1 6 slots of 20 A, negative N1, 100 A in all
wire W1 F1.load to P1 14 AWG red 4 ft
wire N1 to B1- 6 AWG white 4 ft
circuit P1.1 "Fan" fuse 10 A
    wire 14 AWG red 5 ft
    load "Fan" 5 A, intermittent
"""


def tasks(study: Study) -> list[Task]:
    """All steps of all plans of the work of a rig."""
    panels = [panel.about.name for panel in study.rig.panels]
    parts = [part for name in panels for part in work(study, name)]
    return [task for part in (*parts, *work_elsewhere(study)) for task in part.tasks]


def agree(study: Study) -> int:
    """How many devices are put back, none of which may not go in."""
    back = [study.device(name) for task in tasks(study) for name in task.on]
    devices = [one for one in back if one is not None]
    for device in devices:
        assert not is_barred(study, device), device.about.name
    return len(devices)


@pytest.mark.parametrize("file", [*RIGS, *CORPUS, *FAULTY], ids=lambda file: file.stem)
def test_nothing_is_put_back_that_may_not_go_in(file: Path) -> None:
    study = checked(file).study
    if study is not None:
        agree(study)


def test_a_fuse_that_is_too_large_for_the_feed_behind_it_stays_out() -> None:
    """14 AWG carries 15 A as building wire is used (NFPA 70 240.4(D), from memory)."""
    study = study_from(FEED.format(fuse="40 A regular"))
    told = [task for task in tasks(study) if task.do.startswith("F1:")]
    assert any("pull it" in one.do for one in told)
    assert any("NO FUSE GOES IN: 40 A orange fuse is too large" in one.do for one in told)
    assert not any("F1" in one.on for one in tasks(study))


def test_of_one_that_was_found_too_large_what_belongs_goes_in() -> None:
    study = study_from(FEED.format(fuse="15 A regular, found 40 A"))
    (back,) = [task for task in tasks(study) if "F1" in task.on]
    assert back.do == "F1: 15 A blue fuse in"


SUN = """
rig "Sun" system 24 V, rules vehicle, coldest 5 degC
battery B1 agm, 100 Ah, delivers 900 A
busbar N1 100 A
panel P1 2 slots of 20 A, negative N1
wire B1+ to P1 4 AWG red 1 ft, fuse 60 A at B1+ class-t interrupts 20 kA
wire B1- to N1 2/0 AWG black 2 ft
solar U1 30 A, input 150 V
wire U1+ to B1+ 8 AWG red 4 ft, fuse 40 A at B1+ class-t interrupts 20 kA
wire U1- to N1 8 AWG black 4 ft
wire Y1+ to U1.in 2 AWG red 3 ft
wire Y1- to U1.in- 2 AWG black 3 ft
array Y1 {modules}, open circuit 24.3 V, short circuit 10.4 A, 200 W, works at 20.2 V{more}
circuit P1.1 "Fan" fuse 10 A
    wire 14 AWG red 5 ft
    load "Fan" 5 A
"""


def last_in_the_sun(modules: str, more: str = "") -> tuple[str, str]:
    """The last step of the test sheet, and what the plan of the work sees at the battery."""
    study = study_from(SUN.format(modules=modules, more=more))
    seen = [task.do for task in tasks(study) if "U1" in task.on]
    return sheet_stages(study)[-1].steps[-1].do, seen[-1]


def test_modules_with_too_few_volts_are_not_expected_to_charge() -> None:
    """AGM of 24 V is held at 26.4 V: one module works at 20.2 V, two in series at 40.4 V."""
    few = "nothing is charged: Y1 has 20.2 V, B1 is charged from 26.4 V"
    for words in last_in_the_sun("2 strings in parallel", ", series fuse 20 A"):
        assert words.endswith(f": {few}")
    for words in last_in_the_sun("2 modules in series"):
        assert words.endswith(": the battery shows more than before")
