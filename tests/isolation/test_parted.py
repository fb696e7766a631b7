"""What loses its way back with a wire that is taken off: follow the minus side with a finger.

A load whose return is lifted under current draws an arc, and a charger that loses its battery while
it runs may be damaged (common practice).
"""

import pytest

from helpers.studies import study_from
from rigfolio.isolation import parted_from_source

CAMPER = """rig "T"
    system 12 V
    rules rv
battery B1 agm, 100 Ah
charger C1 30 A
busbar D1 100 A
busbar N1 100 A
load M1 "Lamp" 1 A
load M2 "Fan" 2 A
load M3 "Loose" 2 A
wire B1+ to D1 6 AWG red 1 ft
wire C1+ to D1 8 AWG red 1 ft
wire D1 to M1+ 14 AWG red 1 ft, tag T9
wire D1 to M2+ 14 AWG red 1 ft
wire D1 to M3+ 14 AWG red 1 ft
wire N1 to B1- 6 AWG black 1 ft, tag T1
wire C1- to N1 8 AWG black 1 ft, tag T2
wire M1- to N1 14 AWG black 1 ft, tag T3
wire M2- to B1- 14 AWG black 1 ft, tag T4
"""
SECOND = """battery B2 agm, 100 Ah
wire B2+ to D1 6 AWG red 1 ft
wire B2- to B1- 6 AWG black 1 ft, tag T5
"""
BOND = "wire N1 to B1- 6 AWG black 1 ft, tag T6\n"
CONVERTER = """dc-dc E1 10 A from 12 V to 24 V
load M4 "Lift" 5 A
wire D1 to E1.in 8 AWG red 1 ft
wire E1- to N1 8 AWG black 1 ft, tag T7
wire E1.out to M4+ 8 AWG red 1 ft
wire M4- to N1 8 AWG black 1 ft, tag T8
"""


@pytest.mark.parametrize(
    ("more", "lifted", "off", "parted"),
    [
        ("", (), (), ()),
        # A wire out parts nothing from the way back, nor does what a load never came back by.
        ("", ("T9",), (), ()),
        ("", ("T3",), (), ("M1+",)),
        ("", ("T4",), (), ("M2+",)),
        ("", ("T2",), (), ("C1+",)),
        ("", ("T2",), ("C1",), ()),
        ("", ("T1",), (), ("M1+", "C1+")),
        ("", ("T1",), ("C1",), ("M1+",)),
        ("", ("T1", "T4"), ("C1",), ("M1+", "M2+")),
        # With a second way back nothing is parted until both are off.
        (BOND, ("T1",), (), ()),
        (BOND, ("T1", "T6"), (), ("M1+", "C1+")),
        # One of two batteries can no longer serve, nor be charged.
        (SECOND, ("T5",), (), ("M1+", "M2+", "C1+")),
        # The input of a converter goes with its output, whose load is served by it.
        (CONVERTER, ("T7",), ("C1",), ("M4+",)),
        (CONVERTER, ("T8",), ("C1",), ("M4+",)),
        (CONVERTER, ("T1",), ("C1",), ("M1+",)),
    ],
)
def test_what_comes_back_by_a_wire_is_parted_with_it(
    more: str, lifted: tuple[str, ...], off: tuple[str, ...], parted: tuple[str, ...]
) -> None:
    assert parted_from_source(study_from(CAMPER + more), lifted, off) == parted


def test_where_there_is_no_battery_a_charger_is_parted_from_its_load_and_not_from_itself() -> None:
    study = study_from(CAMPER.replace("battery B1 agm, 100 Ah", "charger B1 20 A"))
    assert parted_from_source(study, ("T4",)) == ("M2+",)
    assert parted_from_source(study, ("T3",)) == ("M1+",)
    # Two chargers hold each other up.
    assert parted_from_source(study, ("T2",)) == ("M1+", "M2+", "B1+", "C1+")
