"""Links between the sheets of a folio: from every name to where it is drawn, and on from there."""

import re
from io import BytesIO

import pypdf
import pytest

from helpers.home import RIGS
from helpers.studies import checked, job_from
from rigfolio.draw.page import Group, Page, Text
from rigfolio.findings import Severity
from rigfolio.folio.documents import Documents, title_of
from rigfolio.folio.links import linked, outline
from rigfolio.judgement.result import check, job_of
from rigfolio.sheet import sheets_bound

FAULTY = "bilge-pump-behind-the-switch.rig"


@pytest.fixture(scope="module", params=RIGS, ids=[path.stem for path in RIGS])
def folio(request):
    """The job of an example and its folio, read back."""
    job = job_from(request.param)
    return job, pypdf.PdfReader(BytesIO(Documents(job).bound()))


def sheets(reader):
    """First page, from 0, of each sheet."""
    starts = [item for item in reader.outline if not isinstance(item, list)]
    return {item.title: reader.get_destination_page_number(item) for item in starts}


def pages_of(reader, title):
    first = sheets(reader)[title]
    later = [start for start in sheets(reader).values() if start > first]
    return range(first, min(later, default=len(reader.pages)))


def links(reader, numbers):
    """Page, box and goal of each link on some pages."""
    places = {page.indirect_reference.idnum: at for at, page in enumerate(reader.pages)}
    for number in numbers:
        for each in reader.pages[number].get("/Annots", []):
            link = each.get_object()
            goal = link["/Dest"].get_object()
            to = places[goal[0].get_object().indirect_reference.idnum]
            yield number, [float(side) for side in link["/Rect"]], to, goal


def box_of(goal):
    return [float(side) for side in goal[2:6]]


def test_every_link_leads_to_a_page_and_a_place_on_it(folio):
    _, reader = folio
    found = list(links(reader, range(len(reader.pages))))
    assert len(found) > 100
    for number, (x0, y0, x1, y1), to, goal in found:
        page = reader.pages[number].mediabox
        assert 0 < x0 < x1 < page.width
        assert 0 < y0 < y1 < page.height
        left, bottom, right, top = box_of(goal)
        there = reader.pages[to].mediabox
        assert 0 <= left < right <= float(there.width) + 0.01
        assert 0 <= bottom < top <= float(there.height) + 0.01


def test_contents_lead_to_the_page_that_they_name(folio):
    _, reader = folio
    starts = sheets(reader)
    listed = [to for _, _, to, _ in links(reader, [0]) if to in starts.values()]
    assert set(starts.values()) - {0} <= set(listed)


def test_every_circuit_of_the_directory_leads_into_the_schematic(folio):
    job, reader = folio
    drawn = set(pages_of(reader, "Schematic"))
    named = reader.named_destinations
    goals = [
        box_of(goal)
        for _, _, to, goal in links(reader, pages_of(reader, "Panel directory"))
        if to in drawn
    ]
    assert job.rig.circuits
    for circuit in job.rig.circuits:
        place = named[circuit.place]
        assert reader.get_destination_page_number(place) in drawn, circuit.place
        box = [float(place[key]) for key in ("/Left", "/Bottom", "/Right", "/Top")]
        assert box in goals, circuit.place


def test_every_circuit_of_the_schematic_leads_on(folio):
    job, reader = folio
    drawn = pages_of(reader, "Schematic")
    to = {(page, tuple(box_of(goal))) for _, _, page, goal in links(reader, drawn)}
    named = reader.named_destinations
    missed = []
    labels = [f"label-{c.place}" for c in job.rig.circuits if c.slot]
    for ident in labels:
        place = named.get(ident)
        if place is None:
            missed.append(ident)
            continue
        box = tuple(float(place[key]) for key in ("/Left", "/Bottom", "/Right", "/Top"))
        page = reader.get_destination_page_number(place)
        if page in drawn or (page, box) not in to:
            missed.append(ident)
    assert missed == []


def test_marks_of_the_schematic_lead_to_its_other_pages(folio):
    _, reader = folio
    numbers = pages_of(reader, "Schematic")
    across = {(at, to) for at, _, to, _ in links(reader, numbers) if to in numbers and to != at}
    assert bool(across) == (len(numbers) > 1)
    assert across == {(to, at) for at, to in across}
    assert not across or {at for at, _ in across} == set(numbers)


def test_marks_of_the_schematic_name_the_page_that_is_printed_there(folio):
    _, reader = folio
    numbers = pages_of(reader, "Schematic")
    printed = {at: reader.page_labels[at] for at in numbers}
    said = {}
    for at in numbers:
        text = reader.pages[at].extract_text()
        assert re.search(rf"\b{printed[at]}\b", text)
        # The zones beside a mark are read as well: `to page 9, C4`.
        for way, page in re.findall(r"(to|from) page (\d+), [A-D][1-8]", text):
            said[at, way, page] = said.get((at, way, page), 0) + 1
    assert bool(said) == (len(numbers) > 1)
    there = {label: at for at, label in printed.items()}
    back = {"to": "from", "from": "to"}
    for (at, way, page), count in said.items():
        assert page in there
        assert said[there[page], back[way], printed[at]] == count
        assert (there[page] > at) == (way == "to")


