"""The first sheet of a workbook, as office programs store it: `.xlsx` and `.ods`."""

import datetime
import io
from typing import TYPE_CHECKING

from rigfolio.refusal import RefusalError
from rigfolio.render.csv_text import MOST_COLUMNS, MOST_ROWS, LargeError, Rows, StoredTable
from rigfolio.render.workbook_parts import NO_WORKBOOK, looked_through

if TYPE_CHECKING:
    from python_calamine import CalamineWorkbook

_SIGN = b"PK\x03\x04"
"""Both are packed folders."""


def is_workbook(content: bytes) -> bool:
    """Whether these are the bytes of a workbook and not of a text."""
    return content.startswith(_SIGN)


def read_workbook(content: bytes) -> StoredTable:
    """The rows of the first sheet that holds any.

    Numbers are written as a person would, `12` and not `12.0`; a decimal comma can only be one.

    Raises
    ------
    LargeError
        It is larger than any survey.
    ValueError
        It is no workbook.
    RefusalError
        What reads it is not installed.
    """
    try:
        import python_calamine
    except ImportError:
        raise RefusalError(
            "tables-not-installed",
            "what reads `.xlsx` and `.ods` is not installed",
            "`python -m pip install 'rigfolio[tables]'`, or save the table as CSV",
        ) from None
    try:
        book = python_calamine.CalamineWorkbook.from_filelike(io.BytesIO(looked_through(content)))
        return StoredTable(_first_rows(book), has_commas=True)
    except python_calamine.CalamineError as problem:
        raise ValueError(NO_WORKBOOK) from problem


def _first_rows(book: "CalamineWorkbook") -> Rows:
    """The rows of the first sheet that holds any."""
    cells = 0
    for name in book.sheet_names:
        # Any number of sheets may lie in one part.
        if cells > MOST_ROWS * MOST_COLUMNS:
            raise LargeError(f"more than {MOST_ROWS * MOST_COLUMNS} empty cells")
        sheet = book.get_sheet_by_name(name).to_python(skip_empty_area=False)
        cells += sum(map(len, sheet)) + 1
        lines = [(line, tuple(_text(cell) for cell in row)) for line, row in enumerate(sheet, 1)]
        rows = tuple((line, row) for line, row in lines if any(row))
        if rows:
            return rows
    return ()


def _text(cell: object) -> str:
    """A cell as a person would have typed it."""
    if isinstance(cell, float):
        return f"{cell:.10g}"
    if isinstance(cell, datetime.datetime) and cell.time() == datetime.time():
        return cell.date().isoformat()
    return str(cell).strip()
