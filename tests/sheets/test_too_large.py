"""A fuse that is too large for its wire or its slot: every sheet says what the work plan says.

What `check` calls a danger must nowhere stand as the fuse to be put in, carried or bought; nor does
a wire that belongs somewhere stand as the one that is there.
"""

import re
from importlib import import_module

import pytest
from hypothesis import given, settings, strategies as st

from helpers.forgotten import cache
from helpers.home import EXAMPLES
from helpers.studies import checked
from rigfolio.draw.page import texts
from rigfolio.judgement.result import check, job_of
from rigfolio.labels import device_rows, every_label
from rigfolio.page import rig_page
from rigfolio.protection import guard_of_circuit, is_device_too_large, serving_a
from rigfolio.protection.too_large import largest_instead
from rigfolio.schematic.setting import STYLES, speaker_of
from rigfolio.sheet import sheet_names
from rigfolio.sheets import all_readings, at_the_panel, test_sheet
from rigfolio.shorts import barred_words, unfit_of
from rigfolio.swap import every_stage, picks, readings_rest_on, work
from rigfolio.units import awg_size, show_limit
from rigfolio.wording import amps, goes_words

RIG = """\
rig "Plover"
    system 12 V
    rules rv
battery B1 "House" 105 Ah, internal 10 mohm
fuse    F1 {main} A, interrupts 10 kA
panel   P1 "Galley" 6 slots of 20 A, 80 A in all, pitch 14 mm
busbar  N1
wire B1+ to F1 6 AWG red 5 in
wire F1 to P1  6 AWG red 4 ft
wire B1- to N1 6 AWG black 4 ft
circuit P1.4 "Fan" fuse {slot} A
    wire  {gauge} AWG red/black 14 ft
    load  "Fan" 2 A
circuit P1.5 "Lamp" {kind} 5 A
    wire  16 AWG blue 14 ft
    load  "Lamp" 1 A
"""


def said(page_list):
    """All words of some pages in a row."""
    words = " ".join(text.text for page in page_list for text in texts(page))
    return " ".join(words.replace("\N{NO-BREAK SPACE}", " ").split())


def wrong_of(job):
    """The devices of a rig that are too large where they are."""
    return [one for one in job.rig.devices if is_device_too_large(job.study, one)]


def assert_smaller(study, pick, device):
    """That nothing is bought for a device that is too large, or a rating that serves."""
    serves_a = None if device.traits.resets else serving_a(study, device)
    if serves_a is None:
        assert pick.bought == "0"
        return
    assert serves_a <= largest_instead(study, device) < (device.found_a or device.rating_a)
    assert f" {show_limit(serves_a, 'A')}" in pick.what
    assert "TOO LARGE" in pick.note


def agree(result):
    """That all sheets tell of each device that is too large, and of no other."""
    job = job_of(result)
    wrong = {one.about.name: one for one in wrong_of(job)}
    circuits = {one.device: one for one in job.rig.circuits if one.device}
    places = {circuits[n].place if n in circuits and circuits[n].slot else n for n in wrong}
    borrowed = {
        one.place
        for one in job.rig.circuits
        if not one.device
        and wrong.keys() & {d.about.name for d in guard_of_circuit(job.study, one).devices}
    }
    places |= borrowed
    unfit = {one.about.name for one in job.rig.devices if unfit_of(job.study, one)}
    warned = {circuits[n].place if n in circuits and circuits[n].slot else n for n in unfit}
    assert {one.place for one in every_label(job) if one.is_warned} == places | warned
    for row in device_rows(job.study):
        assert ("TOO LARGE" in row.marks) == (row.name in wrong)
        assert bool(row.marks) == (row.name in wrong or row.name in unfit)
        assert all(mark in row.rated and mark in row.with_kind for mark in row.marks)
    bought = {place: one for one in picks(job.study) if one.group == "Fuses"
              for place in one.places}  # fmt: skip
    speaker = speaker_of(job.study, STYLES[0][0])
    parts = [part for panel in job.rig.panels for part in work(job.study, panel.about.name)]
    plan = " ".join(f"{task.do}; {task.see}" for part in parts for task in part.tasks)
    steps = " | ".join(row[2] for sheet in (test_sheet, all_readings) for row in sheet.table(job))
    drawn = str(test_sheet.pages(job))
    cards = rig_page(result, job)
    rated = {card.key: card.rating for card in cards.parts}
    shown = {card.key: card.fuse.is_too_large for card in cards.circuits}
    for name, device in wrong.items():
        assert_smaller(job.study, bought[name], device)
        if name in circuits:
            circuit = circuits[name]
            assert shown[circuit.place]
            # Behind it nothing is read, so that it stands on the sheet and in no row of the table.
            assert barred_words(job.study, device).split(":")[0] in drawn
            assert f"{circuit.label}: {goes_words(device)}" not in steps
            if circuit.panel:
                assert f"{circuit.place}: label on; {barred_words(job.study, device)}" in plan
                words = speaker.slot(device, (circuit,))
        else:
            assert rated[name].endswith("TOO LARGE")
            words = speaker.device(device)
        assert "TOO LARGE" in " ".join((*words.above, *words.below))
    for place, is_shown in shown.items():
        assert is_shown == (place in {circuits[n].place for n in wrong if n in circuits} | borrowed)