def test_where_a_finding_lies_is_a_link():
    text = (RIGS[0].parent / "faulty" / FAULTY).read_text(encoding="utf-8")
    job = job_of(check(FAULTY, text=text))
    reader = pypdf.PdfReader(BytesIO(Documents(job).bound()))
    drawn = set(pages_of(reader, "Schematic"))
    assert any(one.severity is Severity.DANGER for one in job.findings)
    assert [to for _, _, to, _ in links(reader, [0]) if to in drawn][1:]


@pytest.mark.parametrize("title", ["Panel directory", "Colours and circuits"])
def test_what_names_circuits_leads_back_to_the_drawing(folio, title):
    job, reader = folio
    drawn = set(pages_of(reader, "Schematic"))
    back = [to for _, _, to, _ in links(reader, pages_of(reader, title)) if to in drawn]
    assert len(back) >= len(job.rig.circuits)


def test_outline_has_each_sheet_and_its_panels(folio):
    job, reader = folio
    bound = [title_of(name) for name in sheets_bound("folio") if name != "photo"]
    assert list(sheets(reader)) == bound
    for start, under in zip(reader.outline, reader.outline[1:], strict=False):
        if isinstance(under, list) and not isinstance(start, list):
            inside = [reader.get_destination_page_number(item) for item in under]
            assert inside == sorted(inside)
            assert inside[0] >= reader.get_destination_page_number(start)
    titles = [item.title for part in reader.outline if isinstance(part, list) for item in part]
    for panel in job.rig.panels:
        assert titles.count(f"Panel {panel.about}") >= 2


def test_page_labels_are_the_printed_numbers(folio):
    _, reader = folio
    count = len(reader.pages)
    assert reader.page_labels == [str(number) for number in range(1, count + 1)]
    for label, page in zip(reader.page_labels, reader.pages, strict=True):
        assert f"folio page {label} of {count}" in page.extract_text()


def hub(*idents):
    marks = tuple(
        Group(ident, "", (Text((10.0, 10.0 * at), ident),)) for at, ident in enumerate(idents, 1)
    )
    return "schematic", "Schematic", (Page(200, 200, marks),)


def goals_of(part):
    found = {}

    def walk(marks):
        for mark in marks:
            if isinstance(mark, Group):
                said = " ".join(m.text for m in mark.marks if isinstance(m, Text))
                found[said] = mark.goes_to
                walk(mark.marks)

    for page in part[2]:
        walk(page.marks)
    return found


@pytest.fixture(scope="module")
def rig():
    return checked(RIGS[0]).study.rig


@pytest.mark.parametrize(
    ("said", "goal"),
    [
        ("W7", "W7"),
        ("W7: may carry 8 A", "W7"),
        ("wire W7", "W7"),
        ("circuit S1.line-2", "circuit S1.line-2"),
        ("circuit S1.line-2 Brakes", "circuit S1.line-2"),
        ("S1.line", "S1.line"),
        ("W77", None),
        ("the wire W7", None),
        ("", None),
        ("W", None),
    ],
)
def test_which_words_are_a_link(rig, said, goal):
    sheet = "calculation", "Calculation", (Page(200, 200, (Text((10, 10), said),)),)
    _, made = linked(rig, (hub("W7", "S1.line", "circuit S1.line-2"), sheet))
    assert goals_of(made).get(said) == goal


def test_a_slot_with_nothing_drawn_is_no_link(rig):
    rows = (Text((10, 10), "P1 Galley", 10, bold=True), Text((10, 20), "9", bold=True))
    sheet = "panel_directory", "Panel directory", (Page(200, 200, rows),)
    _, made = linked(rig, (hub("P1", "P1.3"), sheet))
    assert goals_of(made) == {"P1 Galley": "P1"}


def test_without_a_schematic_there_are_no_links(rig):
    sheet = "calculation", "Calculation", (Page(200, 200, (Text((10, 10), "W7"),)),)
    assert linked(rig, (sheet,)) == (sheet,)


def test_outline_counts_the_pages_of_each_sheet(rig):
    first = "at_the_panel", "At the panel", (Page(9, 9, ()), Page(9, 9, ()))
    part = "calculation", "Calculation", (Page(9, 9, ()), Page(9, 9, ()))
    entries = outline(rig, (first, part))
    assert [(entry.title, entry.goes_to, entry.level) for entry in entries] == [
        ("At the panel", "page-1", 0),
        ("page 2", "page-2", 1),
        ("Calculation", "page-3", 0),
        ("page 2", "page-4", 1),
    ]
