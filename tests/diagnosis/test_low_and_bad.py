"""A battery that stands low and a bad joint behind a slot: what is read where a load cuts out.

Whatever the volts of the battery, what is lost between two places that were read is lost there.
"""

import pytest

from helpers.searches import diagnosed
from helpers.studies import heard, study_from
from rigfolio.diagnosis.verdicts import Diagnosis
from rigfolio.study import Study

RIG = """
rig "Dunlin" system {volts} V, rules vehicle
battery B1 200 Ah, {kind}, internal 6 mohm
panel P1 4 slots of 20 A, negative N1
busbar N1 100 A
wire B1+ to P1 16 mm2 red 1 m, fuse 60 A at B1+
wire N1 to B1- 16 mm2 black 1 m
circuit P1.1 "Fridge" fuse 15 A
    wire 4 mm2 red 4 m
    load "Fridge" 6 A
"""


def rig(volts: int, kind: str) -> Study:
    return study_from(RIG.format(volts=volts, kind=kind))


def read(study: Study, load_v: float, slot_v: float) -> Diagnosis:
    lines = (f"Fridge = {load_v:g} V, with Fridge on", f"P1.1 = {slot_v:g} V, with Fridge on")
    return diagnosed(study, heard(study.rig, *lines))


@pytest.mark.parametrize(
    ("volts", "kind", "load_v", "slot_v"),
    [
        (24, "lithium", 20.1, 24.6),
        (24, "lithium", 20.1, 24.9),
        (24, "lithium", 20.1, 25.2),
        (24, "lithium", 20.1, 25.6),
        (24, "agm", 18.1, 22.8),
        (12, "agm", 9.0, 11.4),
    ],
)
def test_what_is_lost_between_two_readings_is_lost_there(
    volts: int, kind: str, load_v: float, slot_v: float
) -> None:
    found = read(rig(volts, kind), load_v, slot_v)
    assert found.explains
    first = found.verdicts[0]
    assert not first.unexplained
    assert {"P1.1/1", "P1.1/1R"} & set(first.parts)
    # The two wires are alike for a meter: both are told of.
    likely = {part for one in found.verdicts if one.share > 0.02 for part in one.parts}
    assert {"P1.1/1", "P1.1/1R"} <= likely
