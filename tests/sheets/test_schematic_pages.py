"""The pages of the schematic, as a reader of the PDF finds them."""

import re
import sys
from dataclasses import replace
from itertools import combinations
from pathlib import Path

# Test modules are imported by path, so a module beside them has to be pointed out.
sys.path.append(str(Path(__file__).parent))

import pypdfium2
import pytest
from hypothesis import Phase, given, settings, strategies as st
from rigs_for_labels import job_of, marsh_wren
from rigs_for_schematic import heron, lines_of, panels_of, tangle
from test_schematic import crossed, groups_of, merged

from rigfolio.draw.frame import body
from rigfolio.draw.lettering import overlaps, text_box
from rigfolio.draw.page import Circle, Group, texts
from rigfolio.judgement import result as app
from rigfolio.render.pdf import write_pdf
from rigfolio.sheets import schematic
from rigfolio.values import printed
from rigfolio.wording.parts import colour_code

pytestmark = pytest.mark.dot
HERE = Path(__file__).parent
EXAMPLES = HERE.parents[1] / "examples"
NAMES = ("marsh-wren-17", "heron-van", "kittiwake-30", "lapwing-cabin")
FILES = (*(EXAMPLES / f"{name}.rig" for name in NAMES), HERE / "four-dozen.rig")
MARK = re.compile(r"^mark-(\d+)-(in|out)$")
LEAST_PT, LEAST_NOTE_PT = 8.0, 7.0


def job_in(path):
    return app.job_of(app.check(str(path)))


def marks_of(pages):
    """The ring of every pair by number and side: its page, and the words beside it."""
    found = {}
    for number, page in enumerate(pages, start=1):
        for group in groups_of(page.marks):
            if MARK.match(group.ident):
                place = MARK.match(group.ident).groups()
                assert place not in found, f"mark {place} stands twice"
                found[place] = (number, " ".join(text.text for text in group.marks[2:]), group)
    return found


def ring_y(group):
    """How far down the page the ring of a mark is [mm]."""
    return next(mark.centre[1] for mark in group.marks if isinstance(mark, Circle))


def unnumbered(page):
    """A page without the numbers in rings, which are white and lie over all lines."""
    (whole,) = (m for m in page.marks if getattr(m, "ident", "").startswith("schematic"))
    return replace(page, marks=_unnumbered(whole.marks))


def _unnumbered(marks):
    kept = []
    for mark in marks:
        if isinstance(mark, Group):
            inner = mark.marks[2:] if MARK.match(mark.ident) else mark.marks
            kept.append(replace(mark, marks=_unnumbered(inner)))
        else:
            kept.append(mark)
    return tuple(kept)


def assert_pages(job, *, is_paper=True):
    """Everything that holds of the pages of any rig."""
    pages = schematic.pages(job)
    names = {wire.name for wire in job.rig.conductors}
    paper = {job.paper.width_mm, job.paper.height_mm}
    for number, page in enumerate(pages, start=1):
        if is_paper:
            assert {page.width_mm, page.height_mm} == paper
        assert overlaps(page) == ()
        assert crossed(unnumbered(page)) == []
        assert merged(page, names) == []
        left, top, wide, high = body(page.width_mm, page.height_mm)
        (whole,) = (m for m in page.marks if getattr(m, "ident", "").startswith("schematic"))
        for text in texts(type(page)(page.width_mm, page.height_mm, whole.marks)):
            box = text_box(text)
            assert text.size_pt >= LEAST_PT
            assert left - 0.01 <= box[0] <= box[2] <= left + wide + 0.01
            assert top - 0.01 <= box[1] <= box[3] <= top + high + 0.01
        assert f"page {number} of {len(pages)}" in {text.text for text in texts(page)}
    found = marks_of(pages)
    for (mark, side), (page, said, group) in found.items():
        other, _, there = found[mark, "in" if side == "out" else "out"]
        if other == page:
            beside = "below" if ring_y(there) > ring_y(group) else "above"
            assert f"mark {mark} {beside}" in said
        else:
            assert f"page {other}" in said
        assert f"mark {mark}" in said
        assert group.goes_to == there.ident
    numbers = sorted({int(mark) for mark, _ in found})
    assert numbers == list(range(1, len(numbers) + 1))
    return pages


def words_in(pages):
    """All that a reader finds in the PDF of some pages, blanks made single."""
    document = pypdfium2.PdfDocument(write_pdf(pages, title="schematic"))
    return " ".join(" ".join(page.get_textpage().get_text_bounded().split()) for page in document)


def assert_all_is_said(job, pages):
    said = words_in(pages)
    for wire in job.rig.conductors:
        if not wire.lead:
            assert printed(wire.name) in said, wire.name
            assert colour_code(wire.colour) in said
    for slot in {(c.panel, c.slot) for c in job.rig.circuits if c.panel and c.slot}:
        assert any(
            group.ident == f"{slot[0]}.{slot[1]}"
            for page in pages
            for group in groups_of(page.marks)
        )
    for circuit in job.rig.circuits:
        for word in circuit.label.split():
            assert word in said, circuit.label
    return said


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_pages_are_clean_and_nothing_is_missing(path):
    job = job_in(path)
    said = assert_all_is_said(job, assert_pages(job))
    assert "…" not in said