@pytest.mark.parametrize("file", sorted((EXAMPLES / "faulty").glob("*.rig")), ids=lambda f: f.stem)
def test_sheets_agree_on_what_is_too_large(file):
    result = checked(file)
    if result.study is not None:
        agree(result)


def test_there_are_such_fuses_among_the_faulty_rigs():
    files = [file for file in (EXAMPLES / "faulty").glob("*.rig") if checked(file).study]
    wrong = [one for file in files for one in wrong_of(job_of(checked(file)))]
    assert len(wrong) >= 3


@settings(max_examples=20, deadline=None)
@given(
    main=st.sampled_from((40, 60, 200)),
    slot=st.sampled_from((3, 15, 20, 30)),
    gauge=st.sampled_from((10, 14, 18)),
    kind=st.sampled_from(("fuse", "breaker")),
)
def test_sheets_agree_for_any_fuse_and_wire(main, slot, gauge, kind):
    text = RIG.format(main=main, slot=slot, gauge=gauge, kind=kind)
    result = check("plover.rig", text=text)
    agree(result)
    job = job_of(result)
    # NFPA 70 table 552.10(E)(1): 8 A on 16 AWG, 15 A on 14, 30 A on 10 (from memory).
    over = {"P1.4"} & {one.about.name for one in wrong_of(job)}
    assert bool(over) == (slot > min(20, {10: 30, 14: 15, 18: 6}[gauge]))
    assert ("F1" in {one.about.name for one in wrong_of(job)}) == (main == 200)


def test_nobody_carries_a_spare_of_it():
    job = job_of(check("plover.rig", text=RIG.format(main=200, slot=30, gauge=18, kind="fuse")))
    spares = said(at_the_panel.pages(job)).partition("Spare fuses to carry")[2]
    assert "5 A" in spares
    for device in wrong_of(job):
        assert amps(device.rating_a) not in spares


@pytest.mark.parametrize(("winch_a", "wrong"), [(40, []), (2, ["F1"])])
def test_a_fuse_that_its_loads_need_is_not_told_too_large_for_a_branch(winch_a, wrong):
    """The branch lacks a fuse of its own then; the tag of its wire says so in either case."""
    text = RIG.format(main=60, slot=3, gauge=14, kind="fuse")
    text += 'load L1 "Radio" 1 A\nwire F1 to L1 18 AWG red 3 ft\nwire L1 to N1 18 AWG black 3 ft\n'
    text += f'load L2 "Winch" {winch_a} A\nwire F1 to L2+ 6 AWG red 3 ft\n'
    text += "wire L2- to N1 6 AWG black 3 ft\n"
    job = job_of(check("plover.rig", text=text))
    assert [one.about.name for one in wrong_of(job)] == wrong
    assert "60 A F1 TOO LARGE" in said(import_module("rigfolio.sheets.wire_list").pages(job))


TAP = """circuit P1.6 "Pump" fuse {slot} A
    wire 14 AWG yellow 11 ft
    splice Z2
    wire 14 AWG yellow 3 ft
    load "Pump" 7 A, motor, intermittent
    wire from Z2 18 AWG purple {inches} in
    fuse {tap} A
    wire 18 AWG purple 3 ft
    load "Owner's fan" 2 A, motor
"""


@pytest.mark.parametrize("inches", [6, 90])
@pytest.mark.parametrize(("slot", "tap", "wrong"), [
    # 18 AWG bears 6 A in a travel trailer: NFPA 70 Table 552.10(E)(1), from memory.
    (15, 20, True), (10, 20, True), (15, 7.5, True), (15, 5, False), (5, 20, False),
])  # fmt: skip
def test_a_fuse_along_a_run_is_held_against_the_wire_that_it_is_there_for(inches, slot, tap, wrong):
    """The smaller one in the slot bounds what flows, and is too large as well."""
    text = RIG.format(main=40, slot=5, gauge=14, kind="fuse")
    text += TAP.format(slot=slot, tap=tap, inches=inches)
    result = check("plover.rig", text=text)
    agree(result)
    name, job = "P1.6 in-line fuse", job_of(result)
    assert (name in {one.about.name for one in wrong_of(job)}) == wrong
    told = {one.rule: one for one in result.findings
            if text[one.at.span.start:].startswith(f"{tap} A\n    wire 18 AWG")}  # fmt: skip
    assert ("fuse-over-wire" in told) == wrong
    if wrong:
        assert "5 A" in told["fuse-over-wire"].fix.text
        spares = said(at_the_panel.pages(job)).partition("Spare fuses to carry")[2]
        assert f"{tap} A" not in spares


