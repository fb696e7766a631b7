"""What is read aloud at the panel: each turn of the words, on parts that are made up."""

import pytest

from helpers.studies import study_from
from rigfolio.answers.isolate import isolate_report
from rigfolio.isolation import back_feed_words, cell_words, isolate, states_of, still_live_words
from rigfolio.isolation.kept import Kept
from rigfolio.isolation.plans.plan import BackFeed, StillLive
from rigfolio.isolation.plans.probe_words import black_words, red_words
from rigfolio.isolation.plans.words import kept_words, part_words, step_words
from rigfolio.isolation.table import Cell, Part
from rigfolio.judgement.result import understood
from rigfolio.reports.terminal import as_text

CONVERTER = BackFeed("C1", "Converter", ())
SOLAR = BackFeed("U1", "", ())
PANEL = Part("panel", "P1", "Galley", ("P1",))
SLOT = Part("slot", "P1.1", "Lamps", ("P1.1",), "P1")


@pytest.mark.parametrize(
    ("found", "words"),
    [
        ((CONVERTER,), "disconnects alone are not enough: C1 Converter feeds it too"),
        ((CONVERTER, SOLAR), "disconnects alone are not enough: C1 Converter, U1 feed it too"),
    ],
)
def test_one_feeds_and_two_feed(found, words):
    assert back_feed_words(found) == words


@pytest.mark.parametrize(
    ("found", "words"),
    [
        # A slot goes without saying where its panel is live from the same.
        ((StillLive(PANEL, ("B1",)), StillLive(SLOT, ("B1",))), ("from B1: P1 Galley",)),
        ((StillLive(PANEL, ("B1",)), StillLive(SLOT, ("B1", "U1"))),
         ("from B1: P1 Galley", "from B1, U1: P1.1 Lamps")),
        ((StillLive(SLOT, ("B1",)),), ("from B1: P1.1 Lamps",)),
        ((StillLive(PANEL, ("B1",)), StillLive(PANEL, ("B1",), through_loads=True)),
         ("from B1: P1 Galley", "from B1 through loads: P1 Galley")),
    ],
)  # fmt: skip
def test_what_stays_live_is_told_by_its_sources(found, words):
    assert still_live_words(found) == words


@pytest.mark.parametrize(
    ("part", "words"),
    [
        # By the terminal that a meter is put on.
        (Part("source", "B1", "House", ("B1+",)), "B1+ House"),
        (Part("load", "M1", "Horn", ("M1+",)), "M1+ Horn"),
        (Part("panel", "P1", "Galley", ("P1", "P1.1")), "P1 Galley"),
        (Part("bar", "D1", "", ("D1",)), "D1"),
        (Part("circuit", "circuit D1", "Horn", ("D1.out",)), "circuit D1 Horn"),
        (Part("circuit", "circuit D1", "", ("D1.out",)), "circuit D1"),
    ],
)
def test_a_part_goes_by_the_end_that_is_measured(part, words):
    assert part_words(part) == words


@pytest.mark.parametrize(
    ("cell", "words"),
    [
        (Cell(), "dead"),
        (Cell(("B1",), ("B1",)), "B1"),
        (Cell(("B1", "U1"), ("B1",)), "B1, perhaps U1"),
        (Cell(("U1",)), "perhaps U1"),
        (Cell(("B1",), ("B1",), through_loads=True), "through loads: B1"),
    ],
)
def test_a_cell_tells_what_is_sure_and_what_may_be(cell, words):
    assert cell_words(cell) == words


BENCH = """
rig "Bench"
    system 12 V
battery B1 flooded, 100 Ah
disconnect S1 100 A
panel P1 4 slots
busbar N1 200 A
charger C1 30 A
wire B1+ to S1.line 6 AWG red 1 ft, fuse 100 A at B1+
wire S1.load to P1 6 AWG red 1 ft
wire N1 to B1- 6 AWG black 1 ft
wire C1+ to P1 6 AWG red 3 ft, fuse 50 A at P1
wire C1- to N1 6 AWG black 3 ft
state stored S1 open, C1 off
state shore S1 closed, C1 on
state winter S1 open, C1 on
"""


@pytest.mark.parametrize(
    ("state", "steps"),
    [("", {"S1", "C1"}), ("stored", set()), ("winter", {"C1"}), ("shore", {"S1", "C1"})],
)
def test_what_a_state_has_open_is_not_opened_again(state, steps):
    study = understood("bench.rig", text=BENCH).study
    assert study is not None
    condition = next((one for one in states_of(study) if one.name == state), None)
    plan = isolate(study, "P1", condition, kind="panel")
    assert {step.action.part for step in plan.steps} == steps


