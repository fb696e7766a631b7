"""No wrench is put to a stud that is live, and the lead that is lifted for it is a step like any.

Common practice: what is held by nuts beside a battery comes out with the minus lead of that battery
lifted, its loads off and what charges it stopped.
"""

from collections.abc import Iterator
from pathlib import Path

import pytest

from fuzz.trial import understood
from helpers.home import CORPUS, FAULTY, RIGS
from helpers.studies import checked, study_from
from rigfolio.answers.isolate import isolate_report
from rigfolio.isolation import Plan, in_turn, isolate, unbolted_words
from rigfolio.judgement.result import load
from rigfolio.reports.terminal import as_text
from rigfolio.study import Study

TRUCK = """rig "Truck" system 24 V, rules vehicle
battery B2 "House" lithium, 200 Ah, internal 6 mohm
charger C1 20 A
busbar N1 200 A
busbar N2 200 A
inverter I1 1500 W
fuse F1 150 A, class T
fuse F2 100 A, class T
disconnect S1 200 A
wire B2+ to F1 50 mm2 red 0.15 m
wire F1 to S1 50 mm2 red 0.4 m
wire S1 to N1 50 mm2 red 0.5 m
wire N2 to B2- 95 mm2 black 0.8 m
wire B2+ to F2 35 mm2 red 0.15 m
wire F2 to I1+ 35 mm2 red 1 m
wire I1- to {minus} 35 mm2 black 1 m
wire C1+ to N1 6 mm2 red 1 m, fuse 30 A at N1, class T
wire C1- to N2 6 mm2 black 1 m
panel P1 4 slots, negative N2
wire N1 to P1 10 mm2 red 1 m, fuse 30 A at N1, class T
circuit P1.1 "CO alarm" fuse 3 A, always on
    wire 1 mm2 red 3 m
    load "CO alarm" 0.1 A, always on
circuit P1.2 "Fridge" fuse 10 A
    wire 4 mm2 red 3 m
    load "Fridge" 6 A
"""


@pytest.mark.parametrize("minus", ["N2", "B2-"])
def test_what_hangs_on_a_bolted_fuse_is_made_dead_as_the_fuse_is(minus: str) -> None:
    study = study_from(TRUCK.format(minus=minus))
    for name in ("I1", "F2"):
        plan = isolate(study, name)
        turns = in_turn(study, plan)
        assert [one.part for one in turns] == ["", "C1", "S1", "B2"], name
        assert "I1, P1.2 Fridge" in turns[0].do
        assert plan.goes_dark == ("CO alarm",)
        assert ("both wires" in turns[-1].do) == (minus == "B2-"), name
        said = " ".join(as_text(isolate_report(study, name)).split())
        assert said.count("lift ") == 1
        assert "goes dark with this: CO alarm" in said


def plans(study: Study) -> Iterator[tuple[str, Plan]]:
    rig = study.rig
    for kind, parts in (("panel", rig.panels), ("device", rig.devices), ("source", rig.sources),
                        ("load", rig.loads)):  # fmt: skip
        for one in parts:
            if kind != "device" or not (one.in_slot or one.resets_itself):
                yield one.about.name, isolate(study, one.about.name, kind=kind)


def held(study: Study) -> None:
    sources = study.rig.by_name.sources
    for place, plan in plans(study):
        assert [s.action.part for s in plan.steps if s.action.opening.at_live_stud] == [], place
        for turn in in_turn(study, plan):
            assert "lift " not in turn.do or turn.part in sources, (place, turn.do)
    for device in study.rig.devices:
        words = unbolted_words(study, device)
        if words and not device.in_slot:
            plan = isolate(study, device.about.name, kind="device")
            assert [one.do for one in in_turn(study, plan) if one.do not in words] == []
            assert [one for one in plan.goes_dark if one not in words] == []


@pytest.mark.parametrize("file", dict.fromkeys((*RIGS, *FAULTY, *CORPUS)), ids=lambda one: one.stem)
def test_so_it_is_in_every_rig(file: Path) -> None:
    study = checked(file).study
    if study is not None:
        held(study)


@pytest.mark.parametrize("first", range(0, 60, 20))
def test_so_it_is_in_rigs_grown_from_the_grammar(first: int) -> None:
    for seed in range(first, first + 20):
        _, rig, _ = load("grown.rig", understood(seed))
        if rig is not None:
            held(Study(rig, rig.book))
