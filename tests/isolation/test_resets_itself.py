"""A breaker that resets by itself is no switch: no plan switches it off, and papers say so."""

from pathlib import Path

import pytest

from helpers.home import HOME
from helpers.studies import study_from
from rigfolio.answers.short import short_report
from rigfolio.isolation import Plan, in_turn, isolate
from rigfolio.judgement.result import load
from rigfolio.labels import device_rows
from rigfolio.reports.terminal import as_text
from rigfolio.study import Study

TEXT = """rig "T" system 12 V, rules rv
battery B1 flooded, 100 Ah, delivers 900 A
panel P1 4 slots of 20 A, negative N1
busbar N1 100 A
disconnect S1 100 A
wire W1 B1+ to S1 6 AWG 2 ft, fuse 50 A at B1+, class T
wire W2 S1 to P1 6 AWG 2 ft
wire W3 N1 to B1- 6 AWG 2 ft
breaker F2 "Jack breaker" 30 A{resets}, on B1+
load L2 "Jack" 20 A, motor, intermittent
wire W4 F2 to L2+ 10 AWG 8 ft
wire W5 L2- to N1 10 AWG 1 ft
breaker F3 20 A{resets}
wire W6 P1 to F3.line 10 AWG 1 ft
load L3 "Fan" 5 A
wire W7 F3.load to L3+ 10 AWG 8 ft
wire W8 L3- to N1 10 AWG 1 ft
"""
EXAMPLES = [file for file in sorted((HOME / "examples").glob("*.rig"))
            if "breaker" in file.read_text(encoding="utf-8")]  # fmt: skip


def orders(study: Study, plan: Plan) -> str:
    return "\n".join(one.do for one in in_turn(study, plan))


CHARGED = """charger C1 20 A
wire W9 C1+ to P1 10 AWG 4 ft, fuse 20 A at P1
wire W10 C1- to N1 10 AWG 4 ft
"""


@pytest.mark.parametrize(("more", "opened"), [("", ["B1"]), (CHARGED, ["S1", "B1"])])
def test_what_only_such_a_breaker_parts_has_a_lead_lifted(more: str, opened: list[str]) -> None:
    study = study_from(TEXT.format(resets=", resets by itself") + more)
    plan = isolate(study, "L2")
    assert plan.is_enough
    assert [step.action.part for step in plan.steps] == opened
    assert plan.steps[-1].action.opening.by_wrench
    words = orders(study, plan)
    assert "lift the minus lead" in words
    assert "switch it off" not in words
    by_hand = study_from(TEXT.format(resets="") + more)
    assert "F2 Jack breaker: switch it off" in orders(by_hand, isolate(by_hand, "L2"))


def test_what_a_hand_opens_goes_before_it() -> None:
    study = study_from(TEXT.format(resets=", resets by itself"))
    parts = {step.action.part for step in isolate(study, "L3").steps}
    assert parts == {"S1"}


@pytest.mark.parametrize("file", EXAMPLES, ids=lambda file: file.stem)
def test_no_plan_switches_off_what_closes_again(file: Path) -> None:
    """In every example of which the breakers that do not say how they reset do so by themselves."""
    text = file.read_text(encoding="utf-8").splitlines()
    made = [
        f"{line.rstrip()}, resets by itself" if line.startswith("breaker") and "#" not in line
        else line for line in text
    ]  # fmt: skip
    _, rig, _ = load(str(file), "\n".join(made) + "\n")
    if rig is None:
        return
    study = Study(rig, rig.book)
    again = {one.about.name for one in rig.devices if one.resets_itself}
    for panel in rig.panels:
        for step in isolate(study, panel.about.name, kind="panel").steps:
            assert step.action.part not in again or step.action.opening.by_wrench


def test_papers_at_the_panel_say_that_it_closes_again() -> None:
    for resets, is_said in ((", resets by itself", True), ("", False)):
        rows = {one.name: one for one in device_rows(study_from(TEXT.format(resets=resets)))}
        for name in ("F2", "F3"):
            assert ("closes again by itself" in rows[name].rated) == is_said
            assert ("closes again by itself" in rows[name].with_kind) == is_said
        assert "closes again" not in rows["S1"].rated


def test_a_short_that_it_opens_is_not_said_to_end() -> None:
    for resets, is_said in ((", resets by itself", True), ("", False)):
        told = as_text(short_report(study_from(TEXT.format(resets=resets)), "L2+"))
        assert ("`F2` CLOSES AGAIN BY ITSELF" in told) == is_said
        assert (" Ends " in told) != is_said
