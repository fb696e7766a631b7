"""What a test sheet expects to be live is live as the rig stands while it is read."""

from functools import cache
from pathlib import Path

import pytest

from helpers.home import CORPUS, RIGS
from helpers.searches import diagnosed
from helpers.studies import heard, studied, study_from
from rigfolio.answers.diagnose import diagnosis_report
from rigfolio.isolation import CLOSED, Open, bank_joins, source_reach, unplugged
from rigfolio.operating import MeterPoint, Stage, short_stages, stages
from rigfolio.study import Study

EVERY = (*RIGS, *CORPUS)
_LIVE_V = 1.0
TOWED = """
rig "Linnet"
    system 12 V
    rules  rv
{bank}
vehicle V1 "Car", delivers 1 kA
connector J1 "Tow plug" 7 pins of 25 A
busbar N1 100 A
panel P1 4 slots of 20 A
wire W1 {post} to P1 6 AWG red 1 ft{guard}
wire V1- to J1.2 6 AWG black 6 ft
wire J1.2 to N1 6 AWG black 6 ft
wire V1+ to J1.1 14 AWG brown 6 ft, fuse 10 A at V1+
wire J1.1 to L1+ 14 AWG brown 6 ft
wire L1- to N1 14 AWG white 2 ft
load L1 "Marker lamps" 10 W, filament
circuit P1.1 "Lamp" fuse 5 A
    wire 14 AWG red 9 ft
    load "Lamp" 10 W
state tow  V1 on
state camp V1 off
"""


@cache
def linnet() -> Study:
    bank = "battery B1 agm, 100 Ah, internal 10 mohm\nwire N1 to B1- 6 AWG black 1 ft"
    return study_from(TOWED.format(bank=bank, post="B1+", guard=", fuse 40 A at B1+"))


def standing_alive(study: Study) -> set[str]:
    """All that `live` calls live with chargers, sun, engine and tow vehicle away."""
    away = frozenset(
        source.about.name
        for source in study.rig.sources
        if source.traits.runs_with and not source.inlet
    )
    edges = bank_joins(study.rig) | unplugged(study.rig)
    return set(source_reach(study).alive(Open(edges, away)))


def expected_live(made: tuple[Stage, ...]) -> list[MeterPoint]:
    points = [point for stage in made for step in stage.steps for point in step.points]
    return [one for one in points if one.unit == "V" and one.low > _LIVE_V]


@pytest.mark.parametrize("file", EVERY, ids=lambda one: one.stem)
def test_what_is_expected_to_be_live_is_live_then(file: Path) -> None:
    study = studied(file)
    if not any(source.stores for source in study.rig.sources):
        # Without a battery aboard it is read with whatever feeds the rig.
        assert unplugged(study.rig) == frozenset()
        return
    lit = standing_alive(study)
    for point in (*expected_live(stages(study)), *expected_live(short_stages(study))):
        assert point.a in lit, f"{point.words} from {point.a}: {point.low} V at the least"


def test_what_only_a_tow_vehicle_feeds_is_not_read_and_that_is_said() -> None:
    for made in (stages(linnet()), short_stages(linnet())):
        assert not any("L1" in p.a for s in made for step in s.steps for p in step.points)
        told = [stage for stage in made if "Dead with the tow vehicle unplugged" in stage.about]
        assert len(told) == 1
        assert "L1 Marker lamps" in told[0].about


def test_a_trailer_without_a_battery_is_read_with_its_vehicle() -> None:
    fused = "\nwire V1+ to J1.3 6 AWG red 6 ft, fuse 30 A at V1+"
    study = study_from(TOWED.format(bank="", post="J1.3", guard=fused))
    assert unplugged(study.rig) == frozenset()
    assert any("L1+" in p.a for p in expected_live(stages(study)))


def test_no_volts_at_what_a_vehicle_feeds_are_no_fault_without_it() -> None:
    rig = linnet().rig
    told = diagnosed(linnet(), heard(rig, "L1 = 0 V"))
    assert sum(one.share for one in told.verdicts if not one.touches) > 0.9
    words = str(diagnosis_report(linnet(), heard(rig, "L1 = 0 V")).parts)
    assert "nothing feeds L1 Marker lamps then; write `, in tow` if it stood so" in words
    assert "connector `J1` unplugged, since nothing tows" in words
    towed = diagnosed(linnet(), heard(rig, "L1 = 0 V, in tow"))
    assert all(one.touches for one in towed.verdicts[:3])


def test_who_says_that_it_does_not_work_has_tried_it_behind_the_vehicle() -> None:
    told = diagnosed(linnet(), heard(linnet().rig, "L1 does not work"))
    assert told.evidence.running == "tow"
    assert told.verdicts[0].touches


def test_closed_is_still_all_plugged_in() -> None:
    assert "L1+" in source_reach(linnet()).alive(CLOSED)
