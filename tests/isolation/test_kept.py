"""What must stay on: `check` says what `live` says, and both what a search of the wiring finds."""

import json
import random
from pathlib import Path

import networkx as nx
import pytest
from hypothesis import given, settings, strategies as st

from helpers.cases import read_cases
from helpers.circuits import Made
from helpers.home import HOME
from rigfolio.answers import live_report
from rigfolio.findings import Severity
from rigfolio.isolation import kept_words, must_stay_on, opened, settings_words, states_of
from rigfolio.isolation.energised import Open, SourceReach
from rigfolio.isolation.positions import meanings
from rigfolio.judgement.result import load
from rigfolio.network import edge_name, ends
from rigfolio.reports.objects import as_json
from rigfolio.rules import always_on_behind_disconnect as rule
from rigfolio.study import Study

FILES = sorted((HOME / "examples").rglob("*.rig"))
CASES = [
    case for file in sorted((HOME / "tests").rglob("*.rig")) for case in read_cases(file)
]  # fmt: skip
HEAD = 'rig "Made"\n    system 12 V\n    rules rv\n'


def _study(text: str) -> Study | None:
    _, rig, _ = load("case.rig", text)
    return None if rig is None else Study(rig, rig.book)


class Coupled:
    """The text of a trailer made up from a number: plugs, converters, isolators in both legs."""

    def __init__(self, seed: int) -> None:
        self.any = random.Random(seed)
        self.lines = ["battery B1 100 Ah", "busbar A1 100 A", "busbar A2 100 A", "busbar N1 100 A",
                      "busbar N2 100 A", "chassis G1", "disconnect S1 100 A"]  # fmt: skip
        self.plus, self.minus = ["A1", "A2"], ["N1", "N2", "G1"]
        self.wire("B1+", "A1", "fuse 50 A at B1+")
        self.wire("A1", "S1.line")
        self.wire("S1.load", "A2")
        self.wire("B1-", self.any.choice(self.minus))
        if self.chance():
            self.lines.append("disconnect S2 100 A")
            self.wire("N1", "S2.line")
            self.wire("S2.load", "N2")
        for _ in range(self.any.randint(0, 2)):
            self.wire(*self.any.sample(self.minus, 2))
        self.sources()
        for number in range(1, 4):
            self.lines.append(f'load L{number} "{self.name()}" 1 A{self.words()}')
            self.wire(self.any.choice(self.plus), f"L{number}+", "fuse 5 A")
            self.wire(f"L{number}-", self.any.choice(self.minus))
        if self.chance():
            self.lines.append("state away  S1 open")
        if self.chance():
            self.lines.append("state here  S1 closed")
        self.text = HEAD + "\n".join(self.lines) + "\n"

    def chance(self, share: float = 0.5) -> bool:
        return self.any.random() < share

    def name(self) -> str:
        return self.any.choice(["Lamp", "Brakes", "CO detector", "Breakaway", "Radio memory"])

    def words(self) -> str:
        return ", always on" if self.chance() else ""

    def wire(self, one: str, two: str, more: str = "") -> None:
        self.lines.append(f"wire {one} to {two} 10 AWG 2 ft{', ' if more else ''}{more}")

    def sources(self) -> None:
        if self.chance():
            self.lines += ["vehicle V1", "connector J1 4 pins of 30 A", "busbar A3 100 A"]
            self.plus.append("A3")
            self.wire("V1+", "J1.1.line")
            self.wire("J1.1.load", self.any.choice(self.plus))
            self.wire("V1-", "J1.2.line")
            self.wire("J1.2.load", self.any.choice(self.minus))
            self.wire("V1-", self.any.choice(self.minus)) if self.chance() else None
        if self.chance():
            self.lines += ["charger C1 20 A"]
            self.wire("C1+", self.any.choice(self.plus))
            self.wire("C1-", self.any.choice(self.minus))
        if self.chance():
            self.lines += ["dc-dc E1 10 A from 12 V to 12 V, draws 12 A", "busbar A4 100 A"]
            self.wire(self.any.choice(self.plus), "E1.in")
            self.wire("E1.out", "A4" if self.chance() else self.any.choice(self.plus))
            self.wire("E1-", self.any.choice(self.minus))
            self.plus.append("A4")


