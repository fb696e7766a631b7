"""A cabin with a wind turbine: braked before all else, on every paper (common practice).

Without a load a turbine overspeeds, and neither a fuse nor a switch in its output stops it.
"""

from importlib import import_module

import pytest

from helpers.studies import study_from
from rigfolio.answers import isolate_report
from rigfolio.demand import flows_of
from rigfolio.diagnosis.scenes import Scenes
from rigfolio.draw.page import texts
from rigfolio.isolation import in_turn, isolate, states_of
from rigfolio.isolation.conditions import Condition
from rigfolio.judgement import check, job_of
from rigfolio.labels import device_rows, every_label
from rigfolio.reports.terminal import as_lines
from rigfolio.swap import how_to_read
from rigfolio.swap.power import chargers

CABIN = """rig "Ridge cabin"
    system 24 V
    rules vehicle
battery B1 "House bank" lithium, 200 Ah, internal 4 mohm
fuse F1 "Bank fuse" 100 A class-t
disconnect S1 "Bank switch" 200 A
charger C1 "Mains charger" 30 A
turbine T1 "Mast turbine" 20 A
solar U1 "Roof controller" 20 A
panel P1 "Panel" 4 slots of 20 A
busbar N1 "Negative bar" 200 A
busbar N2 "Plus bar" 200 A
wire B1+ to F1.line 50 mm2 red 0.3 m
wire F1.load to S1.line 50 mm2 red 0.3 m
wire S1.load to N2 50 mm2 red 1 m
wire N2 to P1 10 mm2 red 1 m, fuse 40 A at N2
wire T1+ to N2 6 mm2 red 4 m, fuse 25 A at N2, tag WT
wire T1- to N1 6 mm2 black 4 m
wire C1+ to N2 10 mm2 red 4 m, fuse 40 A at N2
wire C1- to N1 10 mm2 black 4 m
wire U1+ to N2 6 mm2 red 4 m, fuse 25 A at N2
wire U1- to N1 6 mm2 black 4 m
wire N1 to B1- 50 mm2 black 1 m
circuit P1.1 "Lights" fuse 5 A
    wire 2.5 mm2 red 5 m
    load "Lamp" 24 W, 4 h/day
"""
AHEAD = CABIN.replace("wire T1+ to N2 6 mm2 red 4 m, fuse 25 A at N2",
                      "wire T1+ to B1+ 6 mm2 red 4 m, fuse 25 A at B1+")  # fmt: skip
BY_SLOT = CABIN.replace("wire T1+ to N2 6 mm2 red 4 m, fuse 25 A at N2, tag WT\n", "") + (
    'circuit P1.3 "Mast" fuse 20 A\n    wire 6 mm2 red 4 m to T1+\n'
)


def turns(text: str, place: str) -> list[str]:
    """What is stopped or opened, in turn; the loads are no part."""
    study = study_from(text)
    return [one.part for one in in_turn(study, isolate(study, place)) if one.part]


@pytest.mark.parametrize("place", ["N2", "B1", "S1.load", "F1.load", "S1.line"])
def test_it_is_braked_before_anything_else_is_touched(place: str) -> None:
    found = turns(CABIN, place)
    assert found[0] == "T1"
    assert {"S1", "B1", "F1"} & {*found[1:]}


def test_the_step_says_how_and_why() -> None:
    said = " ".join("\n".join(as_lines(isolate_report(study_from(CABIN), "B1"))).split())
    brake = (
        "T1 Mast turbine: brake it by its own brake switch (shorted) and tag that, before any "
        "battery lead or switch is opened. It would lose its battery while it runs."
    )
    assert brake in said
    assert said.index(brake) < said.index("S1 Bank switch: open it")
    assert said.index(brake) < said.index("lift the minus lead")


def test_its_own_fuse_does_not_stop_it() -> None:
    assert turns(CABIN, "T1") == ["T1", "WT fuse"]


def test_what_parts_it_from_no_battery_leaves_it_turning() -> None:
    # The feed of the panel, and with the turbine ahead of it the bank switch.
    assert "T1" not in turns(CABIN, "P1")
    assert "T1" not in turns(AHEAD, "N2")
    assert turns(AHEAD, "B1")[0] == "T1"


@pytest.mark.parametrize(
    ("text", "braked"),
    [(CABIN, {"F1", "S1", "WT fuse"}), (AHEAD, {"WT fuse"})],
    ids=["behind the switch", "ahead of it"],
)
def test_what_takes_its_battery_off_says_so_at_the_panel_and_on_its_label(text, braked) -> None:
    rows = device_rows(study_from(text))
    assert {row.name for row in rows if "first brake T1 Mast turbine" in row.effect} == braked
    assert {row.name for row in rows if "first brake T1" in row.short_effect} == braked
    labels = every_label(job_of(check("cabin.rig", text=text)))
    assert {
        one.place for one in labels if one.wires and all("brake T1" in said for said in one.wires)
    } == braked


def test_the_slot_that_it_comes_in_by_says_so_too() -> None:
    labels = every_label(job_of(check("cabin.rig", text=BY_SLOT)))
    braked = {one.place for one in labels if all("first brake T1" in said for said in one.wires)}
    assert braked == {"F1", "S1", "N2/P1 fuse", "P1.3"}
    assert next(one.first for one in labels if one.place == "P1.3") == "first brake T1"


def test_it_may_turn_in_every_state_and_does_in_its_own() -> None:
    states = {state.name: state for state in states_of(study_from(CABIN))}
    assert [*states] == ["stored", "shore", "sun", "wind"]
    assert {name: _turns(state) for name, state in states.items()} == {
        "stored": ("on", False), "shore": ("on", False), "sun": ("on", False), "wind": ("on", True),
    }  # fmt: skip


def _turns(state: Condition) -> tuple[str, bool]:
    setting = state.of("T1")
    assert setting is not None
    return setting.position, setting.is_sure


def test_it_charges_beside_all_others() -> None:
    # 20 A of wind, 20 A of sun and 30 A from shore, by hand.
    assert flows_of(study_from(CABIN)).charges["S1"].together_a == pytest.approx(70.0)


def test_no_reading_is_taken_while_it_turns() -> None:
    study = study_from(CABIN)
    assert "T1" in chargers(study)
    assert "T1 must not turn: braked until all is read." in how_to_read(study.rig)
    without = study_from(CABIN.replace('turbine T1 "Mast', 'charger T1 "Mast'))
    assert "turn" not in how_to_read(without.rig)


def test_who_says_that_it_gives_nothing_speaks_of_wind() -> None:
    scenes = Scenes(study_from(CABIN))
    assert [scenes.running(name) for name in ("T1", "U1", "C1")] == ["wind", "sun", "shore"]


@pytest.mark.parametrize("name", ["panel_directory", "panel_face", "directory_code"])
def test_every_paper_of_the_slots_says_it_and_none_without_need(name: str) -> None:
    sheet = import_module(f"rigfolio.sheets.{name}")
    plain = BY_SLOT.replace("turbine T1", "charger T1")
    told = [
        " ".join(said.text for page in sheet.pages(job_of(check("cabin.rig", text=text)))
                 for said in texts(page))
        for text in (BY_SLOT, plain)
    ]  # fmt: skip
    assert ["first brake T1" in words for words in told] == [True, False]
