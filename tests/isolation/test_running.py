"""No fuse is pulled and no lead is lifted while a charger or a converter has its current there.

A contact that is parted under current draws an arc, and a flooded battery gives off gas (common
practice). What joins what is asked of a general graph library.
"""

from collections.abc import Iterator
from pathlib import Path

import networkx
import pytest

from helpers.home import RIGS
from helpers.studies import checked, study_from
from rigfolio.isolation import in_turn, isolate, isolate_ends
from rigfolio.judgement.result import check
from rigfolio.kinds import SOURCES
from rigfolio.model import Source
from rigfolio.network import edge_name
from rigfolio.study import Study

BETWEEN = """rig "Between"
    system 24 V
    rules boat
battery B1 agm, 180 Ah
battery B2 "Engine" flooded, 90 Ah
busbar N1 200 A
dc-dc D1 20 A
wire B2+ to D1.in 6 mm2 red 3 m, fuse 40 A at B2+
wire D1.out to B1+ 6 mm2 red 2 m, fuse 30 A at B1+
wire D1- to N1 10 mm2 black 2 m
wire B1- to N1 35 mm2 black 1 m
wire B2- to N1 35 mm2 black 1 m
"""
BESIDE = """battery B3 agm, 100 Ah
charger C1 30 A
fuse F3 60 A, maxi
busbar A1 200 A
wire C1+ to A1 10 mm2 red 1 m, fuse 40 A at A1
wire C1- to N1 10 mm2 black 1 m
wire B1+ to A1 35 mm2 red 1 m, fuse 100 A at B1+
wire A1 to F3 35 mm2 red 1 m
wire F3 to B3+ 35 mm2 red 0.1 m
wire B3- to N1 35 mm2 black 1 m
"""


@pytest.mark.parametrize(
    ("more", "place", "first", "why"),
    [
        # 20 A out of the converter are some 22 A at its input, by the lead that is lifted.
        ("", "B2", "D1", "its current runs through what is opened"),
        ("", "D1.in", "D1", "its current runs through what is opened"),
        ("", "B1", "D1", "its current runs through what is opened"),
        # The charger keeps B1, and gives to B3 by the fuse that is pulled.
        (BESIDE, "B3", "C1", "its current runs through what is opened"),
    ],
)
def test_what_has_its_current_through_a_fuse_or_a_lead_goes_off_first(
    more: str, place: str, first: str, why: str
) -> None:
    study = study_from(BETWEEN + more)
    turns = in_turn(study, isolate(study, place))
    assert (first, why) in [(one.part, one.why) for one in turns]
    assert list(arcs(study, place)) == []


ALONE = """battery B4 agm, 100 Ah
load L4 1 A
wire B4+ to L4+ 10 mm2 red 1 m, fuse 100 A at B4+
wire L4- to N1 10 mm2 black 1 m
wire B4- to N1 35 mm2 black 1 m
"""


@pytest.mark.parametrize(
    ("place", "stopped"), [("B4", ()), ("L4", ()), ("D1.in", ("D1",)), ("B2", ("D1",))]
)
def test_what_has_no_current_there_runs_on(place: str, stopped: tuple[str, ...]) -> None:
    # A bank with a lamp of its own is parted from nothing that runs.
    plan = isolate(study_from(BETWEEN + ALONE), place)
    assert plan.broken_off == stopped
    assert plan.stop_first == stopped


BEHIND = """rig "Behind"
    system 12 V
    rules vehicle
battery B1 agm, 180 Ah
battery B2 "Engine" agm, 90 Ah
disconnect S1 250 A
busbar D9 250 A
busbar N1 250 A
panel P1 4 slots, negative N1
wire B1+ to S1.line 2/0 AWG red 1 ft, fuse 200 A at B1+
wire S1.load to D9 2/0 AWG red 1 ft
wire D9 to P1 6 AWG red 2 ft
wire N1 to B1- 2/0 AWG black 1 ft
wire B2- to N1 2/0 AWG black 1 ft
dc-dc D1 20 A
wire B2+ to D1.in 8 AWG red 9 ft, fuse 40 A at B2+
wire D1- to N1 8 AWG black 2 ft
wire D1.out to D9 8 AWG red 2 ft
"""


