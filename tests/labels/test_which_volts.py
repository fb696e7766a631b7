"""Volts stand on labels where two systems may be mistaken, and on what the sun drives."""

import pytest

from helpers.studies import study_from
from helpers.sun_rigs import ROOF
from rigfolio.job import Job
from rigfolio.judgement.result import check, job_of
from rigfolio.labels import every_label
from rigfolio.labels.system_volts import volts_at

PANEL = """panel P1 "Panel" 2 slots of 20 A, pitch 14 mm
wire N2 to P1 8 AWG red 2 ft, fuse 40 A at N2
circuit P1.1 "Pump" fuse 5 A
    wire 14 AWG brown 9 ft
    load "Pump" 2 A
"""
SECOND = """dc-dc E1 "Twenty-four" 5 A, from 12 V to 24 V, draws 12 A
panel P2 "High panel" 2 slots of 20 A, pitch 14 mm, negative N1
wire N2 to E1.in 10 AWG red 2 ft, fuse 20 A at N2
wire E1.out to P2 12 AWG red 2 ft
wire E1- to N1 10 AWG black 2 ft
circuit P2.1 "Beacon" fuse 3 A
    wire 14 AWG red 9 ft
    load "Beacon" 1 A
"""


def job(more: str = "") -> Job:
    return job_of(check("volts.rig", text=ROOF + PANEL + more))


def said(of: Job) -> dict[str, str]:
    """Ratings of the labels, without the blanks that never break."""
    made = {one.place: " ".join((*one.ratings, *one.wires)) for one in every_label(of)}
    return {place: words.replace("\u00a0", " ") for place, words in made.items()}


def test_a_system_with_a_sun_side_has_one_voltage_of_its_own() -> None:
    labels = said(job())
    assert "12 V" not in " ".join(labels.values())
    assert labels["P1.1"].startswith("5 A tan 5 A")


def test_what_the_sun_drives_bears_its_own_volts() -> None:
    # By hand: two modules of 24 V, 40 K below 25 degC at 0.3 % each: 48 V times 1.12.
    for name in ("S1", "Y1+/Z1 fuse"):
        assert "live in daylight, 53.8 V cold" in said(job())[name]


@pytest.mark.parametrize(("place", "volts"), [("P1.1", "12 V"), ("P2.1", "24 V")])
def test_two_systems_are_told_apart_on_every_label(place: str, volts: str) -> None:
    assert volts in said(job(SECOND))[place]


def test_volts_are_those_of_the_system_there() -> None:
    study = study_from(ROOF + PANEL + SECOND)
    assert [volts_at(study, (end,)) for end in ("P1", "P2", "Z1")] == ["12 V", "24 V", ""]
    assert volts_at(study_from(ROOF + PANEL), ("P1",)) == ""
