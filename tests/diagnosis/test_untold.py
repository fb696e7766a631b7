"""A battery is not called flat by volts under load that a sound one may have.

Usual of lead-acid are 12.6 mohm at most for 100 Ah, as the books cite it: a sound starter battery
of 70 Ah may lose 3.2 V at 180 A.
"""

import pytest

from helpers.searches import diagnosed
from helpers.studies import heard, study_from
from rigfolio.answers.diagnose import diagnosis_report
from rigfolio.answers.short import short_report
from rigfolio.reports.terminal import as_text
from rigfolio.rule import judge
from rigfolio.wording import unknown_inside

BOAT = """rig "Boat"
    system 12 V
    rules boat
battery B1 "Starter" flooded{battery}
wire B1+ to M1+ 1/0 AWG red 4 ft, cranking
load M1 "Starter motor" 180 A, momentary
wire M1- to B1- 1/0 AWG black 4 ft, cranking
"""


def shares(battery: str, reading: str) -> dict[str, float]:
    """How likely each kind of fault is."""
    study = study_from(BOAT.format(battery=battery))
    found: dict[str, float] = {}
    for one in diagnosed(study, heard(study.rig, reading)).verdicts:
        kind = "+".join(each.kind for each in one.faults)
        found[kind] = found.get(kind, 0.0) + one.share
    return found


def times(battery: str) -> float:
    """How many times as likely flat is as sound once the volts under load are read."""
    told = shares(battery, "B1+ = 10.4 V, with M1 on")
    return told["flat"] / told["nothing"]


def test_a_sound_battery_that_falls_as_it_may_is_not_called_flat() -> None:
    """A battery is taken as flat no sooner than as sound: that begins at eight tenths of it.

    Volts that a sound battery may have as well move that little, by a factor of two for those at a
    deviation from the middle; where nothing is usual of it they do not move it at all.
    """
    assert times("") == pytest.approx(0.8, rel=0.1)
    assert times("") < times(", 70 Ah") < 2.0 * times("")
    assert times(", 70 Ah, internal 2 mohm") > 15.0


@pytest.mark.parametrize("battery", ["", ", 70 Ah", ", 70 Ah, internal 2 mohm"])
def test_at_rest_it_is_judged_whatever_it_has_inside(battery: str) -> None:
    told = shares(battery, "B1+ = 10.4 V, with all off")
    assert told["nothing"] < 0.1


def test_what_is_not_known_is_said_in_the_same_words_by_all_that_ask_for_it() -> None:
    text = BOAT.format(battery="") + 'fuse F1 10 A\nwire B1+ to F1 14 AWG red ? ft\n' + (
        'circuit F1.load "Lamp"\n    wire 14 AWG red ? ft\n    load "Anchor lamp" 5 A\n'
    )  # fmt: skip
    study = study_from(text)
    readings = heard(study.rig, "Anchor lamp = 11 V, with Anchor lamp on")
    inside = unknown_inside("B1")
    diagnosed = " ".join(as_text(diagnosis_report(study, readings)).split())
    shorted = " ".join(as_text(short_report(study, "Anchor lamp")).split())
    assert f"not known: {inside}" in diagnosed
    assert f"Not known: {inside}" in shorted
    assert any(inside in one.fix.text for one in judge(study) if one.fix is not None)
    for words in (diagnosed, shorted):
        assert "size or length of " in words
        assert "which count as without resistance" in words
