"""In which order a part is made dead: loads off, sources stopped, then what is opened.

No contact opens under load, and nothing that charges is left without its battery while it runs
(common practice).
"""

import pytest

from helpers.studies import study_from
from rigfolio.isolation import Plan, Turn, in_turn, isolate, isolate_ends

CAMPER = """rig "T"
    system 12 V
    rules rv
battery B1 "House" agm, 100 Ah
disconnect S1 "Main" 100 A
charger C1 "Converter" 30 A
panel P1 "Galley" 12 slots, negative N1
busbar N1 100 A
wire B1+ to S1.line 6 AWG red 1 ft, fuse 60 A at B1+
wire S1.load to P1 6 AWG red 1 ft
wire C1+ to P1 8 AWG red 1 ft, fuse 40 A at P1
wire N1 to B1- 6 AWG black 1 ft
wire C1- to N1 8 AWG black 1 ft
"""
MIXED = """circuit P1.5 "Two" fuse 10 A
    wire 14 AWG red 3 ft
    load "Reading lamp" 3 A
    load "Desk lamp" 4 A
circuit P1.6 "Alarm" fuse 3 A
    wire 14 AWG red 3 ft
    load "CO alarm" 0.1 A, always on
load L9 "Horn" 20 A
wire P1 to L9+ 10 AWG red 1 ft, fuse 30 A at P1
wire L9- to N1 10 AWG black 1 ft
circuit S1.load "Pump" fuse 10 A
    wire 14 AWG red 3 ft
    load 6 A
"""


def lamps(count: int) -> str:
    """Lamps of 1, 2, 3 A and so on, each in a slot of its own."""
    return "".join(
        f'circuit P1.{at} "Lamp {at}" fuse 10 A\n    wire 14 AWG red 3 ft\n    load {at} A\n'
        for at in range(1, count + 1)
    )


def planned(text: str, place: str) -> tuple[Plan, tuple[Turn, ...]]:
    study = study_from(CAMPER + text)
    plan = isolate(study, place)
    return plan, in_turn(study, plan)


@pytest.mark.parametrize(
    ("count", "words"),
    [
        (1, "switch off its load, P1.1 Lamp 1"),
        (2, "switch off 2 loads: P1.2 Lamp 2, P1.1 Lamp 1"),
        (4, "switch off 4 loads: P1.4 Lamp 4, P1.3 Lamp 3, P1.2 Lamp 2, P1.1 Lamp 1"),
        (5, "switch off all 5 loads, the largest first: P1.5 Lamp 5, P1.4 Lamp 4, P1.3 Lamp 3"),
    ],
)
def test_loads_go_off_first_the_largest_before_the_others(count: int, words: str) -> None:
    _, turns = planned(lamps(count), "P1")
    assert [turn.part for turn in turns] == ["", "C1", "S1"]
    assert turns[0].do == words
    assert turns[0].why == "no contact should open under load"


def test_a_panel_without_a_load_begins_with_its_charger() -> None:
    _, turns = planned("", "P1")
    assert [turn.part for turn in turns] == ["C1", "S1"]
    assert turns[0].why == "keeps off C1"


def test_what_must_stay_on_has_no_switch_and_a_circuit_of_two_is_named_once() -> None:
    # Two lamps, two single lamps, the horn and the pump are six; the alarm is none of them.
    plan, turns = planned(lamps(2) + MIXED, "P1")
    assert turns[0].do == (
        "switch off all 6 loads, the largest first: L9 Horn, Pump, P1.5 Two"
    )  # fmt: skip
    assert plan.goes_dark == ("Alarm: CO alarm",)


def test_both_lamps_of_a_circuit_go_off_under_one_name() -> None:
    plan, turns = planned(lamps(2) + MIXED, "P1.5")
    assert turns[0].do == "P1.5 Two: switch off 2 loads: P1.5 Two, then pull its fuse (10 A red)"
    # Ahead of the panel's fuse the charger has one of its own.
    assert [(one.source, one.by) for one in plan.back_feeds] == [("C1", ("C1+/P1 fuse", "P1.5"))]
    assert plan.goes_dark == ()


def test_a_switch_is_not_opened_under_what_a_stopped_charger_has_left_to_the_battery() -> None:
    # To free the post of B1 the converter is stopped, S1 opened and the lead lifted. From the stop
    # on all loads hang on B1, through S1.
    plan, turns = planned(lamps(2) + MIXED, "B1")
    assert [turn.part for turn in turns] == ["", "C1", "S1", "B1"]
    assert turns[0].do.startswith("switch off all 6 loads")
    assert turns[1].why == "its current runs through what is opened"
    assert plan.stop_first == ("C1",)
    assert plan.goes_dark == ("Alarm: CO alarm",)


@pytest.mark.parametrize(
    ("device", "turns"),
    [
        # A fuse is pulled with its load off, in one breath; a breaker is a switch.
        ("fuse 10 A", ["P1.9"]), ("breaker 10 A", ["", "P1.9"]),
    ],
)  # fmt: skip
def test_a_breaker_is_no_fuse_that_is_pulled(device: str, turns: list[str]) -> None:
    text = f'circuit P1.9 "Fan" {device}\n    wire 14 AWG red 3 ft\n    load "Fan" 3 A\n'
    assert [turn.part for turn in planned(text, "P1.9")[1]] == turns


@pytest.mark.parametrize(
    ("fuse", "parts"),
    [
        ("60 A maxi", ["S1.load/Winch fuse"]),
        # What is held by nuts stays where a switch and a charger that goes off do as well.
        ("60 A mega", ["C1", "S1"]),
    ],
)
def test_the_fuse_of_a_circuit_is_pulled_where_no_wrench_is_needed(
    fuse: str, parts: list[str]
) -> None:
    text = f'circuit S1.load "Winch" fuse {fuse}\n    wire 6 AWG red 3 ft\n    load "Winch" 40 A\n'
    plan, _ = planned(text, "circuit S1.load")
    assert [step.action.part for step in plan.steps] == parts
    assert plan.is_enough
    # Why its own fuse is none of them is told.
    assert plan.left_in == (() if len(parts) == 1 else ("S1.load/Winch fuse",))


def test_a_charger_that_is_kept_off_is_told_before_the_one_fuse_that_is_pulled() -> None:
    study = study_from(CAMPER + lamps(2))
    place = isolate(study, "P1.2")
    (alone,) = in_turn(study, place)
    assert (alone.part, alone.do) == (
        "P1.2", "P1.2 Lamp 2: switch off its load, P1.2 Lamp 2, then pull its fuse (10 A red)",
    )  # fmt: skip
    kept = isolate_ends(study, "P1.2", place.terminals, ("C1",))
    turns = in_turn(study, kept)
    assert [turn.part for turn in turns] == ["", "C1", "P1.2"]
    assert turns[1].why == "charges: stays off until the last reading"


def test_nothing_is_done_where_nothing_is_live() -> None:
    _, turns = planned(lamps(1), "N1")
    assert turns == ()


def test_a_charger_is_stopped_before_its_own_battery_goes_though_another_stands_apart() -> None:
    apart = (
        "battery B2 agm, 100 Ah\nload L2 1 A\nwire B2+ to L2+ 14 AWG red 1 ft\n"
        "wire B2- to L2- 14 AWG black 1 ft\n"
    )
    assert planned(apart, "B1")[0].stop_first == ("C1",)
