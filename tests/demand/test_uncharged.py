"""With nothing charging a combiner is open: no bank lasts longer by another behind one."""

import pytest

from helpers.home import CORPUS, RIGS
from helpers.studies import checked, study_from
from rigfolio.demand import AH_C, autonomy, balances
from rigfolio.isolation import Open, bank_joins, states_of

BOAT = """\
rig "Boat" system 12 V, rules boat
battery B1 "Start" flooded, 90 Ah, internal 6 mohm
battery B2 "House" lithium, 200 Ah, internal 5 mohm
busbar N1 250 A
busbar N2 250 A
combiner K1 120 A
alternator A1 60 A
wire A1+ to B1+ 4 AWG red 4 ft, fuse 70 A at B1+
wire A1- to B1- 4 AWG black 4 ft
wire B1- to N1 2/0 AWG black 2 ft
wire B2- to N1 2/0 AWG black 2 ft
wire B1+ to K1 2 AWG red 4 ft, fuse 125 A at B1+
wire B2+ to N2 2 AWG red 1 ft, fuse 125 A at B2+
wire N2 to K1 2 AWG red 4 ft
disconnect S1 100 A
wire N2 to S1 2 AWG red 4 ft
panel P1 4 slots
wire S1 to P1 2 AWG red 4 ft
wire P1- to N1 2 AWG black 4 ft
circuit N2 "Gas detector" fuse 3 A after 4 in, always on
    wire 16 AWG pink 9 ft
    load "Gas detector" 0.15 A, 24 h/day
circuit P1.1 "Fridge" fuse 10 A
    wire 14 AWG red 6 ft
    load "Fridge" 5 A, 10 h/day
"""
SUN = """\
solar U1 10 A
wire U1+ to N2 12 AWG red 4 ft, fuse 15 A at N2
wire U1- to N1 12 AWG black 4 ft
"""


def lasts(*texts):
    """The days that banks last, by state and banks."""
    return {
        (one.state, one.banks): round(one.lasts_s / 86400.0, 1)
        for one in autonomy(study_from("".join(texts)))
        if one.use.known_c
    }


def test_a_source_that_may_charge_makes_no_bank_last_longer():
    """160 Ah over 3.6 Ah a day, and over 53.6 Ah."""
    assert lasts(BOAT)["stored", ("B2",)] == lasts(BOAT, SUN)["stored", ("B2",)] == 44.4
    assert lasts(BOAT)["engine", ("B2",)] == lasts(BOAT, SUN)["engine", ("B2",)] == 3.0
    assert {banks for _, banks in lasts(BOAT, SUN)} == {("B2",)}


def test_nor_does_one_that_the_text_has_on_with_the_combiner_closed():
    state = "state cruising K1 closed, A1 on\n"
    assert lasts(BOAT, state)["cruising", ("B2",)] == 3.0


def test_a_combiner_that_somebody_holds_in_joins_banks():
    state = "state held K1 closed, A1 off\n"
    assert lasts(BOAT, state)["held", ("B1", "B2")] == pytest.approx(205 / 53.6, abs=0.05)


def test_what_is_short_without_charge_is_borne_by_the_bank_that_is_left():
    (one,) = balances(study_from(BOAT + SUN))
    assert one.banks == ("B2",)
    assert one.usable_c == pytest.approx(160 * AH_C)
    assert one.at_times == ("A1", "U1")


@pytest.mark.parametrize("file", [*RIGS, *CORPUS], ids=lambda file: file.stem)
def test_banks_are_joined_by_what_no_charger_holds_in(file):
    study = checked(file).study
    if study is None:
        pytest.skip("the text is not understood")
    apart = Open(bank_joins(study.rig))
    posts = {one.about.name: one.plus for one in study.rig.sources if one.stores}
    states = {one.name: one for one in states_of(study)}
    for one in autonomy(study):
        if any(setting.is_stated for setting in states[one.state].settings):
            # Somebody may have said that it is held in.
            continue
        reached = study.net.walk([posts[one.banks[0]]], apart.bars)
        assert {posts[name] for name in one.banks} <= reached.keys()