def _same(study: Study) -> None:
    """The rule, the answer and its JSON say the same of the same loads."""
    kept = must_stay_on(study)
    told = {finding.at.span: finding for finding in rule.check(study)}
    assert set(told) == {one.load.about.span for one in kept if one.dead_in}
    for one in kept:
        finding = told.get(one.load.about.span)
        if finding is None:
            continue
        assert all(name in finding.at.text for name in one.dead_in)
        if finding.severity is Severity.DANGER:
            assert one.is_stated or one.is_plain
    rows = json.loads(as_json(live_report(study)))["must_stay_on"]
    assert [tuple(row["dead_in"]) for row in rows] == [one.dead_in for one in kept]


def _by_search(study: Study) -> None:
    """What a search of a graph of what is closed finds, the batteries at its ends."""
    rig = study.rig
    drive = SourceReach(study)
    banks = [source for source in rig.sources if source.kind == "battery"]
    for place, state in enumerate(states_of(study, drive)):
        surely = opened(rig, state, surely=True)
        graph = nx.Graph()
        graph.add_nodes_from(end for s in rig.sources for end in (s.plus, s.minus))
        graph.add_nodes_from(end for load in rig.loads for end in (load.plus, load.minus))
        for edge in (*rig.conductors, *rig.devices):
            if not surely.bars(edge) and getattr(edge, "kind", "") not in ("connector", "relay"):
                graph.add_edge(*ends(edge))
        for one in must_stay_on(study):
            by = {
                s.about.name
                for s in banks
                if s.about.name not in surely.sources
                and nx.has_path(graph, s.plus, one.load.plus)
                and nx.has_path(graph, s.minus, one.load.minus)
            }
            said = set(one.on[place])
            assert by <= said
            for name in said - by:
                # Only a converter that a battery feeds, out and back, and that charges none.
                (converter,) = (s for s in rig.sources if s.about.name == name)
                assert converter.kind == "dc-dc"
                assert name not in surely.sources
                assert nx.has_path(graph, converter.plus, one.load.plus)
                assert nx.has_path(graph, converter.minus, one.load.minus)
                fed = drive.inputs[name]
                assert any(
                    nx.has_path(graph, s.plus, fed) and nx.has_path(graph, s.minus, converter.minus)
                    for s in banks
                ) or any(s.kind == "dc-dc" and s is not converter for s in rig.sources)


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_check_says_what_live_says_of_an_example(file: Path) -> None:
    study = _study(file.read_text(encoding="utf-8"))
    if study is not None:
        _same(study)
        if not any(device.kind in ("relay", "selector") for device in study.rig.devices):
            _by_search(study)


@pytest.mark.parametrize("one", CASES, ids=[f"{c.file.stem}: {c.title}" for c in CASES])
def test_check_says_what_live_says_of_a_case(one) -> None:
    study = _study(one.text)
    if study is not None:
        _same(study)


@settings(max_examples=30, derandomize=True, deadline=None, database=None)
@given(st.integers(0, 10**6))
def test_check_says_what_live_says_of_a_rig_made_up(seed: int) -> None:
    study = _study(Made(seed).text)
    assert study is not None
    _same(study)


@settings(max_examples=150, derandomize=True, deadline=None, database=None)
@given(st.integers(0, 10**6))
def test_check_says_what_live_says_of_a_trailer_made_up(seed: int) -> None:
    text = Coupled(seed).text
    _, rig, errors = load("made.rig", text)
    assert rig is not None, (errors, text)
    study = Study(rig, rig.book)
    _same(study)
    _by_search(study)


@settings(max_examples=80, derandomize=True, deadline=None, database=None)
@given(st.integers(0, 10**6), st.integers(0, 10**6))
def test_the_post_of_a_source_that_is_on_is_live_whatever_else_is_open(
    seed: int, other: int
) -> None:
    study = _study(Coupled(seed).text)
    assert study is not None
    drive = SourceReach(study)
    pick = random.Random(other)
    edges = frozenset(edge_name(d) for d in study.rig.devices if pick.random() < 0.5)
    for source in study.rig.sources:
        if source.about.name not in drive.inputs:
            assert source.about.name in drive.alive(Open(edges))[source.plus]
    for one in meanings(study):
        assert not one.words.rstrip().endswith(("the wires of", ":", ";", "stay live"))


