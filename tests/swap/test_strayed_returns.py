"""A return that lands on the bar of another panel belongs to the work there; its load is dead."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from helpers.home import CORPUS, FAULTY, RIGS
from helpers.studies import checked, study_from
from rigfolio.answers import isolate_report
from rigfolio.isolation import Plan, isolate, source_reach
from rigfolio.isolation.plans import opened_by
from rigfolio.isolation.plans.parted import coming_back_by
from rigfolio.model import Panel
from rigfolio.study import Study
from rigfolio.swap import work
from rigfolio.swap.plan import planned

RIG = """rig "ret" system 12 V, rules vehicle
battery B1 100 Ah, internal 5 mohm
panel P1 4 slots of 20 A, negative N1
panel P2 4 slots of 20 A{bar}
busbar N1 100 A
busbar N2 100 A
wire W1 B1+ to P1 16 mm2 red 30 cm, fuse 60 A at B1+, class T
wire W2 N1 to B1- 16 mm2 black 30 cm
wire W3 {to} to N1 4 mm2 black 5 m
circuit P1.1 "Radio" fuse 5 A
    wire W4 2.5 mm2 grey 3 m
    load "Radio" 2 A
    return tag W5 2.5 mm2 black 6 m to {to}
circuit P1.2 "Feed" fuse 15 A
    wire W6 4 mm2 red 5 m to P2
    return to N1
circuit P2.1 "Lamp" fuse 5 A
    wire W7 1.5 mm2 blue 2 m
    load "Lamp" 1 A
"""
ALL = pytest.mark.parametrize(
    "file", dict.fromkeys((*RIGS, *FAULTY, *CORPUS)), ids=lambda one: one.stem
)


def _study(*, inside: bool = True) -> Study:
    return study_from(
        RIG.format(bar="" if inside else ", negative N2", to="P2-" if inside else "N2")
    )


def _steps(study: Study, panel: str, title: str) -> str:
    return " ".join(
        task.do
        for part in work(study, panel)
        if part.title.startswith(title)
        for task in part.tasks
    )


@pytest.mark.parametrize("inside", [True, False])
def test_it_is_tagged_and_moved_where_it_lands(inside) -> None:
    study = _study(inside=inside)
    for title in ("Tag each wire", "Move and fit"):
        assert "W5" in _steps(study, "P2", title)
        assert "W5" not in _steps(study, "P1", title)
        # What feeds the panel comes off at both of its ends.
        assert "W6" in _steps(study, "P2", title)
        assert "W6" in _steps(study, "P1", title)


def test_what_comes_back_by_a_panel_is_made_dead_with_it_and_told() -> None:
    study = _study()
    plan = isolate(study, "P2", kind="panel")
    assert [one.action.part for one in plan.steps] == ["P1.1", "P1.2"]
    told = repr(isolate_report(study, "P2"))
    assert "carries back what it does not feed: Radio" in told
    parts = work(study, "P2")
    assert any("carries back what it does not feed: Radio" in w for one in parts for w in one.about)


def test_a_bar_beside_a_panel_is_not_reached_from_it() -> None:
    assert [one.action.part for one in isolate(_study(inside=False), "P2").steps] == ["P1.2"]


@ALL
def test_nothing_that_comes_back_by_a_panel_stays_live(file: Path) -> None:
    study = checked(file).study
    for panel in () if study is None else study.rig.panels:
        plan = isolate(study, panel.about.name, kind="panel")
        alive = source_reach(study).alive(opened_by(study.rig, [one.action for one in plan.steps]))
        if plan.is_enough:
            assert not [one for one in coming_back_by(study, panel) if one.plus in alive]


def _plans(study: Study | None) -> Iterator[tuple[Panel, Plan, Plan]]:
    for panel in () if study is None else study.rig.panels:
        name = panel.about.name
        yield panel, isolate(study, name, kind="panel"), planned(study, name)


@ALL
def test_the_plan_of_work_opens_what_is_told_at_the_panel_or_says_why_more(file: Path) -> None:
    study = checked(file).study
    for panel, alone, plan in _plans(study):
        more = {one.action.part for one in plan.steps} - {one.action.part for one in alone.steps}
        assert study is not None
        parts = [one for one in work(study, panel.about.name) if one.title.startswith("Make it")]
        told = any("More is opened than" in w for one in parts for w in one.about)
        assert told or not more, (panel.about.name, more)


@ALL
def test_every_stated_wire_at_a_panel_is_tagged_somewhere(file: Path) -> None:
    study = checked(file).study
    if study is None:
        return
    words = [_steps(study, panel.about.name, "Tag each wire") for panel in study.rig.panels]
    near = {end for p in study.rig.panels for end in (p.feed, p.bus, p.own_bar or p.bus)}
    for wire in study.rig.conductors:
        if not wire.assumed and near & {wire.a, wire.b}:
            assert any(f"{wire.name}: " in one for one in words), wire.name
