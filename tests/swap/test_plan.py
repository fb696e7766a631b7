"""The work at a panel: the order of its parts, and what a change asks for."""

import re
from pathlib import Path

import pytest

from helpers.forgotten import cache
from helpers.home import RIGS
from helpers.studies import checked
from rigfolio.judgement.result import Result, check, job_of
from rigfolio.labels import tagged_wires
from rigfolio.operating import bounds_words, numbered_points, short_stages
from rigfolio.sheets import test_sheet
from rigfolio.swap.plan import CAUTIONS, work
from rigfolio.swap.power import WorkPart
from rigfolio.wording import in_runs

WREN = next(file for file in RIGS if "wren" in file.stem).read_text(encoding="utf-8")


@cache
def judged(text: str) -> Result:
    return check("wren.rig", text=text)


@cache
def parts(text: str) -> tuple[WorkPart, ...]:
    study = judged(text).study
    assert study is not None
    return work(study, "P1")


def words(found: tuple[WorkPart, ...], title: str) -> str:
    (part,) = [one for one in found if one.title == title]
    return "\n".join(f"{task.do} | {task.see}" for task in part.tasks)


def test_dead_comes_before_moving_and_looking_before_power() -> None:
    titles = [part.title for part in parts(WREN)]
    assert titles[:5] == [
        "Before you touch anything", "Make it dead, and prove it",
        "Tag each wire before it comes off", "Move and fit, one wire at a time",
        "Label each slot",
    ]  # fmt: skip
    assert titles[5] == "Look before there is power"
    assert titles[6] == "Bring it back live, stage by stage"
    live = words(parts(WREN), titles[6])
    assert live.index("still dead: ohms, all fuses out") < live.index("close it")
    assert live.index("close it") < live.index("live: the feed alone")
    assert titles[-1] == "Hand over"


def test_the_meter_is_tried_before_and_the_frame_is_measured_too() -> None:
    dead = words(parts(WREN), "Make it dead, and prove it")
    assert "pull the shore cord" in dead
    assert "S1 Battery disconnect: open it" in dead
    assert "the same to the frame, G1 Frame | 0 V, no more than 20 mV" in dead
    assert "if any of it shows more, stop" in dead
    # The same volts as the test sheet expects at the posts, of the same battery at rest.
    study = judged(WREN).study
    assert study is not None
    at_posts = next(point for _, _, _, point in numbered_points(short_stages(study))
                    if point.a == "B1+" and point.unit == "V")  # fmt: skip
    meter = dead.index(f"meter on a battery | B1: {bounds_words(at_posts)}")
    proof = dead.index("P1 feed to minus (N1), then each slot to minus (N1) | 0 V")
    assert meter < proof < dead.index("meter on the battery once more | volts as before")


def test_power_comes_back_through_a_lamp_and_chargers_last() -> None:
    found = parts(WREN)
    live = words(found, "Bring it back live, stage by stage")
    lamp = live.index("S1 Battery disconnect, still open: a lamp for 12 V between its two sides")
    assert lamp < live.index("S1 Battery disconnect: close it") < live.index("readings 2.1")
    # The converter hangs on the feed of the panel: its capacitors fill through the lamp.
    assert "lamp flashes once (C1 Converter), then dark; if it stays lit" in live
    assert "C1 Converter: on" not in live
    charges = words(found, "Live: what charges")
    assert "C1 Converter: on again" in charges


