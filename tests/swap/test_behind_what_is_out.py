"""What is behind a fuse that does not go in has no volts to be read, through converters too."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from helpers.home import CORPUS, FAULTY, RIGS
from helpers.studies import checked, study_from
from rigfolio.isolation import Open, bank_joins, source_reach
from rigfolio.model import Log
from rigfolio.network import edge_name
from rigfolio.operating import MeterPoint, numbered_points
from rigfolio.study import Study
from rigfolio.swap import every_stage, reading_stages, sheet_stages
from rigfolio.swap.held import barred
from rigfolio.swap.roof import roof_stages

HUT = """rig "Ridge" system 24 V, rules vehicle
battery B1 24 V, lithium, 200 Ah, internal 8 mohm
panel P1 4 slots of 20 A, negative N1, interrupts 5 kA
busbar N1 200 A
fuse F1 {main} A, class T, interrupts 20 kA
wire W1 B1+ to F1 16 mm2 red 30 cm
wire W15 F1 to P1 16 mm2 red 3 m
wire W4 N1 to B1- 16 mm2 black 30 cm
wire W6 D1- to N1 {back} mm2 black 1 m
dc-dc D1 10 A, from 24 V to 12 V, efficiency 90 %
panel P2 4 slots of 10 A
circuit P1.1 "Converter" fuse {slot} A
    wire W2 4 mm2 red 1 m to D1.in
    return to N1
circuit P1.2 "Fan" fuse 5 A
    wire W8 2.5 mm2 red 1 m
    load "Fan" 2 A
circuit D1.out "P2 feed" fuse 10 A
    wire W3 4 mm2 red 1 m to P2
    return to N1
circuit P2.1 "Lamp" fuse 3 A
    wire W7 1.5 mm2 blue 2 m
    load "Lamp" 1 A
