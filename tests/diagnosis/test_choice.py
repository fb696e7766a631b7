"""What to read next: what it tells of the part to look at, and when nothing more is worth it."""

import re
from math import log2

import pytest

from helpers.forgotten import cache
from helpers.home import EXAMPLES
from helpers.searches import diagnosed
from helpers.studies import heard, studied, study_from
from rigfolio.answers.diagnose import _meanings
from rigfolio.answers.fault_words import verdict_name
from rigfolio.diagnosis.choice import Choice, choices, next_reading, predictions
from rigfolio.diagnosis.scenes import Scenes
from rigfolio.diagnosis.suspects import Suspect
from rigfolio.diagnosis.verdicts import Diagnosis, by_part
from rigfolio.operating import Shown, Wrong
from rigfolio.study import Study

RIG = """
rig "Bench"
    system 12 V
    rules vehicle
battery B1 agm, 100 Ah, internal 20 mohm
charger C1 15 A
panel P1 2 slots of 20 A
busbar N1 100 A
wire B1+ to P1 6 AWG red 1 ft, fuse 50 A at B1+
wire N1 to B1- 6 AWG black 1 ft
wire C1+ to P1 10 AWG red 3 ft, fuse 20 A at P1
wire C1- to N1 10 AWG black 3 ft
circuit P1.1 "Heater" fuse 10 A
    wire 14 AWG red 10 ft
    load "Element" 2 ohm
circuit P1.2 "Lamp" fuse 5 A
    wire 16 AWG blue 10 ft
    load "Lamp" 12 W
state shore  C1 on
"""


@cache
def bench() -> Study:
    return study_from(RIG)


def found(*lines: str, study: Study | None = None) -> Diagnosis:
    asked = study or bench()
    return diagnosed(asked, heard(asked.rig, *lines))


def unknown_bits(told: Diagnosis) -> float:
    """What is unknown of the part to look at, by Shannon's formula."""
    return -sum(share * log2(share) for _, share in by_part(told) if share > 0.0)


def untouched(told: Diagnosis) -> float:
    return sum(one.share for one in told.verdicts if not one.touches)


def test_no_reading_tells_more_of_the_part_than_is_unknown_of_it() -> None:
    for lines in (("Lamp dead",), ("Element = 9.8 V", "P1.1 = 12.3 V"), ("everything dim",)):
        told = found(*lines)
        every = choices(told)
        assert every
        assert all(0.0 <= one.bits <= unknown_bits(told) + 0.05 for one in every)


def test_a_reading_across_one_of_two_wires_tells_which_of_them_it_is() -> None:
    # What is lost between slot and lamp is lost on the way out or on the way back. Volts across
    # either leave nothing open: they tell all that is unknown, but for pairs of faults.
    told = found("Lamp = 3 V", "P1.2 = 12.4 V")
    choice = next_reading(told)
    assert choice is not None
    assert {choice.a, choice.b} in ({"P1.2", "P1.2~1"}, {"P1.2~1-", "N1"})
    assert choice.bits == pytest.approx(unknown_bits(told), rel=0.1)


def test_joint_and_break_of_one_wire_are_one_place_to_look_at() -> None:
    # Both are in the same wire: whether it conducts a little or not at all tells no part apart.
    told = found("Lamp = 0 V", "P1.2 = 12.4 V", "P1.2 to P1.2~1 = 12.4 V")
    parts = {one.parts for one in told.verdicts if one.share > 0.02}
    assert parts == {("P1.2/1",)}
    assert next_reading(told) is None


def test_what_tells_next_to_nothing_is_not_asked_for() -> None:
    told = found("Lamp = 0 V", "P1.2 = 12.4 V", "P1.2 to P1.2~1 = 12.4 V")
    assert all(one.bits < 0.1 for one in choices(told))


