"""How a part is proved dead: a meter shows volts there until it has been made dead.

By hand means: what stands open or closed is put down on paper, and the wires are followed from the
plus posts with a finger.
"""

from collections.abc import Iterator
from pathlib import Path

import pytest

from fuzz.trial import understood
from helpers.home import CORPUS, FAULTY, RIGS
from helpers.label_rigs import words
from helpers.studies import job_from, studied, study_from
from helpers.tow_rigs import BY_PLUG, TOW
from rigfolio.answers import isolate_report
from rigfolio.isolation import (
    beside_words,
    in_turn,
    isolate,
    isolate_ends,
    measured_at,
    proof_of,
    tried_on,
)
from rigfolio.isolation.energised import Open, source_reach
from rigfolio.isolation.plans.least_cut import opened_by
from rigfolio.isolation.plans.orders import carried_out
from rigfolio.isolation.plans.plan import Plan
from rigfolio.isolation.plans.proofs import contacts
from rigfolio.judgement.result import load
from rigfolio.network import edge_name
from rigfolio.refusal import RefusalError
from rigfolio.reports.terminal import as_text
from rigfolio.sheets import at_the_panel, stays_live
from rigfolio.study import Study
from rigfolio.swap.plan import planned, work
from rigfolio.wording import terminals_of

LIFT = """rig "T"
    system 12 V
battery B1 "Lift battery" 105 Ah, flooded, internal 8 mohm
relay K2 "Lift contactor" 200 A, rests open
load L2 "Lift pump" 90 A, motor, momentary
wire B1+ to K2 2 AWG red 2 ft, fuse 100 A class T at B1+
wire K2 to L2+ 2 AWG red 4 ft
wire L2- to B1- 2 AWG black 5 ft
"""
KEY = """rig "T"
    system 12 V
battery B1 "House" 105 Ah, flooded, internal 8 mohm
disconnect S1 100 A
panel P1 6 slots of 30 A
busbar N1 100 A
wire B1+ to S1 6 AWG red 3 ft, fuse 50 A at B1+
relay K1 "Main relay" 100 A, rests open
wire S1 to K1 6 AWG red 1 ft
wire K1 to P1 6 AWG red 1 ft
wire N1 to B1- 6 AWG black 3 ft
circuit P1.1 "Pump" fuse 10 A
    wire 14 AWG red 9 ft
    switch SW1 "Pump switch" 10 A
    wire 14 AWG red 9 ft
    load "Pump" 7 A
"""
FRAMES = """rig "T"
    system 12 V
battery B3 "Vehicle battery" 80 Ah, agm, internal 6 mohm
chassis G2 "Vehicle frame"
wire B3- to G2 4 AWG black 2 ft
battery B1 "House" 105 Ah, flooded, internal 8 mohm
chassis G1 "Trailer frame"
disconnect S1 100 A
panel P1 6 slots of 30 A
busbar N1 100 A
wire B1+ to S1 6 AWG red 1 ft, fuse 50 A class T at B1+
wire S1 to P1 6 AWG red 3 ft
wire N1 to B1- 6 AWG black 3 ft
wire N1 to G1 6 AWG black 1 ft
circuit P1.1 "Pump" fuse 10 A
    wire 14 AWG red 9 ft
    load "Pump" 7 A
"""


def told(study: Study, place: str) -> str:
    return " ".join(as_text(isolate_report(study, place)).split())


def worked(study: Study, panel: str) -> list[str]:
    """The tasks of the part of a work plan in which a panel is made dead."""
    part = next(one for one in work(study, panel) if one.title.startswith("Make it dead"))
    return [task.do for task in part.tasks]


def unproved(study: Study, plan: Plan, measured: tuple[str, ...]) -> Iterator[str]:
    """The steps that a meter would not miss: left out, nothing that is measured is live.

    Every contact stands open meanwhile that is not told to be closed and is none of the steps; yet
    with them closed the place is live.
    """
    drive, rig = source_reach(study), study.rig
    proof = proof_of(study, plan, measured)
    ends = {*measured, *(one.end for one in proof.points)}
    after, actions = carried_out(study, plan), [step.action for step in plan.steps]
    own = {edge_name(one) for name in actions for one in rig.poles.get(name.part, ())}
    shut = {edge_name(one) for name in proof.shut for one in rig.poles[name]}
    off = frozenset(after.sources - {one.part for one in actions} - drive.inputs.keys())
    before = Open(after.edges - own, off)
    for one in actions:
        state = opened_by(rig, [each for each in actions if each is not one], before)
        if not any(end in drive.alive(state) for end in plan.terminals):
            continue
        mine = {edge_name(each) for each in rig.poles.get(one.part, ())}
        apart = state.edges | (contacts(study) - mine - shut)
        alive = drive.alive(Open(apart, state.sources))
        if not any(end in alive for end in ends):
            yield one.part