def test_what_draws_for_good_comes_out_before_a_lamp_tells_a_short() -> None:
    text = """
rig "Dotterel 15"
    system 12 V
battery B1 flooded, 100 Ah, internal 5 mohm
disconnect S1 "Main" 100 A
panel P1 4 slots of 20 A
busbar N1 100 A
wire W1 B1+ to S1.line 6 AWG red 1 ft, fuse 60 A at B1+
wire W2 S1.load to P1 6 AWG red 1 ft
wire W3 N1 to B1- 6 AWG black 1 ft
circuit S1.load "Gas alarm" fuse 2 A after 4 in
    wire 16 AWG pink 3 ft
    load "Gas detector" 0.2 A
circuit P1.1 "Lamp" fuse 5 A
    wire 16 AWG red 3 ft
    load "Lamp" 10 W
"""
    study = check("dotterel.rig", text=text).study
    assert study is not None
    (live,) = (one for one in work(study, "P1") if one.title.startswith("Bring it back"))
    steps = [task.do for task in live.tasks]
    out, lamp, shut, back = (
        next(n for n, step in enumerate(steps) if step.startswith(start))
        for start in ("S1.load/Gas alarm fuse: out", "S1 Main, still open: a lamp",
                      "S1 Main: close", "S1.load/Gas alarm fuse: 2 A fuse in again")
    )  # fmt: skip
    assert out < lamp < shut < back


def test_what_charges_the_battery_stays_off_until_all_is_read() -> None:
    # The sun and the tow vehicle come to the battery past the disconnect: opening it does not
    # keep them off, and they would lift every reading.
    found = parts(WREN)
    dead = words(found, "Make it dead, and prove it")
    opened = dead.index("S1 Battery disconnect: open it")
    for told in ("U1 Solar controller: cover the panels", "V1 Tow vehicle: unplug the vehicle"):
        assert dead.index(told) < opened
    charges = words(found, "Live: what charges")
    assert "U1 Solar controller: on again" in charges
    assert "V1 Tow vehicle: on again" in charges
    titles = [part.title for part in found]
    assert titles.index("Live: what charges") == len(titles) - 2


def test_a_selector_is_turned_and_has_a_lamp_between_a_battery_and_its_common() -> None:
    file = next(file for file in RIGS if "kittiwake" in file.stem)
    study = checked(file).study
    assert study is not None
    live = words(work(study, "P1"), "Bring it back live, stage by stage")
    assert "X1 Panel selector, still open: a lamp for 12 V between a battery side" in live
    assert "X1 Panel selector: turn it back on" in live


def _without_disconnect() -> str:
    """The cabin with a shunt where its disconnect is: fuses are all that can be opened."""
    folder = next(file for file in RIGS if "lapwing" in file.stem).with_suffix("")
    text = folder.with_suffix(".rig").read_text(encoding="utf-8")
    text = "".join(
        (folder / f"{found[1]}.rig").read_text(encoding="utf-8")
        if (found := re.match(r'include "lapwing-cabin/(.+)[.]rig"', line))
        else line
        for line in text.splitlines(keepends=True)
        if not line.startswith(("state", "photo", "    mark", "    white"))
    )
    return text.replace("disconnect  S1", "shunt       S1").replace("disconnect S1", "shunt S1")


@pytest.mark.parametrize(("panel", "volts"), [("P1", "51.2 V"), ("P2", "12.8 V")])
def test_the_lamp_bears_what_stands_across_the_open_part(panel: str, volts: str) -> None:
    # The house panel hangs on a converter whose fuse is on the 48 V side: a lamp for the 12 V of
    # the panel would burn out there. The bunkhouse panel hangs on a slot of the 12 V side.
    study = judged(_without_disconnect()).study
    assert study is not None
    assert f"a lamp for {volts}" in words(work(study, panel), "Bring it back live, stage by stage")


@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_readings_bear_the_numbers_of_the_test_sheet(file: Path) -> None:
    """The sheet numbers the readings of all panels; what a plan names is found there."""
    result = checked(file)
    study = result.study
    assert study is not None
    printed = {row[0]: row for row in test_sheet.table(job_of(result))[1:]}
    for panel in study.rig.panels:
        name = panel.about.name
        told = {
            task.do.partition(": ")[2]: re.findall(r"[0-9]+[.][0-9]+", task.see)
            for part in work(study, name)
            for task in part.tasks
            if "of the test sheet" in task.see
        }
        assert len(told) > 3
        for title, numbers in told.items():
            assert set(numbers) <= printed.keys()
            assert printed[numbers[0]][1].lower() == title
        first, last = told["each circuit, one fuse at a time"]
        span = range(int(first.split(".")[1]), int(last.split(".")[1]) + 1)
        named = [printed[f"3.{number}"][2] for number in span]
        circuits = [c.place for c in study.rig.circuits if c.panel == name]
        assert {words.split()[0].rstrip(",:") for words in named} == set(circuits)


