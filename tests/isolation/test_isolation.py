"""Isolation: hand-worked rigs, minimality by exhaustion, and what must hold of any rig."""

import json
from itertools import combinations, product

import pytest
from hypothesis import given, settings, strategies as st

from helpers.home import EXAMPLES
from helpers.studies import studied, study_from
from rigfolio.answers import isolate_report, live_report
from rigfolio.isolation.energised import CLOSED, Open, SourceReach
from rigfolio.isolation.kept import must_stay_on
from rigfolio.isolation.plans.least_cut import actions_of, fewest, opened_by
from rigfolio.isolation.plans.orders import isolate
from rigfolio.isolation.plans.places import place_of
from rigfolio.isolation.positions import meanings
from rigfolio.isolation.states import states_of
from rigfolio.isolation.table import folded, live_table
from rigfolio.judgement.result import load
from rigfolio.refusal import RefusalError
from rigfolio.reports.objects import as_json
from rigfolio.reports.terminal import as_text
from rigfolio.study import Study
from rigfolio.wording import Finder

FEW = settings(max_examples=60, deadline=None, derandomize=True, database=None)

HEAD = 'rig "T"\n    system 12 V\n    rules rv\n'
SMALL = """battery B1 "House" flooded, 100 Ah
fuse F1 40 A
disconnect S1 "Main switch" 100 A
charger C1 "Converter" 30 A
solar U1 10 A
panel P1 "Galley" 4 slots
busbar N1 100 A
wire B1+ to F1.line 6 AWG red 1 ft
wire F1.load to S1.line 6 AWG red 1 ft
wire S1.load to P1 6 AWG red 1 ft
wire C1+ to P1 8 AWG red 1 ft, fuse 40 A at P1
wire U1+ to F1.load 10 AWG red 9 ft
wire N1 to B1- 6 AWG black 1 ft
wire C1- to N1 8 AWG black 1 ft
wire U1- to N1 10 AWG black 9 ft
circuit P1.1 "Lights" fuse 5 A
    wire 16 AWG red 9 ft
    load "Lamp" 1 A, 4 h/day
circuit S1.line "Gas detector" fuse 3 A, always on
    wire 16 AWG orange 9 ft
    load "Detector" 0.1 A, 24 h/day
"""


def study_of(*parts):
    _, rig, errors = load("t.rig", HEAD + "".join(parts))
    assert errors == ()
    return Study(rig, rig.book)


def opens(plan):
    return [(step.action.part, step.action.kind) for step in plan.steps]


def example(name):
    return studied(EXAMPLES / name)


def test_charger_first_then_the_disconnect():
    # By hand: P1 hangs on S1.load and on C1. U1 and B1 come by S1; C1 by its own wire.
    plan = isolate(study_of(SMALL), "P1")
    assert opens(plan) == [("C1", "source"), ("S1", "disconnect")]
    assert plan.is_enough
    assert [step.keeps_off for step in plan.steps] == [("C1",), ("B1", "U1")]
    assert [(one.source, one.by) for one in plan.back_feeds] == [("C1", ("C1+/P1 fuse",))]
    assert plan.reached_by == ("B1", "C1", "U1")
    assert plan.goes_dark == ()
    assert plan.order.status == "common practice"


def test_what_stays_live_with_its_sources():
    plan = isolate(study_of(SMALL), "P1")
    found = {one.part.name: one.sources for one in plan.stays_live}
    assert found == {
        "circuit S1.line": ("B1", "U1"), "S1.line": ("B1", "U1"),
        "B1": ("B1", "U1"), "U1": ("B1", "U1"), "F1": ("B1", "U1"),
    }  # fmt: skip


def test_the_fuse_of_a_slot_is_enough_for_its_circuit():
    plan = isolate(study_of(SMALL), "P1.1")
    assert opens(plan) == [("P1.1", "fuse")]
    assert plan.loads == ("Lights: Lamp",)