def test_a_step_tells_in_which_states_it_is_done():
    study = understood("bench.rig", text=BENCH).study
    assert study is not None
    plan = isolate(study, "P1", kind="panel")
    assert {step.action.part: step.done_in for step in plan.steps} == {
        "S1": ("stored", "winter"),
        "C1": ("stored",),
    }


@pytest.mark.parametrize(
    ("not_said", "on", "is_stated", "words"),
    [
        ("", (("B1",), ("B1",)), True, "has a source in every state"),
        ("", ((), ("B1",)), True, "DEAD in stored"),
        ("", ((), ()), True, "DEAD in stored, in use"),
        # What is open in the text may be what keeps it on, so far as that can be.
        ("how it returns is not told", ((), ()), True, "not known, how it returns is not told"),
        ("how it returns is not told", ((), ("B1",)), True, "DEAD in stored"),
        ("", ((), ("B1",)), False,
         "DEAD in stored; if it must stay on, the text should say `always on`"),
    ],
)  # fmt: skip
def test_whether_an_alarm_is_kept_on(not_said, on, is_stated, words):
    study = understood("bench.rig", text=BENCH + "load M1 1 A\n").study
    assert study is not None
    (load,) = study.rig.loads
    one = Kept(load, "Alarm", "always on", is_stated, True, not_said, on, ("stored", "in use"))
    assert kept_words(one) == f"Alarm (always on): {words}"


def test_in_use_is_said_once() -> None:
    study = understood("bench.rig", text=BENCH + "load M1 1 A\n").study
    assert study is not None
    (load,) = study.rig.loads
    one = Kept(load, "Alarm", "always on", True, True, "", ((),), ("in use",))
    assert kept_words(one) == "Alarm (always on): DEAD in use"


POST = """rig "T"
    system 12 V
    rules rv
battery B1 "House" agm, 100 Ah
busbar N1
load M1 1 A
load M2 1 A
wire B1+ to M1+ 14 AWG red 1 ft
wire B1+ to M2+ 14 AWG red 1 ft
"""
LEADS = (
    "wire N1 to B1- 6 AWG black 1 ft, tag T1\n",
    "wire M1- to B1- 14 AWG black 1 ft, tag T2\n",
    "wire M2- to B1- 14 AWG black 1 ft, tag T3\n",
)
SWITCH = "disconnect S1 100 A on B1-\nwire S1.load to N1 6 AWG black 1 ft\n"


@pytest.mark.parametrize(
    ("more", "lift"),
    [
        # A lead that stays on keeps the post in the circuit: all of them are named, the switch
        # that sits on the post among them.
        (LEADS[0], "lift the minus lead (B1−) and tape it"),
        ("".join(LEADS[:2]), "lift both wires on its minus post (B1−), T1, T2, and tape each"),
        ("".join(LEADS), "lift all 3 wires on its minus post (B1−), T1, T2, T3, and tape each"),
        (SWITCH + LEADS[2], "lift both wires on its minus post (B1−), T3, S1, and tape each"),
    ],
)
def test_every_lead_on_the_post_of_a_battery_is_lifted(more, lift):
    study = study_from(POST + more)
    (step,) = isolate(study, "B1").steps
    assert step_words(study, step) == f"B1 House: {lift}; the plus lead stays on"


@pytest.mark.parametrize(
    ("place", "red", "black"),
    [
        # Between its posts a battery shows its volts for ever (common practice): what is proved is
        # that nothing is left between the plus post and the lead that is off the other one.
        ("B1", "B1+", "the lifted lead of B1− (never its post)"),
        ("S2", "S2", "the lifted leads of B1−, B2− (never a post)"),
        ("P1", "P1", "minus"),
    ],
)
def test_a_place_is_proved_dead_against_what_can_be_dead(place, red, black):
    link = (
        "battery B2 agm, 100 Ah\ndisconnect S2 100 A on B1+\nwire S2.load to B2+ 6 AWG red 1 ft\n"
        "wire B2- to N1 6 AWG black 1 ft\n"
    )
    text = BENCH.partition("state")[0] + (link if place == "S2" else "")
    study = understood("bench.rig", text=text).study
    assert study is not None
    plan = isolate(study, place)
    assert (red_words(study.rig, plan.place), black_words(study, plan)) == (red, black)
    told = " ".join(as_text(isolate_report(study, place)).split())
    assert f"With a meter on {red}: " in told
    assert f"; to {black} and to the frame." in told
