"""A slot label in a box of any size: all stays inside, nothing overlaps or is lost unsaid."""

import pytest
from hypothesis import example, given, settings, strategies as st

from helpers.page_checks import overlaps
from rigfolio.draw.extents import text_box
from rigfolio.draw.lettering import ELLIPSIS, holds
from rigfolio.draw.page import Line as Polyline, Page, contrast, flat, texts
from rigfolio.labels.content import SlotLabel, with_note
from rigfolio.labels.face import drawn, is_whole, lacking, note_labels, rating_pt
from rigfolio.labels.type import FLOOR_PT
from rigfolio.record import replace
from rigfolio.wording import ALWAYS_ON, MUST_STAY_ON, NOT_ALWAYS_ON

BOX = (10.0, 20.0, 45.0, 14.0)
NAMES = (
    st.text("abcdeWMilt ÅéñßčŁ ΑΩπώ ЖЩйы 0123 -/,.()", min_size=1, max_size=80)
    .map(lambda name: " ".join(name.split()))
    .filter(bool)
)
RATINGS = st.sampled_from(
    [("7.5 A brown", "7.5 A"), ("fuse ?",), ("25 A breaker", "25 A"), ("no fuse stated",)]
)
LABELS = st.builds(
    SlotLabel,
    number=st.sampled_from(["1", "12", "120", "S1.line", "S1.line (2)"]),
    above=st.sampled_from(["", "P1", "PANEL12"]),
    name=NAMES,
    ratings=RATINGS,
    wires=st.sampled_from(
        [("14 AWG red/black RD/BK", "14 AWG RD/BK"), ("? size ? not surveyed", "? size colour ?")]
    ),
    shade=st.sampled_from([None, "#c8202a"]),
    stays=st.sampled_from(("", ALWAYS_ON, MUST_STAY_ON, NOT_ALWAYS_ON)),
    has_circuit=st.booleans(),
)
WARNING = ("FUSE TOO LARGE: 20 A, max 8 A", "20 A TOO LARGE, max 8 A", "TOO LARGE, max 8 A",
           "TOO LARGE")  # fmt: skip
PUMP = SlotLabel(
    "3", "P1", "Water pump", ("10 A red", "10 A"),
    ("14 AWG yellow YE", "14 AWG YE"), "#c8202a", has_circuit=True,
)  # fmt: skip
LAMPS = "Reading lamps above the two forward bunks and the chart table, port side, dimmed"


def said(label, box):
    page = Page(200.0, 200.0, drawn(label, box))
    return " ".join(text.text for text in texts(page))


@settings(max_examples=400, deadline=None, derandomize=True)
@given(label=LABELS, too_large=st.booleans(), wide=st.floats(4.0, 100.0), high=st.floats(3.0, 40.0))
@example(label=PUMP, too_large=True, wide=9.2, high=13.2)
def test_all_stays_in_the_box(label, too_large, wide, high):
    box = (10.0, 20.0, wide, high)
    if too_large:
        label = replace(label, is_warned=True, shade=None, ratings=WARNING)
    if not is_whole(label, box):
        label = with_note(label, "12")
    page = Page(200.0, 200.0, drawn(label, box))
    assert overlaps(page) == ()
    for text in texts(page):
        left, top, right, bottom = text_box(text)
        assert left >= 10.0 - 0.05
        assert right <= 10.0 + wide + 0.05
        assert top >= 20.0 - 0.05
        assert bottom <= 20.0 + high + 0.05
    for mark in flat(page.marks):
        if isinstance(mark, Polyline):
            assert all(10.0 - 0.01 <= x <= 10.0 + wide + 0.01 for x, _ in mark.points)
            assert all(20.0 - 0.01 <= y <= 20.0 + high + 0.01 for _, y in mark.points)
    shown = " ".join(text.text for text in texts(page))
    if not label.note:
        assert ELLIPSIS not in shown
        assert min(text.size_pt for text in texts(page)) >= FLOOR_PT - 1e-6
        if label.has_circuit and label.stays:
            assert label.stays in shown


@pytest.mark.parametrize("pitch_mm", [10.0, 12.7, 14.0, 19.0, 25.4])
def test_eighty_letters_stand_whole_where_there_is_room(pitch_mm):
    assert len(LAMPS) == 80
    label = replace(PUMP, name=LAMPS)
    box = (0.0, 0.0, 45.0, pitch_mm)
    shown = said(label, box)
    if pitch_mm >= 14.0:
        assert is_whole(label, box)
        assert LAMPS in shown
        assert "10 A red" in shown
        assert "14 AWG" in shown
    else:
        assert not is_whole(label, box)
        noted = said(with_note(label, "7"), box)
        assert "Reading" in noted
        assert "[7]" in noted
        assert lacking(label, box) == LAMPS


def test_a_note_says_everything_where_more_than_the_name_is_missing():
    label = replace(PUMP, name=LAMPS, stays=ALWAYS_ON)
    assert lacking(label, (0.0, 0.0, 14.0, 11.0)) == (
        f"{LAMPS}; 10 A red; 14 AWG yellow YE; ALWAYS ON"
    )