GIVING = [kind for kind, row in SOURCES.items() if row.only_gives and not row.has_input]


@pytest.mark.parametrize("kind", GIVING)
def test_who_loses_its_battery_is_told_alike_when_it_is_judged_and_when_it_is_parted(kind) -> None:
    line = f"{kind} X9 20 A\nwire X9+ to D9 10 AWG red 2 ft\nwire X9- to N1 10 AWG black 2 ft\n"
    result = check("case.rig", text=BEHIND + line)
    judged = {word for one in result.findings if one.rule.endswith("-loses-battery")
              for word in ("X9", "D1") if f"`{word}`" in one.headline}  # fmt: skip
    assert result.study is not None
    turns = in_turn(result.study, isolate(result.study, "B1"))
    parted = {one.part for one in turns if "lose its battery" in one.why}
    assert parted == judged == ({"X9"} if SOURCES[kind].needs_battery else set())
    # What may run without a battery is stopped all the same: its current runs through S1.
    assert {"X9", "D1"} <= {one.part for one in turns}


ENGINE = """alternator A1 120 A, 14.4 V
wire A1+ to B2+ 2/0 AWG red 4 ft, fuse 150 A at B2+
wire A1- to N1 2/0 AWG black 1 ft
solar U1 20 A, input 75 V
array Y1 open circuit 22.4 V, short circuit 6.1 A
wire U1+ to D9 10 AWG red 2 ft, fuse 30 A at D9
wire U1- to N1 10 AWG black 2 ft
wire Y1+ to U1.in 10 AWG red 9 ft
wire Y1- to U1.in- 10 AWG black 9 ft
circuit P1.1 "Lamp" fuse 5 A
    wire 16 AWG red 3 ft
    load 1 A
"""
HELD = BEHIND.replace("fuse 40 A at B2+", "fuse 40 A, midi at B2+, tag W9")


@pytest.mark.parametrize(
    ("place", "parts"),
    [
        # Loads, engine, sun, converter; then switches before fuses, and a lead last.
        ("B1", ["", "A1", "U1", "D1", "S1", "B1"]),
        ("S1.line", ["", "A1", "U1", "D1", "S1", "B1"]),
        ("P1", ["", "A1", "U1", "D1", "S1"]),
        ("D1.in", ["A1", "D1", "B2"]),
        # The fuse of a slot is pulled with its load off, whatever runs.
        ("P1.1", ["P1.1"]),
    ],
)
def test_the_engine_stops_before_the_converter_that_it_keeps_running(place, parts) -> None:
    study = study_from(HELD + ENGINE)
    turns = in_turn(study, isolate(study, place))
    assert [one.part for one in turns] == parts
    if "A1" in parts:
        why = next(one.why for one in turns if one.part == "A1")
        assert why == ("keeps off A1" if place == "D1.in" else "it keeps D1 running")


@pytest.mark.parametrize("place", ["B1", "B2", "S1", "P1", "D9", "D1", "U1", "A1"])
def test_nothing_stays_live_from_what_the_steps_have_ended(place) -> None:
    switch = "disconnect S2 20 A\nwire Y1+ to S2.line 10 AWG red 9 ft\nwire S2.load to U1.in "
    study = study_from(HELD + ENGINE.replace("wire Y1+ to U1.in", switch, 1))
    plan = isolate(study, place)
    ended = {one.part for one in in_turn(study, plan)}
    live = {end: one.sources for one in plan.stays_live for end in one.part.terminals}
    assert [end for end, by in live.items() if set(by) <= ended] == []
    # Open, the switch of the roof leaves the modules live and the lead behind it dead.
    assert "Y1+" in live
    assert ("S2.load" in live) == (not {"U1", "S2"} & ended)


