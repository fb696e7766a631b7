"""Marks under a source line; the terminal cells are those of a fixed-width terminal."""

import re

import pytest
from hypothesis import given, settings, strategies as st

from rigfolio.findings import Label, Span
from rigfolio.judgement.messages.excerpt import TAB_CELLS, WIDEST, Lines, marks, rows
from rigfolio.reports.escapes import clean


def drawn(text, start, end, label=""):
    made = marks(Lines(text), Label(Span("x", start, end), label), ())
    return list(rows(Lines(text), made))


@pytest.mark.parametrize(
    ("line", "place", "cells_before", "cells"),
    [
        ("fuse F1 7 A", "7 A", 8, 3),
        ("\tfuse F1", "fuse", TAB_CELLS, 4),
        ("ab\tfuse", "fuse", TAB_CELLS, 4),
        ('"電池" 7 A', "7 A", 7, 3),
        ('"Кулик" 7 A', "7 A", 8, 3),
        # e and a combining acute share one cell.
        ('"e\u0301" 7 A', "7 A", 4, 3),
        ("電", "電", 0, 2),
        ("\x1b[1m 7 A", "7 A", 5, 3),
    ],
)
def test_cells(line, place, cells_before, cells):
    text = f"first\n{line}\nlast"
    start = text.index(place)
    _, below = drawn(text, start, start + len(place))
    assert below.text == " " * cells_before + "^" * cells


@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_line_ends_are_not_part_of_the_line(end):
    text = f"one{end}two{end}three{end}"
    line, _ = drawn(text, text.index("two"), text.index("two") + 3)
    assert (line.number, line.text) == ("2", "two")


def test_place_that_runs_over_the_line_ends_with_the_line():
    _, below = drawn("one two\nthree", 4, 12)
    assert below.text == "    ^^^"


def test_empty_place_has_one_mark():
    _, below = drawn("one", 3, 3)
    assert below.text == "   ^"


@pytest.mark.parametrize("start", [0, 50, 5000, 9990])
def test_long_line_is_cut_around_the_place(start):
    text = ("0123456789" * 1000) + "end"
    line, below = drawn(text, start, start + 4)
    assert len(line.text) <= WIDEST + 2
    at = below.text.index("^")
    assert line.text[at : at + 4] == text[start : start + 4]


def test_lines_between_two_marks_are_a_gap():
    text = "a\nb\nc\nd"
    made = marks(Lines(text), Label(Span("x", 0, 1)), [Label(Span("x", 6, 7), "other")])
    assert [row.kind for row in rows(Lines(text), made)] == ["source", "^", "gap", "source", "~"]


def test_long_label_is_wrapped_below_its_marks():
    shown = drawn("fuse", 0, 4, "word " * 60)
    assert [row.kind for row in shown[:2]] == ["source", "^"]
    assert " ".join(" ".join(row.note for row in shown[2:]).split()) == ("word " * 60).strip()
    assert max(len(row.note) for row in shown) < WIDEST


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("Ω ≤ 5 °C", "Ω ≤ 5 °C"),
        ("a\x1b[31mb", "a\\x1b[31mb"),
        ("a\nb", "a\\x0ab"),
        ("a\u202eb", "a\\u202eb"),
        ("\udcff", "\\xff"),
        ("e\u0301\u0302\u0303\u0304 n", "e\u0301\u0302\u0303\u0304 n"),
        ("e" + "\u0301" * 300 + " n", "e" + "\u0301" * 4 + "… n"),
    ],
)
def test_clean(text, shown):
    assert clean(text) == shown


HEAPED = st.text("ab \t\u0301\u0323", max_size=300)


@settings(derandomize=True, max_examples=150, deadline=None)
@given(HEAPED, st.integers(0, 300))
def test_no_letter_bears_more_marks_than_any_writing_has(text, place):
    at = min(place, len(text))
    for shown in (clean(text), *(row.text for row in drawn(text, at, len(text)))):
        assert all(len(run) <= 4 for run in re.split("[^\u0301\u0323]+", shown))


@settings(derandomize=True, max_examples=150, deadline=None)
@given(st.text(max_size=300) | HEAPED, st.integers(0, 300), st.integers(0, 300))
def test_any_text_and_place_can_be_drawn(text, one, two):
    start, end = sorted((min(one, len(text)), min(two, len(text))))
    for row in drawn(text, start, end, "label"):
        assert row.text.isprintable()
        assert len(row.text) <= WIDEST * TAB_CELLS + 2
