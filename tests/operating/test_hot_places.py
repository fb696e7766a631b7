"""What was found hot is read under its load, and a start that lasts by its amperes, too."""

from functools import cache
from pathlib import Path

import pytest

from helpers.home import CORPUS, RIGS
from helpers.studies import studied, study_from
from rigfolio.operating import MeterPoint, short_stages
from rigfolio.study import Study

RIG = """
rig "Ruff"
    system 24 V
    rules  rv
battery B1 gel, 24 V, 110 Ah, internal 12 mohm
panel P1 6 slots of 20 A
busbar N1 100 A
wire W1 N1 to B1- 10 mm2 black 1 m
wire W2 B1+ to P1 10 mm2 red 2 m, fuse 40 A at B1+
circuit P1.1 "Lamp" fuse 5 A
    wire 1.5 mm2 red 3 m
    load "Lamp" 24 W, led
circuit P1.2 "Heater" fuse 15 A
    wire 2.5 mm2 violet 4 m
    load "Heater" 1.5 A, heater, starts at 7 times for 90 s
circuit P1.3 "Fridge" fuse 10 A{slot}
    wire 2.5 mm2 blue 6 m{wire}
    load "Fridge" 60 W, motor
circuit P1.4 "Socket" fuse 10 A
    wire 2.5 mm2 blue 6 m
    load "Socket" {socket} A
"""


@cache
def ruff(slot: str = "", wire: str = "", socket: float = 4.0) -> Study:
    return study_from(RIG.format(slot=slot, wire=wire, socket=socket))


def heavy(study: Study) -> list[MeterPoint]:
    """All that the short test reads of loads by themselves."""
    stages = [one for one in short_stages(study) if one.title.startswith("Heavy loads")]
    return [point for stage in stages for step in stage.steps for point in step.points]


def read(study: Study) -> list[str]:
    return [point.written() for point in heavy(study)]


HOLDER = "P1 feed to P1.3 = ___ V, with P1.3 on"


def test_a_start_that_lasts_is_a_heavy_load() -> None:
    """7 times 1.5 A are 10.5 A for a minute and a half: more than the 4 A of a socket."""
    lines = read(ruff())
    assert "Heater = ___ A, with Heater starting" in lines
    assert "P1 feed to P1.2 = ___ V, with Heater starting" in lines
    (glow,) = (one for one in heavy(ruff()) if one.written() == lines[1])
    assert glow.unit == "A"
    assert glow.low < 10.5 < glow.high
    assert not any(line.startswith("Socket") for line in lines)


@pytest.mark.parametrize("hurt", [{"slot": ", scorched"}, {"wire": ", corroded"}])
def test_what_was_found_damaged_is_read_under_its_load(hurt: dict[str, str]) -> None:
    assert HOLDER in read(ruff(**hurt))


def test_what_is_whole_and_light_is_not() -> None:
    assert HOLDER not in read(ruff())
    assert any("Socket" in line for line in read(ruff(socket=8.0)))


@pytest.mark.parametrize("file", [*RIGS, *CORPUS], ids=lambda one: one.stem)
def test_every_holder_that_was_found_damaged_is_read(file: Path) -> None:
    study = studied(file)
    ends = {(point.a, point.b) for point in heavy(study)}
    fed = {point.a for stage in short_stages(study) for step in stage.steps
           for point in step.points if point.unit == "V"}  # fmt: skip
    for circuit in study.rig.circuits:
        device = study.device(circuit.device)
        if device is None or not (circuit.condition or device.about.condition):
            continue
        loads = [study.rig.by_name.loads[name] for name in circuit.loads]
        if any(isinstance(load.value, float) and load.plus in fed for load in loads):
            assert (device.line, device.load) in ends, circuit.place
