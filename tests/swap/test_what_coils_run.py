"""Readings are those of the rig as the step leaves it: what is on, what coils run, what is out."""

import re

import pytest
from hypothesis import HealthCheck, given, settings, strategies as st

from helpers.home import CORPUS, FAULTY, RIGS
from helpers.studies import checked, study_from
from rigfolio.isolation import Open, in_turn, isolate
from rigfolio.model import Log
from rigfolio.network import coils_of, edge_name, hangs_behind, resting_open
from rigfolio.operating import Scene
from rigfolio.swap import every_stage, reading_stages, sheet_stages
from rigfolio.swap.held import barred
from rigfolio.wording import off_words

TOGETHER = "All that can run together"
RIG = """rig "Narrow boat" system 12 V, rules boat, insulation 90 degC
battery B1 flooded, 90 Ah, internal 5 mohm, cold cranking 650 A
battery B2 lithium, 100 Ah, internal 5 mohm
busbar N1 300 A, 8 ways
busbar N2 300 A
fuse F2 200 A, class T, interrupts 20 kA, on B2+
disconnect S1 200 A
disconnect S2 200 A
panel P1 6 slots of 20 A, negative N1
wire B1+ to S1 35 mm2 red 0.5 m
wire S1 to K1 35 mm2 red 1 m cranking
wire K1 to M1+ 35 mm2 red 0.5 m cranking
wire M1- to N1 35 mm2 black 1 m
wire B1- to N1 35 mm2 black 0.5 m
wire B2- to N1 35 mm2 black 0.5 m
wire F2 to N2 35 mm2 red 0.5 m
wire N2 to S2 35 mm2 red 0.5 m
wire S2 to P1 16 mm2 red 2 m, fuse 60 A, midi, interrupts 2 kA at S2.load
relay K1 "Starter solenoid" 400 A, rests open
load M1 "Starter" {starter} A, motor, momentary
circuit S1.load "Engine key" fuse 10 A after 15 cm
    wire 2.5 mm2 red 2 m
    switch SW1 15 A, rests open
    wire 2.5 mm2 red 2 m
    load "Starter solenoid coil" 8 A, momentary
circuit P1.1 "Fan" fuse 5 A
    wire 1.5 mm2 grey 4 m
    relay K2 "Fan relay" 20 A, rests open
    wire 1.5 mm2 grey 1 m
    load "Fan" 2.5 A, motor, {fan}
circuit {fan_coil} "Fan thermostat" fuse {coil_fuse} A
    wire 1 mm2 violet 4 m
    switch SW6 5 A, rests open
    wire 1 mm2 violet 1 m
    load "Fan relay coil" 0.15 A
circuit P1.3 "Heater control" fuse 5 A
    wire 1 mm2 orange 2 m
    load "Heater relay coil" 0.15 A
    load "Telltale" 0.05 A
circuit P1.4 "Pump" fuse 10 A
    wire 2.5 mm2 blue 5 m
    load "Pump" 6 A, motor, intermittent
relay K3 "Heater relay" 40 A, rests open
load H1 "Water heater" 300 W, heater, {heater}
wire {heater_feed} to K3 10 mm2 red 2 m{fuse}
wire K3 to H1+ 10 mm2 red 3 m
wire H1- to N1 10 mm2 black 4 m
"""


@st.composite
def rigs(draw):
    feed = draw(st.sampled_from(["S2.load", "N2"]))
    fuse = draw(st.sampled_from([
        "", f", fuse 40 A, midi, interrupts 2 kA at {feed}", f", fuse 40 A at {feed}",
        f", breaker 40 A, interrupts 2 kA at {feed}",
    ]))  # fmt: skip
    return RIG.format(
        starter=draw(st.sampled_from([150, 350])),
        fan=draw(st.sampled_from(["6 h/day", "intermittent", "momentary"])),
        coil_fuse=draw(st.sampled_from([5, 5, 30])),
        fan_coil=draw(st.sampled_from(["P1.2", "S2.load"])),
        heater=draw(st.sampled_from(["1 h/day", "intermittent", "momentary"])),
        heater_feed=feed,
        fuse=fuse,
    )


