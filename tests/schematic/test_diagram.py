"""The pages of the diagram, as the person reads them who holds them at the panel."""

import re
from itertools import pairwise

import pypdfium2
import pytest
from hypothesis import given, settings, strategies as st

from helpers.diagram_checks import faults, groups_of
from helpers.diagram_rigs import KINDS, text_of
from helpers.forgotten import cache
from helpers.home import EXAMPLES, FOUR_DOZEN
from helpers.label_rigs import job_of, marsh_wren
from helpers.schematic_rigs import HERON, heron, lines_of, panels_of, tangle
from helpers.studies import job_from, numbered
from helpers.sun_rigs import ROOF
from rigfolio.draw.page import Circle, Line, Text, texts
from rigfolio.render.pdf import write_pdf
from rigfolio.schematic.drawing import _heights
from rigfolio.schematic.sheet import diagram
from rigfolio.wording.parts import MINUS, colour_code

PAGES = {"marsh-wren-17": 2, "lapwing-cabin": 1, "heron-van": 2, "kittiwake-30": 3}
FAULTY = sorted((EXAMPLES / "faulty").glob("*.rig"))
FEW = settings(max_examples=8, deadline=None, derandomize=True)
NO_FAULT = {"overlap": 0, "struck": 0, "bend": 0, "off": 0, "small": 0, "paper": 0, "lost": 0}


def job_in(name):
    return job_from(EXAMPLES / f"{name}.rig")


@cache
def drawn(made, *names):
    """The diagram of a rig that several tests look at."""
    return diagram(made(*names))


def assert_clean(job, made=None):
    """Everything that holds of the pages of any rig, which are given where others look at them."""
    made = made or diagram(job)
    assert faults(job, made) == NO_FAULT
    for number, page in enumerate(made.pages, start=1):
        shown = {text.text for text in texts(page)}
        assert f"page {number} of {len(made.pages)}" in shown
    assert_marks(made)
    return made


def marks_of(made):
    """Each mark by number and side: its page, its words, its group, the height of its ring."""
    found = {}
    for number, page in enumerate(made.pages, start=1):
        for group in groups_of(page.marks):
            match = re.fullmatch(r"mark-(\d+)-(in|out)", group.ident)
            if match:
                assert match.groups() not in found
                said = [mark.text for mark in group.marks if isinstance(mark, Text)]
                found[match.groups()] = (number, said, group)
    return found


def assert_marks(made):
    """Marks come in pairs; each bears its number and names the page of the other one."""
    found = marks_of(made)
    assert len(found) == 2 * made.marks
    for (number, side), (page, said, group) in found.items():
        other, _, there = found[number, "in" if side == "out" else "out"]
        word = "to" if side == "out" else "from"
        assert said[0] == number
        assert re.fullmatch(rf"{word} page {other}, [A-D][1-8]", said[1]), said
        assert group.goes_to == there.ident
        assert (other > page) == (side == "out")


def words_in(made):
    """All that a reader finds in the PDF of some pages, blanks made single."""
    document = pypdfium2.PdfDocument(write_pdf(made.pages, title="schematic"))
    return " ".join(" ".join(page.get_textpage().get_text_bounded().split()) for page in document)


def assert_all_is_said(job, made):
    said = words_in(made)
    for wire in job.rig.conductors:
        if not wire.lead:
            assert wire.name in said, wire.name
            assert colour_code(wire.colour) in said
    drawn = {group.ident for page in made.pages for group in groups_of(page.marks)}
    for circuit in job.rig.circuits:
        assert circuit.place in drawn or f"{circuit.panel}.{circuit.slot}" in drawn
        for word in circuit.label.split():
            assert word in said, circuit.label
    for device in job.rig.devices:
        for word in device.about.label.split():
            assert word in said or device.kind == "connector", device.about.label
    return said


@pytest.mark.parametrize("name", PAGES)
def test_examples_take_few_pages_and_nothing_crosses(name):
    job = job_in(name)
    made = assert_clean(job, drawn(job_in, name))
    assert len(made.pages) <= PAGES[name]
    assert sum(drawing.crossings for drawing in made.drawings) == 0
    assert min(drawing.size_pt for drawing in made.drawings) >= 7.5
    assert "…" not in assert_all_is_said(job, made)


