"""What feeds a rig stands at volts of its own: a charger is not high because its bank is."""

from functools import cache
from math import hypot

import pytest

from helpers.searches import diagnosed
from helpers.studies import heard, study_from
from rigfolio.books import figure
from rigfolio.diagnosis import Diagnosis, Evidence
from rigfolio.diagnosis.choice import next_reading, predictions
from rigfolio.diagnosis.scenes import levels_of, rest_of
from rigfolio.isolation import CLOSED, Open
from rigfolio.operating import NOTHING_WRONG, Scene
from rigfolio.study import Study

# 8 AWG has 0.628 ohm in 1000 ft, 6 AWG 0.395 (NFPA 70 chapter 9 table 8, stranded copper at 75 °C:
# 0.778 and 0.491; at 20 °C about 0.81 of that). Out and back 8 ft and 6 ft: some 8 mohm, and 5 mohm
# of the bank: 40 A of the charger make no more than 0.5 V between the two.
MINI = """
rig "Mini"
    system 12 V
    rules  rv
battery B1 "House" flooded, 220 Ah, internal 5 mohm
charger C1 "Converter" 40 A, 13.6 V
panel P1 4 slots of 20 A
busbar N1 100 A
wire W1 B1+ to P1 6 AWG red 3 ft, fuse 50 A at B1+
wire W2 B1- to N1 6 AWG black 3 ft
wire W7 C1+ to P1 8 AWG black 4 ft, fuse 50 A at P1
wire W8 C1- to N1 8 AWG white 4 ft
state shore C1 on
"""
ON_ITS_WAY = {"W7", "W7 fuse", "W8"}

TWO = """
rig "Two banks"
    system 12 V
    rules  rv
battery B1 flooded, 100 Ah, internal 5 mohm
battery B2 flooded, 100 Ah, internal 5 mohm
charger C1 20 A, 13.8 V
disconnect S1 100 A
busbar N1 200 A
wire W1 B1+ to S1.line 6 AWG red 1 ft
wire W2 B2+ to S1.load 6 AWG red 1 ft
wire W3 C1+ to B1+ 10 AWG red 2 ft
wire N1 to B1- 6 AWG black 1 ft
wire N1 to B2- 6 AWG black 1 ft
wire N1 to C1- 10 AWG black 2 ft
"""


@cache
def mini() -> Study:
    return study_from(MINI)


def found(*lines: str) -> Diagnosis:
    return diagnosed(mini(), heard(mini().rig, *lines))


def share(told: Diagnosis, names: set[str]) -> float:
    return sum(o.share for o in told.verdicts if o.touches and {f.name for f in o.faults} <= names)


@pytest.mark.parametrize(
    "lines",
    [
        ("C1 = 13.6 V, in shore", "P1 = 12.4 V, in shore"),
        ("C1 = 13.6 V, in shore", "B1 = 12.2 V, in shore"),
        ("C1+ to P1 feed = 1.2 V, in shore",),
        ("C1+ to P1 feed = 1.2 V, in shore", "B1 = 12.4 V, in shore"),
    ],
)
def test_a_charger_that_stands_far_above_its_bank_does_not_reach_it(lines: tuple[str, ...]) -> None:
    told = found(*lines)
    assert told.fits
    where = ON_ITS_WAY if "P1" in " ".join(lines) else ON_ITS_WAY | {"W1", "W1 fuse", "W2"}
    assert share(told, where) > 0.9
    assert told.unlisted < 0.03


@pytest.mark.parametrize(
    "lines",
    [
        # A half full bank takes all that the charger gives, a full one next to nothing.
        ("C1 = 12.9 V, in shore", "B1 = 12.6 V, in shore"),
        ("C1 = 13.6 V, in shore", "B1 = 13.55 V, in shore"),
        ("C1 = 13.6 V, in shore", "B1 = 13.3 V, in shore"),
        ("B1 = 12.3 V",),
    ],
)
def test_whatever_a_bank_has_in_it_nothing_is_wrong(lines: tuple[str, ...]) -> None:
    told = found(*lines)
    assert told.fits
    assert not told.verdicts[0].touches, told.verdicts[:3]


