"""What a tag and a list say of the devices that guard a wire, or of why none does.

The wires are of 10 AWG, which bears 30 A in a travel trailer: NFPA 70 Table 552.10(E)(1), as it
stands in the book (from memory).
"""

import pytest

from helpers.studies import study_from
from rigfolio.judgement.result import understood
from rigfolio.model import Conductor
from rigfolio.protection.fitted import fitted_words, guard_facts, guard_words
from rigfolio.study import Study

HEAD = 'rig "Bank"\n    system 12 V\n    rules rv\nbusbar D1 200 A\nbusbar N1 200 A\nload M1 20 A\n'


def bank(*amperes: int) -> str:
    """Batteries on one bar, each behind a fuse; a wire from the bar to a load."""
    text = HEAD
    for at, ampere in enumerate(amperes, 1):
        text += f"battery B{at} agm, 100 Ah\nfuse F{at} {ampere} A on B{at}+\n"
        text += f"wire F{at}.load to D1 2/0 AWG red 1 ft\nwire B{at}- to N1 2/0 AWG black 1 ft\n"
    return text + "wire D1 to M1+ 2/0 AWG red 2 ft, tag T1\nwire M1- to N1 2/0 AWG black 2 ft\n"


@pytest.mark.parametrize(
    ("amperes", "words"),
    [
        ((40,), ("fuse F1 40 A", "40 A")),
        ((40, 30), ("fuse F1 40 A, fuse F2 30 A", "40 A, 30 A")),
        ((40, 30, 20), ("fuse F1 40 A, fuse F2 30 A, fuse F3 20 A", "3 fuses")),
    ],
)
def test_a_tag_names_two_by_their_figures_and_counts_more(amperes, words):
    study = understood("bank.rig", text=bank(*amperes)).study
    assert study is not None
    (wire,) = (one for one in study.rig.conductors if one.name == "T1")
    assert guard_facts(study, wire) == words


TWO_BANKS = """busbar D1 200 A
busbar N1 200 A
load M1 20 A
battery B1 agm, 100 Ah
battery B2 agm, 100 Ah
wire B1- to N1 2/0 AWG black 1 ft
wire B2- to N1 2/0 AWG black 1 ft
wire M1- to N1 2/0 AWG black 2 ft
wire B2+ to D1 2/0 AWG red 9 ft
wire D1 to M1+ 10 AWG red 9 ft, tag T1
"""
THIRD_BANK = """battery B3 agm, 50 Ah
wire B3- to N1 2/0 AWG black 1 ft
wire B3+ to D1 2/0 AWG red 9 ft
"""


def tagged(text: str) -> tuple[Study, Conductor]:
    study = study_from('rig "Bench"\n    system 12 V\n    rules rv\n' + text)
    (wire,) = (one for one in study.rig.conductors if one.name == "T1")
    return study, wire


@pytest.mark.parametrize(
    ("more", "words"),
    [
        # 30 A guard a wire that bears 30 A, but only against the battery behind them.
        ("wire B1+ to D1 2/0 AWG red 1 ft, fuse 30 A at B1+\n", "NONE against B2"),
        ("wire B1+ to D1 2/0 AWG red 1 ft, fuse 30 A at B1+\n" + THIRD_BANK,
         "NONE against B2 and B3"),
        # 40 A guard it against nothing.
        ("wire B1+ to D1 2/0 AWG red 1 ft, fuse 40 A at B1+\n", "NONE"),
    ],
)  # fmt: skip
def test_a_wire_that_one_of_its_batteries_can_burn_is_told_which(more: str, words: str) -> None:
    study, wire = tagged(TWO_BANKS + more)
    assert guard_words(study, wire) == words
    assert guard_facts(study, wire) == ("NO FUSE", "NO FUSE")


def test_a_tag_names_the_fuse_on_its_wire_and_whom_it_does_not_guard_against() -> None:
    study = study_from("""rig "Bench"
    system 12 V
    rules boat
battery B1 agm, 100 Ah, internal 4 mohm
battery B2 agm, 100 Ah, internal 4 mohm
busbar N1 100 A
busbar N2 100 A
wire W1 B1+ to N2 2 AWG red 6 ft, fuse 150 A 4 in from B1+
wire W2 B2+ to N2 2/0 AWG red 9 ft
wire W3 B1- to N1 2 AWG black 2 ft
wire W4 B2- to N1 2 AWG black 2 ft
""")
    told = guard_facts(study, study.rig.conductor("W1"))
    assert told == ("fuse 150 A, NO FUSE against B2", "NO FUSE against B2")


def behind(count: int, inches: int) -> str:
    """A battery, a wire to a bar, and fuses that stand on that bar, each with a load."""
    text = "busbar D1 200 A\nbusbar N1 200 A\nbattery B1 agm, 100 Ah\n"
    text += f"wire B1- to N1 2/0 AWG black 1 ft\nwire B1+ to D1 10 AWG red {inches} in, tag T1\n"
    for at in range(1, count + 1):
        text += f"fuse F{at} 10 A\nwire D1 to F{at}.line 10 AWG red 1 in\nload M{at} 5 A\n"
        text += f"wire F{at}.load to M{at}+ 12 AWG red 5 ft\nwire M{at}- to N1 12 AWG black 5 ft\n"
    return text


@pytest.mark.parametrize(
    ("count", "inches", "words", "tag"),
    [
        # Up to 18 in a wire may run ahead of its fuse: 5 and 1 do, 108 and 1 do not.
        (1, 5, "none: ahead of F1", "no fuse, ahead of F1"),
        (2, 5, "none: ahead of F1 and F2", "no fuse, ahead of F1 and F2"),
        (3, 5, "none: ahead of 3 fuses", "no fuse, ahead of 3 fuses"),
        (1, 108, "NONE: F1 too far on", "NO FUSE"),
        # Of several none is the one that is meant for it.
        (2, 108, "NONE", "NO FUSE"),
    ],
)
def test_a_wire_ahead_of_its_fuses_names_two_and_counts_more(
    count: int, inches: int, words: str, tag: str
) -> None:
    study, wire = tagged(behind(count, inches))
    assert guard_words(study, wire) == words
    assert guard_facts(study, wire)[0] == tag


def test_the_fuse_of_a_circuit_goes_without_its_name_and_one_before_it_is_named() -> None:
    study = study_from("""rig "Bench"
    system 12 V
    rules rv
battery B1 agm, 100 Ah
fuse F1 30 A on B1+
busbar N1 100 A
panel P1 4 slots, negative N1
wire F1.load to P1 10 AWG red 1 ft
wire B1- to N1 6 AWG black 1 ft
circuit P1.1 "Lamps" fuse 5 A
    wire 16 AWG red 5 ft
    load 2 A
circuit F1.load "Pump"
    wire 10 AWG red 5 ft
    load 7 A
""")
    words = {one.place: fitted_words(study, one) for one in study.rig.circuits}
    # A blade of 5 A is tan (ISO 8820-3).
    assert words == {"P1.1": "5 A tan", "circuit F1.load": "30 A fuse F1"}