def test_a_panel_of_two_dozen_slots_goes_on_slot_by_slot():
    job = job_from(FOUR_DOZEN)
    made = assert_clean(job)
    assert "…" not in assert_all_is_said(job, made)
    shown = [{int(g.ident[3:]) for g in groups_of(page.marks) if re.fullmatch(r"P1\.\d+", g.ident)}
             for page in made.pages]  # fmt: skip
    parts = [slots for slots in shown if slots]
    assert len(parts) > 1
    assert sorted(n for slots in parts for n in slots) == list(range(1, 25))
    assert all(max(one) < min(two) for one, two in pairwise(parts))
    assert min(map(len, parts)) * 3 >= max(map(len, parts))


@pytest.mark.parametrize("path", FAULTY, ids=lambda path: path.stem)
def test_a_faulty_rig_is_drawn_all_the_same(path):
    job = job_from(path)
    assert_all_is_said(job, assert_clean(job))


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("seed", [1, 2])
def test_generated_rigs_are_drawn_clean(kind, seed):
    job = job_of(text_of(kind, seed))
    assert_all_is_said(job, assert_clean(job))


@pytest.mark.parametrize("seed", [4, 8, 12, 18, 30, 36, 39, 51])
def test_a_tangle_is_drawn_clean(seed):
    # Nobody would wire a rig so, and yet it has to be read.
    assert_clean(job_of(tangle(seed)))


@pytest.mark.parametrize("job", [marsh_wren, heron])
def test_the_rigs_of_other_tests_are_drawn_clean(job):
    assert_clean(job(), drawn(job))


@FEW
@given(st.integers(1, 40), st.integers(1, 2), st.integers(1, 2), st.integers(0, 60))
def test_panels_of_any_size_are_drawn_clean(slots, panels, banks, kinds):
    assert_clean(panels_of(slots, panels=panels, banks=banks, kinds=kinds))


LETTERS = st.characters(min_codepoint=0x20, max_codepoint=0x451, exclude_characters='"#\\',
                        exclude_categories=("C", "M"))  # fmt: skip


@FEW
@given(st.lists(st.text(LETTERS, min_size=1, max_size=80), min_size=1, max_size=4))
def test_names_of_any_letters_are_printed_whole(names):
    lines = ['rig "Bare"', 'battery B1 "Bank" agm, 100 Ah', 'panel P1 "Panel" 4 slots',
             "wire B1+ to P1 6 AWG red 1 ft"]  # fmt: skip
    for number, name in enumerate(names, start=1):
        label = " ".join(name.split()) or "lamp"
        lines += [f'circuit P1.{number} "{label}" fuse 5 A', "    wire 14 AWG red 3 ft",
                  f'    load "{label}" 1 A']  # fmt: skip
    made = assert_clean(job_of("\n".join(lines) + "\n"))
    assert "…" not in {text.text for page in made.pages for text in texts(page)} or "…" in str(
        names
    )


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", ()),
        ('battery B1 "House" 100 Ah\n', ("B1 House",)),
        ('panel P1 "Panel" 4 slots\n', ("not listed", "P1 Panel")),
        ('panel P1 "Panel" 4 slots, pitch 3 mm\n', ("P1 Panel",)),
        ('panel P1 "Panel" 2 slots\ncircuit P1.1 "Lamp" fuse 5 A\n    load "Lamp" 1 A\n',
         ("Lamp",)),
        ('load L1 "Loose lamp" 1 A\n', ("L1 Loose lamp",)),
        ('battery B1\nload L1 "Lamp" 1 A\nwire B1+ to L1+ 14 AWG red 3 ft\n'
         "wire L1- to B1- 14 AWG black 3 ft\n", ("L1 Lamp", "B1+/L1+ 14 AWG", "RD 3 ft")),
        ("battery B1\nwire B1+ to ? 14 AWG red ?\n", ("?/B1+ 14 AWG", "RD ? length")),
        ("battery B1\nwire B1+ to B1+ 14 AWG red 3 ft\n", ("B1+/B1+ 14 AWG",)),
        ("fuse F1 5 A\nfuse F2 5 A\nwire F1.load to F2.line 14 AWG red 3 ft\n"
         "wire F2.load to F1.line 14 AWG red 3 ft\n", ("F1.load/F2.line", "F1.line/F2.load")),
    ],
)  # fmt: skip
def test_a_rig_with_gaps_is_drawn_all_the_same(text, words):
    made = assert_clean(job_of(f'rig "Bare"\n{text}'))
    shown = words_in(made)
    for word in words:
        assert word in shown