def test_what_is_remarked_of_a_panel_is_read_before_it_is_touched() -> None:
    text = WREN.replace("16 AWG pink 10 ft", "16 AWG pink 10 ft, scorched")
    (before, *_) = parts(text)
    assert "wire P1.7/1: SCORCHED" in before.about


def test_numbers_that_follow_each_other_are_one_range() -> None:
    assert in_runs(["3.1", "3.2", "3.3", "3.7"], 2) == "3.1 to 3.3, 3.7"
    assert in_runs(["6.1"], 2) == "6.1"


def test_each_end_has_its_own_terminal_and_torque() -> None:
    text = WREN.replace("16 AWG pink 10 ft", "16 AWG pink 10 ft, ends blade and ring M4")
    text = text.replace("pitch 14 mm", "pitch 14 mm, torque 2 Nm")
    text = text.replace('"Negative bar"', '"Negative bar" torque 3 Nm')
    assert "torque 3 Nm" in text
    move = words(parts(text), "Move and fit, one wire at a time")
    assert "P1.7/1 16 AWG PK: to P1.7 | blade, red barrel; torque 2 Nm" in move
    assert "P1.3/1R 12 AWG WH: to N1 | yellow barrel; torque 3 Nm" in move


def test_what_stays_live_comes_before_the_steps() -> None:
    part = next(p for p in parts(WREN) if p.title == "Make it dead, and prove it")
    live, away = [told for told in part.about if told.startswith("Stays live while you work")]
    for name in ("B1+ House battery", "circuit S1.line-2 Breakaway brakes", "J1.2.load"):
        assert name in live
    # The vehicle is unplugged, and its half of the plug is live all the same.
    assert "from V1" in away
    assert "J1.2.line" in away
    # Its return lands on the bar that every wire comes off: it is dead, and that is said.
    assert "Gas detector" not in live
    (dark,) = [told for told in part.about if told.startswith("Goes dark")]
    assert "Gas detector: LP/CO detector" in dark
    assert "try the meter on something live" in part.about[-1]


def test_a_return_goes_to_the_bar_and_a_wire_out_to_its_slot() -> None:
    move = words(parts(WREN), "Move and fit, one wire at a time")
    assert "P1.3/1 12 AWG BU/WH: to P1.3 | yellow barrel" in move
    assert "P1.3/1R 12 AWG WH: to N1" in move


def test_long_tails_come_first_and_torque_is_told() -> None:
    text = WREN.replace("16 AWG pink 10 ft", "16 AWG pink 10 ft, tail 9 in, corroded")
    text = text.replace("16 AWG brown 15 ft", "16 AWG brown 15 ft, tail 4 in", 1)
    text = text.replace("pitch 14 mm", "pitch 14 mm, torque 2 Nm")
    move = words(parts(text), "Move and fit, one wire at a time")
    assert move.index("P1.7/1") < move.index("P1.10/1") < move.index("P1.1/1")
    assert "torque 2 Nm; tail 9 in; is corroded: cut back to bright copper" in move
    (part,) = [one for one in parts(text) if one.title == "Move and fit, one wire at a time"]
    assert "Longest tails first: a short one is then laid where it has to go." in part.about


def test_assumed_returns_are_found_and_tagged() -> None:
    tags = words(parts(WREN), "Tag each wire before it comes off")
    assert "not stated, at N1: P1.1/1R, " in tags
    assert "not stated, on the way: P1.6/2R, P1.6/3R" in tags
    assert "P1.3/1R: 12 AWG" in tags


def test_a_wire_that_lands_on_a_fuse_at_the_panel_is_fitted_too() -> None:
    move = words(parts(WREN), "Move and fit, one wire at a time")
    assert "W4 6 AWG BK: to W4 fuse" in move


