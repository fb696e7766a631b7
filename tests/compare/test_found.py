"""What somebody found in place of what belongs there: it was so before, and is told apart."""

import pytest
from hypothesis import given, settings, strategies as st

from rigfolio.compare.changes import Comparison, compare
from rigfolio.judgement.result import check

HUT = """rig "Hut"
    system 12 V
    rules rv
battery B1 flooded, 100 Ah
panel P1 4 slots of 30 A, negative N1
busbar N1 100 A
fuse F1 50 A{main} on B1+
wire F1 to P1 6 AWG red 2 ft{feed}
wire N1 to B1- 6 AWG black 4 ft
circuit P1.1 "Lamp" fuse 10 A{fuse}
    wire {size} red 30 ft{wire}
    load "Lamp" {load}
"""


def hut(**said: str) -> str:
    plain = {"main": "", "feed": "", "fuse": "", "wire": "", "size": "14 AWG", "load": "3 A"}
    return HUT.format(**plain | said)


def against(one: str, two: str) -> Comparison:
    old, new = (check("hut.rig", text=text) for text in (one, two))
    assert old.study is not None
    assert new.study is not None
    return compare(old.study.rig, new.study.rig, old.findings, new.findings)


@pytest.mark.parametrize(
    "said",
    [{"wire": ", found 18 AWG"}, {"fuse": ", found 30 A"}, {"main": ", found 100 A"},
     {"feed": ", found 14 AWG"}, {"wire": ", found 18 AWG", "fuse": ", found 30 A"}],
    ids=", ".join,
)  # fmt: skip
def test_what_is_found_is_learnt_and_not_gained(said: dict[str, str]) -> None:
    found = against(hut(), hut(**said))
    assert {one.rule for one in found.learnt} & {"wrong-wire-found", "wrong-fuse-found"}
    assert found.gained == ()
    assert not found.gains_danger
    # What is put right is cured, whoever found it.
    back = against(hut(**said), hut())
    assert {one.headline for one in back.cured} == {one.headline for one in found.learnt}


def test_volts_that_only_the_wire_that_is_there_takes_are_learnt_too() -> None:
    found = against(hut(load="5 A"), hut(load="5 A", wire=", found 18 AWG"))
    assert "voltage-drop" in {one.rule for one in found.learnt}
    assert found.gained == ()


def test_what_fuses_that_are_there_let_back_together_is_learnt_too() -> None:
    """By hand 2 x 15 A come back through 14 AWG, which a rig allows 15 A."""
    two = """circuit P1.2 "Fan" fuse 5 A{fuse}
    wire 14 AWG red 3 ft
    load "Fan" 3 A
"""
    bar = "wire N2 to N1 14 AWG black 2 ft\nbusbar N2\n"
    plain = HUT.replace("negative N1", "negative N2").replace("fuse 10 A", "fuse 5 A") + two + bar
    said = {"main": "", "feed": "", "wire": "", "size": "14 AWG", "load": "3 A"}
    found = against(*(plain.format(fuse=fuse, **said) for fuse in ("", ", found 15 A")))
    assert {one.rule for one in found.learnt} == {"return-too-thin", "wrong-fuse-found"}
    assert found.gained == ()
    assert not found.gains_danger


def test_what_changes_beside_what_was_known_is_gained() -> None:
    """The thin wire was known; then somebody hangs more on it."""
    thin = ", found 18 AWG"
    found = against(hut(wire=thin, load="1 A"), hut(wire=thin, load="7 A"))
    assert "voltage-drop" in {one.rule for one in found.gained}
    assert found.learnt == ()


@settings(deadline=None, max_examples=15)
@given(
    size=st.sampled_from(["10 AWG", "14 AWG", "18 AWG"]),
    found=st.sampled_from(["10 AWG", "14 AWG", "18 AWG"]),
    rating=st.sampled_from(["5", "10", "30"]),
)
def test_looking_makes_no_rig_worse(size: str, found: str, rating: str) -> None:
    seen = hut(size=size, wire=f", found {found}", fuse=f", found {rating} A")
    assert against(hut(size=size), seen).gained == ()
