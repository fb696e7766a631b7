"""Which switches leave a charger without a battery: common practice, by the wiring alone."""

import pytest

from helpers.studies import study_from
from rigfolio.judgement.result import check
from rigfolio.kinds import SOURCES
from rigfolio.protection.last_battery import parts_last_battery

RIG = """rig "T"
    system 12 V
    rules vehicle
battery B1 flooded, 100 Ah
solar U1 20 A
busbar N1 200 A
busbar D1 200 A
wire U1- to N1 10 AWG black 2 ft
wire U1+ to D1 10 AWG red 2 ft, fuse 30 A at D1
"""
PLUS = "wire B1+ to D1 2/0 AWG red 2 ft, fuse 60 A at B1+\n"
MINUS = "wire B1- to N1 2/0 AWG black 2 ft\n"
IN_PLUS = """disconnect S1 200 A
wire B1+ to S1.line 2/0 AWG red 2 ft, fuse 60 A at B1+
wire S1.load to D1 2/0 AWG red 2 ft
"""
IN_MINUS = """disconnect S2 200 A
wire B1- to S2.line 2/0 AWG black 2 ft
wire S2.load to N1 2/0 AWG black 2 ft
"""
BY_PLUG = """connector J1 2 pins of 30 A
wire B1+ to J1.1 10 AWG red 2 ft, fuse 30 A at B1+
wire J1.1 to D1 10 AWG red 2 ft
"""
SECOND = """battery B2 flooded, 100 Ah
wire B2+ to D1 2/0 AWG red 2 ft, fuse 60 A at B2+
"""


@pytest.mark.parametrize(
    ("more", "parting"),
    [
        (PLUS + MINUS, []),
        # A switch takes the battery off by either pole, and so does each of two.
        (IN_PLUS + MINUS, ["S1"]),
        (PLUS + IN_MINUS, ["S2"]),
        (IN_PLUS + IN_MINUS, ["S1", "S2"]),
        # A fuse is no switch, and whoever pulls a plug takes it all off.
        (BY_PLUG + MINUS, []),
        # A second battery keeps it, if both its poles are joined.
        (IN_PLUS + MINUS + SECOND + "wire B2- to N1 2/0 AWG black 2 ft\n", []),
        (IN_PLUS + MINUS + SECOND, ["S1"]),
        # There is none to begin with.
        (PLUS, []),
        (MINUS, []),
        # A switch beside the way has no part in it.
        (PLUS + MINUS + "disconnect S1 200 A\nwire D1 to S1.line 2/0 AWG red 2 ft\n", []),
        # Who wrote that the sun is off with the switch knows.
        (IN_PLUS + MINUS + "state stored S1 open, U1 off\n", []),
        (IN_PLUS + MINUS + "state stored S1 open, U1 off\nstate camped S1 closed, U1 on\n", []),
        (IN_PLUS + MINUS + "state stored S1 open, U1 off\nstate away S1 open, U1 on\n", ["S1"]),
        (IN_PLUS + MINUS + "state camped S1 closed, U1 on\n", ["S1"]),
        (IN_PLUS + MINUS + "state dark S1 closed, U1 off\n", ["S1"]),
    ],
)
def test_a_switch_that_takes_the_last_battery_off_is_told(more: str, parting: list[str]) -> None:
    study = study_from(RIG + more)
    found = parts_last_battery(study, study.rig.by_name.sources["U1"])
    assert [one.about.name for one in found] == parting


@pytest.mark.parametrize(
    "kind", [kind for kind, row in SOURCES.items() if row.only_gives and not row.has_input]
)
def test_every_kind_that_needs_its_battery_has_a_rule_of_its_own(kind: str) -> None:
    # From the table alone: no kind that is added may be left out, and none that holds its volts in.
    text = RIG.replace("solar U1", f"{kind} U1")
    found = check("case.rig", text=text + IN_PLUS + MINUS).findings
    told = [one.rule for one in found if one.rule.endswith("-loses-battery")]
    assert len(told) == SOURCES[kind].needs_battery
    assert SOURCES[kind].needs_battery >= SOURCES[kind].runs_away