def test_a_fuse_that_was_found_and_does_not_belong_is_taken_away() -> None:
    text = WREN.replace('"Radio"                  fuse 5 A', '"Radio" fuse 5 A, found 20 A')
    assert "20 A was found there: take it away" in words(parts(text), "Label each slot")


def test_a_fuse_is_drawn_under_no_load() -> None:
    study = judged(_without_disconnect()).study
    assert study is not None
    dead = words(work(study, "P1"), "Make it dead, and prove it")
    assert "pull it (15 A fuse), once nothing draws through it: a fuse is no switch" in dead


def test_sleeves_go_on_with_the_tags() -> None:
    # Some 2.9 mm over the insulation of 14 AWG: a tube of 3.2 mm slips on up to nine tenths.
    tags = words(parts(WREN), "Tag each wire before it comes off")
    assert "P1.1/1: 14 AWG RD/BK, P1.1 to" in tags
    assert "| sleeve 4.8 mm" in tags


def test_a_panel_that_is_not_there() -> None:
    study = judged(WREN).study
    assert study is not None
    with pytest.raises(KeyError):
        work(study, "P9")


@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_every_circuit_of_a_panel_is_in_its_plan(file: Path) -> None:
    study = checked(file).study
    assert study is not None
    assert study.rig.panels
    for panel in study.rig.panels:
        label = words(work(study, panel.about.name), "Label each slot")
        for circuit in study.rig.circuits:
            if circuit.panel == panel.about.name:
                assert f"{circuit.place}: label on" in label
    assert "local code and licensed practice" in " ".join(CAUTIONS)


def test_no_fuse_goes_in_that_is_too_large() -> None:
    """A technician who laid it ready would put it in: what `check` calls a danger."""
    text = WREN.replace("16 AWG pink 10 ft", "18 AWG pink 10 ft").replace(
        '"Radio"                  fuse 5 A', '"Radio"                  fuse 20 A'
    )
    assert text.count("fuse 20 A") > WREN.count("fuse 20 A")
    label = words(parts(text), "Label each slot")
    assert "P1.7: label on; NO FUSE GOES IN: 20 A yellow fuse is too large" in label
    assert "NO FUSE GOES IN" not in words(parts(WREN), "Label each slot")


DOOR = """
rig "Door" system 12 V, rules vehicle
battery B1 agm, 100 Ah, internal 20 mohm
disconnect S1 100 A
panel P1 4 slots of 20 A, negative N1
panel P2 4 slots of 20 A, negative N1
busbar N1 100 A
wire B1+ to S1 6 AWG red 1 ft, fuse 50 A at B1+
wire S1 to P1 6 AWG red 1 ft
wire S1.load to P2 6 AWG red 1 ft
wire N1 to B1- 6 AWG black 1 ft
circuit P1.1 "Lamps" fuse 5 A
    wire 16 AWG grey 4 ft
    switch SW1 "Door" 10 A
    wire 16 AWG grey 4 ft
    load "Lamp" 1 A
circuit P2.1 "Fan" fuse 5 A
    wire 16 AWG red 4 ft
    load "Fan" 1 A
"""


def test_a_return_that_has_one_tag_is_tagged_once() -> None:
    """A return has no joint beside a switch of the plus side: one wire, as its tag says."""
    told = words(parts(DOOR), "Tag each wire before it comes off")
    tags = {tagged.tags[0].name for tagged in tagged_wires(job_of(judged(DOOR)))}
    (name,) = [one for one in tags if one.startswith("P1.1/1R")]
    assert f"not stated, at N1: {name}" in told
    assert "on the way" not in told


def test_a_way_back_that_two_panels_share_is_read_once() -> None:
    study = judged(DOOR).study
    assert study is not None
    ohms = [(p.a, p.b) for _, _, _, p in numbered_points(short_stages(study)) if p.unit == "ohm"]
    assert ohms.count(("N1", "B1-")) == 1
    assert len(ohms) == len(set(ohms))