def nuts(make, coil_fuse=5):
    return RIG.format(
        starter=350, fan="6 h/day", fan_coil="P1.2", coil_fuse=coil_fuse, heater="1 h/day",
        heater_feed="S2.load",
        fuse=f", fuse 40 A, {make}, interrupts 2 kA at S2.load",
    )  # fmt: skip


def step_at(study, start):
    found = reading_stages(study, sheet_stages(study), Log())
    (step,) = (
        step.do for stage in found for step in stage.steps if step.do.startswith(start)
    )  # fmt: skip
    return step


def out_in(study, do):
    """The fuses and breakers that a step says are out, as edges."""
    held = (
        one for one in study.rig.devices
        if re.search(rf"(?<!\S){re.escape(one.about.name)} {off_words(one)}\b", do)
    )  # fmt: skip
    return frozenset(map(edge_name, held))


def held_to_its_words(study, made):
    """Each step: what it says is out feeds none of its readings, what runs is in all of them."""
    coils, rig = coils_of(study.rig), study.rig
    devices = {one.about.name: one for one in rig.devices}
    posts = [one.plus for one in rig.sources if one.stores]
    hand = resting_open(rig) - coils.keys()
    inlets = {source.inlet for source in rig.sources}
    found, stays = made(study), barred(study)
    told = [step.do for stage in reading_stages(study, found, Log()) for step in stage.steps]
    asked = [(stage.title, step) for stage in found for step in stage.steps]
    for do, (title, step) in zip(told, asked, strict=True):
        for point in step.points:
            for relay in rig.devices:
                coil = coils.get(edge_name(relay))
                loads = [rig.by_name.loads[name] for name in point.on]
                if coil is not None and any(hangs_behind(rig, relay, load) for load in loads):
                    assert coil.about.name in point.on or str(coil.about) in do, (title, do)
                    assert not {coil.circuit, rig.by_name.circuits[coil.circuit].device} & stays
            contacts = {edge for edge, coil in coils.items() if coil.about.name in point.on}
            if not contacts:
                continue
            out = out_in(study, do)
            live = study.net.walk(posts, Open((coils.keys() - contacts) | out | hand).bars)
            before = study.net.walk(posts, Open(coils.keys() | out | hand).bars)
            every = study.net.walk(posts, Open((coils.keys() - contacts) | out).bars)
            # What goes into a converter follows from what comes out.
            for load in (one for one in rig.loads if one.about.name not in inlets):
                runs = load.plus in live and load.plus not in before
                assert not runs or load.about.name in point.on, (title, do, load.about)
                assert load.about.name not in point.on or load.plus in every, (do, load.about)
            assert title != TOGETHER or not out, do
            if point.unit == "A" and not point.starting:
                shown = Scene(study, Open(out), point.on).solve()
                of = devices.get(point.a)
                drawn_a = shown.drawn_a(point.a) if of is None else shown.current_a(edge_name(of))
                assert point.low <= abs(drawn_a) <= point.high, (title, do, point.words)


@settings(max_examples=25, deadline=None, derandomize=True, database=None,
          suppress_health_check=list(HealthCheck))  # fmt: skip
@given(text=rigs())
def test_readings_are_those_of_the_rig_as_the_step_leaves_it(text):
    for made in (sheet_stages, every_stage):
        held_to_its_words(study_from(text), made)


@pytest.mark.parametrize("file", dict.fromkeys((*RIGS, *FAULTY, *CORPUS)), ids=lambda one: one.stem)
@pytest.mark.parametrize("made", [sheet_stages, every_stage])
def test_so_they_are_in_every_example(file, made):
    study = checked(file).study
    if study is not None and coils_of(study.rig):
        held_to_its_words(study, made)


