"""Which wires a short is told to make hot: what it does itself, and for how long they take that."""

import pytest

from helpers.studies import study_from
from rigfolio.answers.short import short_report
from rigfolio.demand import flows_of
from rigfolio.reports.terminal import as_text

RIG = """rig "Hot"
    system 12 V
    rules rv
    ambient 40 degC
battery B1 agm, 100 Ah, internal 5 mohm
battery B2 agm, 5 Ah, internal 40 mohm
charger C1 60 A
busbar D1 150 A
busbar N1 150 A
wire W1 B1+ to D1 2/0 AWG red 2 ft, fuse 100 A at B1+
wire W2 B1- to N1 6 AWG black 12 ft
wire W3 C1+ to D1 4 AWG red 3 ft, fuse 70 A at D1
wire W4 C1- to N1 4 AWG black 3 ft
wire W5 B2- to N1 4 AWG black 2 ft
load L1 2 A
dc-dc X1 0.5 A, draws 1 A
wire W6 D1 to X1.in 14 AWG red 2 ft, fuse 3 A at D1
wire W7 X1.out to B2+ 14 AWG red 2 ft, fuse 3 A at B2+
wire W8 X1- to N1 14 AWG black 2 ft
battery B3 agm, 5 Ah, internal {inside} mohm
splice Z1
wire W9 B3+ to Z1 10 AWG red 2 ft
wire W10 B3- to N1 4 AWG black 2 ft
"""


def told(place: str, inside: str = "10") -> str:
    study = study_from(RIG.format(inside=inside))
    assert flows_of(study).charge_a("W2") == pytest.approx(60.0)
    return " ".join(as_text(short_report(study, place)).split())


def test_what_a_charger_drives_anyway_is_no_deed_of_a_short_elsewhere() -> None:
    """6 AWG bears 57.3 A at 40 degC: `check` tells of the 60 A, a short at B2 does not."""
    assert "Fed by B2" in told("B2+")
    assert "`W2`" not in told("B2+")


def test_a_wire_that_the_short_itself_burns_is_told() -> None:
    """10 AWG, 5.26 mm2, takes 1200 A for (115 x 5.26 / 1200)^2 = 0.25 s: IEC 60364-4-43."""
    assert "`W9` 10 AWG" in told("Z1")
    assert "BURNS, it takes that for" in told("Z1")


def test_what_a_wire_takes_for_minutes_at_the_least_is_told_by_what_it_may_carry() -> None:
    """Some 48 A of 12.9 V over 270 mohm, less than twice the 30 A that 10 AWG may carry."""
    words = told("Z1", inside="250")
    assert "`W9` 10 AWG" in words
    assert "GETS TOO HOT, may carry 30 A, and takes that for" in words
    assert "BURNS" not in words
