"""A return that is only assumed is one wire: no end of it is looked for at a switch or a fuse."""

import pytest

from helpers.forgotten import cache
from helpers.home import EXAMPLES
from helpers.studies import checked
from rigfolio.compare import work_between
from rigfolio.diagnosis.suspects import suspects
from rigfolio.folio.versions import compared
from rigfolio.judgement.result import Result, job_of, understood
from rigfolio.labels import tagged_wires
from rigfolio.network import places_of, with_whole_returns
from rigfolio.swap.changed import work_since

TEXT = """
rig "Smew 18"
    system 12 V
    rules boat
battery B1 "House" agm, 100 Ah, internal 4 mohm
panel P1 "Panel" 4 slots of 20 A
busbar N1 100 A
wire W1 B1+ to P1 6 AWG red 2 ft, fuse 60 A at B1+
wire W2 N1 to B1- 6 AWG black 2 ft
circuit P1.4 "Bilge pump" fuse 7.5 A
    wire 14 AWG brown 10 ft
    switch SW1 "Float switch" 10 A, rests open
    wire 14 AWG brown 3 ft
    load "Bilge pump" 4 A, intermittent
circuit P1.1 "Lights" fuse 5 A
    wire 16 AWG blue 6 ft
    splice Z1 "Behind the helm"
    wire 16 AWG blue 4 ft
    load "Side lights" 20 W
    wire from Z1 16 AWG blue 24 ft
    load "Stern light" 25 W
"""
MOVED = TEXT.replace(
    'circuit P1.4 "Bilge pump" fuse 7.5 A', 'circuit B1+ "Bilge pump" fuse 7.5 A after 4 in'
)
INSIDE = ("SW1.line-", "B1+.in-", "Z1-", "SW1.line−", "B1+.in−", "Z1−")


@cache
def smew(text: str) -> Result:
    return understood("smew.rig", text=text)


def test_a_switch_in_the_plus_does_not_divide_what_comes_back() -> None:
    study = smew(TEXT).study
    assert study is not None
    whole = {w.name: w for w in with_whole_returns(study.rig).conductors if w.assumed}
    pump = whole["P1.4/Bilge pump R"]
    (load,) = (one for one in study.rig.loads if one.about.name == "Bilge pump")
    assert (pump.a, pump.b) == (load.minus, "N1")
    assert pump.length_m == pytest.approx(13 * 0.3048)
    assert "P1.4/1R" not in whole
    # Where ways back come together a joint has to be, wherever it is.
    assert {"P1.1/1R", "P1.1/Side lights R", "P1.1/Stern light R"} <= whole.keys()


def test_nobody_works_or_probes_at_a_place_that_is_only_assumed() -> None:
    was, now = smew(TEXT), smew(MOVED)
    assert now.study is not None
    _, again = compared(was, now)
    returns = [one for one in again.work if one.after.endswith("R")]
    assert len(returns) == 1
    said = [f"{t.do} {t.see}" for part in work_since(now.study, again) for t in part.tasks]
    assert any("return, not stated: find it at Bilge pump − and at N1" in words for words in said)
    assert not [words for words in said for end in INSIDE if end in words]


@pytest.mark.parametrize("name", ["", *sorted(path.name for path in EXAMPLES.glob("*.rig"))])
def test_one_return_is_one_suspect(name: str) -> None:
    study = (checked(EXAMPLES / name) if name else smew(TEXT)).study
    assert study is not None
    whole = with_whole_returns(study.rig)
    places = places_of(study.rig)
    named = [one.name for one in suspects(study) if one.kind == "joint"]
    assert named == [wire.name for wire in whole.conductors]
    for end in {end for wire in whole.conductors for end in (wire.a, wire.b)} - places:
        # What is left of assumed places are joints of several returns.
        assert sum(end in (wire.a, wire.b) for wire in whole.conductors) > 2
    assert work_between(study.rig, study.rig) == ()


def test_no_tag_names_a_place_that_is_only_assumed_and_none_is_long() -> None:
    for text in (TEXT, MOVED):
        for tagged in tagged_wires(job_of(smew(text))):
            for tag in tagged.tags:
                assert len(tag.name) <= 24
                assert not {"Z1−", "SW1.line−", "B1+.in−"} & {*tag.here, *tag.other}
