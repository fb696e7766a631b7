"""A switch between solar modules and their controller: what it does, and when it is opened.

The modules give volts while light falls on them, whatever is open. A controller that loses its
battery while the sun shines may be damaged, so what keeps the sun off goes first (common practice).
"""

import pytest

from helpers.studies import study_from
from rigfolio.isolation import Turn, in_turn, isolate, meanings, states_of
from rigfolio.study import Study

VAN = """rig "T"
    system 12 V
    rules rv
battery B1 "House" agm, 100 Ah
solar U1 "Controller" 20 A
disconnect S5 "Sun switch" 30 A
busbar N1 100 A
wire U1+ to B1+ 10 AWG red 3 ft, fuse 30 A at B1+
wire U1- to N1 10 AWG black 3 ft
wire N1 to B1- 6 AWG black 1 ft
wire S5.load to U1.in 10 AWG red 3 ft
"""
ARRAY = """array Y{0} "Roof" open circuit 22.4 V, short circuit 5.3 A
wire Y{0}+ to {1} 10 AWG red 9 ft
wire Y{0}- to U1.in- 10 AWG black 9 ft
"""
ONE = ARRAY.format(1, "S5.line")
TWO = ONE + ARRAY.format(2, "S5.line")
PAST_IT = ARRAY.format(1, "U1.in")
STAYS = "the side of the modules stays live while light falls on them"


def van(arrays: str) -> Study:
    return study_from(VAN + arrays)


def turns(study: Study, place: str) -> list[Turn]:
    return list(in_turn(study, isolate(study, place)))


@pytest.mark.parametrize(
    ("arrays", "on", "off"),
    [
        (ONE, "Roof Y1 feeds Controller U1", f"Controller U1 gets nothing from Roof Y1; {STAYS}"),
        (TWO, "Roof Y1, Roof Y2 feed Controller U1",
         f"Controller U1 gets nothing from Roof Y1, Roof Y2; {STAYS}"),
        # The modules are wired past it.
        (PAST_IT, "nothing of this text hangs on it alone", f"changes nothing: {STAYS}"),
    ],
)  # fmt: skip
def test_both_positions_of_a_switch_on_the_sun_side_say_what_they_do(
    arrays: str, on: str, off: str
) -> None:
    told = [(one.switch, one.label, one.position, one.words) for one in meanings(van(arrays))]
    assert told == [("S5", "Sun switch", "ON", on), ("S5", "Sun switch", "OFF", off)]


def test_it_may_stay_closed_while_the_rig_is_stored() -> None:
    stored, sun = states_of(van(ONE))
    setting = stored.of("S5")
    assert setting is not None
    assert (stored.name, setting.position, setting.is_sure) == ("stored", "closed", False)
    setting = sun.of("S5")
    assert setting is not None
    assert (sun.name, setting.position, setting.is_sure) == ("sun", "closed", True)


def test_the_sun_is_kept_off_before_a_lead_of_the_battery_comes_off() -> None:
    for place in ("U1", "B1"):
        first, second = turns(van(ONE), place)
        assert first.part == "S5"
        assert first.do.startswith("S5 Sun switch: open it, before any lead of a battery")
        assert second.keeps_off == ("B1",)
    assert turns(van(ONE), "B1")[0].why == "keeps off U1"
    assert turns(van(TWO), "U1")[0].why == "keeps off U1, Y1, Y2"


def test_without_a_switch_on_the_way_the_modules_are_covered() -> None:
    assert [turn.part for turn in turns(van(PAST_IT), "U1")] == ["Y1", "B1+/U1+ fuse"]
    first, second = turns(van(PAST_IT), "B1")
    assert (first.part, second.part) == ("U1", "B1")
    assert first.do.startswith("U1 Controller: cover the panels or part them from the controller")


@pytest.mark.parametrize(
    ("place", "parts", "stopped"),
    [
        # By S1 open the controller has no battery left, and the modules shine on.
        ("S1.line", ["S1", "B1"], ("U1",)), ("B1", ["S1", "B1"], ("U1",)),
        # By S5 open it has no modules, and may lose its battery.
        ("D1", ["S5", "S1"], ()), ("U1.in", ["S5"], ()),
    ],
)  # fmt: skip
def test_a_controller_in_the_sun_stops_before_its_battery_is_parted(
    place: str, parts: list[str], stopped: tuple[str, ...]
) -> None:
    text = VAN.replace(
        "wire U1+ to B1+",
        "disconnect S1 100 A\nbusbar D1 100 A\nwire B1+ to S1.line 6 AWG red 3 ft, "
        "fuse 60 A at B1+\nwire S1.load to D1 6 AWG red 3 ft\nwire U1+ to D1",
    )
    plan = isolate(study_from(text.replace("fuse 30 A at B1+", "fuse 30 A at D1") + ONE), place)
    assert ([step.action.part for step in plan.steps], plan.stop_first) == (parts, stopped)
    assert plan.broken_off == ()


def test_the_sun_side_of_a_switch_is_dead_only_with_every_array_covered() -> None:
    study = van(TWO)
    plan = isolate(study, "S5")
    assert [step.action.part for step in plan.steps] == ["Y1", "Y2"]
    assert plan.is_enough
    assert plan.reached_by == ("Y1", "Y2")
    # A controller is dead at its input as well.
    assert isolate(study, "U1").terminals == ("U1+", "U1.in")