TAIL = """connector J1 "Plug" 7 pins of 30 A
wire W1 B1+ to J1.1 {near} AWG brown 12 ft, {kind} {rated} A at B1+
circuit J1.1.load "Tail lights"
    wire {far} AWG brown 22 ft
    load "Tail lamps" {draws} A, filament
    return 14 AWG white 22 ft to N1
"""


@pytest.mark.parametrize("kind", ["fuse", "breaker"])
@pytest.mark.parametrize(("near", "far", "rated", "draws", "wrong"), [
    # 18 AWG bears 6 A, 14 AWG 15 A: NFPA 70 Table 552.10(E)(1), from memory. One that the loads
    # need is too large all the same where nothing but that wire hangs on it, as it is in a slot.
    (14, 18, 15, 2, True), (14, 14, 15, 2, False), (18, 18, 15, 2, True), (14, 18, 20, 2, True),
    (14, 18, 5, 2, False), (14, 18, 15, 9, True), (10, 18, 30, 20, True),
])  # fmt: skip
def test_what_lies_further_on_than_its_own_wire_makes_it_too_large_too(
    near, far, rated, draws, wrong, kind
):
    """On each sheet alike, and nothing that is behind it is read or switched on."""
    text = RIG.format(main=40, slot=5, gauge=14, kind="fuse")
    text += TAIL.format(near=near, far=far, rated=rated, draws=draws, kind=kind)
    result = check("plover.rig", text=text)
    job = job_of(result)
    assert ("W1 " + kind in {one.about.name for one in wrong_of(job)}) == wrong
    agree(result)
    steps = [step for stage in every_stage(job.study) for step in stage.steps]
    read = {part for step in steps for point in step.points for part in point.on}
    if wrong:
        assert not any("J1.1.load" in part or "Tail" in part for part in read)


TO_BE_DONE = {"pick_list", "survey", "wire_list", "work_plan"}
"""What is bought, cut and pulled is what belongs there, whatever is there now."""


@cache
def found_thinner():
    text = RIG.format(main=30, slot=7.5, gauge=16, kind="fuse")
    text = text.replace("16 AWG red/black 14 ft", "9 AWG red/black 14 ft, found 16 AWG")
    text = text.replace("F1 to P1  6 AWG red", "F1 to P1  5 AWG red")
    return job_of(check("x.rig", text=text.replace("red 4 ft", "red 4 ft, found 8 AWG")))


@pytest.mark.parametrize("name", sorted({*sheet_names()} - TO_BE_DONE))
def test_a_wire_that_belongs_there_is_nowhere_printed_as_one_that_is_there(name):
    seen = said(import_module(f"rigfolio.sheets.{name}").pages(found_thinner()))
    assert re.findall(r"(?<!pull )\b[95] AWG(?! belongs)", seen) == []


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("label_sheet", "16 AWG found"), ("slot_labels", "16 AWG found"),
        ("label_tape", "16 AWG found"), ("wire_tags", "8 AWG found, 5 AWG belongs"),
        ("colour_card", "8 AWG found"), ("schematic", "8 AWG found"),
        ("colour_legend", "8 AWG found, 5 AWG belongs"),
        ("test_sheet", "8 AWG in place of F1/P1"),
        ("all_readings", "8 AWG in place of F1/P1"),
        ("calculation", "8 AWG in place of F1/P1"),
        ("demand_and_energy", "8 AWG in place of F1/P1"),
    ],
)  # fmt: skip
def test_the_wire_that_was_found_is_marked_wherever_wires_or_their_figures_are_printed(name, told):
    assert told in said(import_module(f"rigfolio.sheets.{name}").pages(found_thinner()))


def test_the_page_tells_the_wire_that_is_there_and_what_is_reckoned_with():
    job = found_thinner()
    page = rig_page(check("x.rig", text="# nothing"), job)
    (card,) = (one for one in page.wires if one.key == "F1/P1")
    assert card.wire.size == "8 AWG found, 5 AWG belongs"
    assert card.wire.area_m2 == awg_size(8).area_m2
    remarks = readings_rest_on(job.study)
    assert remarks
    assert page.test.how[-len(remarks) :] == remarks
