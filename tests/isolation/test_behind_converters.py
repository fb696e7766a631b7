"""What a switch behind a converter means, with its input drawn and not drawn."""

import pytest

from helpers.studies import study_from
from rigfolio.isolation import meanings

RIG = """rig "T"
    system 12 V
    rules rv
dc-dc E1 20 A
disconnect S1 100 A
busbar D1 100 A
busbar N1 100 A
load M1 "Lamp" 2 A
wire S1.load to D1 10 AWG red 2 ft
wire D1 to M1+ 14 AWG red 2 ft, fuse 5 A at D1
wire M1- to N1 14 AWG black 2 ft
wire E1- to N1 10 AWG black 2 ft
"""
BEHIND = "wire E1.out to S1.line 10 AWG red 2 ft\n"
BANK = "battery B1 agm, 100 Ah\nwire B1- to N1 10 AWG black 1 ft\n"
DRAWN = "wire B1+ to E1.in 10 AWG red 1 ft, fuse 30 A at B1+\n"


@pytest.mark.parametrize(
    ("more", "on", "off"),
    [
        # Nobody has drawn its input: it may be live, so it is what feeds.
        (BEHIND, "E1 feeds Lamp", "Lamp dead. These stay live: the wires of E1"),
        (BEHIND + BANK, "E1 feeds Lamp", "Lamp dead. These stay live: the wires of E1, B1"),
        # By its input the battery feeds, and behind the open switch nothing does.
        (BEHIND + BANK + DRAWN, "B1 feeds Lamp", "Lamp dead. These stay live: the wires of B1"),
        # Not joined at all.
        ("", "nothing of this text hangs on it alone",
         "changes nothing on the batteries alone. These stay live: the wires of E1"),
    ],
)  # fmt: skip
def test_a_switch_behind_a_converter_names_what_feeds_by_it(more: str, on: str, off: str) -> None:
    told = [(one.position, one.words) for one in meanings(study_from(RIG + more))]
    assert told == [("ON", on), ("OFF", off)]