def places_of(study: Study) -> list[str]:
    rig = study.rig
    found = [one.about.name for one in (*rig.panels, *rig.loads, *rig.devices, *rig.sources)]
    return list(dict.fromkeys((*found, *(one.place for one in rig.circuits))))


def enough(study: Study) -> Iterator[tuple[str, Plan]]:
    """Every place of a rig that can be made dead, with the plan for it."""
    for place in places_of(study):
        try:
            plan = isolate(study, place)
        except RefusalError:
            continue
        if plan.is_enough:
            yield place, plan


@pytest.mark.parametrize("file", [*RIGS, *CORPUS, *FAULTY], ids=lambda file: file.stem)
def test_no_step_can_be_left_out_that_a_meter_would_not_miss(file: Path) -> None:
    study = studied(file)
    for place, plan in enough(study):
        assert list(unproved(study, plan, measured_at(study, plan))) == [], place


@pytest.mark.parametrize("text", [LIFT, KEY, FRAMES, BY_PLUG, TOW], ids=lambda text: text[-9:])
def test_the_same_of_small_rigs(text: str) -> None:
    study = study_from(text)
    for place in places_of(study):
        plan = isolate(study, place)
        assert list(unproved(study, plan, measured_at(study, plan))) == [], place


@pytest.mark.parametrize("file", [*RIGS, *CORPUS], ids=lambda file: file.stem)
def test_a_work_plan_holds_every_step_of_isolate_and_proves_each(file: Path) -> None:
    study = studied(file)
    for panel in study.rig.panels:
        name = panel.about.name
        alone, plan = isolate(study, name, kind="panel"), planned(study, name)
        done = {one.part for one in in_turn(study, plan)}
        wanted = [one.part for one in in_turn(study, alone) if one.part]
        # The outputs of one charger stop as a whole, by the name of the first.
        parts = {one.about.name: one.part for one in study.rig.sources}
        done |= {parts[one] for one in done if one in parts}
        assert [one for one in wanted if one not in done and parts.get(one) not in done] == []
        if plan.is_enough:
            ends = terminals_of(study.rig, "panel", name).plus
            assert list(unproved(study, plan, ends)) == []


@pytest.mark.parametrize("file", [*RIGS, *CORPUS], ids=lambda file: file.stem)
def test_each_paper_asks_for_the_same_readings(file: Path) -> None:
    job = job_from(file)
    study = job.study
    papers = [words(one.pages(job)) for one in (at_the_panel, stays_live)]
    for panel in study.rig.panels:
        plan = isolate(study, panel.about.name, kind="panel")
        name = panel.about.name
        ends = measured_at(study, plan)
        seen = [told(study, name), *papers, " ".join(worked(study, name))]
        beside = beside_words(study, plan, proof_of(study, plan, ends), ends)
        for one in beside:
            where = one.partition(" ")[0]
            assert [paper for paper in seen if where not in paper] == [], (name, one)


def test_what_lies_behind_a_contact_is_measured_before_it() -> None:
    assert "With a meter on L2, and on K2.line (K2 may be open):" in told(study_from(LIFT), "L2")
    study = study_from(KEY)
    assert "With a meter on P1, and on K1.line (K1 may be open):" in told(study, "P1")
    assert "K1.line to minus (K1 may be open)" in worked(study, "P1")


def test_what_lies_ahead_of_what_is_opened_is_closed_meanwhile() -> None:
    # By hand: with the key off, slot 1 shows nothing whether its fuse is in or out.
    assert "Read with S1, K1 closed" in told(study_from(KEY), "P1.1").replace(" and K1", ", K1")
    assert "Read with" not in told(study_from(KEY), "P1")