BEHIND = (
    'circuit P1.2 "Shore" fuse 20 A\n    wire 12 AWG red 4 ft\n    splice Z1\n'
    '    wire 12 AWG red 4 ft\n    load "Fan" 1 A\n'
    "charger C2 10 A\nwire C2+ to Z1 12 AWG red 1 ft\nwire C2- to N1 12 AWG black 1 ft\n"
)
SECOND = (
    "panel P2 4 slots, negative N1\nwire S1.load to P2 6 AWG red 1 ft\n"
    'circuit P2.1 "Aft" fuse 5 A\n    wire 16 AWG red 9 ft\n    load "Aft lamp" 1 A\n'
)


def test_a_panel_is_its_feed_its_bar_and_its_own_slots():
    study = study_of(SMALL, SECOND)
    assert place_of(study.rig, "P1").terminals == ("P1", "P1.1")
    assert place_of(study.rig, "P2").terminals == ("P2", "P2.1")


@pytest.mark.parametrize(
    ("text", "place", "stored", "parts"),
    [
        ("", "P1.1", False, ["P1.1"]),
        # Stored, with all off that could feed it, nothing is left to be pulled.
        ("state stored S1 open, C1 off, U1 off\n", "P1.1", True, []),
        # A circuit without a fuse of its own is dead with what it hangs on.
        (
            'circuit S1.load "Bare"\n    wire 10 AWG red 9 ft\n    load "Bare" 1 A\n',
            "circuit S1.load",
            False,
            ["C1", "S1"],
        ),
        # What feeds a circuit from behind goes off as well.
        (BEHIND, "P1.2", False, ["C2", "P1.2"]),
    ],
)
def test_one_fuse_is_pulled_where_that_frees_a_circuit(text, place, stored, parts):
    study = study_of(SMALL, text)
    state = next((one for one in states_of(study) if stored and one.name == "stored"), None)
    plan = isolate(study, place, state)
    assert [step.action.part for step in plan.steps] == parts
    assert plan.is_enough


def test_what_must_stay_on_and_goes_dark():
    plan = isolate(study_of(SMALL), "F1")
    # Both ends of F1: the lead of B1, the sun, and S1 against the charger.
    assert opens(plan) == [("U1", "source"), ("S1", "disconnect"), ("B1", "lead")]
    assert plan.goes_dark == ("Gas detector: Detector",)


def test_nothing_that_charges_is_parted_from_its_battery_while_it_runs():
    # S1 parts the converter from the battery, and the converter is not in the way of F1's ends.
    plan = isolate(study_of(SMALL), "F1")
    assert plan.stop_first == ("C1",)
    told = " ".join(as_text(isolate_report(study_of(SMALL), "F1")).split())
    assert "Its current runs through what is opened" in told
    assert isolate(study_of(SMALL), "P1").stop_first == ()


def test_a_post_is_never_dead():
    plan = isolate(study_of(SMALL), "B1")
    assert plan.is_post
    assert "Cover it" in as_text(isolate_report(study_of(SMALL), "B1"))


def test_nothing_to_open_is_said():
    text = "battery B1 flooded, 100 Ah\nbusbar D1 100 A\nsolar U1 10 A\n" \
           "wire B1+ to D1 6 AWG red 1 ft\nwire U1+ to D1 6 AWG red 1 ft\n"  # fmt: skip
    plan = isolate(study_of(text), "D1")
    assert set(opens(plan)) == {("U1", "source"), ("B1", "lead")}
    alone = isolate(study_of("panel P1 4 slots\nbattery B1 flooded, 100 Ah\n"), "P1")
    assert (alone.reached_by, alone.steps) == ((), ())


def test_a_name_that_is_nowhere():
    with pytest.raises(RefusalError, match="nothing is called `P9`"):
        isolate(study_of(SMALL), "P9")
    study = study_of(SMALL)
    names = {part.name for part in Finder(study.rig).parts}
    assert {"P1", "P1.1", "S1.line", "circuit S1.line", "B1", "N1", "F1"} <= names
    for name in names:
        assert place_of(study.rig, name).terminals


