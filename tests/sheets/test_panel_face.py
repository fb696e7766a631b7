"""The face of a panel: every slot where its maker has it, at the pitch of the panel."""

import io
from itertools import pairwise

import pdfplumber
import pytest
from hypothesis import given, strategies as st

from helpers.home import EXAMPLES
from helpers.label_rigs import BARE, FEW, NAMES, groups, job_of, off_paper, panel_of, words
from helpers.page_checks import overlaps
from helpers.studies import checked, job_from
from rigfolio.books.colours import colour_book
from rigfolio.draw.extents import extent
from rigfolio.draw.page import PAPERS, Group, Text, contrast, texts
from rigfolio.job import Wish
from rigfolio.judgement.result import job_of as job_of_result
from rigfolio.render.pdf import write_pdf
from rigfolio.sheets import panel_face, slot_labels

TEXT = """rig "Face"
    rules rv
battery B1 flooded, 100 Ah
panel P1 5 slots of 20 A, 2 columns, {more}pitch 15 mm, stud M6, torque 4 Nm
busbar N1 100 A
wire B1+ to P1 6 AWG red 3 ft
wire N1 to B1- 6 AWG black 3 ft
circuit P1.1 "Lamp" fuse 5 A, always on
    wire 16 AWG red 3 ft
    load "Lamp" 1 A
circuit P1.2 "Pump" fuse 10 A, found 20 A, scorched
    wire 14 AWG red 3 ft
    load "Pump" 5 A
circuit P1.4 "Fan" fuse 30 A
    wire 16 AWG red 3 ft
    load "Fan" 2 A
slot P1.5 spare "radio to come"
"""


def cells(more: str) -> dict[str, tuple[float, float]]:
    """Left and top of every slot [mm]."""
    (page,) = panel_face.pages(job_of(TEXT.format(more=more)))
    found = {}
    for mark in page.marks:
        if isinstance(mark, Group):
            found[mark.ident] = mark.marks[0].points[0]  # type: ignore[union-attr]
    return found


@pytest.mark.parametrize("name", sorted(path.name for path in EXAMPLES.glob("*.rig")))
def test_every_slot_of_the_examples(name):
    job = job_from(EXAMPLES / name)
    pages = panel_face.pages(job)
    seen = words(pages)
    for page in pages:
        assert overlaps(page) == ()
        assert off_paper(page) == []
        assert min(text.size_pt for text in texts(page)) >= 5.5
    assert "…" not in seen
    groups = {m.ident for page in pages for m in page.marks if isinstance(m, Group)}
    assert groups == {
        f"face-{panel.about.name}.{number}"
        for panel in job.rig.panels
        for number in range(1, panel.slots + 1)
    }


def test_slots_stand_as_their_maker_numbers_them():
    down, across = cells(""), cells("numbered across, ")
    assert down["face-P1.1"][0] == down["face-P1.3"][0] < down["face-P1.4"][0]
    assert down["face-P1.4"][1] == down["face-P1.1"][1]
    assert across["face-P1.1"][1] == across["face-P1.2"][1] < across["face-P1.3"][1]
    assert across["face-P1.1"][0] == across["face-P1.3"][0] < across["face-P1.2"][0]


def test_what_a_person_at_the_panel_must_know():
    seen = words(panel_face.pages(job_of(TEXT.format(more="feed last, "))))
    for phrase in (
        "ALWAYS ON", "20 A found in", "SCORCHED", "FUSE TOO LARGE: max",
        "spare: radio to come", "not stated", "stud M6, 4 Nm", "true scale, pitch 15 mm",
        "2 columns numbered down",
    ):  # fmt: skip
        assert phrase in seen
    assert "tan" in seen
    assert "red" in seen


def test_the_pitch_is_true_to_a_tenth_of_a_millimetre():
    content = write_pdf(panel_face.pages(job_of(TEXT.format(more=""))), title="face")
    with pdfplumber.open(io.BytesIO(content)) as pdf:
        rects = pdf.pages[0].rects
    tops = sorted({round(r["top"], 2) for r in rects if abs(r["height"] * 25.4 / 72 - 15.0) < 0.5})
    gaps = [(b - a) * 25.4 / 72 for a, b in pairwise(tops)]
    assert gaps
    assert gaps == pytest.approx([15.0] * len(gaps), abs=0.1)


