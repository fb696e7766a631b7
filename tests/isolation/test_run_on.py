"""A converter is stopped for what is opened only where its current runs through that.

What joins what is asked of a general graph library.
"""

from collections.abc import Iterator
from pathlib import Path

import networkx
import pytest

from fuzz.trial import understood
from helpers.home import CORPUS, FAULTY, RIGS
from helpers.studies import checked, study_from
from rigfolio.isolation import Plan, in_turn, isolate
from rigfolio.judgement.result import load
from rigfolio.network import edge_name
from rigfolio.study import Study

RIG = """rig "Truck" system 24 V, rules vehicle
battery B2 "House" lithium, 200 Ah, internal 6 mohm
busbar N1 200 A
busbar N2 200 A
wire B2+ to N1 25 mm2 red 1 m, fuse 80 A at B2+
wire B2- to N2 25 mm2 black 1 m
battery B1 "Start" agm, 180 Ah
dc-dc D1 "House charger" 25 A
dc-dc D2 "24 to 12" 20 A, from 24 V to 12 V
wire B1+ to D1.in 10 mm2 red 3 m, fuse 40 A at B1+
wire D1.out to N1 10 mm2 red 1 m, fuse 40 A at N1
wire D1- to N2 10 mm2 black 1 m
wire B1- to N2 10 mm2 black 1 m
wire N1 to D2.in 4 mm2 red 1 m, fuse 15 A at N1
wire D2- to N2 4 mm2 black 1 m
panel P2 2 slots, negative N2
wire D2.out to P2 4 mm2 red 1 m, fuse 20 A at D2.out
circuit P2.1 "Radio" fuse 5 A
    wire 2.5 mm2 red 3 m
    load "Radio" 3 A
"""


def test_a_converter_that_is_fed_all_the_same_runs_on() -> None:
    # By hand: D2 draws from the bar as the fridge does; of the two D1 alone draws from B1.
    study = study_from(RIG)
    for place, opened in (("B1", "B1"), ("D1.in", "B1+/D1.in fuse")):
        turns = in_turn(study, isolate(study, place))
        assert [one.part for one in turns] == ["D1", opened], place
        assert isolate(study, place).broken_off == ("D1",)


def test_a_converter_behind_another_that_only_passes_on_is_stopped() -> None:
    # By hand: the amperes of B1 come to D2 by D1, with no battery on the bar between them.
    between = (
        RIG.replace("D1.out to N1", "D1.out to N3").replace("wire N1 to D2.in", "wire N3 to D2.in")
        .replace("at N1", "at N3")
        + "busbar N3 100 A\nbattery B3 agm, 90 Ah, 12 V\nwire D2.out to B3+ 4 mm2 red 1 m\n"
        "wire B3- to N2 4 mm2 black 1 m\n"
    )  # fmt: skip
    plan = isolate(study_from(between), "B1")
    assert "D2" in plan.broken_off


def stopped_for_nothing(study: Study, plan: Plan) -> Iterator[str]:
    """What is stopped for a current through what is opened, though none of it can run there."""
    rig = study.rig
    inlets = {one.about.name: one.plus for one in rig.loads}
    parts = {step.action.part for step in plan.steps}

    def near(end: str, off: set[str]) -> set[str]:
        graph = networkx.Graph((wire.a, wire.b) for wire in rig.conductors)
        graph.add_edges_from(
            (one.line, one.load) for one in rig.devices
            if edge_name(one) and one.about.name not in off
        )  # fmt: skip
        at = networkx.node_connected_component(graph, end) if end in graph else {end}
        return {s.about.name for s in rig.sources if s.plus in at and s.about.name not in off}

    def is_fed(end: str, off: set[str], seen: frozenset[str] = frozenset()) -> bool:
        return any(
            not one.inlet or is_fed(inlets[one.inlet], off, seen | {one.about.name})
            for one in rig.sources
            if one.about.name in near(end, off) - seen
        )

    for name in plan.broken_off:
        source = rig.by_name.sources[name]
        gives = near(source.plus, set()) - near(source.plus, parts)
        end = inlets.get(source.inlet, "")
        takes = near(end, set()) - near(end, parts) if end else set()
        if not gives and not takes and not (end and not is_fed(end, parts)):
            yield name


def held(study: Study) -> None:
    for source in study.rig.sources:
        plan = isolate(study, source.about.name, kind="source")
        assert list(stopped_for_nothing(study, plan)) == [], source.about.name
    for part in study.rig.loads:
        plan = isolate(study, part.about.name, kind="load")
        assert list(stopped_for_nothing(study, plan)) == [], part.about.name


@pytest.mark.parametrize("file", dict.fromkeys((*RIGS, *FAULTY, *CORPUS)), ids=lambda one: one.stem)
def test_nothing_is_stopped_for_nothing_in_any_rig(file: Path) -> None:
    study = checked(file).study
    if study is not None:
        held(study)


@pytest.mark.parametrize("first", range(0, 60, 20))
def test_nor_in_rigs_grown_from_the_grammar(first: int) -> None:
    for seed in range(first, first + 20):
        _, rig, _ = load("grown.rig", understood(seed))
        if rig is not None:
            held(Study(rig, rig.book))