def test_a_switch_in_both_poles_leaves_the_posts_of_the_battery_live() -> None:
    study = _study(
        f"{HEAD}battery B1 100 Ah\ndisconnect S1 100 A\ndisconnect S2 100 A\nbusbar A1\n"
        "busbar N1\nwire B1+ to S1.line 6 AWG 1 ft\nwire S1.load to A1 6 AWG 1 ft\n"
        "wire B1- to S2.line 6 AWG 1 ft\nwire S2.load to N1 6 AWG 1 ft\n"
        "load L1 1 A\nwire A1 to L1+ 14 AWG 2 ft\nwire L1- to N1 14 AWG 2 ft\n"
    )
    assert study is not None
    alive = SourceReach(study).alive(Open(frozenset({"S1", "S2"})))
    assert alive == {"B1+": ("B1",)}
    (off,) = [one for one in meanings(study) if (one.switch, one.position) == ("S2", "OFF")]
    assert off.words.endswith("These stay live: the wires of B1")


FED = """battery B1 agm, 100 Ah
busbar D1 100 A
busbar N1 100 A
wire B1- to N1 6 AWG black 1 ft
wire A1- to N1 16 AWG black 1 ft
load A1 {} A, {}always on
"""
BY_RELAY = "{}\nwire B1+ to K1.line 6 AWG red 1 ft\nwire K1.load to A1+ 16 AWG red 1 ft\n"
IN_CIRCUIT = """battery B1 agm, 100 Ah
busbar N1 100 A
wire B1- to N1 6 AWG black 1 ft
circuit B1+ "Bilge" fuse 5 A
    wire 16 AWG red 3 ft
    {} 10 A
    wire 16 AWG red 3 ft
    load "Pump" 3 A, {}always on
    return to N1
"""
BY_PANEL = """battery B1 agm, 100 Ah
busbar N1 100 A
panel P1 4 slots, negative N1
wire B1- to N1 6 AWG black 1 ft
circuit B1+ "Cabin" fuse 20 A
    wire 10 AWG red 3 ft
    {} 30 A
    wire 10 AWG red 3 ft to P1
circuit P1.1 "Alarm" fuse 3 A
    wire 16 AWG red 3 ft
    load "Alarm" 1 A, always on
"""


@pytest.mark.parametrize(
    ("text", "cuts"),
    [
        # Nobody knows when a relay closes that stands in a line of its own; one that rests closed
        # or that stands within the circuit of its own load is how that works.
        (FED.format(1, "") + BY_RELAY.format("relay K1 30 A"), ["K1"]),
        (FED.format(1, "") + BY_RELAY.format("relay K1 30 A, rests closed"), None),
        (FED.format(1, "") + "relay K1 30 A on B1+\nwire K1.load to A1+ 16 AWG red 1 ft\n", ["K1"]),
        (IN_CIRCUIT.format("relay K1", ""), None),
        (IN_CIRCUIT.format('relay "Pump relay"', ""), None),
        (IN_CIRCUIT.format('switch "Float" 5 A\n    relay K1', ""), None),
        # By a circuit it may feed a panel, and with that whatever hangs there.
        (BY_PANEL.format("relay K1"), ["K1"]),
        (BY_PANEL.format("relay"), ["circuit B1+ relay"]),
        # A float switch starts what does not run all the time, and rests open. What runs all the
        # time has none, and one in a line of no circuit is a switch that somebody may open.
        (IN_CIRCUIT.format("switch K1", "intermittent, ") + "state away K1 open\n", None),
        (IN_CIRCUIT.format("switch K1", "") + "state away K1 open\n", ["K1"]),
        (FED.format(1, "intermittent, ") + BY_RELAY.format("switch K1 30 A")
         + "state away K1 open\n", ["K1"]),
    ],
)  # fmt: skip
def test_what_a_signal_or_a_hand_opens_before_what_must_stay_on(
    text: str, cuts: list[str] | None
) -> None:
    study = _study(HEAD + text)
    assert study is not None
    (kept,) = must_stay_on(study)
    assert [device.about.name for device in kept.cuts] == (cuts or [])
    assert kept.only == ()
    assert bool(kept.dead_in) is (cuts is not None)


def test_what_a_charger_alone_feeds_is_told_by_that_and_by_no_switch() -> None:
    text = FED.format(1, "") + "charger C1 20 A\nwire C1+ to A1+ 16 AWG red 1 ft\n"
    study = _study(f"{HEAD}{text}wire C1- to N1 16 AWG black 1 ft\n")
    assert study is not None
    (kept,) = must_stay_on(study)
    assert (kept.cuts, [source.about.name for source in kept.only]) == ((), ["C1"])
    assert kept.dead_in == kept.states


