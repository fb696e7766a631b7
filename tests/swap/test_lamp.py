"""What was opened is closed through a lamp: the plan and the test sheet say it in one way."""

import re
from pathlib import Path

import pytest

from helpers.home import CORPUS, RIGS
from helpers.studies import checked, study_from
from rigfolio.isolation import lamp_words
from rigfolio.swap import sheet_stages, work


@pytest.mark.parametrize("file", [*RIGS, *CORPUS], ids=lambda one: one.stem)
def test_plan_and_test_sheet_close_through_a_lamp_and_never_through_a_small_fuse(
    file: Path,
) -> None:
    study = checked(file).study
    if study is None or not study.rig.panels:
        return
    feed = next(one for one in sheet_stages(study) if one.title == "The feed alone")
    parts = [part for panel in study.rig.panels for part in work(study, panel.about.name)]
    told = [words for part in parts for words in part.about]
    told += [f"{task.do}; {task.see}" for part in parts for task in part.tasks]
    assert lamp_words() in feed.about
    assert any(lamp_words() in words for words in told)
    for words in (feed.about, *told):
        assert "small fuse" not in words.replace(lamp_words(), "")


TOLD = re.compile(
    r"lamp (flashes once \(.+\), then )?dark( but for what .+ draws)?"
    r"; if it stays lit, take it off and find the short"
)


@pytest.mark.parametrize("file", [*RIGS, *CORPUS], ids=lambda one: one.stem)
def test_what_fills_stands_by_the_flash_and_what_draws_by_what_stays_lit(file: Path) -> None:
    study = checked(file).study
    for panel in () if study is None else study.rig.panels:
        assert study is not None
        tasks = [task for part in work(study, panel.about.name) for task in part.tasks]
        for task in tasks:
            if task.see.startswith("lamp "):
                assert TOLD.fullmatch(task.see), task.see


def test_an_inverter_that_fills_and_draws_is_told_once_for_each() -> None:
    study = study_from(
        """rig "Hut" system 24 V, rules vehicle
battery B1 24 V, lithium, 200 Ah, internal 8 mohm
fuse F1 150 A, class T, interrupts 20 kA
disconnect S1 200 A
busbar N1 200 A
busbar N2 200 A
panel P1 4 slots of 20 A, negative N1, interrupts 5 kA
wire W1 B1+ to F1 50 mm2 red 30 cm
wire W2 F1 to S1 50 mm2 red 30 cm
wire W3 S1 to N2 50 mm2 red 30 cm
wire W4 N1 to B1- 50 mm2 black 30 cm
wire W5 N2 to P1 16 mm2 red 1 m, fuse 50 A at N2, class T, interrupts 20 kA
inverter I1 "Inverter" 1000 W, takes 0.8 A at rest, made for 24 V
wire W6 N2 to I1+ 25 mm2 red 1 m, fuse 80 A at N2, class T, interrupts 20 kA
wire W7 I1- to N1 25 mm2 black 1 m
circuit P1.1 "Lamp" fuse 5 A
    wire W8 2.5 mm2 blue 2 m
    load "Lamp" 1 A
"""
    )
    told = [task.see for part in work(study, "P1") for task in part.tasks]
    flash = "lamp flashes once (I1 Inverter), then dark but for what I1 Inverter draws; "
    assert any(one.startswith(flash) for one in told), [one for one in told if "lamp" in one]
