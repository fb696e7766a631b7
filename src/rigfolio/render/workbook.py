"""The first sheet of a workbook, as office programs store it: `.xlsx` and `.ods`."""

import datetime
import io
import zipfile

from rigfolio.refusal import RefusalError
from rigfolio.render.csv_text import StoredTable

_SIGN = b"PK\x03\x04"
"""Both are packed folders."""
MOST_BYTES = 60_000_000
"""What a workbook may hold when it is unpacked; a survey has some thousand cells."""
MOST_ROWS = 5_000


def is_workbook(content: bytes) -> bool:
    """Whether these are the bytes of a workbook and not of a text."""
    return content.startswith(_SIGN)


def read_workbook(content: bytes) -> StoredTable:
    """The rows of the first sheet that holds any.

    Numbers are written as a person would, `12` and not `12.0`; a decimal comma can only be one.

    Raises
    ------
    ValueError
        It is no workbook, or larger than any survey.
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
        with zipfile.ZipFile(io.BytesIO(content)) as packed:
            if sum(one.file_size for one in packed.infolist()) > MOST_BYTES:
                raise ValueError("it is larger than any survey")
        book = python_calamine.CalamineWorkbook.from_filelike(io.BytesIO(content))
        sheets = [
            book.get_sheet_by_name(name).to_python(skip_empty_area=False, nrows=MOST_ROWS + 1)
            for name in book.sheet_names
        ]
    except (zipfile.BadZipFile, python_calamine.CalamineError) as problem:
        raise ValueError("it is no workbook that can be read") from problem
    for sheet in sheets:
        if len(sheet) > MOST_ROWS:
            raise ValueError("it is larger than any survey")
        lines = [(line, tuple(_text(cell) for cell in row)) for line, row in enumerate(sheet, 1)]
        rows = tuple((line, cells) for line, cells in lines if any(cells))
        if rows:
            return StoredTable(rows, has_commas=True)
    return StoredTable((), has_commas=True)


def _text(cell: object) -> str:
    """A cell as a person would have typed it."""
    if isinstance(cell, float):
        return f"{cell:.10g}"
    if isinstance(cell, datetime.datetime) and cell.time() == datetime.time():
        return cell.date().isoformat()
    return str(cell).strip()
