"""What is lost in cranking cable on the way back is made up for by no other return."""

import pytest

from helpers.studies import study_from
from rigfolio.sizing import sizes

ENGINE = """rig "Bench"
    system 12 V
    rules rv
battery B1 agm, 100 Ah
fuse F1 50 A on B1+
load M9 "Starter" 150 A, momentary, motor
panel P1 6 slots of 20 A, negative N2
busbar N1 100 A
busbar N2 100 A
wire F1.load to P1 6 AWG red 1 ft
wire B1+ to M9+ 2/0 AWG red 3 ft cranking
wire M9- to N1 2/0 AWG black 1 ft cranking
wire N1 to B1- 2/0 AWG black 3 ft cranking
wire N2 to N1 10 AWG black 1 ft tag T2
circuit P1.1 "Lamps" fuse 10 A
    wire 16 AWG red {} ft
    load 5 A, critical
circuit P1.2 "Fan" fuse 10 A
    wire 14 AWG red 4 ft
    load 5 A
"""


@pytest.mark.parametrize("feet", [12, 20])
def test_a_lamp_that_is_far_off_gets_thicker_wire_of_its_own(feet: int) -> None:
    # 5 A over 12 ft of 16 AWG and back lose 5 x 2 x 12 x 4.1 mohm = 0.49 V, of which 0.36 V are
    # allowed; the foot of 10 AWG that both share loses 10 A x 1.0 mohm = 0.01 V.
    found = {one.place: one for one in sizes(study_from(ENGINE.format(feet)))}
    assert [wire.names for wire in found["P1.1"].wires if wire.verdict == "change"] == [
        ("P1.1/1", "P1.1/1R")
    ]
    assert not any(found[place].changes for place in ("T2", "P1.2", "F1"))
