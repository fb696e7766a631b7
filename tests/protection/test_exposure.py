"""From where a wire is measured that has its fuse at its far end.

In a travel trailer the fuse stands within 18 in of the point where the supply connects to the wire:
NFPA 70-2020 552.10(E)(4), as it stands in the book (seen). Where a wire that is itself protected
feeds it, that point is the end of this wire, however long and whatever lies before.
"""

import pytest

from helpers.studies import study_from
from rigfolio.protection import exposures_of

IN_M = 0.0254
CHAIN = """rig "Bench"
    system 12 V
    rules rv
battery B1 agm, 100 Ah
fuse F1 100 A on B1+
fuse F2 15 A
busbar N1 100 A
splice Z1
splice Z2
load M1 5 A
wire B1- to N1 2 AWG black 1 ft
wire F1.load to Z1 {} red 2 ft tag T1
wire Z1 to Z2 2 AWG red 4 ft tag T2
wire Z2 to F2.line 14 AWG red {} in tag T3
wire F2.load to M1+ 14 AWG red 2 ft
wire M1- to N1 14 AWG black 2 ft
"""


@pytest.mark.parametrize(("inches", "is_far"), [(12, False), (18, False), (19, True), (48, True)])
@pytest.mark.parametrize("before", ["14 AWG", "2 AWG"])
def test_a_thin_wire_is_measured_from_the_end_of_the_thick_one(
    before: str, inches: int, is_far: bool
) -> None:
    # 100 A are right for 2 AWG and too much for 14 AWG. T3 begins at the end of T2, whether the
    # wire before that is thin, and a fault of its own, or not.
    told = {one.wire.name: one for one in exposures_of(study_from(CHAIN.format(before, inches)))}
    assert ("T1" in told) == (before == "14 AWG")
    assert ("T3" in told) == is_far
    if is_far:
        found = told["T3"]
        assert (found.fault, found.start) == ("far", "Z2")
        assert [device.about.name for device in found.devices] == ["F2"]
        assert found.run_m == pytest.approx(inches * IN_M)
        assert found.reach.value == pytest.approx(18.0 * IN_M)


RING = """rig "Bench"
    system 12 V
    rules rv
battery B1 agm, 100 Ah
fuse F1 100 A on B1+
busbar D1 100 A
busbar N1 100 A
splice Z1
splice Z2
load M1 5 A
wire B1- to N1 2 AWG black 1 ft
wire F1.load to D1 2 AWG red 1 ft
wire D1 to Z1 14 AWG red {} ft tag T1
wire D1 to Z2 14 AWG red {} ft tag T2
wire {} 14 AWG red 2 ft tag T3
wire Z1 to M1+ 14 AWG red 2 ft
wire M1- to N1 14 AWG black 2 ft
"""


@pytest.mark.parametrize("ends", ["Z1 to Z2", "Z2 to Z1"])
@pytest.mark.parametrize(("one_ft", "two_ft", "near"), [(1, 6, "Z1"), (6, 1, "Z2"), (3, 4, "Z1")])
def test_a_wire_that_closes_a_ring_is_told_of_at_the_end_that_is_nearer_to_the_supply(
    one_ft: int, two_ft: int, near: str, ends: str
) -> None:
    # No more flows into one end than into the other: it is one fault, a foot or more from D1.
    study = study_from(RING.format(one_ft, two_ft, ends))
    (found,) = (one for one in exposures_of(study) if one.wire.name == "T3")
    assert (found.end, found.fault, found.current_a) == (near, "over", 100.0)
    assert found.before_m == pytest.approx(min(one_ft, two_ft) * 12.0 * IN_M)


SERIES = """rig "Bench"
    system 12 V
    rules rv
battery B1 agm, 100 Ah
busbar D1 200 A
busbar D2 200 A
busbar N1 200 A
load L1 3 A
wire B1- to N1 2 AWG black 1 ft
wire B1+ to D1 2 AWG red 1 ft, fuse {} A at B1+
wire D1 to D2 14 AWG red 3 ft, fuse {} A at D1, tag T1
wire D2 to L1+ 14 AWG red 3 ft
wire L1- to N1 14 AWG black 3 ft
"""


@pytest.mark.parametrize(("up", "near", "enters_a"), [(40, 60, 40.0), (60, 40, 40.0)])
def test_nothing_is_driven_in_beside_a_device_that_a_smaller_one_stands_before(
    up: int, near: int, enters_a: float
) -> None:
    # Of two in one line the smaller opens first: 40 A enter, and none of them beside the other.
    study = study_from(SERIES.format(up, near))
    (found,) = (one for one in exposures_of(study) if one.wire.name == "T1")
    assert (found.fault, found.current_a, found.others_a) == ("over", enters_a, 0.0)
