"""Which loads are on for a reading, and from which battery it is taken."""

import math
from collections.abc import Mapping

import pytest

from helpers.studies import study_from
from rigfolio.operating import Stage, short_stages, stages

HEAD = 'rig "Bench"\n    system 12 V\n    rules rv\n'
PANEL = """battery B1 agm, 100 Ah, internal 20 mohm
panel P1 6 slots of 20 A
busbar N1 100 A
wire B1+ to P1 6 AWG red 1 ft, fuse 50 A at B1+
wire N1 to B1- 6 AWG black 1 ft
circuit P1.1 "Fan" fuse 10 A
    wire 14 AWG red 10 ft
    load "Fan" 1 A
circuit P1.2 "Small pump" fuse 5 A
    wire 14 AWG red 10 ft
    load "Small pump" 3 A, intermittent
circuit P1.3 "Large pump" fuse 10 A
    wire 14 AWG red 10 ft
    load "Large pump" 7 A, intermittent
circuit P1.4 "Horn" fuse 15 A
    wire 14 AWG red 10 ft
    load "Horn" 9 A, momentary
"""
BANKS = """charger C1 30 A
battery B9 agm, 100 Ah
battery B1 agm, 100 Ah
busbar N1 100 A
load L1 "Horn" 8 A
load L9 "Lamp" 1 A
wire C1+ to B1+ 8 AWG red 1 ft, fuse 40 A at B1+
wire C1- to N1 8 AWG black 1 ft
wire B9- to N1 8 AWG black 1 ft
wire B1- to N1 6 AWG black 1 ft
wire B1+ to L1+ 10 AWG red 2 ft, fuse 15 A at B1+
wire L1- to N1 10 AWG black 2 ft
wire B9+ to L9+ 10 AWG red 2 ft, fuse 15 A at B9+
wire L9- to N1 10 AWG black 2 ft
"""


def staged(text: str) -> Mapping[str, Stage]:
    return {stage.title: stage for stage in stages(study_from(HEAD + text))}


def test_with_what_runs_for_hours_the_largest_of_the_others_is_on() -> None:
    # The book of the trailer counts so: all that runs on, and of the rest the largest. A horn runs
    # no longer than it is pressed. 1 A and 7 A, 15 % more or less, and a meter half a per cent off.
    (step,) = staged(PANEL)["All that can run together"].steps
    assert step.do == "on: P1.1 Fan; P1.3 Large pump"
    (amps,) = (point for point in step.points if point.unit == "A")
    assert (amps.low, amps.high) == pytest.approx((8.0 * 0.85, 8.0 * 1.15), rel=0.01)
    assert amps.taken == ", with P1.1, P1.3 on"
    # Down the feed: the panel, the holder, the fuse, the wire behind it, and the way back.
    assert [(point.a, point.b) for point in step.points] == [
        ("P1", "N1"), ("B1+", "B1+/P1.fuse.load"), ("B1+/P1 fuse", ""),
        ("B1+/P1.fuse.load", "P1"), ("N1", "B1-"),
    ]  # fmt: skip


@pytest.mark.parametrize(("duty", "is_asked"), [("intermittent", True), ("momentary", False)])
def test_where_nothing_runs_for_more_than_a_moment_nothing_is_read_together(
    duty: str, is_asked: bool
) -> None:
    bare = PANEL.partition("circuit P1.1")[0]
    horn = (
        f'circuit P1.1 "Horn" fuse 15 A\n    wire 14 AWG red 10 ft\n    load "Horn" 9 A, {duty}\n'
    )
    assert ("All that can run together" in staged(bare + horn)) is is_asked


def test_a_circuit_without_a_fuse_of_its_own_has_none_to_put_in() -> None:
    bare = 'circuit P1 "Bare"\n    wire 10 AWG red 3 ft\n    load "Bare" 1 A\n'
    steps = staged(PANEL + bare)["One fuse at a time"].steps
    # The smallest first, of equal ones as the slots come.
    assert [step.circuit for step in steps] == ["P1.2", "P1.1", "P1.3", "P1.4"]


def test_what_a_lone_load_loses_is_read_from_the_post_of_its_own_battery() -> None:
    # The charger stands first in the text, and the other battery before the one that is meant.
    steps = staged(BANKS)["Each load by itself"].steps
    for step, post in zip(steps, ("B1", "B9"), strict=True):
        ends = [(point.a, point.b) for point in step.points if point.unit == "V"]
        load = step.do.split()[0]
        assert ends == [
            (f"{load}+", f"{load}-"), (f"{post}+", f"{load}+"), (f"{load}-", f"{post}-"),
        ]  # fmt: skip


PAIR = """circuit P1.5 "Galley" fuse 10 A
    wire 14 AWG red 10 ft
    load "Lamp" {}
    load "Fridge" {}
    load "Riddle" ? A
circuit P1.6 "Winch" breaker 15 A
    wire 14 AWG red 10 ft
    load "Winch" 6 A, momentary
"""


