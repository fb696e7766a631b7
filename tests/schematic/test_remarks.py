"""What a draughtsman would miss: notes, states, line sides, mains in frames, names of pins."""

import re

import pytest

from helpers.diagram_checks import faults, groups_of
from helpers.diagram_rigs import KINDS, text_of
from helpers.home import EXAMPLES
from helpers.label_rigs import job_of
from helpers.studies import job_from
from rigfolio.draw.page import Line, Text, flat, texts
from rigfolio.schematic.setting.speaker import speaker_of
from rigfolio.schematic.setting.style import STYLES
from rigfolio.schematic.sheet import diagram
from rigfolio.wording import Finder

RIG = """rig "Remarks"
    system 12 V
    rules boat
battery B1 "House bank" 200 Ah agm, note "terminals greased"
fuse F1 "Bank fuse" 150 A on B1+, class-t
disconnect S1 "Disconnect" 300 A, note "handle sticks"
breaker F3 "Aft breaker" 60 A
busbar D1 "Plus bar" 250 A
busbar N1 "Minus bar" 250 A
panel P1 "Panel" 4 slots of 30 A, main breaker 60 A, negative N1
panel P2 "Aft panel" 3 slots of 30 A, negative N1
wire F1.load to S1.line 2 AWG red 3 ft, loose
wire S1.load to D1 2 AWG red 3 ft, note "chafed at the bulkhead"
wire D1 to P1 6 AWG red 6 ft, fuse 60 A at D1, note "too near the exhaust"
wire D1 to F3.line 6 AWG red 6 ft
wire F3.load to P2 6 AWG red 6 ft
wire B1- to N1 2 AWG black 3 ft
circuit P1.1 "Cabin lights" fuse 5 A, note "dims when the pump runs"
    wire 14 AWG red 9 ft
    load "Lamps" 2 A
circuit P1.2 "Bilge pump" fuse 10 A
    wire 14 AWG brown 19 ft
    load "Bilge pump" 6 A, note "float switch by-passed"
    return 14 AWG black 19 ft
circuit D1 "Horn" fuse 10 A, note "starts at the bar"
    wire 14 AWG blue 3 ft
    load "Horn" 5 A
note P1.2 scorched
note D1 corroded "green"
note P1 "cover missing"
note S1.load loose
note P1.4 melted
note F3 "{long}"
""".replace("{long}", "trips when warm; " * 7)
SAID = ("terminals greased", "handle sticks", "chafed at the bulkhead", "too near the exhaust",
        "dims when the pump runs", "float switch by-passed", "starts at the bar",
        "corroded; green", "cover missing", "loose", "melted", "trips when warm;")  # fmt: skip


@pytest.fixture(scope="module")
def made():
    return diagram(job_of(RIG))


def groups(made):
    return {g.ident: g for page in made.pages for g in groups_of(page.marks)}


def words(group):
    return " ".join(mark.text for mark in flat(group.marks) if isinstance(mark, Text))


def test_pages_with_remarks_are_as_clean_as_others(made):
    assert {kind: n for kind, n in faults(job_of(RIG), made).items() if n} == {}


def test_every_note_is_listed_under_a_number_that_stands_at_its_part(made):
    listed = [g for page in made.pages for g in groups_of(page.marks) if g.ident == "legend"]
    said = " ".join(words(group) for group in listed)
    for text in SAID:
        assert text in said, text
    flags = [
        number
        for page in made.pages for text in texts(page)
        for found in re.findall(r"notes? (\d+(?:, \d+)*)", text.text)
        for number in found.split(", ")
    ]  # fmt: skip
    assert {int(number) for number in flags} == set(range(1, len(SAID) + 1))


@pytest.mark.parametrize(
    ("ident", "note"),
    [("B1", "terminals"), ("S1", "handle"), ("P1.1", "dims"), ("load Bilge pump", "float"),
     ("circuit D1", "starts"), ("D1", "corroded"), ("P1", "cover"), ("P1.4", "melted"),
     ("F3", "trips"), ("D1/S1.load", "chafed")],
)  # fmt: skip
def test_the_number_at_a_part_is_that_of_its_note(made, ident, note):
    listed = next(g for page in made.pages for g in groups_of(page.marks) if g.ident == "legend")
    (number,) = re.findall(rf"note (\d+), [^,]*: {note}", listed.about)
    page = next(page for page in made.pages if ident in {g.ident for g in groups_of(page.marks)})
    near = words(groups(made)[ident]) if ident not in ("D1", "P1") else ""
    if not near:
        near = " ".join(t.text for t in texts(page) if t.text.startswith((ident, "4 slots")))
    assert re.search(rf"notes? (\d+, )*{number}\b", near), near


def test_what_a_part_was_found_as_stands_at_the_part(made):
    assert "scorched" in words(groups(made)["P1.2"])
    assert "loose" in words(groups(made)["F1.load/S1.line"])


def test_line_sides_are_marked_where_ends_are_not_to_be_swapped(made):
    arrows = {}
    for ident in ("S1", "F3", "P1 main", "F1", "P1.1"):
        arrows[ident] = [
            mark for mark in groups(made)[ident].marks
            if isinstance(mark, Line) and mark.pen is None and len(mark.points) == 3
        ]  # fmt: skip
    assert [len(arrows[name]) for name in ("S1", "F3", "P1 main", "F1", "P1.1")] == [1, 1, 1, 0, 0]
    # The point of the arrow looks at the symbol, and its base to the wire on the line side.
    for name, wire in (("S1", "F1.load/S1.line"), ("F3", "D1/F3.line")):
        (arrow,) = arrows[name]
        base, tip = arrow.points[0][0], arrow.points[1][0]
        xs = [
            x for mark in groups(made)[wire].marks if isinstance(mark, Line) for x, _ in mark.points
        ]
        side = sum(xs) / len(xs)
        assert (base - tip) * (side - tip) > 0


def test_the_main_of_a_panel_stands_in_its_frame(made):
    frame = next(mark for mark in groups(made)["P1"].marks if isinstance(mark, Line))
    left, right = min(x for x, _ in frame.points), max(x for x, _ in frame.points)
    main = groups(made)["P1 main"]
    for mark in flat(main.marks):
        xs = [x for x, _ in mark.points] if isinstance(mark, Line) else [mark.at[0]]
        assert left < min(xs) <= max(xs) < right
    assert "P1 main" in words(main)
    assert "60 A breaker" in words(main)


@pytest.mark.parametrize("kind", [*KINDS, *(f.stem for f in sorted(EXAMPLES.glob("*.rig")))])
def test_a_name_at_a_device_or_wire_is_understood_when_typed(kind):
    job = job_of(text_of(kind, 2)) if kind in KINDS else job_from(EXAMPLES / f"{kind}.rig")
    finder, speaker = Finder(job.rig), speaker_of(job.study, STYLES[0][0])
    names = [speaker.device(device).bold for device in job.rig.devices if not device.in_slot]
    names += [wire.name for wire in job.rig.conductors if not wire.lead]
    assert names
    assert [name for name in names if len(finder.find(name)) != 1] == []


def test_a_pin_is_called_as_the_text_calls_it():
    job = job_of(text_of("plug", 2))
    shown = {text.text for page in diagram(job).pages for text in texts(page)}
    assert {"J1.1", "J1.5"} <= shown
    for name in ("J1.3", "J1 pin 3", "j1.3"):
        (found,) = Finder(job.rig).find(name)
        assert found.name == "J1.3.line"