def test_words_stand_out_from_every_fuse_colour():
    for colour in colour_book().by_word.values():
        best = max(contrast(ink, colour.rgb) for ink in ("#000000", "#ffffff"))
        assert best >= 4.5, colour.word


def test_a_rig_without_a_panel_says_so():
    assert "no face to be drawn yet" in words(panel_face.pages(job_of(BARE)))


@FEW
@given(slots=st.integers(1, 60), names=st.lists(NAMES, min_size=1, max_size=8))
def test_any_names_fit(slots, names):
    job = panel_of(slots, names * 8, paper="a4")
    pages = panel_face.pages(job)
    for page in pages:
        assert overlaps(page) == ()
        assert off_paper(page) == []
    groups = [m.ident for page in pages for m in page.marks if isinstance(m, Group)]
    assert len(groups) == len(set(groups)) == slots


def test_small_panels_share_a_page_and_stay_within_the_margins() -> None:
    result = checked(EXAMPLES / "lapwing-cabin.rig")
    for name in ("a4", "letter"):
        (page,) = panel_face.pages(job_of_result(result, Wish(paper=name)))
        assert page.width_mm == PAPERS[name].width_mm
        left, top, right, bottom = extent(page)
        assert left >= 10.0 - 0.2
        assert top >= 10.0 - 0.2
        assert right <= page.width_mm - 10.0 + 0.3
        assert bottom <= page.height_mm - 10.0 + 0.3
        assert not overlaps(page)
        said = words((page,))
        assert "P1 House panel" in said
        assert "P2 Bunkhouse panel" in said


def test_panels_that_do_not_fit_begin_a_new_page() -> None:
    # By hand: 20 + 12 * 14 + 2 * 7 mm are 202 mm of the 253 on A4 without the ruler, so no second
    # one of them fits below the two that stand side by side.
    text = 'rig "T"\n' + "".join(f"panel P{n} 12 slots of 20 A\n" for n in range(1, 4))
    assert len(panel_face.pages(job_of(text))) == 2


def test_a_long_panel_says_where_it_goes_on_and_its_feed_once() -> None:
    said = words(panel_face.pages(job_of('rig "T"\npanel P1 60 slots of 20 A\n')))
    assert said.count("+ P1 feed lands here") == 1
    # By hand: 241.4 mm of letter less 20 for the head, 14 for the ruler and twice 7 are 193 mm.
    assert "P1, slots 1 to 27" in said
    assert "goes on with slots 28 to 60" in said
    assert "goes on from slots 1 to 27" in said
    assert said.count("no negative bar stated") == 1


@pytest.mark.parametrize("pitch_mm", [3.0, 3.8, 5.0, 9.0, 14.0, 19.0, 60.0, 190.0, 400.0])
@pytest.mark.parametrize("columns", [1, 2])
def test_the_face_is_to_scale_where_the_labels_are_and_its_ruler_stands_only_there(
    pitch_mm: float, columns: int
) -> None:
    names = ("Pump", "Lights over the galley")
    job = panel_of(12, names, pitch=f"{pitch_mm} mm", columns=columns)
    pages = panel_face.pages(job)
    seen = words(pages)
    is_true = 3.8 <= pitch_mm <= 193.0
    assert ("true scale" in seen) == is_true
    assert ("not to scale" in seen) != is_true
    assert ("measure: 100 mm" in seen) == is_true
    if pitch_mm > 3.8:
        assert ("NOT TO SCALE" not in words(slot_labels.pages(job))) == is_true
    slots = groups(pages, "face-")
    assert len(slots) == 12
    if is_true:
        for group in slots:
            (_, top), _, (_, bottom), _ = group.marks[0].points
            assert bottom - top == pytest.approx(pitch_mm, abs=0.01)
    for page in pages:
        assert overlaps(page) == ()


@FEW
@given(names=st.lists(NAMES, min_size=1, max_size=6), pitch_mm=st.sampled_from([9, 12, 14, 19]))
def test_a_name_that_its_label_holds_is_not_cut_on_the_face(names, pitch_mm):
    job = panel_of(12, names * 2, pitch=f"{pitch_mm} mm", columns=2)
    noted = {
        group.ident.removeprefix("label-")
        for group in groups(slot_labels.pages(job), "label-")
        if any("[" in text.text for text in group.marks if isinstance(text, Text))
    }
    for group in groups(panel_face.pages(job), "face-"):
        if group.ident.removeprefix("face-") not in noted:
            assert "…" not in " ".join(t.text for t in group.marks if isinstance(t, Text))
