"""A switch that joins two banks in an emergency: open in use, however that is said."""

import pytest

from helpers.studies import study_from
from rigfolio.isolation import (
    in_use,
    isolate,
    meanings,
    must_stay_on,
    opened_alone,
    states_of,
    unnamed,
)
from rigfolio.network import parallel_banks, parallel_switches
from rigfolio.study import Study

WIRED = """
rig "T" system 12 V, rules boat
battery B1 "Engine battery" flooded, 90 Ah
battery B2 "House bank" flooded, 200 Ah
alternator A1 "Alternator" 70 A
busbar N1 300 A
disconnect S1 "Engine switch" 300 A
disconnect S2 "House switch" 300 A
PARALLEL
load M1 "Windlass" 80 A, intermittent
load M2 "Lamps" 10 A
load M3 "Bilge pump" 5 A, always on
wire B1+ to S1.line 1/0 AWG red 1 ft
wire B2+ to S2.line 1/0 AWG red 1 ft
wire A1+ to S1.load 4 AWG red 4 ft
wire S1.load to M1+ 2 AWG red 9 ft
wire S2.load to M2+ 10 AWG red 9 ft
wire S2.load to M3+ 10 AWG red 9 ft
wire S1.load to S3.line 1/0 AWG red 1 ft
wire S3.load to S2.load 1/0 AWG red 1 ft
wire B1- to N1 1/0 AWG black 1 ft
wire B2- to N1 1/0 AWG black 1 ft
wire A1- to N1 4 AWG black 4 ft
wire M1- to N1 2 AWG black 9 ft
wire M2- to N1 10 AWG black 9 ft
wire M3- to N1 10 AWG black 9 ft
"""
PLAIN = 'disconnect S3 "Parallel" 300 A'
SAILING = "\nstate sailing S1 closed, S2 closed, S3 open"
AWAY = "\nstate away S1 open, S2 open, S3 open"
EMERGENCY = "\nstate emergency S1 closed, S2 closed, S3 closed"
SAID = (
    (f"{PLAIN}, rests open", ""),
    ('switch S3 "Parallel" 300 A, rests open', ""),
    (PLAIN, SAILING),
    (PLAIN, AWAY + SAILING + EMERGENCY),
    (PLAIN, SAILING + '\nstate "Parallel drive" S3 closed'),
    (f"{PLAIN}, rests open", EMERGENCY),
)
NOT_SAID = (
    (PLAIN, ""),
    (f"{PLAIN}, rests closed", SAILING),
    (PLAIN, AWAY),
    (PLAIN, EMERGENCY),
    (PLAIN, SAILING + "\nstate motoring S1 closed, S2 closed, S3 closed"),
)


def rigged(said: tuple[str, str]) -> Study:
    parallel, states = said
    return study_from(WIRED.replace("PARALLEL", parallel).strip() + states + "\n")


@pytest.mark.parametrize("said", SAID)
def test_it_is_open_in_use_however_that_is_said(said: tuple[str, str]) -> None:
    study = rigged(said)
    assert parallel_switches(study.rig) == {"S3"}
    assert in_use(study.rig).edges == {"S3"}
    assert unnamed(study).opened.edges == {"S3"}
    assert any("`S3` open, as in use" in words for words in unnamed(study).words)
    assert parallel_banks(study.rig, study.net) == {}


@pytest.mark.parametrize("said", NOT_SAID)
def test_nothing_is_taken_for_granted_where_the_text_does_not_say_it(
    said: tuple[str, str],
) -> None:
    study = rigged(said)
    assert parallel_switches(study.rig) == frozenset()
    assert in_use(study.rig).edges == frozenset()
    assert set(parallel_banks(study.rig, study.net)) == {"B1", "B2"}


def test_a_switch_in_the_lead_of_one_battery_of_a_bank_is_none() -> None:
    text = """
rig "T" system 12 V, rules boat
battery B1 flooded, 90 Ah
battery B2 flooded, 90 Ah
busbar N1 300 A
busbar N2 300 A
disconnect S1 300 A
disconnect S2 300 A
load M1 10 A
wire B1+ to S1.line 1/0 AWG red 1 ft
wire S1.load to N2 1/0 AWG red 1 ft
wire B2+ to S2.line 1/0 AWG red 1 ft
wire S2.load to N2 1/0 AWG red 1 ft
wire N2 to M1+ 10 AWG red 9 ft
wire M1- to N1 10 AWG black 9 ft
wire B1- to N1 1/0 AWG black 1 ft
wire B2- to N1 1/0 AWG black 1 ft
state winter S1 closed, S2 open
"""
    study = study_from(text.strip() + "\n")
    assert parallel_switches(study.rig) == frozenset()


@pytest.mark.parametrize("said", SAID)
def test_what_loses_its_bank_by_it_is_stopped_before_a_battery_is_parted(
    said: tuple[str, str],
) -> None:
    study = rigged(said)
    engine, house = isolate(study, "B1"), isolate(study, "B2")
    assert engine.stop_first == ("A1",)
    assert engine.off_first == ("M1",)
    assert house.off_first == ("M2",)
    assert house.goes_dark == ("M3 Bilge pump",)
    # It is a plan for any state: closed, the switch would feed what was parted.
    assert "B2" in engine.reached_by


def test_from_a_state_that_has_it_closed_the_plan_is_that_of_the_state() -> None:
    study = rigged((PLAIN, SAILING + EMERGENCY))
    emergency = next(one for one in states_of(study) if one.name == "emergency")
    assert isolate(study, "B1", emergency).stop_first == ()


def test_supplied_states_have_it_open() -> None:
    study = rigged((PLAIN, SAILING))
    supplied = [one for one in states_of(study) if not one.is_stated]
    assert supplied
    assert {one.of("S3").position for one in supplied} == {"open"}


@pytest.mark.parametrize("said", SAID)
def test_each_switch_is_told_as_the_rig_is_used(said: tuple[str, str]) -> None:
    study = rigged(said)
    words = {(one.switch, one.position): one.words for one in meanings(study)}
    assert words["S1", "ON"] == "Engine battery B1 feeds Windlass"
    assert words["S2", "ON"] == "House bank B2 feeds Lamps, Bilge pump"
    assert words["S1", "OFF"].startswith("Windlass dead, unless Alternator A1 is running")
    assert [part.name for part in opened_alone(study, "S2").dark] == ["M2", "M3"]
    parallel = opened_alone(study, "S3")
    assert parallel.dark == ()
    assert parallel.parted == ("B1", "B2")
    told = must_stay_on(study)
    assert [one.about.name for one in told[0].cuts] == ["S2"]


def test_a_disconnect_that_joins_banks_is_told_by_what_it_joins() -> None:
    words = {one.position: one.words for one in meanings(rigged(SAID[0])) if one.switch == "S3"}
    both = "Engine battery B1 and House bank B2"
    assert words["ON"] == f"{both} are joined: for an emergency alone"
    assert words["OFF"].startswith(f"{both} are parted, as in use. These stay live: ")