def test_the_next_reading_shows_what_was_read_of_the_sources() -> None:
    # The charger stands 1.2 V above the slot: across an open fuse all of that is to be read.
    told = found("C1 = 13.62 V, in shore", "P1 = 12.41 V, in shore")
    choice = next_reading(told)
    assert choice is not None
    shown = [one for one in predictions(told, choice) if one.verdict.parts == ("W7 fuse",)]
    assert shown
    values = {round(abs(one.value), 1) for one in shown if one.verdict.faults[0].kind != "contact"}
    assert values <= {0.0, 1.2, 12.4, 13.6}


def test_banks_come_to_the_same_while_they_are_joined() -> None:
    study = study_from(TWO)
    joined = Scene(study, CLOSED, frozenset(), is_stated=True)
    apart = Scene(study, Open(frozenset({"S1"}), frozenset()), frozenset(), is_stated=True)
    assert joined.alike("B1") == joined.alike("B2") == {"B1", "B2"}
    assert apart.alike("B1") == {"B1"}
    assert apart.alike("C1") == joined.alike("C1") == {"C1"}
    for scenes in ((joined,), (apart,), (joined, apart), (apart, joined)):
        levels = levels_of(scenes)
        # Something may be wrong that parts them.
        assert len(levels) == 3
        for place, scene in enumerate(scenes):
            for name in scene.sources:
                moved = [dict(level[place]).get(name, 0.0) for level in levels]
                # Each source is off by half of what may be, whatever it is joined with.
                assert hypot(*moved) == pytest.approx(0.5)
    levels = levels_of((joined, apart))
    for place, scene in enumerate((joined, apart)):
        off = dict(rest_of(levels, [1.0, -0.5, 2.0])[place])
        assert len({off[name] for name in scene.alike("B1")}) == 1
    # A scene in which nobody read anything moves with nothing.
    assert all(level[0] == () for level in levels_of((None, apart)))


def test_a_source_is_moved_by_itself() -> None:
    evidence = Evidence(mini(), heard(mini().rig, "C1 = 13.6 V, in shore", "B1 = 13 V"))
    nothing = evidence.expected(*_nothing(evidence))
    by_source = {
        tuple(name for part in level for name, _ in part): moved
        for level, moved in zip(evidence.levels.under(NOTHING_WRONG), nothing.by_emf, strict=True)
    }
    # With the charger off the bank alone has volts: 12 V, half of its spread.
    bank = next(moved for names, moved in by_source.items() if "B1" in names)
    assert bank[1] == pytest.approx(0.5 * figure("rest", "spread") * 12.0, rel=0.02)
    charger = next(moved for names, moved in by_source.items() if set(names) == {"C1"})
    assert charger[1] == 0.0
    assert abs(charger[0]) > 0.01


def _nothing(evidence: Evidence) -> tuple[object, ...]:
    from rigfolio.diagnosis.suspects import suspects
    from rigfolio.operating import NOTHING_WRONG

    return suspects(mini())[0], NOTHING_WRONG, evidence.sound


@pytest.mark.parametrize("lines", [("C1 = 0 V, in shore",), ("C1 = 0.02 V, in shore", "P1 = 0 V")])
def test_a_dead_place_between_two_sources_takes_two_faults(lines: tuple[str, ...]) -> None:
    # A charger that is dead reads what its bank has, and a bank that is parted what its charger
    # gives: neither shows as 0 V, whatever the two do to a meter by themselves.
    told = found(*lines)
    best = told.verdicts[0]
    assert told.fits
    assert "C1" in {fault.name for fault in best.faults}
    assert len(best.faults) == 2
    assert told.unlisted < 0.5
    for one in told.verdicts:
        if len(one.faults) == 2 and one.share > 0.01:
            shown = told.evidence.solve_at(one.wrong, one.levels)
            probes = told.evidence.numeric
            assert all(abs(shown[p.scene].between_v(p.a, p.b)) < 0.3 for p in probes), one.faults
