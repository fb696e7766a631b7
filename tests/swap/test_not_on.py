"""What charges stays off where its own fuse stays out, or its own leads are a danger."""

from pathlib import Path

import pytest

from helpers.home import CORPUS, FAULTY, RIGS
from helpers.studies import checked, study_from
from rigfolio.study import Study
from rigfolio.swap import sheet_stages, work, work_elsewhere
from rigfolio.swap.held import not_on_words, stays_dead

TEXT = """rig "Alt"
    system 24 V
    rules vehicle
battery B1 "Start" agm, 180 Ah, internal 8 mohm
battery B2 "House" agm, 180 Ah, internal 8 mohm
alternator A1 80 A
dc-dc D1 20 A
busbar N1 200 A
panel P1 2 slots of 20 A, negative N1
wire B1- to N1 50 mm2 black 1 m
wire B2- to N1 50 mm2 black 1 m
wire A1+ to B1+ 25 mm2 red 3 m, fuse 150 A at B1+, class t
wire A1- to N1 50 mm2 black 3 m
wire B1+ to D1.in 10 mm2 red 3 m, fuse 40 A at B1+, maxi
wire D1.out to B2+ 10 mm2 red 1 m, fuse 40 A at B2+, class t
wire D1- to N1 10 mm2 black 1 m
wire B1+ to P1 16 mm2 red 1 m, fuse 50 A at B1+, class t
circuit P1.1 "Fridge" fuse 10 A
    wire 4 mm2 red 3 m
    load "Fridge" 6 A
"""


def plans(study: Study) -> list[str]:
    """What all plans of the work of a rig do."""
    panels = [panel.about.name for panel in study.rig.panels]
    parts = [part for name in panels for part in work(study, name)]
    return [task.do for part in (*parts, *work_elsewhere(study)) for task in part.tasks]


def agree(study: Study) -> None:
    """That nothing is started that the test sheet keeps dead."""
    told = plans(study)
    for source in study.rig.sources:
        if not_on_words(study, source.about.name):
            assert any(f"{source.about}: STAYS OFF" in do for do in told) or not told
        if not source.stores and stays_dead(study, source.plus):
            assert not any(do == f"{source.about}: on again" for do in told), source.about.name


@pytest.mark.parametrize("file", [*RIGS, *CORPUS, *FAULTY], ids=lambda file: file.stem)
def test_nothing_is_started_that_stays_dead(file: Path) -> None:
    study = checked(file).study
    if study is not None:
        agree(study)


def test_an_alternator_and_a_converter_whose_fuses_stay_out() -> None:
    study = study_from(TEXT)
    told = " | ".join(plans(study))
    assert "A1: STAYS OFF: A1+/B1+ fuse: NO FUSE GOES IN: 150 A fuse is too large" in told
    assert "D1: STAYS OFF: B1+/D1.in fuse: NO FUSE GOES IN: 40 A orange fuse, interrupts" in told
    assert "on again" not in told
    stages = sheet_stages(study)
    words = " ".join(f"{one.about} {step.do}" for one in stages for step in one.steps)
    assert "D1.in" in words
    assert "B1+/D1.in fuse: NO FUSE GOES IN" in words
    read = [point.a for one in stages for step in one.steps for point in step.points]
    assert "D1.in" not in read
    agree(study)


def test_what_is_sound_is_started() -> None:
    sound = TEXT.replace("25 mm2", "50 mm2").replace("maxi", "class t")
    told = plans(study_from(sound))
    assert "A1: on again" in told
    assert "D1: on again" in told


def test_an_alternator_whose_lead_has_no_fuse() -> None:
    bare = TEXT.replace("25 mm2 red 3 m, fuse 150 A at B1+, class t", "25 mm2 red 3 m")
    told = " | ".join(plans(study_from(bare)))
    assert "A1: STAYS OFF: " in told
    assert "A1: on again" not in told
