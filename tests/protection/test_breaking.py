"""Which kinds of fuse break a current in place of some devices.

What they interrupt stands in the book: terminal cubes 10 kA at 12 V, 5 kA at 24 V and 2 kA at 48 V
(component data sheets, from memory), made from 30 to 300 A; class T 10 kA up to 125 V (UL 248-15,
as read in an inverter manual), made from 15 to 400 A; strip fuses of the midi style 2 kA.
"""

import pytest

from helpers.studies import study_from
from helpers.sun_rigs import ROOF
from rigfolio.protection import kinds_that_break, replacement_of

CUBE = "`terminal-cube` (30 A to 300 A)"
CLASS_T = "`class-t` (15 A to 400 A)"


@pytest.mark.parametrize(
    ("current_a", "volts", "ratings", "words"),
    [
        # From the smallest to the largest that is made, both among them.
        (8000.0, 12.0, (30.0,), f"{CUBE} and {CLASS_T}"),
        (8000.0, 12.0, (25.0,), CLASS_T),
        (8000.0, 12.0, (300.0,), f"{CUBE} and {CLASS_T}"),
        (8000.0, 12.0, (350.0,), CLASS_T),
        (8000.0, 12.0, (400.0,), CLASS_T),
        (8000.0, 12.0, (10.0,), ""),
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