def test_a_note_takes_as_many_labels_as_it_needs():
    box = (0.0, 0.0, 25.0, 8.0)
    parts = list(note_labels(1, " ".join([LAMPS] * 3), box))
    assert len(parts) > 1
    assert all(is_whole(part, box) for part in parts)
    assert " ".join(part.name for part in parts) == " ".join([LAMPS] * 3)


@pytest.mark.parametrize("words", [ALWAYS_ON, MUST_STAY_ON, NOT_ALWAYS_ON])
@pytest.mark.parametrize("high", [4.0, 5.0, 6.0, 7.0, 14.0])
def test_what_must_stay_on_is_said_at_every_height(words, high):
    assert words in said(replace(PUMP, stays=words), (0.0, 0.0, 60.0, high))


@pytest.mark.parametrize(("wide", "high"), [(8.2, 15.2), (9.0, 14.0), (9.0, 19.0)])
def test_a_warning_is_broken_over_lines_before_it_is_cut(wide, high):
    warned = with_note(replace(PUMP, is_warned=True, shade=None, ratings=WARNING), "6")
    shown = said(warned, (0.0, 0.0, wide, high))
    assert ELLIPSIS not in shown
    assert "TOO" in shown
    assert "LARGE" in shown


def test_words_stand_out_from_what_they_stand_on():
    warned = replace(PUMP, is_warned=True, shade=None, ratings=WARNING, stays=ALWAYS_ON)
    marks = tuple(flat(drawn(warned, BOX)))
    inverse = [mark for mark in marks if isinstance(mark, Polyline) and mark.fill == "#000000"]
    assert len(inverse) == 2
    page = Page(100.0, 100.0, marks)
    for text in texts(page):
        left, top, right, bottom = text_box(text)
        below = [
            mark for mark in inverse
            if mark.points[0][0] <= left and right <= mark.points[2][0]
            and mark.points[0][1] <= (top + bottom) / 2 <= mark.points[2][1]
        ]  # fmt: skip
        assert contrast(text.colour, "#000000" if below else "#ffffff") >= 7.0


@settings(max_examples=200, deadline=None, derandomize=True)
@given(labels=st.lists(LABELS, min_size=2, max_size=6), wide=st.floats(16.0, 70.0),
       high=st.floats(5.0, 30.0))  # fmt: skip
def test_ratings_of_a_strip_are_of_one_size_and_larger_than_the_wire(labels, wide, high):
    box = (10.0, 20.0, wide, high)
    labels = [replace(each, has_circuit=True) for each in labels]
    shown = [each if is_whole(each, box) else with_note(each, "3") for each in labels]
    size = rating_pt(shown, box)
    found = set()
    for label in shown:
        if label.note:
            continue
        marks = texts(Page(200.0, 200.0, drawn(label, box, rating_pt=size)))
        lines = {text.text: text.size_pt for text in marks}
        (rating,) = [lines[words] for words in label.ratings if words in lines] or [None]
        wire = [text.size_pt for text in marks if text.text.startswith(("14 AWG", "? size"))]
        if rating is not None:
            found.add(round(rating, 6))
            assert all(each < rating for each in wire)
    assert len(found) <= 1


@given(name=NAMES, high=st.floats(9.0, 40.0))
@settings(max_examples=200, deadline=None, derandomize=True)
def test_a_name_of_two_lines_keeps_a_millimetre_from_the_cut(name, high):
    label = replace(PUMP, name=name)
    marks = texts(Page(200.0, 200.0, drawn(label, (10.0, 20.0, 45.0, high))))
    assert min(text_box(text)[1] for text in marks if text.text != "P1") >= 20.0 + 1.0 - 1e-6
    assert max(text_box(text)[3] for text in marks) <= 20.0 + high - 1.0 + 1e-6


def test_a_figure_is_never_parted_from_its_unit():
    for wide in (26.0, 30.0, 36.0, 45.0, 60.0):
        warned = replace(PUMP, is_warned=True, shade=None, ratings=tuple(
            each.replace(" A", "\N{NO-BREAK SPACE}A") for each in WARNING))  # fmt: skip
        page = Page(100.0, 100.0, drawn(warned, (0.0, 0.0, wide, 25.0)))
        assert "A" not in {text.text for text in texts(page)}


def test_a_text_is_held_only_where_it_is_whole():
    from rigfolio.draw.lettering import Style

    style = Style(10, 5.5, 2)
    assert holds("Water pump", (0.0, 0.0, 30.0, 10.0), style)
    assert not holds("Water pump", (0.0, 0.0, 5.0, 10.0), style)
    assert not holds("Water pump", (0.0, 0.0, 30.0, 1.5), style)
    with pytest.raises(ValueError, match="expected a height above 0"):
        holds("Water pump", (0.0, 0.0, 30.0, 0.0), style)
