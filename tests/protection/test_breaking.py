"""Which kinds of fuse break a current in place of some devices.

What they interrupt stands in the book: terminal cubes 10 kA at 12 V, 5 kA at 24 V and 2 kA at 48 V
(component data sheets, from memory), made from 30 to 300 A; class T 10 kA up to 125 V (UL 248-15,
as read in an inverter manual), made from 15 to 400 A; strip fuses of the midi style 2 kA.
"""

import pytest

from helpers.studies import study_from
from helpers.sun_rigs import ROOF
from rigfolio.protection.breaking import (
    broken_v,
    kinds_that_break,
    replacement_of,
    stated_volts,
)

CUBE = "`terminal-cube` (30 A to 300 A)"
CLASS_T = "`class-t` (1 A to 400 A)"


@pytest.mark.parametrize(
    ("current_a", "volts", "ratings", "words"),
    [
        # From the smallest to the largest that is made, both among them.
        (8000.0, 12.0, (30.0,), f"{CUBE} and {CLASS_T}"),
        (8000.0, 12.0, (25.0,), CLASS_T),
        (8000.0, 12.0, (300.0,), f"{CUBE} and {CLASS_T}"),
        (8000.0, 12.0, (350.0,), CLASS_T),
        (8000.0, 12.0, (400.0,), CLASS_T),
        (8000.0, 12.0, (10.0,), CLASS_T),
        (8000.0, 12.0, (0.5,), ""),
        (8000.0, 12.0, (500.0,), ""),
        # One kind for all of them.
        (8000.0, 12.0, (30.0, 350.0), CLASS_T),
        (8000.0, 12.0, (20.0, 500.0), ""),
        # What is just the figure of a kind is broken by it; a hair more is not.
        (10_000.0, 12.0, (100.0,), f"{CUBE} and {CLASS_T}"),
        (10_001.0, 12.0, (100.0,), ""),
        # Higher volts draw a longer arc.
        (8000.0, 24.0, (100.0,), CLASS_T),
        (2000.0, 48.0, (100.0,), f"{CUBE} and {CLASS_T}"),
        (2001.0, 48.0, (100.0,), CLASS_T),
    ],
)
def test_the_kinds_that_break_a_current_and_come_in_the_ratings(
    current_a: float, volts: float, ratings: tuple[float, ...], words: str
) -> None:
    text = 'rig "T"\n    system 12 V\n    rules rv\nbattery B1 agm, 100 Ah\n'
    text += "".join(f"fuse F{at} {rating:g} A on B1+\n" for at, rating in enumerate(ratings))
    assert kinds_that_break(current_a, volts, study_from(text).rig.devices) == words


def test_what_goes_in_where_a_fuse_is_taken_out():
    study = study_from(ROOF)
    string, bank, cube = (
        replacement_of(study, study.device(name)) for name in ("Y1+/Z1 fuse", "F1", "N2/U1+ fuse")
    )
    assert (string.family, string.rating_a, string.volts, string.breaks) == (
        "", 10.0, "1000 V", "interrupts 20 kA",
    )  # fmt: skip
    # A class T is made for 125 V and a terminal cube for 58 V anyhow: 12 V need no telling.
    assert (bank.family, bank.volts, bank.breaks) == ("class t", "", "interrupts 20 kA")
    assert (cube.family, cube.volts, cube.breaks) == ("terminal cube", "", "interrupts 10 kA")


def test_blades_of_the_usual_kind_need_no_volts_and_strong_ones_do():
    text = ROOF.replace('"Lamp" fuse 5 A', '"Lamp" fuse 5 A regular rated 58 V')
    assert replacement_of(study_from(ROOF), study_from(ROOF).device("N2/Lamp fuse")).volts == ""
    study = study_from(text)
    assert replacement_of(study, study.device("N2/Lamp fuse")).volts == "58 V"


@pytest.mark.parametrize(("rated", "volts"), [("32 V", "at least 53.8 V"), ("80 V", "80 V")])
def test_what_is_rated_too_low_for_its_circuit_is_not_asked_for_again(rated: str, volts: str):
    """What `check` calls a danger is nowhere printed as what to put in, carry or buy."""
    study = study_from(ROOF.replace("rated 1000 V", f"rated {rated}"))
    assert replacement_of(study, study.device("Y1+/Z1 fuse")).volts == volts


MINUS = """rig "T"
    system 48 V
    rules vehicle
battery B1 agm, 100 Ah
battery B2 agm, 100 Ah, 12 V
busbar N1
load M1 5 A
load M2 5 A
fuse F1 100 A on B1+
fuse F2 20 A{0}
fuse F3 20 A{0}
wire F1.load to M1+ 10 AWG red 2 ft
wire B2+ to M2+ 10 AWG red 2 ft, fuse 20 A at B2+, tag T2
wire M1- to F2.line 10 AWG black 2 ft
wire F2.load to N1 10 AWG black 2 ft
wire M2- to F3.line 10 AWG black 2 ft
wire F3.load to N1 10 AWG black 2 ft
wire N1 to B1- 6 AWG black 2 ft
wire N1 to B2- 6 AWG black 2 ft
fuse F9 5 A
"""


def test_a_fuse_in_a_minus_lead_breaks_the_volts_of_what_comes_back_by_it():
    study = study_from(MINUS.format(""))
    broken = {one.about.name: broken_v(study, one) for one in study.rig.devices}
    # What nothing is joined to breaks nothing.
    assert broken == {"F1": 48.0, "F2": 48.0, "F3": 12.0, "T2 fuse": 12.0, "F9": 0.0}


def test_one_in_the_minus_lead_of_modules_breaks_theirs():
    lead = "wire Y1- to U1.in- 12 AWG black 9 ft"
    study = study_from(ROOF.replace(lead, f"{lead}, fuse 10 A at U1.in-"))
    (fuse,) = (one for one in study.rig.devices if one.about.name == "U1.in-/Y1- fuse")
    # Two of 24 V in series at -15 °C, with 0.3 % more a degree: 48 x 1.12 = 53.76 V.
    assert broken_v(study, fuse) == pytest.approx(53.76)


@pytest.mark.parametrize(
    ("said", "words", "asked"),
    [
        # A fuse of no kind is judged as a usual blade, which is made for 32 V (ISO 8820-3).
        ("", "", "at least 48 V"),
        # What is rated too low for its circuit is not asked for again.
        (", rated 32 V", "", "at least 48 V"),
        (", rated 33 V", "33 V", "at least 48 V"),
        (", rated 80 V", "80 V", "80 V"),
    ],
)
def test_volts_are_told_of_a_fuse_where_they_are_above_those_of_its_kind(said, words, asked):
    study = study_from(MINUS.format(said))
    fuse = study.device("F2")
    assert stated_volts(fuse) == words
    assert replacement_of(study, fuse).volts == asked


@pytest.mark.parametrize(
    ("said", "words"),
    [
        (", interrupts 999 A", "interrupts 999 A"),
        (", interrupts 1 kA", "interrupts 1 kA"),
        (", interrupts ? A", ""),
        ("", ""),
    ],
)
def test_what_a_fuse_interrupts_is_told_in_the_unit_of_its_size(said, words):
    study = study_from(MINUS.format(said))
    assert replacement_of(study, study.device("F2")).breaks == words
