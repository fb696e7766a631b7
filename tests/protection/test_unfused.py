"""Which batteries have no fuse near any wire on their plus post."""

import pytest

from helpers.studies import study_from
from rigfolio.protection import unfused_of

# Up to 18 in a wire may run ahead of its fuse: NFPA 70 Article 552 (as it stands in the book).
RIG = """rig "T"
    system 12 V
    rules rv
battery B1 agm, 100 Ah
charger C1 20 A
busbar N1 200 A
busbar D1 200 A
load M1 5 A
fuse F2 10 A
wire B1- to N1 2/0 AWG black 1 ft
wire C1- to N1 10 AWG black 1 ft
wire C1+ to D1 10 AWG red 1 ft
wire M1- to N1 10 AWG black 2 ft
wire D1 to M1+ 10 AWG red 2 ft
"""
BARE = "wire B1+ to D1 2/0 AWG red 9 ft\n"


@pytest.mark.parametrize(
    ("more", "unfused"),
    [
        (BARE, {"B1"}),
        ("wire B1+ to D1 2/0 AWG red 9 ft, fuse 30 A at B1+\n", set()),
        # A fuse on another wire of the post is not at the end of this one.
        (BARE + "fuse F1 10 A on B1+\n", set()),
        # One that comes too late is told by itself.
        ("wire B1+ to F2.line 10 AWG red 9 ft\nwire F2.load to D1 10 AWG red 1 ft\n", set()),
        # Nobody has read the wire, or nothing is joined at all.
        (BARE.replace("2/0 AWG", "? AWG"), set()),
        ("", set()),
        # A cable for the start of an engine needs none; a second wire beside it does.
        ('load M2 "Starter" 150 A, momentary\nwire M2- to N1 2/0 AWG black 1 ft\n'
         "wire B1+ to M2+ 2/0 AWG red 2 ft, cranking\n", set()),
    ],
)  # fmt: skip
def test_a_battery_without_a_fuse_is_told(more: str, unfused: set[str]) -> None:
    assert unfused_of(study_from(RIG + more)).keys() == unfused
