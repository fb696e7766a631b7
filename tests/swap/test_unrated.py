"""A circuit of which nobody knows fuse or wire: measured for a short, not brought live."""

from pathlib import Path

import pytest

from helpers.home import EXAMPLES
from helpers.hut import HUT
from helpers.studies import checked, study_from
from rigfolio.findings import Unknown
from rigfolio.judgement.result import understood
from rigfolio.operating import bounds_words
from rigfolio.protection import colour_word
from rigfolio.study import Study
from rigfolio.swap import spares_to_carry
from rigfolio.swap.fitting import ready_words
from rigfolio.swap.roof import every_stage, power_stages

RIG = f"""\
{HUT}circuit P1.2 "Riddle" fuse ? A
    wire 14 AWG blue 9 ft
    load "not known yet" {{draws}} A
"""


def test_a_riddle_is_measured_for_a_short_and_read_nowhere_else() -> None:
    for draws in ("?", "3"):
        study = understood("hut.rig", text=RIG.format(draws=draws)).study
        assert study is not None
        for made in (every_stage(study), power_stages(study)):
            read = {s.title: [p for step in s.steps for p in step.points if "P1.2" in (p.a, p.b)]
                    for s in made}  # fmt: skip
            assert len(read.pop("Ohms, all fuses out")) == 1
            assert not any(read.values())
        (circuits,) = [s for s in power_stages(study) if s.title.startswith("Each circuit")]
        (step,) = [step for step in circuits.steps if step.circuit == "P1.2"]
        assert step.points == ()
        assert "Riddle" not in "".join(s.do for one in every_stage(study)[1:] for s in one.steps)


UNREAD = """rig "Hut"
    system 12 V
    rules rv
battery B1 flooded, 100 Ah, internal 10 mohm
panel P1 4 slots of 20 A, negative N1
busbar N1 100 A
wire B1+ to P1 6 AWG red 2 ft, fuse 50 A at B1+
wire N1 to B1- 6 AWG black 4 ft
load L1 "Horn" 3 A
wire W5 B1+ to L1+ ? red 10 ft, fuse 5 A at B1+
wire W6 L1- to N1 14 AWG black 10 ft
circuit P1.1 "Riddle" fuse 20 A
    wire ? ? ? ft
circuit P1.2 "Heater" fuse 20 A
    wire ? red 10 ft
    load "Heater" 3 A
circuit P1.3 "Box" fuse 20 A
    wire 12 AWG red 4 ft
    splice Z1
    wire ? red 4 ft
    load "Box" 3 A
circuit P1.4 "Fan" fuse 10 A
    wire 14 AWG red ? ft
    load "Fan" 3 A
"""
RIGS = sorted((*EXAMPLES.glob("*.rig"), *(EXAMPLES / "faulty").glob("*.rig")))


def hold(study: Study) -> int:
    """That no fuse is laid ready or carried for a wire that nobody has read; how many there are."""
    found = 0
    carried = [name for spare in spares_to_carry(study) for name in spare.places]
    read = {
        step.circuit
        for made in (every_stage(study)[1:], power_stages(study)[1:])
        for stage in made for step in stage.steps
        if step.points
    }  # fmt: skip
    for circuit in study.rig.circuits:
        device = study.device(circuit.device)
        wires = [*map(study.rig.conductor, (*circuit.wires, *circuit.returns))]
        there = [one.size if one.found is None else one.found for one in wires if not one.lead]
        if device is None or not any(isinstance(size, Unknown) for size in there):
            continue
        found += 1
        assert ready_words(study, circuit).startswith(("NO FUSE GOES IN", "THE BREAKER STAYS OFF"))
        assert circuit.place not in read
        assert device.about.name not in carried
        assert colour_word(study, circuit) is None
    for stage in (*every_stage(study), *power_stages(study)):
        for point in (point for step in stage.steps for point in step.points):
            sides = {study.side.get(point.a), study.side.get(point.b)}
            if point.unit == "V" and sides == {"+", "-"} and point.high >= 1.0:
                assert point.low >= 1.0, point
    return found


def test_before_a_wire_that_nobody_has_read_no_fuse_goes_in() -> None:
    study = study_from(UNREAD)
    assert hold(study) == 3
    (loads,) = [one for one in every_stage(study) if one.title == "Each load by itself"]
    assert not any("Heater" in step.do for step in loads.steps)
    # Length and lone leads that were not read leave open what is lost, never whether it is live.
    points = [point for step in loads.steps for point in step.points]
    shown = {bounds_words(one) for one in points if one.unit == "V" and one.high >= 1.0}
    assert shown == {"1.0 to 12.8 V"}


@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_nothing_unread_is_taken_as_good_in_any_example(file: Path) -> None:
    study = checked(file).study
    if study is not None:
        hold(study)