RETURNS = """battery B1 flooded, 100 Ah
panel P1 4 slots, negative N1
busbar N1 100 A
disconnect S1 100 A
wire B1+ to P1 6 AWG red 1 ft
wire N1 to S1.load 6 AWG black 1 ft
wire S1.line to B1- 6 AWG black 1 ft
circuit P1.1 "Lights" fuse 5 A
    wire 16 AWG red 9 ft
    load "Lamp" 1 A
"""


def test_a_disconnect_in_the_return_parts_the_battery():
    study = study_of(RETURNS)
    assert opens(isolate(study, "P1")) == [("S1", "disconnect")]
    drive = SourceReach(study)
    open_ = Open(frozenset({"S1"}))
    assert "P1" not in drive.alive(open_)


def test_but_not_where_the_frame_is_bonded_ahead_of_it():
    text = RETURNS + "chassis G1\nwire B1- to G1 6 AWG bare 1 ft\n"
    study = study_of(text)
    plan = isolate(study, "P1")
    assert opens(plan) == [("B1", "lead")]
    drive = SourceReach(study)
    open_ = Open(frozenset({"S1"}))
    alive = drive.alive(open_)
    assert alive["P1"] == ("B1",)
    # The minus bar is parted from the battery and stands at plus through the lamp.
    assert drive.through_loads(alive, open_)["N1"] == ("B1",)


def test_a_vehicle_comes_back_by_its_own_frame():
    study = example("marsh-wren-17.rig")
    alive = SourceReach(study).alive(Open(frozenset({"J1.2.line", "J1.5.line"})))
    assert alive["V1+"] == ("V1",)
    assert alive["J1.2.load"] == ("B1", "C1", "U1")


CONVERTER = """battery B1 lithium, 100 Ah, 51.2 V
disconnect S1 100 A
dc-dc E1 30 A from 51.2 V to 12.8 V, draws 8 A
panel P1 4 slots, negative N1
busbar N1 100 A
wire B1+ to S1.line 6 AWG red 1 ft
wire S1.load to E1.in 6 AWG red 1 ft, fuse 15 A
wire E1.out to P1 10 AWG red 1 ft
wire E1- to N1 6 AWG black 1 ft
wire N1 to B1- 6 AWG black 1 ft
"""


def test_a_converter_drives_only_while_its_input_is_live():
    study = study_of(CONVERTER)
    drive = SourceReach(study)
    assert drive.alive()["P1"] == ("E1",)
    assert "P1" not in drive.alive(Open(frozenset({"S1"})))
    assert opens(isolate(study, "P1")) == [("S1", "disconnect")]


def test_the_states_of_the_boat_by_hand():
    table = live_table(example("kittiwake-30.rig"))
    assert [state.name for state in table.states] == ["laid-up", "moored", "motoring", "sailing"]
    live = {
        name: [cell.sources for cell in table.row(name).cells]
        for name in ("P1", "P2", "S1.load", "M2")
    }
    assert live == {
        "P1": [(), ("B1", "B2", "C1"), ("B1", "B2", "A1"), ("B2",)],
        "P2": [("B2",), ("B1", "B2", "C1"), ("B1", "B2", "A1"), ("B2",)],
        "S1.load": [(), (), ("B1", "B2", "A1"), ()],
        "M2": [(), ("B1", "B2", "C1"), ("B1", "B2", "A1"), ("B2",)],
    }
    assert all(row.part.kind != "slot" for row in folded(table))


