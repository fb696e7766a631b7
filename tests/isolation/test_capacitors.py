"""Capacitors: what fills through a lamp across an open disconnect, what keeps volts when parted."""

import pytest

from rigfolio.answers.isolate import isolate_report
from rigfolio.isolation import charged, closing, isolate
from rigfolio.judgement.result import understood
from rigfolio.reports.terminal import as_text

TEXT = """
rig "Bench"
    system 12 V
battery B1 flooded, 100 Ah
disconnect S1 100 A
panel P1 4 slots
busbar N1 200 A
wire B1+ to S1.line 6 AWG red 1 ft, fuse 100 A at B1+
wire S1.load to P1 6 AWG red 1 ft
wire N1 to B1- 6 AWG black 1 ft
circuit P1.1 "Radio" fuse 5 A
    wire 16 AWG red 3 ft
    load "Radio" 1 A, electronics
"""
INVERTER = """
inverter I1 "Inverter" 600 W, intermittent
wire {} to I1+ 4 AWG red 3 ft, fuse 80 A at {}
wire I1- to N1 4 AWG black 3 ft
"""


def filled(more: str = "") -> tuple[str, ...]:
    study = understood("bench.rig", text=TEXT + more).study
    assert study is not None
    plan = isolate(study, "P1", kind="panel")
    assert [step.action.part for step in plan.steps if step.action.part == "S1"] == ["S1"]
    return closing(study, plan, "S1").fills


def test_an_inverter_behind_the_disconnect_fills_and_one_ahead_of_it_is_full() -> None:
    assert filled(INVERTER.format("S1.load", "S1.load")) == ("I1 Inverter",)
    assert filled(INVERTER.format("B1+", "B1+")) == ()


def test_a_slot_whose_fuse_is_out_fills_nothing() -> None:
    assert filled() == ()


def test_a_charger_on_the_feed_fills_too() -> None:
    line = 'charger C1 "Converter" 45 A\nwire C1+ to P1 6 AWG red 3 ft, fuse 50 A at P1\n'
    assert filled(line + "wire C1- to N1 6 AWG black 3 ft\n") == ("C1 Converter",)


@pytest.mark.parametrize(
    ("line", "fills"),
    [
        ("charger C1 45 A\nwire C1+ to B1+ 6 AWG red 3 ft, fuse 50 A at B1+\n"
         "wire C1- to N1 6 AWG black 3 ft\n", ()),
        ("alternator A1 45 A\nwire A1+ to P1 6 AWG red 3 ft, fuse 50 A at P1\n"
         "wire A1- to N1 6 AWG black 3 ft\n", ()),
        ("dc-dc E1 20 A, from 12 V to 24 V\n"
         "wire S1.load to E1.in 8 AWG red 3 ft, fuse 50 A at S1.load\n"
         "wire E1- to N1 8 AWG black 3 ft\n", ("E1",)),
    ],
    ids=["a charger ahead of it is full", "an alternator has none", "a converter by its input"],
)  # fmt: skip
def test_only_what_has_capacitors_and_gets_its_feed_by_closing_fills(line, fills) -> None:
    assert filled(line) == fills


@pytest.mark.parametrize(
    ("more", "place", "held"),
    [
        (INVERTER.format("S1.load", "S1.load"), "I1", ("I1 Inverter",)),
        # By a wire it keeps the dead panel at volts as well; ahead of the disconnect it does not.
        (INVERTER.format("S1.load", "S1.load"), "P1", ("I1 Inverter",)),
        (INVERTER.format("B1+", "B1+"), "P1", ()),
        # A radio is empty at once, an alternator has none.
        ("", "P1", ()),
        ("alternator A1 45 A\nwire A1+ to P1 6 AWG red 3 ft, fuse 50 A at P1\n"
         "wire A1- to N1 6 AWG black 3 ft\n", "P1", ()),
        ("charger C1 45 A\nwire C1+ to P1 6 AWG red 3 ft, fuse 50 A at P1\n"
         "wire C1- to N1 6 AWG black 3 ft\n", "P1", ("C1",)),
        ("turbine T1 45 A\nwire T1+ to P1 6 AWG red 3 ft, fuse 50 A at P1\n"
         "wire T1- to N1 6 AWG black 3 ft\n", "P1", ("T1",)),
        ("dc-dc E1 20 A, from 12 V to 24 V\n"
         "wire S1.load to E1.in 8 AWG red 3 ft, fuse 50 A at S1.load\n"
         "wire E1- to N1 8 AWG black 3 ft\n", "S1.load", ("E1",)),
    ],
)  # fmt: skip
def test_what_keeps_volts_for_minutes_is_told_before_anybody_touches_it(more, place, held) -> None:
    # Makers of inverters ask for a wait, and for a resistor when they are joined (common practice).
    study = understood("bench.rig", text=TEXT + more).study
    assert study is not None
    plan = isolate(study, place)
    assert charged(study, plan) == held
    told = " ".join(as_text(isolate_report(study, place)).split())
    assert ("keep volts for minutes in" in told) == ("lamp or a resistor" in told) == bool(held)


DRAWS = """
circuit S1.load "Gas alarm" fuse 2 A after 4 in
    wire 16 AWG pink 3 ft
    load "Gas detector" 0.2 A
circuit S1.load "Bilge pump" fuse 5 A after 4 in, always on
    wire 16 AWG brown 3 ft
    switch SW1 "Float"{}
    wire 16 AWG brown 3 ft
    load "Bilge pump" 3 A, intermittent
circuit S1.load "Stereo" fuse 5 A after 4 in
    wire 16 AWG blue 3 ft
    load "Stereo" 2 A, takes 0.05 A at rest
circuit P1.2 "Smoke alarm" fuse 2 A
    wire 16 AWG blue 3 ft
    load "Smoke detector" 0.1 A
"""


@pytest.mark.parametrize(
    ("rests", "more"), [(", rests open", ()), (", rests closed", ("Bilge pump",)), ("", ())]
)
def test_what_has_no_switch_draws_at_once(rests: str, more: tuple[str, ...]) -> None:
    study = understood("bench.rig", text=TEXT + DRAWS.format(rests)).study
    assert study is not None
    found = closing(study, isolate(study, "P1", kind="panel"), "S1").draws
    # A slot whose fuse is out draws nothing.
    assert {load.about.label for load in found} == {"Gas detector", "Stereo", *more}