"""
SUN = """
solar U1 "Roof" 20 A, input 50 V
array Y1 open circuit 24 V, short circuit 8 A, 150 W, works at 20 V
wire W10 U1+ to N2 {size} mm2 red 1.5 m, fuse 30 A at N2, interrupts 5 kA
wire W11 U1- to N1 6 mm2 black 1.5 m
wire W12 Y1+ to U1.in 6 mm2 red 3 m
wire W13 Y1- to U1.in- 6 mm2 black 3 m
busbar N2 200 A
wire W14 B1+ to N2 16 mm2 red 30 cm, fuse 50 A at B1+, class T, interrupts 20 kA
"""


def _hut(main: float = 50, slot: float = 15, back: float = 6) -> Study:
    return study_from(HUT.format(main=main, slot=slot, back=back))


def _volts(study: Study) -> Iterator[MeterPoint]:
    in_the_sun = {point for _, _, _, point in numbered_points(roof_stages(study))}
    for stages in (sheet_stages(study), every_stage(study)):
        for _, _, _, point in numbered_points(stages):
            if point.unit != "ohm" and point not in in_the_sun:
                yield point


def _do(study: Study) -> list[str]:
    made = reading_stages(study, sheet_stages(study), Log())
    return [each for stage in made for each in (stage.about, *(step.do for step in stage.steps))]


def test_nothing_is_read_of_what_a_converter_would_feed() -> None:
    assert any(point.a.startswith("P2") for point in _volts(_hut()))
    study = _hut(slot=30)
    places = {point.a for point in _volts(study)}
    assert not any(one.startswith(("D1", "P2", "Lamp", "P1.1")) for one in places), places
    assert any(one.startswith("P1.2") for one in places)
    told = _do(study)
    assert any("feed of P2" in one and "P1.1 Converter: NO FUSE GOES IN" in one for one in told)
    (feed,) = (one for one in told if "STAYS DEAD" in one)
    assert "What is behind P1.1 STAYS DEAD" in feed
    assert "D1; P2; " in feed


def test_nothing_is_read_of_a_rig_whose_main_fuse_stays_out_but_its_battery() -> None:
    study = _hut(main=200)
    assert {point.a for point in _volts(study)} == {"B1+"}
    (feed,) = (one for one in _do(study) if one.startswith("feed of P1"))
    assert "NO FUSE GOES IN: 200 A fuse is too large" in feed


def test_a_feed_with_a_danger_in_it_is_not_put_in() -> None:
    # The fuse is right for its own wire; what comes back by W6 is not.
    study = _hut(slot=15, back=0.5)
    told = _do(study)
    assert not any("P1.1 Converter: 15 A blue fuse in" in one for one in told), told
    assert not any(point.a.startswith(("D1", "P2")) for point in _volts(study))


@pytest.mark.parametrize(("size", "is_told"), [(6, False), (4, True), (1, True)])
def test_a_controller_whose_battery_side_stays_dead_gets_no_modules(size, is_told) -> None:
    study = study_from(HUT.format(main=50, slot=15, back=6) + SUN.format(size=size))
    told = _do(study)
    assert bool(barred(study)) is is_told
    assert any("U1 GETS NO MODULES" in one for one in told) is is_told
    assert any("leads on U1" in one for one in told) is not is_told


@pytest.mark.parametrize("file", dict.fromkeys((*RIGS, *FAULTY, *CORPUS)), ids=lambda one: one.stem)
def test_no_volts_are_read_where_no_source_reaches_past_what_stays_out(file: Path) -> None:
    study = checked(file).study
    if study is None or not barred(study):
        return
    joins = bank_joins(study.rig)
    out = frozenset(edge_name(d) for d in study.rig.devices if d.about.name in barred(study))
    drive = source_reach(study)
    wired = drive.alive(Open(joins))
    # Whatever charges and is off at the test would only make more live.
    live = drive.alive(Open(joins | out))
    for point in _volts(study):
        if point.unit == "V" and point.high > 1.0 and point.a in wired:
            assert point.a in live, (point.words, sorted(barred(study)))


TWO = """
battery B2 "Cabin" 12 V, flooded, 90 Ah
fuse F2 15 A, interrupts 5 kA
wire W20 B2+ to F2 4 mm2 red 10 cm
wire W21 F2 to P2 4 mm2 red 1 m
wire W22 B2- to N1 16 mm2 black 1 m
"""


def test_of_a_converter_that_is_live_on_one_side_only_the_other_is_told_dead() -> None:
    study = study_from(HUT.format(main=50, slot=30, back=6) + TWO)
    (feed,) = (one for one in _do(study) if "STAYS DEAD and" in one)
    dead = feed.partition("put right: ")[2].rstrip(".").split("; ")
    assert "D1.in input" in dead
    assert "D1" not in dead
    assert any(point.a == "D1.out" for point in _volts(study))


@pytest.mark.parametrize("file", dict.fromkeys((*RIGS, *FAULTY, *CORPUS)), ids=lambda one: one.stem)
def test_nothing_that_is_told_dead_is_read(file: Path) -> None:
    study = checked(file).study
    if study is not None:
        _no_dead_is_read(study)


@pytest.mark.parametrize("more", ["", TWO])
@pytest.mark.parametrize(("main", "slot", "back"), [(200, 15, 6), (50, 30, 6), (50, 15, 0.5)])
def test_nothing_that_is_told_dead_is_read_of_a_converter(main, slot, back, more) -> None:
    _no_dead_is_read(study_from(HUT.format(main=main, slot=slot, back=back) + more))


def _no_dead_is_read(study: Study) -> None:
    told = " ".join(step.about for step in sheet_stages(study))
    dead = told.partition("STAYS DEAD and has no reading before that is put right: ")[2]
    names = {one.split(" ")[0].rstrip(".") for one in dead.partition(". ")[0].split("; ")}
    for point in _volts(study):
        if point.unit == "V" and point.high > 1.0:
            assert names.isdisjoint({point.a, re.split(r"[.+]", point.a)[0]}), point
