"""What is told of switches that make one of several ways, on the boat of the corpus."""

import pytest

from helpers.home import HOME
from helpers.searches import diagnosed
from helpers.studies import checked
from rigfolio.answers.diagnose import entry_words, measure_words
from rigfolio.compare import compare
from rigfolio.diagnosis.choice import choices
from rigfolio.isolation import isolate, meanings, states_of
from rigfolio.judgement.result import check
from rigfolio.labels import device_rows
from rigfolio.network import stands_for
from rigfolio.operating import short_stages, stages
from rigfolio.reading import read_log

BOAT = HOME / "tests" / "corpus" / "day-sailer.rig"
TEXT = BOAT.read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def study():
    """The boat of the corpus."""
    return checked(BOAT).study


def in_state(study, name):
    state = next(one for one in states_of(study) if one.name == name)
    return {one.part: (one.position, one.is_sure) for one in state.settings}


def test_a_state_has_it_as_said_else_as_it_rests_else_in_any_position(study):
    anchored, away = in_state(study, "at anchor"), in_state(study, "away")
    assert (anchored["SW5"], away["SW5"]) == (("1", True), ("any", False))
    assert (away["SW3"], away["SW6"]) == (("2", True), ("off", True))
    assert anchored["SW1"] == anchored["SW2"] == ("any", False)


@pytest.mark.parametrize(
    ("part", "opened"),
    [("J1", {"SW3"}), ("Anchor light", {"SW5"}), ("Up coil", {"SW6"}), ("Lamp", {"P1.3"})],
)
def test_a_plan_turns_off_what_can_be_turned_off_and_no_other(study, part, opened):
    found = {step.action.part for step in isolate(study, part).steps}
    assert not found & {"SW1", "SW2"}
    assert found & (opened | {"P1.1", "P1.2", "P1.4"})


def test_each_position_says_what_it_feeds(study):
    told = {(one.switch, one.position): one.words for one in meanings(study)}
    assert told["SW5", "1 anchor"] == "feeds Anchor light"
    assert told["SW5", "2 steaming"] == "feeds Steaming light"
    assert told["SW1", "1"] == "feeds Lamp with SW2 on 1"
    off = "Anchor light, Steaming light dead. These stay live: SW5.common from B1"
    assert told["SW5", "OFF"] == off
    assert ("SW1", "OFF") not in told
    rows = {row.name: row.effect for row in device_rows(study)}
    assert rows["SW6"] == "feeds on 1 up: Up coil; on 2 down: Down coil"
    assert rows["SW4"] == "goes dark: P1.1 Bilge pump (with SW3 on 2 automatic)"


def test_a_rig_is_tried_position_by_position_and_never_with_two_at_once(study):
    each = next(one for one in stages(study) if one.title == "Each load by itself")
    tried = [(frozenset(point.on), point.set_to) for step in each.steps for point in step.points]
    of_pump = {stood for on, stood in tried if on == {"P1.1:1"} or "Pump" in on}
    assert of_pump == {frozenset({("SW3", "1")}), frozenset({("SW3", "2")})}
    for stage in stages(study):
        for step in stage.steps:
            for point in step.points:
                names = {study.rig.by_name.loads[one].about.label for one in point.on}
                assert not {"Anchor light", "Steaming light"} <= names
                assert not {"Up coil", "Down coil"} <= names


@pytest.mark.parametrize(
    "title", ["Each circuit, one fuse at a time", "Heavy loads, each by itself"]
)
def test_the_short_sheet_reads_a_load_in_each_position_that_feeds_it(study, title):
    """A pump that runs by hand alone floods the boat: the float's own way is read too."""
    stage = next(one for one in short_stages(study) if one.title == title)
    for load in study.rig.loads:
        points = [p for step in stage.steps for p in step.points if p.a == load.plus]
        if points:
            assert {p.set_to for p in points} == set(stands_for(study.rig, load)), load.about.name


def test_what_was_read_in_one_position_tells_of_that_way(study):
    said = "Pump = 12.1 V, with Pump on, SW3 1\nPump = 0 V, with Pump on, SW3 2\n"
    log, problems = read_log(said, "log", study.rig)
    assert not problems
    found = diagnosed(study, log.readings)
    parts = {fault.part for one in found.verdicts[:4] for fault in one.faults}
    assert "SW3.2" in parts
    assert "SW3.1" not in parts
    choice = choices(found)[0]
    assert entry_words(found, choice).endswith(", SW3 2")
    again, problems = read_log(entry_words(found, choice, "0"), "log", study.rig)
    assert not problems
    assert dict(again.readings[0].set_to) == {"SW3": "2"}
    assert "SW3 on 2 automatic" in measure_words(found, choice)


@pytest.mark.parametrize("position", ["open", "both", "off"])
def test_a_reading_in_a_position_that_it_has_not_is_not_understood(study, position):
    _, problems = read_log(f"Lamp = 0 V, with Lamp on, SW1 {position}", "log", study.rig)
    assert [one.headline for one in problems] == [f"`SW1` has no position `{position}`"]


def test_a_change_of_rest_and_of_words_is_told():
    new = TEXT.replace('rests 2, centre off, 1 "manual"', 'rests off, 1 "by hand"')
    one, two = (check("boat.rig", text=text) for text in (TEXT, new))
    found = compare(one.study.rig, two.study.rig, one.findings, two.findings)
    told = {change.after: change.facts for change in found.changes}
    assert told == {"SW3": ("rests off, was 2", "position 1 by hand, was manual")}