BANKS = """rig "T"
    system 12 V
battery B1 "House" 105 Ah, agm, internal 8 mohm
battery B2 "Start" 90 Ah, agm, internal 8 mohm
alternator A1 60 A
charger C1 "Shore" 20 A
combiner Q1 100 A
selector X1 200 A
panel P1 6 slots of 30 A
busbar N1 100 A
wire B1+ to X1.1 6 AWG red 1 ft, fuse 60 A, maxi at B1+
wire B2+ to X1.2 6 AWG red 1 ft, fuse 60 A, maxi at B2+
wire B1+ to Q1.1 6 AWG red 1 ft, fuse 60 A, maxi at B1+
wire B2+ to Q1.2 6 AWG red 1 ft, fuse 60 A, maxi at B2+
wire A1+ to B2+ 6 AWG red 1 ft, fuse 60 A, maxi at B2+
wire C1+ to B1+ 6 AWG red 1 ft, fuse 60 A, maxi at B1+
wire X1.common to P1 6 AWG red 1 ft
wire B1- to N1 6 AWG black 1 ft
wire B2- to N1 6 AWG black 1 ft
wire A1- to N1 6 AWG black 1 ft
wire C1- to N1 6 AWG black 1 ft
"""


def test_what_nobody_can_close_is_not_asked_to_be_closed() -> None:
    # By hand: B2 reaches the post of B1 by the combiner alone, which nothing closes while it rests.
    said = told(study_from(BANKS), "B1")
    assert "Read with" not in said
    assert "With Q1 open no meter shows whether it is parted from there: see that it is." in said


def test_what_is_closed_for_a_reading_may_start_other_things() -> None:
    assert "closed, and mind what else that starts:" in told(study_from(KEY), "P1.1")


@pytest.mark.parametrize("first", range(0, 60, 20))
def test_the_same_of_rigs_grown_from_the_grammar(first: int) -> None:
    for seed in range(first, first + 20):
        _, rig, _ = load("grown.rig", understood(seed))
        if rig is None:
            continue
        study = Study(rig, rig.book)
        for place, plan in enough(study):
            assert list(unproved(study, plan, measured_at(study, plan))) == [], (seed, place)


def test_the_frame_and_the_battery_are_those_of_the_panel() -> None:
    study = study_from(FRAMES)
    assert "to minus (N1) and to G1 Trailer frame" in told(study, "P1")
    source = tried_on(study, isolate(study, "P1"))
    assert source is not None
    assert source.about.name == "B1"
    tasks = worked(study, "P1")
    assert "the same to G1 Trailer frame" in tasks
    assert not any("G2" in task for task in tasks)
    # What is on the vehicle comes back to the vehicle.
    assert "to minus (B3−) and to G2 Vehicle frame" in told(study, "B3+").replace(
        "the lifted lead of B3− (never its post)", "minus (B3−)"
    )


def test_a_minus_that_lies_behind_an_open_contact_is_not_the_only_one() -> None:
    by_relay = "wire N1 to K9 6 AWG black 2 ft\nwire K9 to B1- 6 AWG black 1 ft"
    text = FRAMES.replace(
        "wire N1 to B1- 6 AWG black 3 ft", f"relay K9 100 A, rests open\n{by_relay}"
    )
    # By hand: with K9 open nothing shows volts to N1, live or not.
    assert "to minus (N1) and to B1−" in told(study_from(text), "P1")


def test_the_plug_that_a_charger_starts_by_is_pulled_in_the_work_plan_too() -> None:
    study = study_from(BY_PLUG)
    plan = planned(study, "P1")
    steps = {step.action.part: step.keeps_off for step in plan.steps}
    assert steps == {"J1": ("D1",), "S1": ("B1",)}
    live = {end for one in plan.stays_live for end in one.part.terminals}
    assert not live & {"J1.1.load", "D1.in"}
    # By hand: with the charger idle the panel shows nothing, plug in or out; its input does.
    assert any(task.startswith("D1.in to minus (D1−) and to B3−") for task in worked(study, "P1"))


def test_what_is_switched_off_and_starts_by_itself_is_parted_wherever_hands_go() -> None:
    study = study_from(BY_PLUG)
    plan = isolate_ends(study, "W", terminals_of(study.rig, "wire", "P1/S1").plus, ("D1",))
    assert {step.action.part for step in plan.steps} == {"J1", "S1"}