@pytest.mark.parametrize("path", FILES[-1:], ids=lambda path: path.stem)
def test_no_two_texts_of_the_pdf_lie_upon_each_other(path):
    for page in pypdfium2.PdfDocument(write_pdf(schematic.pages(job_in(path)), title="x")):
        text = page.get_textpage()
        boxes = [text.get_rect(n) for n in range(text.count_rects())]
        assert len(boxes) > 10
        for one, two in combinations(boxes, 2):
            wide = min(one[2], two[2]) - max(one[0], two[0])
            high = min(one[3], two[3]) - max(one[1], two[1])
            assert wide < 0.3 or high < 0.3, (one, two)


def test_twelve_slots_stand_on_one_page_of_letter_paper():
    """All slots of a panel are side by side, and in type that is read at arm's length."""
    pages = schematic.pages(job_in(EXAMPLES / "marsh-wren-17.rig"))
    slots = {f"P1.{number}" for number in range(1, 13)}
    holding = [page for page in pages if slots & {g.ident for g in groups_of(page.marks)}]
    (page,) = holding
    assert slots <= {group.ident for group in groups_of(page.marks)}
    assert sorted((page.width_mm, page.height_mm)) == [215.9, 279.4]


def test_a_long_panel_goes_on_where_its_bus_is_marked():
    job = job_in(HERE / "four-dozen.rig")
    found = marks_of(schematic.pages(job))
    said = {said for _, said, _ in found.values()}
    assert any(re.match(r"to page \d+, mark \d+: slots from \d+ on", words) for words in said)
    assert any(re.match(r"from page \d+, mark \d+: bus of P1", words) for words in said)


def test_a_small_rig_stays_on_one_page_without_marks():
    text = 'rig "Bare"\nbattery B1\npanel P1 "Panel" 6 slots\nwire B1+ to P1 6 AWG red 1 ft\n'
    (page,) = schematic.pages(job_of(text))
    assert marks_of([page]) == {}
    assert (page.width_mm, page.height_mm) == (279.4, 215.9)


@pytest.mark.parametrize("job", [marsh_wren, heron])
def test_the_rigs_of_other_tests_are_clean_too(job):
    assert_pages(job(), is_paper=False)


LETTERS = st.characters(
    min_codepoint=0x20,
    max_codepoint=0x451,
    exclude_characters='"#\\',
    exclude_categories=("C", "M"),
)


@settings(max_examples=4, deadline=None, derandomize=True, phases=[Phase.generate])
@given(st.integers(1, 60), st.integers(1, 3), st.lists(st.text(LETTERS, min_size=1, max_size=80),
       min_size=1, max_size=6))  # fmt: skip
def test_any_panel_with_any_names_is_clean(slots, panels, names):
    """Slots and names as they come; long ones are set in several lines, never cut."""
    panels = min(panels, 60 // slots or 1)
    lines = list(lines_of(slots, panels=panels, banks=2))
    for number, name in enumerate(names):
        label = " ".join(name.split()) or "lamp"
        lines = [line.replace(f'"Circuit of P1.{number + 1}"', f'"{label}"') for line in lines]
    assert_pages(job_of("\n".join(lines) + "\n"), is_paper=False)


def test_the_same_pages_twice():
    one, two = (write_pdf(schematic.pages(panels_of(40, panels=2)), title="x") for _ in range(2))
    assert one == two


@pytest.mark.parametrize("seed", [13, 15, 38])
def test_returns_that_meet_are_drawn_on_each_page_that_they_begin_on(seed):
    # Found by chance: loads on two pages whose returns meet at the minus of a third.
    job = job_of(tangle(seed))
    shown = {group.ident for page in schematic.pages(job) for group in groups_of(page.marks)}
    for wire in job.rig.conductors:
        assert any(ident == wire.name or ident.startswith(f"{wire.name}-") for ident in shown)
    for load in job.rig.loads:
        assert load.about.name in shown or load.about.name.endswith(".in")


@pytest.mark.parametrize("seed", [11, 15, 22, 28, 47, 77, 78, 87, 124, 174, 245, 279, 308])
def test_pages_of_a_tangle_are_clean(seed):
    # Found among the first 400: marks of bars above names of bars and beside joints that pass,
    # labels at both sides of a channel. Nobody would wire a rig so, and yet it has to be read.
    assert_pages(job_of(tangle(seed)), is_paper=False)


def test_words_of_the_text_are_never_taken_for_the_number_of_a_mark():
    # Marks are numbered late, in place of a number that no text may stand in for.
    path = EXAMPLES / "kittiwake-30.rig"
    text = path.read_text().replace('"House bank fuse"', '"page 88, mark 88"')
    text = text.replace('"Panel minus bar"', '"88"').replace('"Windlass"', '"mark 88"')
    said = words_in(schematic.pages(job_of(text)))
    assert "F2 page 88, mark 88" in said
    assert "M2 mark 88" in said
    assert "88 150 A" in said


def test_what_hangs_together_stands_on_one_page():
    # The way from the battery to the bar that all feeds begin at, drawn without a mark between.
    pages = schematic.pages(job_in(EXAMPLES / "lapwing-cabin.rig"))
    shown = [{group.ident for group in groups_of(page.marks)} for page in pages]
    assert any({"B1", "F1", "W1", "S1", "W2", "D1"} <= names for names in shown)
    pages = schematic.pages(job_in(EXAMPLES / "kittiwake-30.rig"))
    shown = [{group.ident for group in groups_of(page.marks)} for page in pages]
    assert any({"B1", "B2", "F1", "F2", "X1", "F3", "F5"} <= names for names in shown)
