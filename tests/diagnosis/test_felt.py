"""What is felt of a part that all run through, and a bank that does not charge, by hand."""

import pytest

from helpers.forgotten import cache
from helpers.searches import diagnosed
from helpers.studies import study_from
from rigfolio.books.trade.diagnosis import figure
from rigfolio.diagnosis.verdicts import Diagnosis
from rigfolio.reading.logs.meter import read_log
from rigfolio.study import Study

RIG = """
rig "Van"
    system 24 V
    rules vehicle
battery B1 "House bank" lithium, 200 Ah, internal 8 mohm, 25.6 V
fuse F1 70 A, class T, interrupts 20 kA, on B1+
disconnect S1 "Main switch" 150 A
panel P1 4 slots of 30 A
busbar N1 100 A
wire F1 to S1 16 mm2 red 0.6 m
wire S1 to P1 16 mm2 red 1.2 m
wire N1 to B1- 16 mm2 black 0.8 m
solar U1 "Roof" 20 A
wire U1+ to B1+ 6 mm2 red 1.5 m, fuse 30 A, midi, interrupts 5 kA at B1+
wire U1- to N1 6 mm2 black 1.5 m
circuit P1.1 "Heater" fuse 20 A
    wire 4 mm2 red 5 m
    load "Heater" 10 A, cyclic
circuit P1.2 "Compressor" fuse 25 A, melted
    wire 6 mm2 brown 3 m
    load "Compressor" 15 A, motor, intermittent
"""


@cache
def van() -> Study:
    return study_from(RIG)


def found(*lines: str) -> Diagnosis:
    log, problems = read_log("\n".join(lines), "r", van().rig)
    assert not problems
    return diagnosed(van(), log.readings)


def blamed(told: Diagnosis) -> dict[str, float]:
    """The shares of the parts that faults are named of, where they touch what was read."""
    shares: dict[str, float] = {}
    for one in told.verdicts:
        for fault in one.faults if one.touches else ():
            shares[fault.name] = shares.get(fault.name, 0.0) + one.share
    return shares


@pytest.mark.parametrize("line", ["S1 hot", "Main switch is warm", "S1 too hot to touch",
                                  "S1 warm to the touch"])  # fmt: skip
def test_what_is_felt_at_a_switch_is_of_the_switch(line: str) -> None:
    """10 A of the heater run through it; the slot that is melted carries nothing of them."""
    told = found(line)
    assert max(blamed(told), key=lambda name: blamed(told)[name]) == "S1"
    assert "P1.2" not in blamed(told)


def test_what_is_felt_at_a_bar_is_of_the_wires_that_land_there() -> None:
    parts = set(blamed(found("N1 hot")))
    assert {"B1-/N1", "P1.1/1R"} <= parts
    assert parts <= {"B1-/N1", "P1.1/1R", "N1/U1-", "P1.1"}


def test_what_keeps_a_bank_from_its_charge_lies_between_it_and_what_charges() -> None:
    parts = blamed(found("House bank does not charge"))
    ways = {"B1+/U1+", "B1+/U1+ fuse", "N1/U1-", "B1-/N1", "U1"}
    assert sum(parts.get(one, 0.0) for one in ways) > 0.5
    assert {"F1", "F1/S1", "P1/S1", "P1.1"}.isdisjoint(parts)


def test_a_bank_that_nothing_charges_blames_nothing() -> None:
    text = "".join(line for line in RIG.splitlines(keepends=True) if "U1" not in line)
    study = study_from(text)
    log, _ = read_log("House bank does not charge", "r", study.rig)
    assert not [one for one in diagnosed(study, log.readings).verdicts if one.touches]


def test_a_drop_that_the_test_sheet_lets_pass_is_no_bad_contact() -> None:
    """Up to 50 mV pass there; 0.2 V at 15 A is a contact of 13 mohm."""
    line = "P1 to P1.2 = {} mV, with Compressor on"
    assert figure("sound", "joint_volt") == 0.05
    passes, fails = (blamed(found(line.format(each))).get("P1.2", 0.0) for each in (20, 200))
    assert passes < 0.5 < fails
