"""A table that somebody filled in: a text with commas, semicolons or tabulators, or a workbook."""

from pathlib import Path

from rigfolio.reading.files import plain_bytes
from rigfolio.refusal import RefusalError
from rigfolio.render import LargeError, StoredTable, is_workbook, read_grid, read_workbook

LARGEST = 3_000_000
"""Bytes of a table or of a log; some sixty thousand lines."""


def stored(path: Path, *, what: str, fix: str) -> bytes:
    """What a file holds.

    Parameters
    ----------
    path : Path
        The file.
    what : str
        What it should be, such as `survey`.
    fix : str
        What to do where it cannot be read.

    Raises
    ------
    RefusalError
        It cannot be read, or is too large.
    """
    try:
        content = plain_bytes(path, LARGEST)
    except (OSError, ValueError) as problem:
        why = getattr(problem, "strerror", None) or "its name cannot be used"
        raise not_read(path, f"{why[0].lower()}{why[1:]}", fix) from None
    if len(content) > LARGEST:
        raise _too_large(path, what, f"more than {LARGEST // 1_000_000} MB")
    return content


def _too_large(path: Path, what: str, why: str) -> RefusalError:
    headline = f"`{path}` is larger than any {what}: {why}"
    return RefusalError("file-too-large", headline, "see whether it is one")


def not_read(path: Path, why: str, fix: str) -> RefusalError:
    """What to say of a file that cannot be read."""
    return RefusalError("file-not-read", f"`{path}` cannot be read: {why}", fix)


def plain_text(content: bytes) -> str:
    """A text with one kind of line end and no mark before it.

    Raises
    ------
    ValueError
        It is no UTF-8 text.
    """
    return content.decode("utf-8-sig").replace("\r\n", "\n").replace("\r", "\n")


def read_table(path: Path, *, what: str, fix: str) -> tuple[StoredTable, str]:
    """A table, and why it is none where that is so: `line 3: a quote is never closed`.

    Raises
    ------
    RefusalError
        It cannot be read at all.
    """
    content = stored(path, what=what, fix=fix)
    if is_workbook(content):
        try:
            return read_workbook(content), ""
        except LargeError as problem:
            raise _too_large(path, what, str(problem)) from None
        except ValueError as problem:
            raise not_read(path, str(problem), "save the table as CSV in UTF-8") from None
    try:
        text = plain_text(content)
    except ValueError:
        why = "it is no UTF-8 text; save it as CSV in UTF-8"
        raise not_read(path, why, fix) from None
    try:
        return read_grid(text), ""
    except LargeError as problem:
        raise _too_large(path, what, str(problem)) from None
    except ValueError as problem:
        return StoredTable((), has_commas=False), str(problem)
