"""Drops alone, for hours and all at once: by hand, and in their order."""

import math

import pytest

from helpers.cables import SAE
from helpers.home import EXAMPLES
from helpers.studies import studied, study_from
from rigfolio.figures.scenarios import drops_by_scenario

# NFPA 70-2023 chapter 9 table 8, uncoated stranded copper at 75 °C (seen), in SAE cable.
OHM_PER_FT = {gauge: ohm / 1000.0 * SAE[gauge] for gauge, ohm in {"14": 3.14, "6": 0.491}.items()}
CAMP = """rig "Camp"
    system 12 V
    rules rv
    ambient 30 degC
battery B1 flooded, 100 Ah, internal 10 mohm
fuse F1 50 A on B1+
panel P1 4 slots of 20 A
busbar N1 100 A
wire F1.load to P1 6 AWG red 10 ft
wire N1 to B1- 6 AWG white 12 ft
circuit P1.1 "Fan" fuse 15 A
    wire 14 AWG blue 20 ft
    load "Fan" 4 A
circuit P1.2 "Pump" fuse 15 A
    wire 14 AWG blue 10 ft
    load "Pump" 6 A, intermittent
circuit P1.3 "Jack" fuse 20 A
    wire 14 AWG blue 10 ft
    load "Jack" 15 A, momentary
"""
LAMP = """circuit P1.4 "Lamp" fuse 15 A
    wire 14 AWG blue 10 ft
    load "Lamp" ? W
"""


def _lost_v(gauge, feet, current_a, most_a):
    """Heat balance: from 30 °C up to 75 °C with the square of the current (memory)."""
    hot_c = 30.0 + 45.0 * (current_a / most_a) ** 2
    return current_a * OHM_PER_FT[gauge] * feet * (234.5 + hot_c) / (234.5 + 75.0)


def test_three_scenarios_by_hand():
    """65 A warm 6 AWG from 30 to 75 °C, 20 A 14 AWG (NFPA 70 Table 310.16, seen)."""
    found = {one.load.about.name: one for one in drops_by_scenario(study_from(CAMP))}
    fan, pump, jack = (found[name] for name in ("Fan", "Pump", "Jack"))

    def whole(current_a, feeder_a, feet):
        own = _lost_v("14", 2 * feet, current_a, 20.0)
        return pytest.approx(own + _lost_v("6", 22, feeder_a, 65.0), rel=0.015)

    assert fan.alone_v == whole(4.0, 4.0, 20)
    assert fan.hours_v == whole(4.0, 4.0, 20)
    assert fan.at_once_v == whole(4.0, 10.0, 20)
    assert pump.alone_v == whole(6.0, 6.0, 10)
    assert pump.at_once_v == whole(6.0, 10.0, 10)
    assert jack.alone_v == whole(15.0, 15.0, 10)
    assert [one.scenarios for one in (fan, pump, jack)] == [{"hours", "all"}, {"all"}, set()]


def test_a_draw_that_nobody_knows_leaves_no_figure_where_it_is_on():
    found = {one.load.about.name: one for one in drops_by_scenario(study_from(CAMP + LAMP))}
    fan, lamp = found["Fan"], found["Lamp"]
    assert fan.alone_v is not None
    assert (fan.hours_v, fan.at_once_v) == (None, None)
    assert (lamp.alone_v, lamp.hours_v, lamp.at_once_v) == (None, None, None)


def test_a_load_that_pulls_the_volts_down_collapses():
    text = CAMP.replace('"Fan" 4 A', '"Fan" 600 W').replace(
        "14 AWG blue 20 ft", "14 AWG blue 90 ft"
    )
    fan = next(one for one in drops_by_scenario(study_from(text)) if one.load.about.name == "Fan")
    assert fan.alone_v == fan.at_once_v == math.inf


def test_a_length_that_nobody_knows_leaves_no_figure():
    study = study_from(CAMP.replace("14 AWG blue 20 ft", "14 AWG blue ? ft"))
    fan = next(one for one in drops_by_scenario(study) if one.load.about.name == "Fan")
    assert (fan.alone_v, fan.hours_v, fan.at_once_v) == (None, None, None)


@pytest.mark.parametrize("file", sorted(EXAMPLES.glob("*.rig")), ids=lambda file: file.stem)
def test_more_on_never_loses_less(file):
    compared = 0
    for one in drops_by_scenario(studied(file)):
        held = [v for v in (one.alone_v, one.hours_v, one.at_once_v) if v is not None]
        assert held == pytest.approx(sorted(held), abs=2e-6), one.load.about.name
        assert all(v > 0.0 for v in held), one.load.about.name
        compared += len(held) > 1
    assert compared > 5