def test_a_slot_that_is_fed_from_behind_has_its_own_row():
    text = SMALL + (
        'circuit P1.2 "Spare panel" fuse 10 A\n    wire 12 AWG red 9 ft to P2\n'
        "panel P2 2 slots, negative N1\ncharger C2 10 A\nwire C2+ to P2 12 AWG red 1 ft\n"
        "wire C2- to N1 12 AWG black 1 ft\nstate stored S1 open, C1 off, U1 off, C2 on, P1.2 open\n"
    )
    table = live_table(study_of(text))
    assert table.row("P1").cells[0].sources == ()
    assert table.row("P1.2").cells[0].sources == ("C2",)
    assert "P1.2" in [row.part.name for row in folded(table)]


def test_what_must_stay_on():
    kept = {one.load.about.name: one for one in must_stay_on(study_of(SMALL))}
    assert list(kept) == ["Detector"]
    assert kept["Detector"].dead_in == ()
    text = SMALL + 'circuit P1.2 "CO detector" fuse 3 A\n    wire 16 AWG red 3 ft\n    load 0.1 A\n'
    kept = {one.load.about.name: one for one in must_stay_on(study_of(text))}
    assert not kept["load at P1.2"].is_stated
    assert kept["load at P1.2"].dead_in == ("stored",)


def test_a_return_that_is_open_keeps_nothing_on():
    text = RETURNS.replace('load "Lamp" 1 A', 'load "Alarm" 0.1 A, always on')
    text += "chassis G1\nwire B1- to G1 6 AWG bare 1 ft\nstate away S1 open\nstate here S1 closed\n"
    (kept,) = must_stay_on(study_of(text))
    assert kept.dead_in == ("away",)


def test_a_pump_worked_by_hand_is_no_automatic_one():
    names = [one.name for one in must_stay_on(example("kittiwake-30.rig"))]
    assert names == [
        "Bilge pump, automatic: Bilge pump, deep sump", "Gas detector: LP gas detector",
        "High water alarm",
    ]  # fmt: skip


def test_each_position_says_what_it_does():
    on, off = meanings(study_of(SMALL))
    assert (on.position, on.words) == ("ON", "House B1 feeds Galley P1")
    assert off.words.startswith("Galley P1 dead, unless Converter C1 is on.")
    assert "These stay live: Gas detector; the wires of House B1, Converter C1, U1" in off.words


def test_reports_begin_with_the_cautions_and_say_the_same_to_programs():
    report, live = (isolate_report(example("marsh-wren-17.rig"), "P1"),
                    live_report(example("marsh-wren-17.rig")))  # fmt: skip
    text = " ".join(as_text(report).split())
    assert "licensed practice" in text[:250]
    steps = json.loads(as_json(report))["steps"]
    assert len(steps) == 2
    assert all(step["do"] in text for step in steps)
    told = json.loads(as_json(live))
    assert [one["name"] for one in told["states"]] == ["stored", "towing", "shore"]
    assert told["parts"][0]["live"]["stored"]["sources"] == []


@pytest.mark.parametrize(
    ("pins", "opened"),
    [
        # One plug parts both of its pins; two plugs are no fewer things than two switches, and a
        # switch is opened before a plug is pulled.
        (("J1.1", "J1.2"), [("J1", "unplug")]),
        (("J1.1", "J2.1"), [("S1", "disconnect"), ("S2", "disconnect")]),
    ],
)
def test_a_plug_that_parts_two_ways_is_one_thing_to_open(pins, opened):
    text = "busbar N1 100 A\nbusbar D1 100 A\nconnector J1 2 pins\nconnector J2 2 pins\n"
    for number, pin in enumerate(pins, start=1):
        text += (
            f"battery B{number} agm, 100 Ah\ndisconnect S{number} 100 A\n"
            f"wire B{number}+ to S{number}.line 6 AWG red 1 ft\n"
            f"wire S{number}.load to {pin}.line 6 AWG red 1 ft\n"
            f"wire {pin}.load to D1 6 AWG red 1 ft\nwire B{number}- to N1 6 AWG black 1 ft\n"
        )
    assert opens(isolate(study_of(text), "D1")) == opened


