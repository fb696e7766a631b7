"""What this program made, and what a person has typed, drawn or put there.

A document that is made anew takes the place of the former one. What somebody else made or filled
in never gives way: the new document is put beside it.
"""

import re
from collections.abc import Mapping, Sequence
from hashlib import sha256
from pathlib import Path

from rigfolio.render import MAKER, read_csv, write_csv

_LARGEST = 300_000_000
"""Bytes of a file that is looked at."""
_PRINTED = "(as printed: {})"
"""Behind the headings of a table, in brackets that no heading begins with."""
_NEW = "-new"
_HEAD = b" ReportLab Generated PDF document "
"""In the second line of every PDF of the library that writes them."""
_SIGNED = re.compile(rb"^(?:<!--|//) " + MAKER.encode() + rb" ([0-9a-f]{12})(?: -->)?\n\Z", re.M)
SVG_REMARK, DOT_REMARK = ("<!-- ", " -->"), ("// ", "")
"""How a remark begins and ends."""


def as_table(rows: Sequence[Sequence[str]]) -> bytes:
    """Rows as a table that shows later whether anything was typed into it.

    Parameters
    ----------
    rows : sequence of sequence of str
        Headings first.
    """
    content = write_csv(rows)
    heads, *others = rows
    return write_csv(((*heads, _PRINTED.format(_stamp(_cells(content)))), *others))


def as_drawing(text: str, remark: tuple[str, str]) -> bytes:
    """A drawing as text with a last line that shows later whether anything was changed in it.

    Parameters
    ----------
    text : str
        What it says, ending in a line break.
    remark : tuple of (str, str)
        How a remark begins and ends in the language of the drawing.
    """
    begins, ends = remark
    return f"{text}{begins}{MAKER} {_digest(text.encode())}{ends}\n".encode()


def _digest(content: bytes) -> str:
    """Twelve letters that change when any byte does."""
    return sha256(content).hexdigest()[:12]


def _cells(content: bytes) -> list[tuple[str, ...]]:
    """The cells of a table; a spreadsheet that stores it anew may part and quote them otherwise."""
    return [cells for _, cells in read_csv(content.decode("utf-8-sig"))]


def _stamp(rows: Sequence[Sequence[str]]) -> str:
    """Twelve letters that change when any cell does."""
    told = "\n".join("\t".join(row).rstrip() for row in rows)
    return _digest(told.encode())


def is_made(content: bytes) -> bool:
    """Whether this program made a file and nobody has changed it since."""
    if content.startswith(b"%PDF-"):
        # A viewer appends what it adds, or stores all anew with a head of its own.
        whole = content.count(b"\nstartxref\n") == 1 and _HEAD in content[:200]
        return whole and b"/Producer (" + MAKER.encode() + b")" in content
    if content.startswith(b"\x89PNG"):
        return b"tEXtSoftware\0" + MAKER.encode() in content[:1000]
    drawn = _SIGNED.search(content)
    if drawn is not None:
        return _digest(content[: drawn.start()]).encode() == drawn[1]
    try:
        heads, *others = _cells(content)
    except (ValueError, IndexError):
        return False
    return bool(heads) and heads[-1] == _PRINTED.format(_stamp([heads[:-1], *others]))


def beside_others(contents: Mapping[Path, bytes]) -> tuple[dict[Path, bytes], dict[Path, Path]]:
    """Where documents can be written without a loss, and which of them went elsewhere.

    Parameters
    ----------
    contents : mapping of Path to bytes
        Documents by the places where they belong.

    Returns
    -------
    tuple of dict and dict
        Documents by the places where they go; and the new place of each that stands beside what
        somebody else made, by the place where it belongs.
    """
    placed: dict[Path, bytes] = {}
    moved: dict[Path, Path] = {}
    for path, content in contents.items():
        here, number = path, 1
        while not _may_go(here, content):
            tail = _NEW if number == 1 else f"{_NEW}-{number}"
            here, number = path.with_stem(f"{path.stem}{tail}"), number + 1
        placed[here] = content
        if here != path:
            moved[path] = here
    return placed, moved


def _may_go(path: Path, content: bytes) -> bool:
    """Whether nothing is lost when a file is written to a place."""
    try:
        if not path.is_file():
            return True
        if path.stat().st_size > _LARGEST:
            return False
        there = path.read_bytes()
    except (OSError, ValueError):
        # Writing says what is wrong with the place.
        return True
    return there == content or not there or is_made(there)
