"""A further wire that names an end of a fuse moves none of those that lead through it."""

import pytest

from rigfolio.judgement.result import load

RIG = """rig "T"
    system 12 V
    rules boat
battery B2 lithium, 200 Ah
charger C1 30 A
{sun}fuse F2 200 A
disconnect S2 300 A
busbar N1
busbar N2
wire {first} 2/0 AWG 1 ft
wire {second} 2/0 AWG 2 ft
wire S2.load to N2 2/0 AWG 2 ft
wire B2- to N1 2/0 AWG 2 ft
{third}wire C1- to N1 8 AWG 6 ft
"""


@pytest.mark.parametrize("sun", ["", "solar U1 15 A\nwire U1+ to N2 10 AWG 6 ft\n"])
@pytest.mark.parametrize("end", ["", "F2.load", "F2.line"])
def test_a_fuse_stays_between_the_two_wires_that_are_written_through_it(end: str, sun: str) -> None:
    third = f"wire C1+ to {end} 8 AWG 6 ft, fuse 40 A at C1+\n" if end else ""
    text = RIG.format(sun=sun, first="B2+ to F2", second="F2 to S2.line", third=third)
    _, rig, found = load("x.rig", text)
    assert rig is not None
    assert (found, rig.problems) == ((), ())
    ends = [{wire.a, wire.b} for wire in rig.conductors]
    assert {"B2+", "F2.line"} in ends
    assert {"F2.load", "S2.line"} in ends


def test_two_that_are_written_towards_it_leave_the_named_end_alone() -> None:
    third = "wire C1+ to F2.line 8 AWG 6 ft, fuse 40 A at C1+\n"
    text = RIG.format(sun="", first="S2.line to F2", second="N2 to F2", third=third)
    named = text.replace("B2- to N1", "B2+ to F2.line 2/0 AWG 1 ft\nwire B2- to N1")
    _, rig, _ = load("x.rig", named)
    assert rig is not None
    landed = [end for wire in rig.conductors for end in (wire.a, wire.b) if end.startswith("F2.")]
    assert sorted(landed) == ["F2.line", "F2.line", "F2.load", "F2.load"]
