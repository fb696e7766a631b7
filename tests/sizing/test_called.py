"""What is sized as one is called by what stands on it."""

import pytest

from helpers.studies import study_from
from rigfolio.sizing.groups import sections

RIG = """rig "T"
    system 12 V
    rules rv
battery B1 "House" agm, 100 Ah
fuse F1 60 A
panel P1 "Galley" 4 slots of 20 A
busbar N1
solar U1 "Roof" 20 A
wire W3 B1+ to F1.line 6 AWG 1 ft
wire W4 F1.load to P1 6 AWG 3 ft
wire W14 U1+ to {to} 10 AWG 3 ft{fuse}
wire N1 to B1- 6 AWG 3 ft
wire U1- to N1 10 AWG 3 ft
"""


@pytest.mark.parametrize(
    ("to", "fuse", "of_w3", "of_w14"),
    [
        # Nothing guards the wire of the controller: it is one with the lead of the bank.
        ("B1+", "", "lead of B1 House and U1 Roof", "lead of B1 House and U1 Roof"),
        ("B1+", ", fuse 30 A at B1+", "feed, B1+ to F1.line", "feed of U1 Roof"),
        ("P1", "", "feed, B1+ to F1.line", "feed of P1 Galley and U1 Roof"),
    ],
)
def test_a_feed_is_called_by_what_stands_on_it(to, fuse, of_w3, of_w14):
    study = study_from(RIG.format(to=to, fuse=fuse))
    called = {
        wire.name: one.label for one in sections(study) for group in one.groups
        for wire in group.wires
    }  # fmt: skip
    assert (called["W3"], called["W14"]) == (of_w3, of_w14)
