"""A slot that has cooked is mended at the bar behind it: what feeds it is made dead with it."""

import pytest

from helpers.home import CORPUS, RIGS
from helpers.studies import studied, study_from
from rigfolio.answers.isolate import isolate_report
from rigfolio.isolation import isolate
from rigfolio.isolation.energised import CLOSED, source_reach
from rigfolio.isolation.plans.least_cut import opened_by
from rigfolio.reports.terminal import as_text

RIG = """
rig "Cooked bay"
    system 12 V
    rules rv
battery B1 agm, 100 Ah, internal 8 mohm
disconnect S1 "Master" 100 A
panel P1 "Galley" 4 slots of 20 A
busbar N1 100 A
wire B1+ to S1.line 6 AWG red 1 ft, fuse 60 A at B1+
wire S1.load to P1 6 AWG red 3 ft
wire N1 to B1- 6 AWG black 1 ft
circuit P1.1 "Lamp" fuse 5 A{slot}
    wire 14 AWG red 9 ft
    load "Lamp" 10 W
circuit S1.line "Alarm" fuse 3 A{bay}, always on
    wire 16 AWG red 9 ft
    load "Alarm" 0.1 A
slot P1.3 spare
"""


def told(place: str, slot: str = "", bay: str = "", more: str = "") -> str:
    study = study_from(RIG.format(slot=slot, bay=bay) + more)
    return " ".join(as_text(isolate_report(study, place)).split())


def opened(place: str, **marks: str) -> list[str]:
    study = study_from(RIG.format(**{"slot": "", "bay": "", **marks}))
    return [step.action.part for step in isolate(study, place).steps]


def test_a_sound_slot_is_dead_with_its_fuse_out() -> None:
    assert opened("P1.1") == ["P1.1"]
    assert "to mend" not in told("P1.1")


@pytest.mark.parametrize("mark", ["melted", "scorched", "loose", "corroded"])
def test_a_slot_that_is_to_be_mended_is_dead_with_its_panel(mark: str) -> None:
    assert opened("P1.1", slot=f", {mark}") == ["S1"]
    words = told("P1.1", f", {mark}")
    assert f"P1.1 is {mark}, and what feeds it is P1, live whether its fuse is in or not" in words
    assert "make P1 dead to mend it" in words
    assert "With a meter on P1.1 and on P1:" in words


def test_a_mark_in_a_line_of_its_own_counts_as_well() -> None:
    assert "make P1 dead" in told("P1.1", more="note P1.1 melted\n")
    assert "make P1 dead" in told("P1.3", more="note P1.3 melted\n")


def test_a_spare_slot_is_fed_by_the_bar_whatever_is_in_it() -> None:
    words = told("P1.3")
    assert "What feeds slot P1.3 is P1, live with nothing in the slot" in words
    assert opened("P1.3") == ["S1"]


def test_a_holder_outside_a_panel_is_dead_on_the_side_that_feeds_it() -> None:
    # Ahead of the master: its own fuse leaves the bay live, and so does the master.
    assert opened("circuit S1.line") == ["S1.line/Alarm fuse"]
    assert "make S1.line dead" in told("circuit S1.line", bay=", melted")
    # The fuse before it is a clip on the post: the minus lead of the battery comes off instead.
    assert opened("circuit S1.line", bay=", melted") == ["B1"]


@pytest.mark.parametrize("file", [*RIGS, *CORPUS], ids=lambda file: file.stem)
def test_what_feeds_a_free_slot_is_dead_when_all_steps_are_done(file) -> None:
    study = studied(file)
    for panel in study.rig.panels:
        used = {circuit.place for circuit in study.rig.circuits}
        free = (f"{panel.about.name}.{n}" for n in range(1, panel.slots + 1))
        for place in [one for one in free if one not in used][:1]:
            plan = isolate(study, place, kind="slot")
            after = opened_by(study.rig, [step.action for step in plan.steps], CLOSED)
            alive = source_reach(study).alive(after)
            assert panel.bus in plan.terminals
            assert plan.is_enough == (panel.bus not in alive)
