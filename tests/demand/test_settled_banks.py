"""Batteries side by side settle once for all of them."""

import pytest

from helpers.studies import heard, study_from
from rigfolio.answers import questions
from rigfolio.answers.size import size_report
from rigfolio.demand.counting.split import Fed
from rigfolio.judgement import crowding
from rigfolio.refusal import RefusalError
from rigfolio.study import Study

HEAD = """\
rig "Bank" system 12 V, rules rv
busbar N1 100 A
busbar X1 100 A
fuse F1 50 A, interrupts 10 kA
panel P1 12 slots of 20 A
wire X1 to F1 6 AWG red 1 ft
wire F1 to P1 6 AWG red 3 ft
circuit P1.1 "Lamp" fuse 5 A
    wire 14 AWG red 8 ft
    load "Lamp" 12 W
circuit P1.2 "Pump" fuse 10 A
    wire 12 AWG red 8 ft
    load "Pump" 5 A, intermittent
"""
BATTERY = """\
battery B{n} flooded, 105 Ah, internal 10 mohm
wire B{n}+ to X1 6 AWG red {n} ft, fuse 50 A at B{n}+
wire B{n}- to N1 6 AWG white 1 ft
"""


def bank(count: int) -> Study:
    return study_from(HEAD + "".join(BATTERY.format(n=n) for n in range(1, count + 1)))


def settled(count: int, monkeypatch: pytest.MonkeyPatch) -> tuple[int, int]:
    """How many times a mesh was settled in all, and for how many batteries."""
    study, done = bank(count), []
    settle = Fed._settle

    def counted(fed: Fed, *told: object) -> object:
        done.append(fed.source)
        return settle(fed, *told)

    with monkeypatch.context() as patch:
        patch.setattr(Fed, "_settle", counted)
        size_report(study)
    return len(done), len(set(done))


def test_more_batteries_settle_no_more_often(monkeypatch: pytest.MonkeyPatch) -> None:
    """Once for each size on trial, of which each battery brings those of its two leads."""
    few, many = settled(3, monkeypatch), settled(9, monkeypatch)
    # One stands for the bank as it is, one for the bank as it is to be.
    assert many[1] == few[1] <= 2
    assert many[0] <= 3 * few[0]


def test_what_is_settled_for_one_is_what_each_would_settle(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    shared = size_report(bank(4))
    monkeypatch.setattr(Fed, "_settled_once", lambda fed, sized, without: fed._settle(
        sized.sizes, without))  # fmt: skip
    assert size_report(bank(4)) == shared


@pytest.mark.parametrize("more", [0, 1])
def test_a_bank_beyond_all_banks_is_refused_where_it_would_take_long(
    more: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert crowding.MOST_WEIGHED == 100
    monkeypatch.setattr(crowding, "MOST_WEIGHED", 4)
    study = bank(4 + more)
    monkeypatch.setattr("rigfolio.answers.size.sizes", lambda *_: ())
    monkeypatch.setattr("rigfolio.answers.diagnose.diagnosis_report", lambda *_: "searched")
    asked = (
        lambda: questions.report_of("size", study),
        lambda: questions.diagnosis(study, heard(study.rig, "B1 = 3 V")),
    )
    if not more:
        sized, searched = (ask() for ask in asked)
        assert sized.title.startswith("Gauge and fuse")
        assert searched == "searched"
        return
    for ask in asked:
        with pytest.raises(RefusalError, match="more than 4 sources") as refused:
            ask()
        assert refused.value.rule == "sources-crowded"
