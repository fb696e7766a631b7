"""What holds said shares against the truth, tried on shares whose truth is known."""

from random import Random

import pytest

from benchmarks.calibration import by_luck, error
from benchmarks.drawn_rigs import rig_text
from benchmarks.faulty_rigs import drawn_cases
from helpers.studies import study_from
from rigfolio.diagnosis.scenes import Scenes


def answers(chance: Random, count: int, off: float = 0.0) -> list[tuple[float, bool, float]]:
    """So many shares, each true as often as it says and a little more."""
    shares = [chance.uniform(0.05, 0.95) for _ in range(count)]
    return [(share, chance.random() < share + off, 1.0) for share in shares]


def test_shares_that_hold_stray_as_far_as_luck_takes_them() -> None:
    chance = Random(5)
    held = [answers(chance, 60) for _ in range(200)]
    strayed = sum(error(one) for one in held) / len(held)
    # Of 60 answers in 6 bands some ten points, with nothing wrong.
    assert strayed > 0.08
    assert strayed == pytest.approx(sum(by_luck(one) for one in held) / len(held), rel=0.1)


def test_shares_that_say_too_little_stray_further_than_luck_takes_them() -> None:
    said_too_little = answers(Random(6), 4000, off=0.15)
    assert error(said_too_little) == pytest.approx(0.15, abs=0.03)
    assert by_luck(said_too_little) < 0.02


def test_drawn_faults_show_at_the_load_that_they_are_found_by() -> None:
    scenes = Scenes(study_from(rig_text(3)))
    cases = list(drawn_cases(scenes, Random("faults of drawn 3"), 12))
    assert len(cases) == 12
    for case in cases:
        low, high = case.suspect.amounts[0], case.suspect.amounts[-1]
        assert min(low, high) <= case.amount <= max(low, high)
        assert case.suspect.circuit in ("", case.load.circuit)


def test_faults_of_one_kind_can_be_drawn_alone() -> None:
    scenes = Scenes(study_from(rig_text(3)))
    cases = list(drawn_cases(scenes, Random(4), 12, ("short", "dead load")))
    assert {case.suspect.kind for case in cases} == {"short", "dead load"}
    assert not list(drawn_cases(scenes, Random(4), 4, ("no such kind",)))
