"""A plug that is pulled leaves the half of the vehicle live; hands on the plug need its fuses out.

By hand means: follow the wires from the plus post of the vehicle with a finger.
"""

import pytest

from helpers.studies import study_from
from helpers.tow_rigs import TOW
from rigfolio.isolation import black_words, frame_words, isolate, isolate_ends, step_words
from rigfolio.wording import terminals_of


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


PLAIN = TOW.replace(", fuse 20 A at V1+", "").replace(", fuse 7.5 A at V1+", "")


def test_hands_on_the_half_of_the_vehicle_part_its_own_battery() -> None:
    study = study_from(PLAIN)
    for place in ("W16", "V1", "J1"):
        plan = isolate(study, place)
        (step,) = (one for one in plan.steps if one.action.part == "V1")
        assert "at its own battery" in step_words(study, step)
        assert "unplug the vehicle" not in step_words(study, step)
        assert plan.is_enough


@pytest.mark.parametrize(
    ("text", "place", "own"),
    [(PLAIN, "W16", True), (TOW, "W16", True), (TOW, "W17", False), (PLAIN, "W17", False)],
)
def test_what_is_proved_dead_is_measured_to_the_minus_of_its_own_half(
    text: str, place: str, own: bool
) -> None:
    study = study_from(text)
    words = black_words(study, isolate(study, place))
    assert ("J1.2.line" in words) == own
    assert words == "minus" or own
    frames = frame_words(study, isolate(study, place))
    assert frames == ("the frame of V1" if own else "the frame")


@pytest.mark.parametrize("text", [TOW, PLAIN])
@pytest.mark.parametrize("kept_off", [(), ("V1",)])
def test_unplugging_a_vehicle_leaves_its_half_live_unless_it_is_parted_there(
    text: str, kept_off: tuple[str, ...]
) -> None:
    study = study_from(text)
    for name in ("W16", "W17", "W20", "W21"):
        ends = terminals_of(study.rig, "wire", name).plus
        plan = isolate_ends(study, name, ends, kept_off)
        parts = {step.action.part for step in plan.steps}
        # By hand: the plus post of the vehicle is live while its plug is out.
        is_parted = "V1" in parts
        assert is_parted or "V1+" in live_from(plan, "V1")
        if name in ("W16", "W20"):
            assert is_parted or {"W16 fuse", "W20 fuse"} & parts
        else:
            assert not is_parted
