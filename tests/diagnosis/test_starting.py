"""Readings that were taken while a load started, by hand."""

import pytest

from helpers.forgotten import cache
from helpers.searches import diagnosed
from helpers.studies import study_from
from rigfolio.diagnosis.evidence import Evidence
from rigfolio.diagnosis.verdicts import Diagnosis
from rigfolio.reading.logs.meter import read_log
from rigfolio.study import Study

RIG = """
rig "Bench"
    system 12 V
    rules vehicle
battery B1 agm, 100 Ah, internal 20 mohm
panel P1 3 slots of 20 A
busbar N1 100 A
wire B1+ to P1 6 AWG red 1 ft, fuse 50 A at B1+
wire N1 to B1- 6 AWG black 1 ft
circuit P1.1 "Heater" fuse 15 A
    wire 2.5 mm2 red 4 m
    load "Heater" 1.5 A, cyclic, starts at 6 times for 3 min
circuit P1.2 "Lights" fuse 10 A
    wire 16 AWG red 10 ft
    load "Lamp" 2 A
"""


@cache
def bench() -> Study:
    return study_from(RIG)


def readings(*lines: str):
    log, problems = read_log("\n".join(lines), "r", bench().rig)
    assert not problems
    return log.readings


def blamed(found: Diagnosis) -> float:
    """The share of what blames the way out of the heater."""
    parts = ("P1.1/1", "wires of P1.1")
    return sum(one.share for one in found.verdicts if any(f.part in parts for f in one.faults))


def test_the_scene_of_a_start_draws_what_flows_at_the_start():
    """1.5 A in running, six times that at the start: 9 A, and 2 A of the lamp beside it."""
    taken = Evidence(bench(), readings("P1 = 12 V, with Lamp on and Heater starting"))
    shown = taken.sound[0]
    assert shown.current_a("P1.1/1") == pytest.approx(6 * 1.5)
    assert shown.given_a("B1") == pytest.approx(6 * 1.5 + 2)
    assert bench().rig.by_name.loads["Heater"].times_at_start == 6
    assert bench().rig.by_name.loads["Lamp"].times_at_start == 1


def test_what_sags_at_a_start_is_no_fault():
    """Both legs of 8 m of 2.5 mm2 have about 57 mohm: 0.5 V at 9 A, 0.09 V at 1.5 A."""
    line = "P1.1 to Heater + = 0.26 V, with Heater"
    at_start = diagnosed(bench(), readings(f"{line} starting"))
    running = diagnosed(bench(), readings(f"{line} on"))
    assert blamed(at_start) < 0.3
    assert blamed(running) > 0.7


def test_a_bad_joint_is_weighed_by_the_amperes_of_the_start():
    """1.8 V at 9 A: 0.2 ohm less the 29 mohm of the wire itself."""
    found = diagnosed(bench(), readings("P1.1 to Heater + = 1.8 V, with Heater starting"))
    best = found.verdicts[0]
    assert (best.faults[0].kind, best.faults[0].name) == ("joint", "P1.1/1")
    assert best.amounts[0] == pytest.approx(0.17, rel=0.3)
