"""Edits of a text at exact places; every other byte stays as it is.

Places are character offsets into the text as it was decoded: without a byte order mark, line ends
as they stand in the file but for a lone carriage return, which is read as a line feed. `edited`
therefore starts again from the bytes of the file and puts the mark back.
"""

import codecs
from collections.abc import Iterable

from rigfolio.findings import Edit
from rigfolio.refusal import ChangedError


def apply(text: str, edits: Iterable[Edit]) -> str:
    """A text with some places of it replaced.

    Parameters
    ----------
    text : str
        The text of one file.
    edits : iterable of Edit
        Edits of that file, in any order.

    Raises
    ------
    ValueError
        Edits of several files, a place outside the text, or places that overlap.

    Examples
    --------
    >>> from rigfolio.findings import Span
    >>> apply("fuse 20 A # big", [Edit(Span("a.rig", 5, 7), "7.5")])
    'fuse 7.5 A # big'
    """
    ordered = sorted(edits, key=lambda one: (one.span.start, one.span.end))
    if len({one.span.file for one in ordered}) > 1:
        raise ValueError("edits of several files")
    parts: list[str] = []
    done = 0
    for one in ordered:
        start, end = one.span.start, one.span.end
        if not done <= start <= end <= len(text):
            raise ValueError(f"edit from {start} to {end}, expected a place from {done} on")
        parts += (text[done:start], one.text)
        done = end
    return "".join((*parts, text[done:]))


def edited(raw: bytes, text: str, edits: Iterable[Edit]) -> bytes:
    """The bytes of a file with some places of its text replaced.

    Parameters
    ----------
    raw : bytes
        What the file holds now.
    text : str
        Its text as it was read, in which the edits have their places.
    edits : iterable of Edit
        Edits of that file.

    Raises
    ------
    ChangedError
        The file no longer holds that text.
    ValueError
        As in `apply`.
    """
    if not still_holds(raw, text):
        raise ChangedError
    mark = codecs.BOM_UTF8 if raw.startswith(codecs.BOM_UTF8) else b""
    return mark + apply(raw[len(mark) :].decode("utf-8"), edits).encode("utf-8")


def still_holds(raw: bytes, text: str) -> bool:
    """Whether the bytes of a file are those of a text that was read from it."""
    try:
        return _line_ends(raw.decode("utf-8-sig")) == _line_ends(text)
    except UnicodeDecodeError:
        return False


def _line_ends(text: str) -> str:
    """A text in which every carriage return is a line feed; no character moves."""
    return text.replace("\r", "\n")