# Small rigs of every make: bars in a net, sources and a panel on them by all kinds of devices.
_LINKS = ("", "disconnect", "fuse", "breaker", "bolted")
_BARS = ("D1", "D2", "D3")


@st.composite
def rigs(draw):
    """Text of a rig with one panel, and the name of a source that can be left out."""
    lines = ["busbar N1 100 A", *(f"busbar {bar} 100 A" for bar in _BARS)]
    lines.append("panel P1 2 slots, negative N1")
    joints = []
    for source, word in (("B1", "battery"), ("B2", "battery"), ("C1", "charger"), ("U1", "solar")):
        if source == "B1" or draw(st.booleans()):
            said = "flooded, 100 Ah" if word == "battery" else "10 A"
            back = draw(st.sampled_from(("", "disconnect", "bolted")))
            lines += [f"{word} {source} {said}", *_link(f"{source}M", f"{source}-", "N1", back)]
            joints.append(
                (f"{source}+", draw(st.sampled_from(_BARS)), draw(st.sampled_from(_LINKS)))
            )
    for one, two in combinations(_BARS, 2):
        if draw(st.booleans()):
            joints.append((one, two, draw(st.sampled_from(_LINKS))))
    for _ in range(draw(st.integers(1, 2))):
        joints.append((draw(st.sampled_from(_BARS)), "P1", draw(st.sampled_from(_LINKS))))
    for number, (one, two, link) in enumerate(joints, start=1):
        lines += _link(number, one, two, link)
    if draw(st.booleans()):
        ends = draw(st.lists(st.sampled_from((*_BARS, "P1")), min_size=3, max_size=3))
        lines.append("selector X1 200 A")
        lines += [f"wire {end} to X1.{pole} 6 AWG red 1 ft"
                  for end, pole in zip(ends, ("1", "2", "common"), strict=True)]  # fmt: skip
    if draw(st.booleans()):
        lines.append("connector J1 2 pins")
        for pin in (1, 2):
            one, two = draw(st.permutations((*_BARS, "P1")))[:2]
            lines += [f"wire {one} to J1.{pin}.line 6 AWG red 1 ft",
                      f"wire J1.{pin}.load to {two} 6 AWG red 1 ft"]  # fmt: skip
    return "\n".join(lines) + "\n"


def _link(number, one, two, link):
    if not link:
        return [f"wire {one} to {two} 6 AWG red 1 ft"]
    word = {"bolted": "fuse"}.get(link, link)
    more = " mega" if link == "bolted" else ""
    name = f"K{number}"
    return [
        f"{word} {name} 30 A{more}",
        f"wire {one} to {name}.line 6 AWG red 1 ft",
        f"wire {name}.load to {two} 6 AWG red 1 ft",
    ]


def reached(rig, opened, off):
    """Terminals that sources reach; written without the walks of the package."""
    names = {device.about.name for device in rig.devices} & set(opened)
    pairs = [(wire.a, wire.b) for wire in rig.conductors]
    pairs += [(d.line, d.load) for d in rig.devices if d.about.name not in names]
    on = [source for source in rig.sources if source.about.name not in off]
    return joined({s.plus for s in on if "N1" in joined({s.minus}, pairs)}, pairs)


def joined(live, pairs):
    while True:
        more = {b for a, b in pairs if a in live} | {a for a, b in pairs if b in live}
        if more <= live:
            return live
        live = live | more


@FEW
@given(rigs())
def test_no_smaller_set_will_do(text):
    study = study_of(text)
    rig = study.rig
    actions = actions_of(rig)
    cut = fewest(SourceReach(study), ["P1"])
    weight = sum(action.weight for action in cut.actions)
    parts = {action.part for action in cut.actions}
    assert "P1" not in reached(rig, parts, parts)
    for size in range(len(actions) + 1):
        for chosen in combinations(actions, size):
            if sum(action.weight for action in chosen) < weight:
                parts = {action.part for action in chosen}
                assert "P1" in reached(rig, parts, parts), parts


