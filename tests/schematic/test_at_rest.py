"""A contact is drawn as it stands while nothing works it; a coil is not what it switches."""

import pytest

from helpers.studies import study_from
from rigfolio.draw import boxes_of
from rigfolio.draw.symbols import SYMBOLS
from rigfolio.schematic.setting import device_symbol, load_symbol

RIG = """rig "T"
    system 12 V
    rules rv
battery B1 100 Ah
panel P1 4 slots of 20 A
busbar N1
wire B1+ to P1 6 AWG 3 ft
wire N1 to B1- 6 AWG 3 ft
circuit P1.1 "Fan relay coil" fuse 5 A
    wire 16 AWG 3 ft
    switch SW1 10 A{rests}
    wire 16 AWG 3 ft
    load "{label}" 1 A
circuit P1.2 "Fan" fuse 5 A
    wire 16 AWG 3 ft
    relay K1 20 A{rests}
    wire 16 AWG 3 ft
    load "Roof fan" 1 A
"""


@pytest.mark.parametrize(
    ("rests", "symbols"),
    [
        # IEC 60617 07-02-01 and 07-02-03 (from memory): a make contact and a break contact.
        ("", ["switch", "relay"]),
        (", rests open", ["switch", "relay"]),
        (", rests closed", ["break switch", "break relay"]),
    ],
)
def test_a_contact_is_drawn_at_rest(rests, symbols):
    rig = study_from(RIG.format(rests=rests, label="Coil")).rig
    assert [device_symbol(rig.by_name.devices[name]) for name in ("SW1", "K1")] == symbols
    assert all(list(boxes_of(SYMBOLS[symbol]((0.0, 0.0)))) for symbol in symbols)


@pytest.mark.parametrize(
    ("label", "symbol"),
    [("Fan relay coil", "appliance"), ("Pump solenoid", "appliance"), ("Fan", "motor"),
     ("Reading lamp", "lamp")],
)  # fmt: skip
def test_the_coil_for_a_fan_is_no_fan(label, symbol):
    loads = study_from(RIG.format(rests="", label=label)).rig.loads
    assert load_symbol(loads[0]) == symbol
