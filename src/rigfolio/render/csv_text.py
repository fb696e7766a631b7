"""Rows as a text that every spreadsheet opens, and back."""

import csv
import io
from collections.abc import Iterable, Iterator, Sequence
from itertools import islice

from rigfolio.record import record

Rows = tuple[tuple[int, tuple[str, ...]], ...]
"""Rows that hold something, each with the line that it starts in."""
MOST_ROWS = 20_000
MOST_COLUMNS = 100
"""What a table may have that somebody filled in; a survey has sixteen columns."""
_FORMULA = ("=", "+", "-", "@", "\t", "\r")
_MARK = "'"


@record
class StoredTable:
    """A table as somebody stored it: its rows, and whether a comma in a cell may be a decimal one.

    It may where cells are not parted by commas themselves.
    """

    rows: Rows
    has_commas: bool


class LargeError(ValueError):
    """A table that is larger than any that a person fills in; says by what."""


def see_size(rows: int, columns: int) -> None:
    """Refuse more rows or columns than anybody fills in.

    Raises
    ------
    LargeError
        There are more.
    """
    if rows > MOST_ROWS:
        raise LargeError(f"more than {MOST_ROWS} rows")
    if columns > MOST_COLUMNS:
        raise LargeError(f"more than {MOST_COLUMNS} columns")


def write_csv(rows: Iterable[Sequence[str]]) -> bytes:
    """Rows with commas between, in UTF-8 with a mark by which spreadsheets know it.

    A cell that a spreadsheet would take for a formula has an apostrophe before it, which is how
    spreadsheets themselves mark a text.
    """
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    for row in rows:
        writer.writerow([_held(cell) for cell in row])
    return text.getvalue().encode("utf-8-sig")


def _held(cell: str) -> str:
    plain = " ".join(cell.split("\n"))
    return f"{_MARK}{plain}" if plain.startswith(_FORMULA) else plain


def read_grid(text: str) -> StoredTable:
    """A text that somebody filled in as a table; see `read_csv`.

    Raises
    ------
    LargeError
        It has more rows or columns than anybody fills in.
    ValueError
        It is no table.
    """
    rows: list[tuple[int, tuple[str, ...]]] = []
    for line, cells in _rows(text):
        rows.append((line, cells))
        see_size(len(rows), len(cells))
    return StoredTable(tuple(rows), _mark(text) != ",")


def first_row(text: str) -> StoredTable:
    """The first row of a text that may be a table; no row where it is none."""
    try:
        return StoredTable(tuple(islice(_rows(text), 1)), _mark(text) != ",")
    except ValueError:
        return StoredTable((), has_commas=False)


def _mark(text: str) -> str:
    """What stands between the cells of the first row."""
    first = text.split("\n", 1)[0]
    return max(",;\t", key=first.count)


def read_csv(text: str) -> Rows:
    """Rows of a text with the line that each starts in, counted from 1; empty rows left out.

    Commas, semicolons and tabulators between cells are told apart by the first row, as spreadsheets
    of different countries write them.

    Raises
    ------
    ValueError
        A quote is never closed, or a cell is larger than any cell should be.
    """
    return tuple(_rows(text))


def _rows(text: str) -> Iterator[tuple[int, tuple[str, ...]]]:
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=_mark(text), strict=True)
    start = 1
    try:
        for row in reader:
            cells = tuple(_bare(cell) for cell in row)
            if any(cells):
                yield start, cells
            start = reader.line_num + 1
    except csv.Error as problem:
        raise ValueError(f"line {start}: {problem}") from None


def _bare(cell: str) -> str:
    plain = cell.strip()
    return plain[1:] if plain.startswith(_MARK) and plain[1:2] in _FORMULA else plain
