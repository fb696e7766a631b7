"""A complaint that the rig gives as it is written is told before any fault."""

from functools import cache
from pathlib import Path

import pytest

from helpers.home import FAULTY, RIGS
from helpers.searches import diagnosed
from helpers.studies import heard, studied, study_from
from rigfolio.answers.diagnose import diagnosis_report
from rigfolio.demand import balances, sags_of
from rigfolio.diagnosis.choice import next_reading
from rigfolio.reports import Listing, Report
from rigfolio.study import Study

RIG = """
rig "Siskin"
    system 12 V
    rules  rv
    sun    3 h/day
battery B1 agm, 60 Ah, internal 10 mohm
panel P1 4 slots of 20 A
busbar N1 100 A
array Y1 2 modules in series, open circuit 11 V, short circuit 3 A, 25 W, works at 9 V
solar U1 10 A, input 50 V
wire Y1+ to U1.in 12 AWG red 9 ft
wire Y1- to U1.in- 12 AWG black 9 ft
wire U1+ to P1 12 AWG red 3 ft, fuse 15 A at P1
wire U1- to N1 12 AWG black 3 ft
wire B1+ to P1 6 AWG red 2 ft, fuse 40 A at B1+
wire N1 to B1- 6 AWG black 2 ft
circuit P1.1 "Strip" fuse 5 A
    wire 18 AWG yellow {length} ft
    load "Strip" 30 W, led, 3 h/day
circuit P1.2 "Fridge" fuse 10 A
    wire 12 AWG red 9 ft
    load "Fridge" 40 W, motor, 12 h/day
"""


@cache
def siskin(length: int = 45) -> Study:
    return study_from(RIG.format(length=length))


def report(study: Study, *lines: str) -> Report:
    return diagnosis_report(study, heard(study.rig, *lines))


def listed(made: Report, title: str) -> list[str]:
    found = [part for part in made.parts if isinstance(part, Listing) and part.title == title]
    return [one.words for part in found for one in part.items]


def titles(made: Report) -> list[str]:
    return [part.title for part in made.parts if isinstance(part, Listing) and part.items]


EXPLAINED = "What explains the readings, the likeliest first"


def test_a_drop_that_check_finds_is_told_first() -> None:
    made = report(siskin(), "Strip dim")
    (words,) = listed(made, "As the text has it")
    (sag,) = (one for one in sags_of(siskin()) if one.load.about.name == "Strip")
    assert f"loses {sag.drop.volts:.2f}"[:9] in words
    assert "`check` says what mends that" in words
    order = titles(made)
    assert order.index("As the text has it") < order.index(EXPLAINED)
    assert "nothing is broken: as the text has it" in listed(made, EXPLAINED)[0]


def test_no_fault_is_told_with_an_amount_that_nobody_would_feel() -> None:
    made = report(siskin(), "Strip dim")
    assert not [one for one in listed(made, EXPLAINED) if "0.005 ohm" in one]


def test_a_short_way_gives_no_such_remark() -> None:
    made = report(siskin(9), "Strip dim")
    assert listed(made, "As the text has it") == []
    assert "nothing is broken" not in listed(made, EXPLAINED)[0]


def test_what_is_said_beside_it_counts() -> None:
    """A strip that is dim as written does not explain a fridge that is dead."""
    made = report(siskin(), "Strip dim", "Fridge dead")
    assert listed(made, "As the text has it")
    assert "nothing is broken" not in listed(made, EXPLAINED)[0]


@pytest.mark.parametrize("file", [*RIGS, *FAULTY], ids=lambda one: one.stem)
def test_every_drop_above_its_limit_is_told_to_who_calls_it_dim(file: Path) -> None:
    study = studied(file)
    for sag in sags_of(study)[:2]:
        if sag.drop.collapses:
            continue
        name = sag.load.about.name
        words = listed(report(study, f"{name} is dim"), "As the text has it")
        assert words, name
        assert "with nothing broken" in words[0]


def test_a_battery_that_empties_overnight_is_read_for_what_flows_out_of_it_first() -> None:
    told = diagnosed(siskin(), heard(siskin().rig, "battery flat in the morning"))
    best = next_reading(told)
    assert best is not None
    assert (best.how, best.a) == ("amperes at rest", "B1")
    drains = sum(one.share for one in told.verdicts if one.faults[0].kind == "drain")
    plain = diagnosed(siskin(), heard(siskin().rig, "battery flat"))
    assert drains > sum(one.share for one in plain.verdicts if one.faults[0].kind == "drain")
    assert drains > 0.5


def test_a_day_that_is_short_is_told_with_a_battery_that_is_flat() -> None:
    """40 W for 12 h and 30 W for 3 h are 570 Wh, 47 Ah; two modules of 25 W by 3 h are 12 Ah."""
    (one,) = balances(siskin())
    assert one.left_c < -30 * 3600
    (words,) = listed(report(siskin(), "battery flat in the morning"), "As the text has it")
    assert "a day takes more of it than comes in" in words
    assert "a day are short" in words


GLOW = """
rig "Glow"
    system 12 V
battery B1 agm, 100 Ah, internal 5 mohm
panel P1 4 slots of 20 A
busbar N1 100 A
wire B1+ to P1 6 AWG red 3 ft, fuse 60 A at B1+, class-t
wire N1 to B1- 6 AWG black 3 ft
circuit P1.1 "Heater" fuse {fuse} A
    wire 14 AWG red 9 ft
    load "Heater" 2 A, cyclic, starts at 7 times for 90 s
"""


@pytest.mark.parametrize(("fuse", "opens"), [("7.5", "is sure to open"), ("20", "")])
def test_a_fuse_that_opens_on_a_start_is_told_before_any_short(fuse: str, opens: str) -> None:
    study = study_from(GLOW.format(fuse=fuse))
    told = report(study, "Heater blows")
    words = str(told)
    assert (opens in words) if opens else "on the start of" not in words
    assert ("nothing is broken: as the text has it" in words) == bool(opens)


def test_volts_that_the_text_itself_expects_are_told_as_those_of_the_text() -> None:
    # 45 ft of 18 AWG each way take 1.4 V of 12 V: what is read is what the rig is drawn to show.
    study = siskin()
    sound = diagnosed(study, heard(study.rig, "Strip dim")).evidence.sound[0]
    load = study.rig.by_name.loads["Strip"]
    volts = sound.between_v(load.plus, load.minus)
    words = str(report(study, f"Strip = {volts:.1f} V", "B1 = 12.4 V, with Strip on"))
    assert "with nothing broken" in words
    assert "nothing is broken: as the text has it" in words
    # A joint on top of that is a fault.
    words = str(report(study, f"Strip = {volts - 2.0:.1f} V", "B1 = 12.4 V, with Strip on"))
    assert "nothing is broken: as the text has it" not in words
