"""What the word `cranking` excuses: the start of an engine and nothing else."""

import pytest

from helpers.studies import study_from
from rigfolio.demand import flows_of
from rigfolio.operating import starters_of
from rigfolio.protection import is_cranking

# What turns an engine over is told by its words, or is a motor that runs a moment and whose words
# tell of nothing else (common practice).
RIG = """rig "T"
    system 12 V
    rules vehicle
battery B1 flooded, 100 Ah
busbar G1
wire G1 to B1- 2/0 AWG black 3 ft, cranking, tag T9
"""
LOAD = """load M{0} {1}
wire B1+ to M{0}+ 2/0 AWG red 4 ft{2}, tag T{0}
wire M{0}- to G1 2/0 AWG black 1 ft
"""
CRANKING = ", cranking"
START = '"Starter" 150 A, momentary'


@pytest.mark.parametrize(
    ("what", "is_starter"),
    [
        (START, True),
        ('"Starter" 150 A', False),
        ("150 A, momentary, motor", True),
        ("150 A, momentary", False),
        ('"Anchor windlass" 80 A, momentary, motor', False),
        ('"Lamp" 5 A', False),
    ],
)
def test_only_what_turns_an_engine_for_a_moment_is_a_starter(what: str, is_starter: bool) -> None:
    study = study_from(RIG + LOAD.format(1, what, CRANKING))
    assert starters_of(study) == (frozenset({"M1"}) if is_starter else frozenset())
    assert is_cranking(study, study.rig.conductor("T1")) is is_starter


def test_a_starter_none_of_whose_wires_is_declared_gets_nothing_excused() -> None:
    text = RIG.replace(", cranking", "") + LOAD.format(1, START, "")
    study = study_from(text)
    assert starters_of(study) == frozenset()
    assert not is_cranking(study, study.rig.conductor("T1"))
    assert flows_of(study).demand("T1").current_a == 150.0


def test_a_cable_that_brings_a_start_back_brings_back_what_else_runs() -> None:
    study = study_from(RIG + LOAD.format(1, START, CRANKING) + LOAD.format(2, '"Lamp" 5 A', ""))
    back, lamp = (study.rig.conductor(name) for name in ("T9", "T2"))
    assert is_cranking(study, back)
    # 150 A of the start are left aside; the 5 A of the lamp are not.
    assert flows_of(study).demand("T9").current_a == 5.0
    assert not is_cranking(study, lamp)
    assert flows_of(study).demand("T2").current_a == 5.0
    assert flows_of(study).demand("T1").current_a == 0.0


def test_of_two_cables_each_is_excused_by_its_own_engine() -> None:
    second = LOAD.format(2, '"Port starter" 200 A, momentary', CRANKING)
    study = study_from(RIG + LOAD.format(1, START, CRANKING) + second)
    assert starters_of(study) == {"M1", "M2"}
    assert all(is_cranking(study, study.rig.conductor(name)) for name in ("T1", "T2", "T9"))


def test_a_declared_cable_that_no_start_runs_through_is_judged_as_any_other() -> None:
    second = LOAD.format(2, '"Lamp" 5 A', CRANKING)
    study = study_from(RIG + LOAD.format(1, START, CRANKING) + second)
    assert starters_of(study) == {"M1"}
    assert not is_cranking(study, study.rig.conductor("T2"))