def test_what_stays_off_goes_off_in_the_order_of_the_trade_and_is_not_live() -> None:
    switch = "disconnect S2 20 A\nwire Y1+ to S2.line 10 AWG red 9 ft\nwire S2.load to U1.in "
    study = study_from(HELD + ENGINE.replace("wire Y1+ to U1.in", switch, 1))
    plan = isolate_ends(study, "P1", isolate(study, "P1").terminals, ("D1", "U1", "A1"))
    assert [one.part for one in in_turn(study, plan)] == ["", "A1", "U1", "D1", "S1"]
    live = {end for one in plan.stays_live for end in one.part.terminals}
    assert ("Y1+" in live, "S2.load" in live) == (True, False)


def test_an_engine_stops_before_the_lead_of_its_bank_is_lifted_for_a_nut_held_fuse() -> None:
    study = study_from(HELD.replace("dc-dc D1 20 A", "load D1 20 A").replace("D1.in", "D1+")
                       .replace("wire D1.out to D9 8 AWG red 2 ft\n", "") + ENGINE)  # fmt: skip
    turns = in_turn(study, isolate(study, "D1"))
    assert [one.part for one in turns] == ["", "A1", "B2"]
    assert "lift the minus lead (B2−)" in turns[-1].do


def test_a_converter_whose_input_nobody_has_drawn_takes_nothing_through_a_lead() -> None:
    text = BETWEEN.replace("wire B2+ to D1.in 6 mm2 red 3 m, fuse 40 A at B2+\n", "") + ALONE
    plan = isolate(study_from(text), "B4")
    assert ([step.action.part for step in plan.steps], plan.broken_off) == (["B4"], ())


def arcs(study: Study, place: str) -> Iterator[str]:
    """What runs through a fuse or a lead while that is opened, step by step."""
    plan = isolate(study, place)
    ways = {step.action.part: step for step in plan.steps}
    off: set[str] = set()
    for turn in in_turn(study, plan):
        step = ways.get(turn.part)
        way = step.action.opening if step is not None else None
        if way is not None and not step.in_sun and (way.is_no_switch or way.by_wrench):
            before, after = _joined(study, off), _joined(study, off | {turn.part})
            for source in study.rig.sources:
                if not source.stores and source.about.name not in off:
                    lost = before[source.about.name] - after[source.about.name]
                    yield from (f"{turn.part} under {source.about.name}: {one}" for one in lost)
        off |= {turn.part}


def _joined(study: Study, off: set[str]) -> dict[str, set[str]]:
    """The batteries that each source that charges gives to, and that a converter takes from.

    One whose input no battery feeds does not run.
    """
    rig, graph = study.rig, networkx.Graph()
    for wire in rig.conductors:
        graph.add_edge(wire.a, wire.b)
    for device in rig.devices:
        if device.about.name not in off and edge_name(device):
            graph.add_edge(device.line, device.load)
    posts = {s.plus: s.about.name for s in rig.sources if s.stores and s.about.name not in off}

    def banks(end: str) -> set[str]:
        near = networkx.node_connected_component(graph, end) if end in graph else {end}
        return {name for post, name in posts.items() if post in near}

    return {one.about.name: _runs_on(one, banks(one.plus), rig, banks) for one in rig.sources}


def _runs_on(source: Source, gives: set[str], rig, banks) -> set[str]:
    inputs = [load.plus for load in rig.loads if load.about.name == source.inlet]
    takes = set().union(*map(banks, inputs)) if source.inlet else set()
    if source.inlet and not (takes and gives):
        return set()
    return takes | gives if source.traits.charges else set()


@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_no_battery_of_a_rig_is_freed_with_an_arc(file: Path) -> None:
    study = checked(file).study
    assert study is not None
    for source in study.rig.sources:
        if source.stores:
            assert list(arcs(study, source.about.name)) == []