def test_a_converter_that_waits_for_the_engine_takes_the_blame_from_no_switch() -> None:
    # By S1 open the alarm hangs on E1 alone, which charges B2 and may wait for the engine.
    text = (
        "battery B1 agm, 100 Ah\nbattery B2 agm, 100 Ah\ndisconnect S1 100 A\nbusbar D1 100 A\n"
        "busbar N1 100 A\ndc-dc E1 10 A from 12 V to 12 V, draws 12 A\nload A1 1 A, always on\n"
        "wire B1+ to E1.in 6 AWG red 1 ft\nwire E1.out to D1 6 AWG red 1 ft\n"
        "wire B2+ to S1.line 6 AWG red 1 ft\nwire S1.load to D1 6 AWG red 1 ft\n"
        "wire D1 to A1+ 16 AWG red 1 ft\nwire A1- to N1 16 AWG black 1 ft\n"
        "wire B1- to N1 6 AWG black 1 ft\nwire B2- to N1 6 AWG black 1 ft\n"
        "wire E1- to N1 6 AWG black 1 ft\n"
    )
    study = _study(HEAD + text)
    assert study is not None
    (kept,) = must_stay_on(study)
    assert kept.dead_in == ("stored",)
    assert [device.about.name for device in kept.cuts] == ["S1"]
    # In use nobody knows whether it runs.
    (used,) = (state for state in states_of(study) if state.name == "in use")
    assert settings_words(study.rig, used) == "S1 closed, E1 perhaps on"


_BRAKES = """rig "T" system 12 V, rules rv
battery B1 "House" agm, 100 Ah
battery B2 "Breakaway battery" agm, 5 Ah
busbar N1 100 A
disconnect S1 100 A
connector J1 2 pins of 30 A
vehicle V1 "Brake controller" 25 A
wire B1- to N1 6 AWG 1 ft
wire B2- to N1 8 AWG 1 ft
wire B1+ to S1 6 AWG 1 ft
wire V1+ to J1.1.line 12 AWG 9 ft, breaker 20 A at V1+
wire V1- to J1.2.line 12 AWG 9 ft
wire J1.2.load to N1 12 AWG 9 ft
"""
_AS_CIRCUIT = """circuit {start} "Brakes" fuse 20 A
    wire 12 AWG 2 ft
    switch SW1 20 A, rests open
    wire 12 AWG 9 ft
    load "Magnets" 12 A{duty}
"""
_AS_PARTS = """switch SW1 20 A, rests open
load L1 "Brake magnets" 12 A{duty}
wire {start} to SW1 12 AWG 2 ft, fuse 20 A at {start}
wire SW1 to L1+ 12 AWG 9 ft
wire L1- to N1 12 AWG 9 ft
"""
_BY_PLUG = """switch SW1 20 A, rests open
switch SW2 "Try them" 20 A, rests open
splice Z1
load L1 "Brake magnets" 12 A{duty}
wire {start} to SW1.line 12 AWG 2 ft, fuse 20 A at {start}
wire SW1.line to SW2.line 12 AWG 1 ft
wire SW1.load to Z1 12 AWG 2 ft
wire SW2.load to Z1 12 AWG 2 ft
wire J1.1.load to Z1 12 AWG 2 ft
wire Z1 to L1+ 12 AWG 9 ft
wire L1- to N1 12 AWG 9 ft
"""


@pytest.mark.parametrize("duty", ["", ", momentary", ", momentary, always on", ", always on"])
@pytest.mark.parametrize("states", ["", "state towing V1 on, S1 closed\nstate yard V1 off\n"])
@pytest.mark.parametrize(("start", "dead"), [("B2+", False), ("B1+", False), ("S1.load", True)])
def test_brakes_are_fed_up_to_the_switch_that_starts_them_however_that_is_written(
    duty: str, states: str, start: str, dead: bool
) -> None:
    for form in (_AS_CIRCUIT, _AS_PARTS, _BY_PLUG):
        study = _study(_BRAKES + form.format(start=start, duty=duty) + states)
        assert study is not None
        (one,) = must_stay_on(study)
        assert {device.about.name for device in one.starts} >= {"SW1"}
        assert bool(one.dead_in) == dead
        assert [device.about.name for device in one.cuts] == (["S1"] if dead else [])
        assert "once SW1" in kept_words(one) or dead
        said = [str(finding.fix) for finding in rule.check(study)]
        assert bool(said) == dead
        # What is fed past the switch that starts it brakes for good.
        assert all("feed `SW1`" in words for words in said)
