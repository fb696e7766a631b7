"""What drops out or gives way makes all jump: nothing is explained by what lies between."""

from itertools import pairwise

import pytest

from helpers.searches import diagnosed
from helpers.studies import heard, study_from
from helpers.tow_rigs import BY_PLUG, RELAY
from rigfolio.diagnosis.posterior import _FaultSearch
from rigfolio.diagnosis.verdicts import Diagnosis
from rigfolio.study import Study


def towed(states: str = "") -> Study:
    return study_from(BY_PLUG + states)


def lost_a(told: Diagnosis, place: int = 0) -> float:
    """The current of the likeliest joint as it is told [A]."""
    first = told.verdicts[place]
    shown = told.evidence.solve_at(first.wrong, first.levels)
    return max(one.current_a(first.faults[0].name) for one in shown)


@pytest.mark.parametrize("states", ["", "state towing D1 on\n"], ids=["unnamed", "named"])
def test_a_starved_converter_is_read_while_it_runs(states: str) -> None:
    study = towed(states)
    tail = ", in towing" if states else ""
    told = diagnosed(study, heard(study.rig, f"D1.in = 10.4 V{tail}", f"B3 = 12.5 V{tail}"))
    assert told.fits
    assert told.verdicts[0].faults[0].kind == "joint"
    # 2.1 V are lost on all of the way at some 46 A, which is what its watts draw at 10.4 V.
    assert 35.0 < lost_a(told) < 60.0
    assert 0.015 < told.verdicts[0].amounts[0] < 0.06
    ways = {name for one in told.verdicts if one.share > 0.02 for name in one.parts}
    assert {"B3-/J1.2", "D1-/J1.2", "D1.in/J1.1", "J1.1.line"} <= ways


def test_a_converter_that_is_not_running_stays_so_where_that_explains() -> None:
    study = towed()
    told = diagnosed(study, heard(study.rig, "D1.in = 12.4 V", "B3 = 12.4 V"))
    assert told.evidence.running == ""
    assert told.fits


def test_a_steady_voltage_behind_a_contact_is_not_that_of_one_that_dropped_out() -> None:
    study = study_from(RELAY)
    on = ", with Compressor on"
    told = diagnosed(study, heard(study.rig, f"P1.2 = 8.6 V{on}", f"B1 = 12.3 V{on}"))
    likely = [one for one in told.verdicts if one.share > 0.02 and len(one.faults) == 1]
    # 3.7 V at what a motor of 25 A draws: in the feed, never in the way of the coil.
    assert likely
    assert len(likely) > 2
    assert not {"P2.1", "P2.1/1", "P2.1/1R"} & {one.faults[0].name for one in likely}
    assert lost_a(told) > 10.0


def test_what_is_expected_is_shown_by_the_network_at_that_amount() -> None:
    study = towed("state towing D1 on\n")
    told = diagnosed(study, heard(study.rig, "D1.in = 10.4 V, in towing"))
    search = _FaultSearch(told.evidence)
    jumped = 0
    joints = (one for one in search.tried if one.suspect.kind in ("joint", "contact"))
    for one in (one for one in joints if not one.is_led):
        ends = [trial.expected for trial in one.trials]
        jumped += sum(a.gave_out != b.gave_out for a, b in pairwise(ends))
        for amount, expected, _ in one.fine:
            wrong = one.suspect.wrong(amount)
            shown = search.evidence.solve(wrong)
            exact = search.evidence.shows.values(one.suspect, wrong, shown)
            assert exact == pytest.approx(expected.values, abs=0.4), (one.suspect.name, amount)
    assert jumped
