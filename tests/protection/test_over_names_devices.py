"""What lets more through than a wire may carry is named, whatever is known of the wire."""

import pytest

from fuzz.trial import understood
from rigfolio.judgement import check
from rigfolio.protection import guard_facts, guard_of
from rigfolio.study import Study

LOOSE = """\
rig "Loose"
    system 12 V
    rules  rv
battery B1 lithium, 105 Ah, delivers 50 kA
fuse    F1 50 A
busbar  N1 150 A
panel   P1 8 slots of 20 A
wire B1+ to F1 6 AWG red 1 ft
wire F1 to P1 6 AWG red 3 ft
wire N1 to B1- 6 AWG black 3 ft
wire N1 to P1 10 AWG black 3 ft
wire B1.in to F1.load 22 AWG 10 ft
"""
"""Plus and minus are joined, and a wire thinner than any in the book hangs on the fuse."""


def study_of(text: str) -> Study:
    study = check("x.rig", text=text).study
    assert study is not None
    return study


def test_the_fuse_over_a_wire_thinner_than_any_in_the_book_is_named_on_its_tag():
    study = study_of(LOOSE)
    wire = study.rig.conductor("B1.in/F1.load")
    assert [one.about.name for one in guard_of(study, wire).devices] == ["F1"]
    assert guard_facts(study, wire) == ("fuse 50 A TOO LARGE", "50 A TOO LARGE")


@pytest.mark.parametrize("seed", range(0, 40, 4))
def test_whatever_is_over_a_grown_wire_is_named(seed):
    study = study_of(understood(seed))
    guards = [guard_of(study, wire) for wire in study.rig.conductors]
    assert [one for one in guards if one.why == "over" and not one.devices] == []