def test_slots_stand_below_each_other_in_their_order():
    heights = {}
    for group in groups_of(drawn(marsh_wren).pages[0].marks):
        if group.ident.startswith("P1.") and group.ident[3:].isdigit():
            number = next(m for m in group.marks if isinstance(m, Text) and m.text.isdigit())
            heights[int(number.text)] = number.at[1]
    assert list(range(1, 13)) == sorted(heights, key=heights.get)


def test_loads_of_a_panel_stand_in_one_column():
    job, made = job_in("marsh-wren-17"), drawn(job_in, "marsh-wren-17")
    groups = {g.ident: g for page in made.pages for g in groups_of(page.marks)}
    names = [load.about.name for load in job.rig.loads if load.circuit.startswith("P1.")]
    places = set()
    for name in names:
        marks = groups[f"load {name}"].marks
        signs = [m.at[0] for m in marks if isinstance(m, Text) and m.text == "+"]
        places.add(round(signs[0], 3))
    assert len(names) > 12
    assert len(places) == 1


def test_a_panel_that_fits_one_page_is_not_divided():
    made = drawn(job_in, "marsh-wren-17")
    holding = [
        page for page in made.pages
        if {f"P1.{n}" for n in range(1, 13)} & {g.ident for g in groups_of(page.marks)}
    ]  # fmt: skip
    assert len(holding) == 1


def test_a_panel_of_two_columns_is_cut_between_them():
    made = drawn(job_in, "kittiwake-30")
    for page in made.pages:
        shown = {g.ident for g in groups_of(page.marks)}
        slots = {n for n in range(1, 25) if f"P1.{n}" in shown}
        assert slots in (set(), set(range(1, 13)), set(range(13, 25)))


def test_returns_that_are_assumed_are_dashed_and_say_so():
    made = drawn(marsh_wren)
    groups = {g.ident: g for page in made.pages for g in groups_of(page.marks)}
    wire = groups["P1.1/1R"]
    assert "assumed" in " ".join(m.text for m in wire.marks if isinstance(m, Text))
    assert all(m.pen.dash_mm for m in wire.marks if isinstance(m, Line))


def test_a_wire_is_labelled_with_name_gauge_colour_and_length():
    shown = {text.text for page in drawn(marsh_wren).pages for text in texts(page)}
    assert {"P1.1/1  14 AWG", "RD/BK 18 ft"} <= shown
    assert {"S1.line/1  16 AWG", "? 9 ft"} <= shown
    assert {"W1  6 AWG", "RD 10 in"} <= shown


def test_a_slot_return_to_the_frame_ends_in_the_sign_of_the_frame():
    made = drawn(heron)
    signs = [
        text for page in made.pages for group in groups_of(page.marks) if group.ident == "G1"
        for text in group.marks if isinstance(text, Text) and text.text == "G1"
    ]  # fmt: skip
    assert len(signs) == 1


def test_every_load_and_source_bears_its_signs():
    job = heron()
    groups = {g.ident: g for page in drawn(heron).pages for g in groups_of(page.marks)}
    for part in (*job.rig.loads, *job.rig.sources):
        name = part.about.name
        group = groups[name if name in groups else f"load {name}"]
        signs = {m.text for m in group.marks if isinstance(m, Text)}
        assert {"+", MINUS} <= signs


def test_circuits_that_start_at_one_place_are_told_apart():
    said = words_in(drawn(job_in, "marsh-wren-17"))
    assert "S1.line: 3 A fuse" in said
    assert "S1.line-2: 20 A fuse" in said


def test_an_inverter_is_called_by_the_power_on_its_plate():
    assert "1000 W AC, intermittent" in words_in(drawn(job_in, "heron-van"))


def test_a_device_says_its_kind_and_make():
    said = words_in(drawn(job_in, "heron-van"))
    for words in ("F1 House bank fuse", "150 A, class T", "W10 fuse", "60 A, midi",
                  "S1 House disconnect", "275 A"):  # fmt: skip
        assert words in said


