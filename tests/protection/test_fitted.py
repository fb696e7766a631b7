"""What a tag says of the devices that guard a wire, one, two and more of them."""

import pytest

from rigfolio.judgement.result import check
from rigfolio.protection.fitted import guard_facts

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
    study = check("bank.rig", text=bank(*amperes)).study
    assert study is not None
    (wire,) = (one for one in study.rig.conductors if one.name == "T1")
    assert guard_facts(study, wire) == words
