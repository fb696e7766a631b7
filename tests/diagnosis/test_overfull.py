"""A fuse that carries more than it is rated for blows with nothing broken; `check` says so too."""

import pytest

from helpers.searches import diagnosed
from helpers.studies import heard, study_from
from rigfolio.answers.diagnose import diagnosis_report
from rigfolio.demand import flows_of
from rigfolio.reports import Listing
from rigfolio.rule import judged
from rigfolio.study import Study

RIG = """
rig "Hut"
    system 12 V
    rules vehicle
battery B1 flooded, 100 Ah, internal 5 mohm
panel P1 6 slots of 20 A
busbar N1 100 A
wire B1+ to P1 16 mm2 red 30 cm, fuse 60 A at B1+
wire N1 to B1- 16 mm2 black 30 cm
circuit P1.1 "Lights" fuse {fuse} A
    wire 2.5 mm2 red 3 m
    load "Lamps" 24 W, led
    load "Cool box" {watt} W, {duty}
"""


def hut(fuse: float, watt: float = 60, duty: str = "continuous") -> Study:
    return study_from(RIG.format(fuse=fuse, watt=watt, duty=duty))


def listed(study: Study, title: str, *lines: str) -> str:
    parts = diagnosis_report(study, heard(study.rig, *lines)).parts
    return " ".join(
        one.words for part in parts if isinstance(part, Listing) and part.title == title
        for one in part.items
    )  # fmt: skip


@pytest.mark.parametrize("said", ["P1.1 keeps blowing", "P1.1 has blown"])
@pytest.mark.parametrize("fuse", [3, 5, 7.5, 10])
def test_what_check_tells_of_a_fuse_that_blows_is_told_of_it(fuse: float, said: str) -> None:
    # 24 W and 60 W at 12 V: 7 A, and some more for what the copper takes of the volts.
    study = hut(fuse)
    demand_a = flows_of(study).demand("P1.1").current_a
    assert 7.0 < demand_a < 7.5
    told = listed(study, "As the text has it", said)
    is_over = any(one.rule == "fuse-overloaded" for one in judged(study))
    assert is_over == (demand_a > fuse)
    assert (f"made for {fuse:g} A" in told) == is_over
    best = diagnosed(study, heard(study.rig, said)).verdicts[0]
    assert best.touches != is_over


def test_a_fuse_that_carries_a_little_too_much_holds_for_days() -> None:
    # 93.5 W: 7.8 A through 7.5 A, less than the tenth more that it holds for a hundred hours
    # (ISO 8820-3, 110 per cent for 100 h; from memory).
    study = hut(7.5, watt=66)
    demand_a = flows_of(study).demand("P1.1").current_a
    assert 7.5 < demand_a < 1.1 * 7.5
    assert "made for 7.5 A" in listed(study, "As the text has it", "P1.1 keeps blowing")
    assert diagnosed(study, heard(study.rig, "P1.1 keeps blowing")).verdicts[0].touches


@pytest.mark.parametrize(("duty", "is_told"), [("cyclic", True), ("continuous", False)])
def test_what_starts_by_itself_on_the_same_wires_is_asked_after(duty: str, is_told: bool) -> None:
    study = hut(10, duty=duty)
    told = listed(study, "Taken as", "Lamps = 11.2 V, with Lamps on")
    assert ("it starts by itself" in told) == is_told
    assert "it starts by itself" not in listed(study, "Taken as", "Lamps = 11.2 V")