def test_a_kind_is_said_once():
    said = words_in(drawn(job_in, "kittiwake-30"))
    for words in ("F1 Start battery fuse 200 A terminal cube", "W16 fuse 50 A, terminal cube"):
        assert words in said
    assert "F3 Panel breaker 100 A" in said
    assert "100 A breaker" not in said


def test_names_of_the_outer_bars_keep_within_them():
    page = drawn(job_in, "kittiwake-30").pages[0]
    groups = {g.ident: g for g in groups_of(page.marks)}
    last = max(x for m in groups["N1"].marks if isinstance(m, Line) for x, _ in m.points)
    for words in ("N1 Main minus bar 600 A \N{MINUS SIGN}", "to page 2, D7"):
        (text,) = [text for text in texts(page) if text.text == words]
        assert text.anchor == "end"
        assert text.at[0] < last + 2.0


def test_words_are_no_narrower_than_the_page_asks_for():
    # What is left over after rungs were narrowed is given back to words, before wires get it.
    page = drawn(job_in, "kittiwake-30").pages[0]
    shown = {text.text for text in texts(page)}
    assert {"Start battery fuse", "House bank fuse", "250 A, terminal cube"} <= shown


def test_a_slot_as_wide_as_the_page_is_not_left_alone():
    made = diagram(job_of(numbered("\n".join(lines_of(11, kinds=1)))))
    assert len(made.pages) == 1


def test_a_group_explains_itself():
    groups = {g.ident: g for page in drawn(marsh_wren).pages for g in groups_of(page.marks)}
    assert groups["P1.1/1"].title.startswith("P1.1/1: 14 AWG, red/black, 18 ft, P1.1")


def test_marks_count_pages_of_the_document_that_they_are_bound_in():
    made = diagram(job_in("marsh-wren-17"), first_page=7)
    said = {words[1].partition(",")[0] for _, words, _ in marks_of(made).values()}
    assert said == {"to page 8", "from page 7"}


def test_pins_of_a_plug_are_tied_by_a_dashed_line():
    made = diagram(job_of(text_of("plug", 2)))
    links = [
        group for page in made.pages for group in groups_of(page.marks)
        if group.ident.startswith("link J1")
    ]  # fmt: skip
    assert len(links) >= 2
    assert all(link.marks[0].pen.dash_mm for link in links)


def test_a_rung_that_passes_a_bar_hops_over_it_and_is_counted():
    # Three bars with three converters between them: nobody draws that without a crossing.
    made = diagram(job_of(text_of("converter", 4)))
    assert sum(drawing.crossings for drawing in made.drawings) == 1
    bows = [
        mark for page in made.pages for mark in _lines(page) if len(mark.points) > 8
        and max(y for _, y in mark.points) - min(y for _, y in mark.points) > 1.5
    ]  # fmt: skip
    assert [bow for bow in bows if bow.points[0][1] == bow.points[-1][1]]


def _lines(page):
    whole = next(g for g in page.marks if getattr(g, "ident", "").startswith("schematic"))
    return [mark for mark in whole.marks if isinstance(mark, Line)]


def test_a_joint_is_drawn_only_where_the_rig_has_one():
    text = ('rig "Bare"\nbattery B1\nfuse F1 10 A on B1+\nload L1 "Lamp" 1 A\n'
            "wire F1.load to L1+ 14 AWG red 3 ft\nwire L1- to B1- 14 AWG black 3 ft\n")  # fmt: skip
    made = diagram(job_of(text))
    whole = next(g for g in made.pages[0].marks if getattr(g, "ident", "") == "schematic")
    drawn = [g for g in groups_of(whole.marks) if g.ident.startswith("at ")]
    dots = [m for g in drawn for m in g.marks if isinstance(m, Circle) and m.fill == "#000000"]
    # A ring of battery and lamp: two posts are bars, so that it can be drawn at all.
    assert len(drawn) == 2
    assert len(dots) == 4


def test_user_text_cannot_break_the_drawing():
    name = "\\N <b> ' ] ; } \\"
    assert_clean(job_of(HERON.replace('"Start fuse"', f'"{name}"')))


def test_a_small_diagram_stays_on_one_page_without_marks():
    text = 'rig "Bare"\nbattery B1\npanel P1 "Panel" 6 slots\nwire B1+ to P1 6 AWG red 1 ft\n'
    made = diagram(job_of(text))
    assert len(made.pages) == 1
    assert made.marks == 0
    assert (made.pages[0].width_mm, made.pages[0].height_mm) == (279.4, 215.9)