def test_where_a_state_is_named_its_chargers_run() -> None:
    # A charger holds a 12 V bank at some 13.2 to 14.4 V; without it a full bank rests at 12.7 V.
    assert untouched(found("B1 = 13.6 V, in shore")) > 0.5
    # 15 A lift a bank that is half empty, at 12.1 V, over 20 mohm to 12.4 V: it may be so, just so.
    low = found("C1 = 12.5 V, in shore")
    assert untouched(low) < 0.7
    assert {one.faults[0].kind for one in low.verdicts[:2]} == {"dead source", "flat"}
    assert untouched(found("B1 = 12.5 V")) > 0.7
    lost = found("B1 = 12.5 V, in shore", "C1 = 12.5 V, in shore")
    assert ("dead source", "C1") in {(f.kind, f.name) for f in lost.verdicts[0].faults}


def test_a_converter_holds_its_volts_whatever_charges_its_input() -> None:
    # 12.8 V on the plate of E1, held to 2 %; the sun lifts the 48 V bank, not what E1 gives. What
    # is missing at a slot is lost on the way, however high the bank stands.
    study = studied(EXAMPLES / "lapwing-cabin.rig")
    told = found("P2.1 = 11.9 V, in home", study=study)
    assert untouched(told) < 0.1
    assert told.verdicts[0].faults[0].kind in ("joint", "contact")


@pytest.mark.parametrize(
    "lines", [("Lamp dead",), ("Lamp dim", "Lamp flickers"), ("Element = 9.8 V",), ("B1 is dead",)]
)
def test_every_figure_that_is_told_is_one_that_a_named_fault_gives(lines: tuple[str, ...]) -> None:
    """The network with that fault put in gives it, at an amount that the readings leave open."""
    told = found(*lines)
    choice = next_reading(told)
    assert choice is not None
    evidence = told.evidence
    on = frozenset() if choice.how.endswith("at rest") else evidence.onward.scene.on
    scene = Scenes(evidence.study).of(evidence.onward.standing, on)

    def solved(wrong: Wrong, levels: tuple[float, ...]) -> Shown:
        # Sources stand where the readings leave them if just that is wrong.
        rest = evidence.levels.rest(wrong, levels)[evidence.onward.place]
        return scene.solve(wrong, rest=rest)

    def meter(fault: Suspect, amount: float, levels: tuple[float, ...]) -> float:
        shown = solved(fault.wrong(amount), levels)
        if choice.how == "amperes at rest":
            return shown.given_a(choice.a) + (fault.drain_a if fault.name not in on else 0.0)
        return shown.between_v(choice.a, choice.b)

    of: dict[str, list[float]] = {}
    for one in predictions(told, choice):
        ways = [(trial.amount, evidence.fit.stand_at(trial.expected))
                for share, trial in one.verdict.trials if share > 0.01]  # fmt: skip
        fault = one.verdict.faults[0]
        if len(one.verdict.faults) > 1:
            both = solved(one.verdict.wrong, one.verdict.levels)
            assert one.value == pytest.approx(both.between_v(choice.a, choice.b), abs=1e-9)
            of[verdict_name(evidence.study, one.verdict)] = [one.value]
            continue
        likely = ways if one.verdict.touches else []
        best = (one.verdict.amounts[0], one.verdict.levels)
        shown = [meter(fault, *way) for way in (best, *likely)]
        ends = (one.value, one.low, one.high)
        assert ends == pytest.approx((shown[0], min(shown), max(shown)), abs=1e-9)
        of[verdict_name(evidence.study, one.verdict)] = shown
    for item in _meanings(told, choice):
        words = item.mark.replace("\N{MINUS SIGN}", "-")[:-2]
        named = [v for name in item.words.split(" and ")[0].split(", ") for v in of.get(name, ())]
        for figure in re.split(" to | or ", words):
            assert any(f"{each + 0.0:.2f}" == figure for each in named), (item, named)


def test_what_a_blown_fuse_shows_across_it_is_all_of_the_battery() -> None:
    # An agm bank from half full to full rests at 12.42 V (1.035 of 12 V); behind a fuse that is
    # blown nothing flows, so all of it stands across the fuse, and none where the lamp is dead.
    told = found("Lamp dead")
    choice = Choice("volts", "B1+", "P1.2", 1.0, 1.0)
    shown = {one.verdict.faults[0].kind: one for one in predictions(told, choice)}
    assert (shown["open device"].low, shown["open device"].high) == pytest.approx(
        (12.42, 12.42), abs=1e-3
    )
    assert shown["dead load"].value == pytest.approx(0.0, abs=1e-6)
