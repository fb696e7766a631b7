"""Faults that are out of reach of the readings are not looked at closely: that changes nothing."""

import pytest

from helpers.searches import diagnosed
from helpers.studies import heard, study_from
from helpers.tow_rigs import BY_PLUG, RELAY
from rigfolio.diagnosis import posterior
from rigfolio.diagnosis.evidence import Evidence
from rigfolio.diagnosis.posterior import _FaultSearch

TOWED_SO = BY_PLUG + "state towing D1 on\n"
CASES = [
    (TOWED_SO, "B1 = 0 V, in towing"),
    (TOWED_SO, "D1.in = 10.4 V, in towing"),
    (TOWED_SO, "D1.in = 0 V, in towing"),
    (RELAY, "P1.2 = 0 V, with Compressor on"),
    (RELAY, "P1.2 = 8.6 V, with Compressor on"),
    (RELAY, "B1 = 9 V, with Compressor on"),
]


@pytest.mark.parametrize(("text", "line"), CASES, ids=[line for _, line in CASES])
def test_a_search_says_the_same_as_one_that_looks_at_all(
    text: str, line: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    study = study_from(text)
    readings = heard(study.rig, line)
    told = diagnosed(study, readings)
    monkeypatch.setattr(posterior, "_odd", lambda *_: {})
    evidence = Evidence(told.evidence.study, readings)
    whole = {one.faults: one.share for one in _FaultSearch(evidence).verdicts()}
    for one in told.verdicts:
        assert one.share == pytest.approx(whole.get(one.faults, 0.0), abs=2e-3), one.parts


def test_what_is_out_of_reach_costs_no_slopes(monkeypatch: pytest.MonkeyPatch) -> None:
    study = study_from(TOWED_SO)
    readings = heard(study.rig, "B1 = 0 V, in towing")
    solved: list[object] = []
    solve = Evidence.solve

    def counted(self: Evidence, *args: object, **more: object) -> object:
        solved.append(None)
        return solve(self, *args, **more)  # type: ignore[arg-type]

    monkeypatch.setattr(Evidence, "solve", counted)
    _FaultSearch(Evidence(study, readings)).verdicts()
    pruned = len(solved)
    solved.clear()
    monkeypatch.setattr(posterior, "_odd", lambda *_: {})
    _FaultSearch(Evidence(study, readings)).verdicts()
    assert pruned < 0.5 * len(solved)
