"""Tables that spreadsheets read: what is written comes back, and no cell is a formula."""

import csv
import io

import pytest
from hypothesis import given, settings, strategies as st

from rigfolio.render.csv_text import read_csv, write_csv

_cells = st.text(st.characters(exclude_categories=["Cs", "Cc"]), max_size=20).map(str.strip)
_rows = st.lists(st.lists(_cells, min_size=2, max_size=4), min_size=1, max_size=5)


@settings(derandomize=True, max_examples=150, deadline=None)
@given(_rows)
def test_rows_come_back(rows: list[list[str]]) -> None:
    rows = [["first, second", "x", "y, z"], *rows]
    text = write_csv(rows).decode("utf-8-sig")
    kept = [tuple(row) for row in rows if any(row)]
    # A lone apostrophe before a sign is taken for the mark, as spreadsheets do.
    plain = [
        tuple(c[1:] if c[:1] == "'" and c[1:2] in "=+-@" and c[1:] else c for c in row)
        for row in kept
    ]
    assert [row for _, row in read_csv(text)] == plain


@settings(derandomize=True, max_examples=100, deadline=None)
@given(_rows)
def test_python_reads_the_same_and_no_cell_is_a_formula(rows: list[list[str]]) -> None:
    text = write_csv(rows).decode("utf-8-sig")
    cells = [cell for row in csv.reader(io.StringIO(text, newline="")) for cell in row]
    assert not [cell for cell in cells if cell.startswith(("=", "+", "-", "@"))]


@pytest.mark.parametrize("mark", [",", ";", "\t"])
def test_marks_of_all_countries_are_read(mark: str) -> None:
    text = f"slot{mark}name\n\n1{mark}lamp\n"
    assert read_csv(text) == ((1, ("slot", "name")), (3, ("1", "lamp")))


def test_a_quote_that_is_not_closed_is_told_with_its_line() -> None:
    with pytest.raises(ValueError, match="line 2"):
        read_csv('slot,name\n1,"lamp\n2,fan\n')
