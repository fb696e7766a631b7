"""What the device of a slot must be rated, worked out by hand.

A fuse carries for hours no more than 80 % of its rating (as the book of fuses has it); blades are
made of 5, 7.5, 10, 15, 20, 25 and 30 A (ISO 8820-3). The slots are made for 20 A.
"""

import pytest

from helpers.studies import study_from
from rigfolio.sizing.fuses import CONTINUOUS, DeviceDuty, duty_of

SLOT = """rig "Bench"
    system 12 V
    rules rv
battery B1 agm, 100 Ah
fuse F1 50 A on B1+
busbar N1 100 A
panel P1 4 slots of 20 A, negative N1
wire F1.load to P1 6 AWG red 1 ft
wire B1- to N1 6 AWG black 1 ft
circuit P1.1 "Lamps" fuse {} A
    wire 10 AWG red 5 ft
"""


def duty(fuse: str, load: str) -> DeviceDuty:
    study = study_from(SLOT.format(fuse) + (f"    load {load}\n" if load else ""))
    device = study.device("P1.1")
    assert device is not None
    return duty_of(study, device)


@pytest.mark.parametrize(
    ("load", "needed_a", "by", "least_a"),
    [
        # 8 A for hours are 80 % of 10 A; 8 A now and then ask for 8 A, the next blade is 10 A.
        ("8 A, continuous", 10.0, CONTINUOUS, 10.0),
        ("8 A, intermittent", 8.0, "fuse-overloaded", 10.0),
        ("7.5 A, intermittent", 7.5, "fuse-overloaded", 7.5),
        ("8.1 A, 3 h/day", 10.125, CONTINUOUS, 15.0),
        ("8.1 A, 2 h/day", 8.1, "fuse-overloaded", 10.0),
        ("8.1 A", 8.1, "fuse-overloaded", 10.0),
        # 16 A are 80 % of all that the slot takes.
        ("16 A, continuous", 20.0, CONTINUOUS, 20.0),
    ],
)
def test_what_runs_for_hours_asks_for_a_quarter_more(
    load: str, needed_a: float, by: str, least_a: float
) -> None:
    found = duty("10", load)
    assert found.needed_a == pytest.approx(needed_a)
    assert (found.by, found.least_a, found.most_a, found.strained_a) == (by, least_a, 20.0, 0.0)
    assert found.is_possible


def test_where_the_slot_takes_no_more_the_share_is_told_and_the_demand_decides() -> None:
    # 17 A for hours ask for 21.25 A, and so for a blade of 25 A, which the slot is not made for.
    found = duty("20", "17 A, continuous")
    assert (found.needed_a, found.by, found.least_a) == (17.0, "fuse-overloaded", 20.0)
    assert found.strained_a == 17.0
    assert found.is_possible


@pytest.mark.parametrize("load", ["20.1 A, intermittent", "22 A"])
def test_more_than_the_slot_takes_has_no_fuse(load: str) -> None:
    found = duty("20", load)
    assert not found.is_possible
    assert found.strained_a == 0.0
    assert found.start_a() == 20.0


@pytest.mark.parametrize(
    ("fuse", "load", "start_a"),
    [
        # What may stay stays, more than the least as well.
        ("10", "8 A", 10.0), ("15", "8 A", 15.0), ("20", "8 A", 20.0),
        # What is too small becomes the least that does, what is too large the most of the slot.
        ("5", "8 A", 10.0), ("30", "8 A", 20.0),
        # What nobody has read begins at the least; with nothing on it there is none.
        ("?", "8 A", 10.0), ("?", "", None), ("10", "", 10.0),
        # What the text does not say to run on leaves a blade, and gets some to spare from the next.
        ("10", "8.1 A", 10.0), ("5", "8.1 A", 15.0), ("?", "8.1 A", 15.0), ("?", "17 A", 20.0),
        ("10", "8.1 A, continuous", 15.0), ("?", "8.1 A, intermittent", 10.0),
    ],
)  # fmt: skip
def test_the_rating_to_begin_with(fuse: str, load: str, start_a: float | None) -> None:
    assert duty(fuse, load).start_a() == start_a


def test_the_largest_within_a_limit_carries_what_it_must_or_there_is_none() -> None:
    found = duty("20", "8 A")
    assert [found.below(limit_a) for limit_a in (9.9, 10.0, 14.9, 15.0, 22.0)] == [
        None, 10.0, 10.0, 15.0, 20.0,
    ]  # fmt: skip
    assert [found.allows(rating_a) for rating_a in (7.5, 10.0, 20.0, 25.0)] == [
        False, True, True, False,
    ]  # fmt: skip


def test_a_slot_without_a_load_is_not_used_and_possible() -> None:
    found = duty("10", "")
    assert not found.is_used
    assert found.is_possible
    assert found.least_a is None