@pytest.mark.parametrize(
    ("lamp", "fridge", "largest"),
    [("1 A", "4 A", "Fridge"), ("4 A", "1 A", "Lamp"), ("12 W", "3 ohm", "Fridge")],
)
def test_a_circuit_is_read_across_its_largest_load_with_all_on_that_is_known(
    lamp: str, fridge: str, largest: str
) -> None:
    study = study_from(HEAD + PANEL + PAIR.format(lamp, fridge))
    found = {stage.title: stage for stage in short_stages(study)}
    (step,) = (s for s in found["Each circuit, one fuse at a time"].steps if s.circuit == "P1.5")
    (point,) = step.points
    assert point.a == study.rig.by_name.loads[largest].plus
    assert point.on == {"Lamp", "Fridge"}


@pytest.mark.parametrize(
    ("loads", "least_ohm"),
    [
        # A tenth of what it has hot: a cold filament (common practice). 12 V over 5 A are 2.4 ohm.
        (("1 A", "4 A"), 0.24), (("12 W", "3 ohm"), 0.24), (("0.5 A",), 2.4), (("0.1 A",), 12.0),
        # Of what nobody knows no more can be told than that it is no way back: half an ohm.
        (("1 A", "? A"), 0.5), (("? A", "4 A"), 0.5), (("? A",), 0.5),
    ],
)  # fmt: skip
def test_a_dead_circuit_has_a_tenth_of_the_ohms_of_its_loads_or_more(
    loads: tuple[str, ...], least_ohm: float
) -> None:
    text = HEAD + PANEL + 'circuit P1.5 "Galley" fuse 10 A\n    wire 14 AWG red 10 ft\n'
    text += "".join(f'    load "Lamp {number}" {draws}\n' for number, draws in enumerate(loads))
    (found,) = (step for step in stages(study_from(text))[0].steps if step.circuit == "P1.5")
    assert [(point.low, point.high) for point in found.points] == [
        (pytest.approx(least_ohm), math.inf)
    ]


def test_a_panel_behind_panels_is_read_from_the_last_slot_on() -> None:
    more = "".join(
        f'circuit P{one}.6 "To P{one + 1}" fuse 10 A\n    wire 10 AWG red 9 ft to P{one + 1}\n'
        f"panel P{one + 1} 6 slots of 20 A\n"
        for one in (1, 2)
    )
    steps = staged(PANEL + more)["The feed alone"].steps
    told = {step.of: [point.a for point in step.points] for step in steps}
    assert told["P2"] == ["P1.6", "P2"]
    assert told["P3"] == ["P2.6", "P3"]


def test_what_runs_a_moment_is_on_no_longer_than_it_takes_to_read() -> None:
    # Both forms of the test, and the loads that run on are told without it.
    study = study_from(HEAD + PANEL + PAIR.format("1 A", "8 A"))
    full = {stage.title: stage for stage in stages(study)}["Each load by itself"].steps
    short = {stage.title: stage for stage in short_stages(study)}["Heavy loads, each by itself"]
    told = {step.circuit: step.do for step in full}
    assert told["P1.4"] == "P1.4 on: Horn, no longer than it takes to read"
    assert told["P1.3"] == "P1.3 on: Large pump"
    assert [step.do for step in short.steps] == [
        "Horn, no longer than it takes to read", "Galley: Fridge",
    ]  # fmt: skip
    assert [step.of for step in short.steps] == ["P1", "P1"]


def test_a_panel_that_holds_both_has_both_out() -> None:
    feed = {stage.title: stage for stage in stages(study_from(HEAD + PANEL))}["The feed alone"]
    assert feed.steps[0].do == "feed of P1, all its fuses out"
    study = study_from(HEAD + PANEL + PAIR.format("1 A", "8 A"))
    feed = {stage.title: stage for stage in stages(study)}["The feed alone"]
    assert feed.steps[0].do == "feed of P1, all its fuses out and breakers off"


def test_the_short_test_tells_of_each_circuit_which_fuse_goes_in() -> None:
    bare = 'circuit P1 "Bare"\n    wire 10 AWG red 3 ft\n    load "Bare" 1 A\n'
    found = {stage.title: stage for stage in short_stages(study_from(HEAD + PANEL + bare))}
    told = {step.circuit: step.do for step in found["Each circuit, one fuse at a time"].steps}
    # Colours of blades by ISO 8820-3: 5 A tan, 10 A red, 15 A blue.
    assert told == {
        "P1.1": "P1.1 Fan: 10 A red fuse in",
        "P1.2": "P1.2 Small pump: 5 A tan fuse in",
        "P1.3": "P1.3 Large pump: 10 A red fuse in",
        "P1.4": "P1.4 Horn: 15 A blue fuse in",
        "circuit P1": "circuit P1 Bare",
    }
