"""What a battery has inside that does not say it: readings under load leave room for that.

Usual of lead-acid is a short-circuit current of 1000 to 4000 A for 100 Ah (an article of a supplier
of off-grid systems, as the books cite it): 70 Ah have 12.6 / 0.7 = 18 mohm at most, so that 180 A
take 3.2 V of it. Where no capacity is known, nobody knows how far it falls.
"""

import pytest

from helpers.studies import study_from
from rigfolio.operating import bounds_words, judged_bounds
from rigfolio.operating.readings.test_points import MeterPoint
from rigfolio.swap.roof import every_stage

BOAT = """rig "Boat"
    system 12 V
    rules boat
battery B1 "Starter" flooded{battery}
panel P1 4 slots of 30 A, negative N1
busbar N1 100 A
wire B1+ to P1 6 AWG red 2 ft, fuse 50 A at B1+
wire N1 to B1- 6 AWG black 4 ft
wire B1+ to M1+ 1/0 AWG red 4 ft, cranking
load M1 "Starter motor" 180 A, momentary
wire M1- to B1- 1/0 AWG black 4 ft, cranking
circuit P1.1 "Lamp" fuse 7.5 A
    wire 14 AWG red 20 ft
    load "Lamp" {lamp}
"""


def readings(battery: str, lamp: str = "5 A") -> dict[tuple[str, str, str], MeterPoint]:
    study = study_from(BOAT.format(battery=battery, lamp=lamp))
    points = [one for stage in every_stage(study) for step in stage.steps for one in step.points]
    return {(one.entry, one.taken, one.unit): one for one in points if one.unit != "ohm"}


def test_a_battery_may_have_inside_what_such_batteries_usually_have() -> None:
    told, untold = (readings(words)["M1 = ", ", with M1 on", "V"]
                    for words in (", 70 Ah, internal 0.1 mohm", ", 70 Ah"))  # fmt: skip
    # Loads may draw more than is stated as well, which takes as much more of the 3.2 V.
    fallen_v = told.low - untold.low
    assert 180 * 0.018 * 0.95 < fallen_v < 180 * 0.018 * 1.3
    assert untold.high == pytest.approx(told.high, abs=0.05)


@pytest.mark.parametrize("lamp", ["5 A", "60 W", "2.4 ohm"])
def test_of_a_battery_of_unknown_capacity_no_least_is_told_under_load(lamp: str) -> None:
    found = readings("", lamp)
    low, high = judged_bounds(found["Lamp = ", ", with P1.1 on", "V"])
    # Nothing but that it is live: less than a volt is a dead lamp.
    assert low == 1.0
    assert 12.0 < high < 13.0
    assert bounds_words(found["Lamp = ", ", with P1.1 on", "V"]).startswith("1.0 to 12.")
    # With nothing on it is at rest, and a wire loses what it loses wherever the current comes from.
    assert found["B1+ to N1 = ", ", with all off", "V"].low > 11.5
    assert found["N1 to B1- = ", ", with P1.1 on", "V"].high < 0.1


@pytest.mark.parametrize("inside", ["0.01 mohm", "3 mohm", "18 mohm"])
@pytest.mark.parametrize("lamp", ["5 A", "60 W", "2.4 ohm"])
def test_what_is_not_told_bounds_no_reading_that_may_be(inside: str, lamp: str) -> None:
    """Whatever it has inside of what is usual, what is expected then is among what is expected."""
    for battery in (", 70 Ah", ""):
        untold = readings(battery, lamp)
        for key, one in readings(f", 70 Ah, internal {inside}", lamp).items():
            low, high = judged_bounds(untold[key])
            assert low <= one.low + 0.05, key
            assert one.high - 0.05 <= high, key


@pytest.mark.parametrize("wire", ["?", "14 AWG red", "? red 20 ft"])
def test_behind_a_wire_that_nobody_read_no_least_is_told_but_that_it_is_live(wire: str) -> None:
    text = BOAT.replace("14 AWG red 20 ft", wire).format(
        battery=", 70 Ah, internal 5 mohm", lamp="5 A"
    )
    text += 'circuit P1.2 "Fan" fuse 5 A\n    wire 16 AWG red 4 ft\n    load "Fan" 2 A\n'
    stages = every_stage(study_from(text))
    points = [one for stage in stages for step in stage.steps for one in step.points]
    lamp = [one for one in points if one.entry == "Lamp = " and one.unit == "V"]
    fan = [one for one in points if one.entry == "Fan = " and one.unit == "V"]
    # Before a size that nobody read no fuse goes in; behind a length the lamp is read all the same.
    told = set() if wire.startswith("?") else {"1.0 to 12."}
    assert {bounds_words(one)[:10] for one in lamp} == told
    assert all(one.low > 11.0 for one in fan)
    assert not [one for one in points if one.a == "P1.1/Lamp-" and one.words.startswith("return")]
