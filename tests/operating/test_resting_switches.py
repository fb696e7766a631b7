"""What rests open is open for a meter, as it is in every state, until what it starts is on."""

import re
from pathlib import Path

import networkx as nx
import pytest

from helpers.cases import read_cases
from helpers.home import HOME
from helpers.searches import diagnosed
from helpers.studies import heard
from rigfolio.diagnosis.scenes import Scenes
from rigfolio.isolation import live_table, opened, states_of, unnamed
from rigfolio.judgement.result import load
from rigfolio.network import closed_for_panels, coils_of, edge_name, ends, resting_open
from rigfolio.operating import Scene, stages_of, standing
from rigfolio.study import Study

TRAILER = """rig "T" system 12 V, rules rv
battery B1 "House" flooded, 100 Ah, internal 5 mohm
battery B2 "Breakaway battery" agm, 5 Ah, internal 40 mohm
vehicle V2 "Brake controller" 25 A
connector J1 7 pins of 30 A
chassis G1
panel P1 4 slots of 20 A, negative G1
switch SW1 "Breakaway switch" 20 A, rests open
load L1 "Brakes" 12 A, momentary
splice Z1
wire W1 B1- to G1 6 AWG 3 ft
wire W2 B1+ to P1 6 AWG 3 ft, fuse 50 A at B1+
wire W3 B2- to G1 8 AWG 2 ft
wire W4 B2+ to SW1 12 AWG 2 ft, fuse 20 A at B2+
wire W5 SW1 to Z1 12 AWG 3 ft
wire W6 J1.2 to Z1 12 AWG 4 ft
wire W7 Z1 to L1+ 12 AWG 22 ft
wire W8 L1- to G1 12 AWG 4 ft
wire W9 V2+ to J1.2 12 AWG 18 ft, breaker 20 A at V2+
wire W10 V2- to J1.1 12 AWG 6 ft
wire W11 J1.1 to G1 10 AWG 3 ft
circuit P1.1 "Lamp" fuse 5 A
    wire 16 AWG 4 ft
    switch SW2 5 A, rests open
    wire 16 AWG 6 ft
    load "Lamp" 10 W
circuit P1.2 "Landing light" fuse 7.5 A
    wire  14 AWG 2 ft
    relay K2 20 A, rests open
    wire  14 AWG 22 ft
    load  "Landing light" 55 W, filament
circuit P1.3 "Landing light relay" fuse 2 A
    wire   16 AWG 6 ft
    switch SW3 5 A, rests open
    wire   16 AWG 6 ft
    load   "K2 coil" 0.15 A
state towing V2 on
state yard   V2 off
state pulled V2 off, SW1 closed
"""
BEHIND = """rig "T" system 12 V, rules rv
battery B1 flooded, 100 Ah, internal 5 mohm
busbar N1 100 A
relay K1 "Cut-in" 60 A, rests open
panel P1 4 slots of 20 A, negative N1
wire W1 B1- to N1 6 AWG 3 ft
wire W2 B1+ to K1 6 AWG 3 ft, fuse 50 A at B1+
wire W3 K1 to P1 6 AWG 3 ft
circuit P1.1 "Lamp" fuse 5 A
    wire 16 AWG 4 ft
    load "Lamp" 10 W
"""
_SWITCH = re.compile(r"^(\s+switch\b[^#\n]*?)(\s*#.*)?$", re.MULTILINE)
TEXTS = [one.text for file in sorted((HOME / "tests").rglob("*.rig")) for one in read_cases(file)]
TEXTS = [TRAILER, BEHIND, *(text for text in TEXTS if "rests open" in text)]
EXAMPLES = [file for file in sorted((HOME / "examples").rglob("*.rig"))
            if _SWITCH.search(file.read_text(encoding="utf-8"))]  # fmt: skip


def _study(text: str) -> Study | None:
    _, rig, _ = load("case.rig", text)
    return None if rig is None else Study(rig, rig.book)


@pytest.mark.parametrize("text", TEXTS)
def test_what_is_read_with_all_off_is_live_by_a_search_of_what_is_closed(text: str) -> None:
    study = _study(text)
    if study is None:
        return
    rest = unnamed(study).opened
    graph = nx.Graph()
    closed = set(closed_for_panels(study.rig))
    for edge in (*study.rig.conductors, *study.rig.devices):
        is_resting = getattr(edge, "rests", "") == "open" and edge.about.name not in closed
        if not is_resting and not rest.bars(edge):
            graph.add_edge(*ends(edge))
    lit = set[str]()
    for source in study.rig.sources:
        if source.about.name in standing(study, rest) and source.plus in graph:
            lit |= nx.node_connected_component(graph, source.plus)
    points = (p for stage in stages_of(study).all() for step in stage.steps for p in step.points)
    for point in points:
        if point.unit == "V" and not point.on and not point.set_to and point.a not in lit:
            assert point.high < 1.0, point.words