@FEW
@given(rigs(), st.data())
def test_opening_more_never_makes_more_live(text, data):
    study = study_of(text)
    drive = SourceReach(study)
    actions = actions_of(study.rig)
    first = data.draw(st.lists(st.sampled_from(actions), unique=True))
    more = data.draw(st.lists(st.sampled_from(actions), unique=True))
    few = drive.alive(opened_by(study.rig, first))
    fewer = drive.alive(opened_by(study.rig, [*first, *more]))
    for end, sources in fewer.items():
        assert set(sources) <= set(few.get(end, ()))
    assert few.keys() <= drive.alive(CLOSED).keys()


@FEW
@given(rigs(), st.sampled_from(_BARS), st.sampled_from(("solar", "charger", "alternator")))
def test_a_source_more_never_makes_a_live_part_dead(text, bar, word):
    more = f"{word} Z1 10 A\nwire Z1+ to {bar} 6 AWG red 1 ft\nwire Z1- to N1 6 AWG black 1 ft\n"
    before, after = live_table(study_of(text)), live_table(study_of(text + more))
    at = {state.name: place for place, state in enumerate(after.states)}
    for row, (place, state) in product(before.rows, enumerate(before.states)):
        if state.name in at and row.cells[place].is_live:
            assert after.row(row.part.name).cells[at[state.name]].is_live


@FEW
@given(rigs())
def test_every_step_is_needed(text):
    study = study_of(text)
    plan = isolate(study, "P1")
    assert plan.is_enough
    assert all(step.keeps_off for step in plan.steps)
    assert not {one.part.name for one in plan.stays_live} & {"P1"}


@pytest.mark.parametrize("name", sorted(path.name for path in EXAMPLES.glob("*.rig")))
def test_every_panel_of_the_examples_can_be_made_dead(name):
    study = example(name)
    for panel in study.rig.panels:
        plan = isolate(study, panel.about.name)
        assert plan.is_enough
        assert plan.steps


def test_a_circuit_begins_with_its_fuse():
    text = as_text(isolate_report(study_of(SMALL), "P1.1"))
    first = next(line for line in text.splitlines() if line.startswith("  1. "))
    assert first.startswith("  1. P1.1 Lights: switch off its load, ")
    assert "then pull its fuse (5 A" in text


def test_names_that_several_parts_bear_are_listed_with_what_each_is():
    study = study_of(SMALL, 'slot P1.2 spare "Lights"\n')
    with pytest.raises(RefusalError) as refused:
        isolate(study, "Lights")
    assert "`P1.1` (circuit), `P1.2` (slot)" in refused.value.fix


def test_work_at_one_circuit_leaves_all_others_alive():
    text = (
        'rig "T"\n    system 12 V\n    rules rv\nbattery B1 agm, 100 Ah\n'
        "disconnect S1 100 A\npanel P1 4 slots\nbusbar N1 100 A\n"
        "wire B1+ to S1.line 6 AWG red 1 ft, fuse 60 A at B1+\nwire S1.load to P1 6 AWG red 1 ft\n"
        "wire B1- to N1 6 AWG black 1 ft\nwire P1- to N1 6 AWG black 1 ft\n"
        'circuit P1.1 "Lamp" fuse 5 A\n    wire 16 AWG red 9 ft\n    load "Lamp" 1 A\n'
        'circuit P1.2 "Pump" fuse 10 A\n    wire 14 AWG red 9 ft\n    load "Pump" 5 A\n'
    )
    study = study_from(text)
    for place in ("P1.2", "P1.2/1", "Pump"):
        plan = isolate(study, place)
        assert [step.action.part for step in plan.steps] == ["P1.2"], place
        assert plan.is_enough
        assert plan.off_first == ("Pump",)
    # The slot's own feed side, and the panel, need the switch.
    assert [step.action.part for step in isolate(study, "P1").steps] == ["S1"]
