"""A device that does nothing but join a charging source to a battery says so on its label."""

from pathlib import Path

import pytest

from helpers.home import EXAMPLES
from helpers.studies import checked, study_from
from rigfolio.labels import DeviceRow, device_rows
from rigfolio.study import Study

TOW = """rig "Tow"
    system 12 V
    rules rv
battery B1 "House" agm, 100 Ah
vehicle V1 "Truck"
connector J1 2 pins of 30 A
busbar N1 100 A
battery B2 "Breakaway" agm, 5 Ah
dc-dc X1 0.5 A, draws 1 A
load M2 "Heater" 2 A
wire W1 V1+ to J1.1 10 AWG red 9 ft, breaker 30 A at V1+
wire W2 V1- to J1.2 10 AWG black 9 ft
wire W3 J1.1 to B1+ 10 AWG red 9 ft, fuse 30 A at B1+
wire W4 J1.2 to N1 10 AWG black 3 ft
wire W5 B1- to N1 8 AWG black 3 ft
wire W6 J1.1.load to X1.in 14 AWG red 3 ft, fuse 3 A at J1.1.load
wire W7 X1- to N1 14 AWG black 3 ft
wire W10 X1.out to B2+ 14 AWG red 3 ft, fuse 3 A at B2+
wire W11 B2- to N1 14 AWG black 3 ft
wire W8 B1+ to M2+ 14 AWG red 3 ft, fuse 5 A at B1+
wire W9 M2- to N1 14 AWG black 3 ft
"""


def rows(study: Study) -> dict[str, DeviceRow]:
    return {row.name: row for row in device_rows(study)}


def test_the_fuse_of_a_charge_line_parts_the_vehicle_from_the_battery() -> None:
    """The vehicle still feeds the breakaway charger, so that nothing is cut off whole."""
    row = rows(study_from(TOW))["W3 fuse"]
    assert row.effect == "parts B1 House and V1 Truck"
    assert row.purpose == "B1 House to V1 Truck"


@pytest.mark.parametrize("file", sorted(EXAMPLES.glob("*.rig")), ids=lambda file: file.stem)
def test_what_parts_sources_is_never_said_to_do_nothing(file: Path) -> None:
    study = checked(file).study
    assert study is not None
    for row in device_rows(study):
        if row.effect == "nothing of this text":
            # Where it is live on both sides by different sources it parted them.
            assert len({frozenset(by) for _, by in row.live}) < 2, row.name