def test_a_legend_explains_symbols_lines_and_colours():
    for name in PAGES:
        made = drawn(job_in, name)
        legends = [g for page in made.pages for g in groups_of(page.marks) if g.ident == "legend"]
        said = " ".join(m.text for g in legends for m in g.marks if isinstance(m, Text))
        for word in ("battery", "fuse", "return assumed", "RD red", "BK black"):
            assert word in said


@pytest.mark.parametrize("kind", KINDS)
def test_every_diagram_has_its_legend(kind):
    # One of a single row was lost by a rounding of its height.
    made = diagram(job_of(text_of(kind, 4)))
    legends = [g for page in made.pages for g in groups_of(page.marks) if g.ident == "legend"]
    said = [m.text for g in legends for m in g.marks if isinstance(m, Text)]
    assert {"battery", "fuse", "RD red"} <= {*said}


def test_the_title_block_can_be_signed():
    shown = [text.text for text in texts(drawn(job_in, "heron-van").pages[1])]
    for words in ("drawing HERON-S", "revision 2026-04-02", "drawn", "checked", "page 2 of 2"):
        assert words in shown


def test_words_of_the_text_are_never_taken_for_a_mark():
    text = (EXAMPLES / "kittiwake-30.rig").read_text(encoding="utf-8")
    text = text.replace('"House bank fuse"', '"to page 88, D8"').replace('"Windlass"', '"88"')
    said = words_in(diagram(job_of(text)))
    assert "to page 88, D8" in said
    assert said.count("page 88") == 1


def test_a_load_with_the_name_of_a_mark_is_none():
    text = (EXAMPLES / "heron-van.rig").read_text(encoding="utf-8")
    text = re.sub(r"load +\"Awning\"", 'load "mark-1-out"', text)
    assert 'load "mark-1-out"' in text
    said = words_in(assert_clean(job_of(text)))
    assert "mark-1-out" in said


def test_what_hangs_together_stands_on_one_page():
    for name, parts in (("lapwing-cabin", {"B1", "F1", "W1", "S1", "W2", "D1"}),
                        ("kittiwake-30", {"B1", "B2", "F1", "F2", "X1", "F3", "F5"})):  # fmt: skip
        pages = drawn(job_in, name).pages
        assert any(parts <= {g.ident for g in groups_of(page.marks)} for page in pages)


def test_words_below_a_rung_keep_off_the_line_of_the_next():
    """Six lines under a fuse stood on the dashed line of the slot below it, as if they were its."""
    text = heights_of([(0.0, 1.0, 20.0, 14.0)], [(0.0, 0.0, 60.0, 0.0)], room_mm=15.5)
    assert text[1] - text[0] - 14.0 >= 1.2
    beside = heights_of([(0.0, 1.0, 20.0, 14.0)], [(30.0, 0.0, 60.0, 0.0)], room_mm=15.5)
    assert beside[1] - beside[0] < 10.0


def heights_of(*boxes, room_mm):
    """How far down rows of some boxes stand in a room [mm]."""
    found = _heights(boxes, room_mm)
    assert found is not None
    return found


def test_the_sun_side_says_volts_joints_and_linked_poles():
    poles = ROOF.replace("rated 100 V\n", "rated 100 V, two poles\n", 1)
    poles = poles.replace("splice Z1\n", 'splice Z1 "Combiner plus"\n')
    for old, new in (("wire Z1 to S1 ", "wire Z1 to S1.1 "), ("wire S1 to U1", "wire S1.1 to U1")):
        poles = poles.replace(old, new)
    lead = "wire Y1- to {} 12 AWG black 9 ft"
    poles = poles.replace(lead.format("U1.in-"), lead.format("S1.2"))
    poles = poles.replace(
        "wire Y2- to U1.in-", "wire S1.2 to U1.in- 8 AWG black 1 ft\nwire Y2- to Y1-"
    )
    seen = " ".join(t.text for page in diagram(job_of(poles)).pages for t in texts(page))
    assert "Z1 Combiner plus" in seen
    assert "1000 V" in seen
    assert "poles linked" in seen.replace("poles  linked", "poles linked")
