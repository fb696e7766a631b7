"""Rows as a text that every spreadsheet opens, and back."""

import csv
import io
from collections.abc import Iterable, Sequence

from rigfolio.record import record

Rows = tuple[tuple[int, tuple[str, ...]], ...]
"""Rows that hold something, each with the line that it starts in."""
_FORMULA = ("=", "+", "-", "@", "\t", "\r")
_MARK = "'"


@record
class StoredTable:
    """A table as somebody stored it: its rows, and whether a comma in a cell may be a decimal one.

    It may where cells are not parted by commas themselves.
    """

    rows: Rows
    has_commas: bool


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
    """A text as a table; see `read_csv`.

    Raises
    ------
    ValueError
        It is no table.
    """
    return StoredTable(read_csv(text), _mark(text) != ",")


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
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=_mark(text), strict=True)
    found: list[tuple[int, tuple[str, ...]]] = []
    start = 1
    try:
        for row in reader:
            cells = tuple(_bare(cell) for cell in row)
            if any(cells):
                found.append((start, cells))
            start = reader.line_num + 1
    except csv.Error as problem:
        raise ValueError(f"line {start}: {problem}") from None
    return tuple(found)


def _bare(cell: str) -> str:
    plain = cell.strip()
    return plain[1:] if plain.startswith(_MARK) and plain[1:2] in _FORMULA else plain
