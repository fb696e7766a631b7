"""A plug that is pulled leaves the half of the vehicle live; hands on the plug need its fuses out.

By hand means: follow the wires from the plus post of the vehicle with a finger.
"""

import pytest

from helpers.studies import study_from
from helpers.tow_rigs import TOW
from rigfolio.isolation import isolate


def live_from(plan, source):
    return {end for one in plan.stays_live if source in one.sources for end in one.part.terminals}


def test_hands_on_the_plug_need_the_fuses_of_both_halves_out():
    plan = isolate(study_from(TOW), "J1")
    assert {step.action.part for step in plan.steps} == {"W16 fuse", "W17 fuse", "W20 fuse"}
    assert plan.is_enough
    # The post itself; by hand: both fuses on it are out.
    assert "V1+" in live_from(plan, "V1")


@pytest.mark.parametrize("place", ["N2", "L1"])
def test_for_all_else_the_plug_is_pulled_and_its_far_half_stays_live(place):
    plan = isolate(study_from(TOW), place)
    assert "J1" in {step.action.part for step in plan.steps}
    assert {"V1+", "J1.1.line"} <= live_from(plan, "V1")


def test_the_post_of_the_vehicle_is_freed_by_unplugging_it():
    plan = isolate(study_from(TOW), "V1")
    assert "V1" in {step.action.part for step in plan.steps}


def test_without_a_plug_the_vehicle_is_unplugged_somewhere():
    lines = TOW.replace("connector J1 4 pins", "busbar J1\nbusbar J2\nbusbar J3")
    for pin, bar in (("J1.1", "J1"), ("J1.2", "J2"), ("J1.3", "J3")):
        lines = lines.replace(f"{pin} ", f"{bar} ")
    plan = isolate(study_from(lines), "N2")
    assert "V1" in {step.action.part for step in plan.steps}