def test_what_is_held_by_nuts_is_told_so_before_it_comes_out():
    at_bar = nuts("midi").replace("wire S2.load to K3", "wire N2 to K3")
    at_bar = at_bar.replace("at S2.load\nwire K3", "at N2\nwire K3")
    for text, name, last in (
        (nuts("midi"), "K3/S2.load fuse", "S2"), (at_bar, "K3/N2 fuse", "B2"),
    ):  # fmt: skip
        study = study_from(text)
        step = step_at(study, "P1.3 Heater control: 5 A")
        assert (
            f"{name} out (with an insulated wrench, made dead first and measured, as it is" in step
        )
        # All that `isolate` says of that fuse, in the same words: a lead is a step like any other.
        turns = in_turn(study, isolate(study, name))
        assert [one.part for one in turns][-1] == last
        assert [one.do for one in turns if one.do not in step] == []
        assert step.endswith(f"{turns[-1].do}) first, then back")
    step = step_at(study_from(nuts("regular")), "P1.3 Heater control: 5 A")
    assert "K3/S2.load fuse out first, then back" in step


def test_what_a_coil_runs_is_among_all_that_can_run_together():
    (stage,) = (one for one in sheet_stages(study_from(nuts("midi"))) if one.title == TOGETHER)
    for point in (point for step in stage.steps for point in step.points):
        assert {"H1", "Heater relay coil", "Fan", "Fan relay coil"} <= point.on
    (feed,) = (p for s in stage.steps for p in s.points if p.a == "F2" and p.unit == "A")
    assert feed.low > 25.0


def test_what_runs_a_moment_is_read_no_longer_than_that():
    step = step_at(study_from(nuts("midi")), "circuit S1.load Engine key: 10 A")
    assert step.endswith("turns on M1 Starter: stand clear, no longer than it takes to read")


def test_what_hangs_behind_a_contact_says_which_coil_has_to_be_on():
    study = study_from(nuts("midi"))
    step = step_at(study, "P1.1 Fan: 5 A")
    coil = "with Fan thermostat: Fan relay coil (P1.2) on, for K2 to close"
    assert step.endswith(f"fuse in; SW6 closed to read it; {coil}")


def test_what_hangs_behind_a_contact_stays_dead_with_its_coil():
    study = study_from(nuts("midi", coil_fuse=30))
    assert "NO FUSE GOES IN" in step_at(study, "P1.2 Fan thermostat: NO")
    points = [p for made in (sheet_stages, every_stage) for s in made(study)
              for step in s.steps for p in step.points]  # fmt: skip
    assert not any({"Fan", "Fan relay coil"} & point.on for point in points)
    (feed,) = (one for one in sheet_stages(study) if one.title == "The feed alone")
    assert "What is behind K2" in feed.about
    assert "STAYS DEAD and has no reading before that is put right: Fan" in feed.about


def test_a_coil_sets_going_what_hangs_on_a_converter_behind_its_contact():
    more = """relay K4 "Bench relay" 30 A, rests open
dc-dc D1 10 A, draws 12 A
wire S2.load to K4 6 mm2 red 1 m, fuse 20 A at S2.load
wire K4 to D1.in 6 mm2 red 1 m
wire D1- to N1 6 mm2 black 1 m
load L5 "Bench lamp" 5 A
wire D1.out to L5+ 4 mm2 red 1 m, fuse 10 A at D1.out
wire L5- to N1 4 mm2 black 1 m
circuit P1.5 "Bench key" fuse 3 A
    wire 1 mm2 violet 2 m
    load "Bench relay coil" 0.2 A
"""
    study = study_from(nuts("regular") + more)
    step = step_at(study, "P1.5 Bench key: 3 A")
    assert "Bench relay coil closes K4, which turns on" in step
    assert "L5 Bench lamp" in step
    (stage,) = (one for one in sheet_stages(study) if one.title == TOGETHER)
    on = {name for step in stage.steps for point in step.points for name in point.on}
    assert {"Bench relay coil", "L5"} <= on
    assert "D1.in" not in on
    # 5 A at 12 V and more come through the converter on top of all that runs without it.
    amps = [
        point for each in (study, study_from(nuts("regular")))
        for one in sheet_stages(each) if one.title == TOGETHER
        for step in one.steps for point in step.points if (point.a, point.unit) == ("F2", "A")
    ]  # fmt: skip
    assert amps[0].high - amps[1].high > 4.0