@pytest.mark.parametrize("file", EXAMPLES, ids=lambda file: file.stem)
def test_that_the_switch_of_a_load_rests_open_changes_nothing_that_is_read_with_it_on(
    file: Path,
) -> None:
    text = file.read_text(encoding="utf-8")
    resting = _SWITCH.sub(
        lambda found: (
            found[0] if "rests" in found[1] else f"{found[1]}, rests open{found[2] or ''}"
        ),
        text,
    )
    was, now = _study(text), _study(resting)
    if was is None or now is None or text == resting:
        return
    assert resting_open(now.rig)
    for before, after in zip(stages_of(was).all(), stages_of(now).all(), strict=True):
        for one, other in zip(before.steps, after.steps, strict=True):
            assert one.points == other.points


def test_a_brake_pin_is_dead_until_the_pin_of_the_switch_is_pulled() -> None:
    study = _study(TRAILER)
    assert study is not None
    (point,) = (
        p for stage in stages_of(study).all() for step in stage.steps for p in step.points
        if (p.a, p.b) == ("J1.2.load", "J1.1.load")
    )  # fmt: skip
    assert point.high < 0.1
    at_rest = diagnosed(study, heard(study.rig, "J1.2.load to J1.1.load = 0 V, with all off"))
    pulled = diagnosed(study, heard(study.rig, "J1.2.load to J1.1.load = 12.5 V, with all off"))
    # No volts there is as it should be: what is told of is what would not show in it.
    assert sum(verdict.share for verdict in at_rest.verdicts if verdict.touches) < 0.1
    # The brakes are on: that is not how the rig rests, whatever it is.
    for verdict in pulled.verdicts:
        assert [fault.kind for fault in verdict.faults] != ["nothing"] or verdict.unexplained


@pytest.mark.parametrize("state", [one.name for one in states_of(_study(TRAILER))] + [""])  # type: ignore[arg-type]
def test_a_meter_shows_what_live_says_of_every_state(state: str) -> None:
    study = _study(TRAILER)
    assert study is not None
    scene = Scenes(study).of((state, ()), frozenset())
    shown = scene.solve()
    if not state:
        assert abs(shown.between_v("SW1.load", "B2-")) < 0.1
        return
    condition = next(one for one in states_of(study) if one.name == state)
    place = [one.name for one in states_of(study)].index(state)
    assert opened(study.rig, condition).edges <= scene.opened.edges
    for row in live_table(study).rows:
        for end in row.part.terminals:
            if study.side.get(end) == "+" and end in scene.wiring.node:
                is_live = abs(shown.between_v(end, "G1")) > 1.0
                cell = row.cells[place]
                assert is_live == (cell.is_live and not cell.waits), (state, end)


@pytest.mark.parametrize(
    ("on", "closed"),
    [
        ({"L1"}, {"SW1"}), ({"Lamp"}, {"SW2"}), ({"Landing light"}, {"K2", "SW3"}),
        ({"K2 coil"}, {"K2", "SW3"}), ({"Lamp", "L1"}, {"SW1", "SW2"}), (set(), set()),
    ],
)  # fmt: skip
def test_what_a_load_hangs_behind_is_closed_with_it(on: set[str], closed: set[str]) -> None:
    study = _study(TRAILER)
    assert study is not None
    assert set(coils_of(study.rig)) == {"K2"}
    every = {edge_name(one) for one in study.rig.devices if one.rests == "open"}
    scene = Scene(study, unnamed(study).opened, frozenset(on))
    assert every - scene.opened.edges == closed
    # Who says how a switch stands is believed.
    held = Scene(study, unnamed(study).opened, frozenset(on), said=frozenset(every))
    assert not every & held.opened.edges


def test_brakes_that_the_tow_vehicle_feeds_leave_their_switch_open() -> None:
    study = _study(TRAILER)
    assert study is not None
    for state, is_open in (("towing", True), ("yard", False)):
        scene = Scenes(study).of((state, ()), frozenset({"L1"}))
        assert ("SW1" in scene.opened.edges) == is_open


def test_what_a_panel_hangs_behind_is_closed_and_that_is_told() -> None:
    study = _study(BEHIND)
    assert study is not None
    assert closed_for_panels(study.rig) == ("K1",)
    assert any("`K1` closed" in words for words in unnamed(study).words)
    assert "Close K1, which rests open." in stages_of(study).feed().about
