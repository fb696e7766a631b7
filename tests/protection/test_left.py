"""What is left where neither a fuse nor a wire in stock serves: never to part one load."""

import re

import pytest

from helpers.studies import study_from
from rigfolio.findings import Finding
from rigfolio.rule import judge
from rigfolio.sizing import sizes

RIG = """rig "Winch" system 24 V, rules {book}
battery B1 agm, 180 Ah, internal 8 mohm
load L1 "Winch" {draws} A, motor, intermittent
wire B1+ to L1+ {wire} red 3 m, fuse {fuse} A at B1+, class T
wire L1- to B1- {wire} black 3 m
"""
SEVERAL = """rig "Winches" system 24 V, rules vehicle
battery B1 agm, 180 Ah, internal 8 mohm
busbar N1 400 A
busbar N2 400 A
load L1 "Winch" 125 A, motor
load L2 "Thruster" 125 A, motor
wire B1+ to N1 70 mm2 red 3 m, fuse 300 A at B1+, class T
wire N2 to B1- 70 mm2 black 3 m
wire N1 to L1+ 70 mm2 red 1 m, fuse 150 A at N1, class T
wire N1 to L2+ 70 mm2 red 1 m, fuse 150 A at N1, class T
wire L1- to N2 70 mm2 black 1 m
wire L2- to N2 70 mm2 black 1 m
"""
TOO_MUCH = ("fuse-over-wire", "return-too-thin", "fuse-overloaded", "wire-overloaded")


def told(text: str) -> list[Finding]:
    """What the fuse and its wires are blamed for."""
    return [one for one in judge(study_from(text)) if one.rule in TOO_MUCH]


def words(found: list[Finding]) -> str:
    return "\n".join(one.fix.text + one.fix.otherwise for one in found if one.fix is not None)


@pytest.mark.parametrize("book", ["vehicle", "rv", "boat"])
@pytest.mark.parametrize("draws", [250, 300, 390])
def test_one_load_is_offered_conductors_in_parallel_and_they_mend_it(book: str, draws: int) -> None:
    fuse = next(one for one in (250, 300, 400) if one >= draws)
    given = {"book": book, "draws": draws, "fuse": fuse}
    found = told(RIG.format(wire="70 mm2", **given))
    offered = re.findall(r"`(\d conductors in parallel)` of `(\d+ mm)²`", words(found))
    assert "part the loads" not in words(found)
    for count, size in offered:
        assert told(RIG.format(wire=f"{size}2, {count}", **given)) == []
    if book == "vehicle":
        # FAA AC 43.13-1B bears no cable so thick: 250 A are beyond 171 A of 70 mm2.
        assert offered


def test_several_loads_are_parted() -> None:
    found = words(told(SEVERAL))
    assert "part the loads" in found
    assert "in parallel" not in found


def test_what_no_conductors_serve_is_not_parted_either() -> None:
    found = words(told(RIG.format(book="vehicle", draws=2000, fuse=300, wire="70 mm2")))
    assert "a load that draws less, or works at more volts" in found
    assert "part the loads" not in found


@pytest.mark.parametrize("is_one", [True, False])
def test_size_says_the_same(is_one: bool) -> None:
    one = RIG.format(book="vehicle", draws=250, fuse=300, wire="70 mm2")
    said = " ".join(each.problem for each in sizes(study_from(one if is_one else SEVERAL)))
    assert ("part the loads" in said) is not is_one
    assert ("conductors in parallel" in said) is is_one
