"""A layout as edits of white space, proved to change nothing else."""

import re
from collections.abc import Iterator

from rigfolio.findings import Edit, Finding, Span, in_order
from rigfolio.lang import BLANKS, apply, parse
from rigfolio.layout.columns import written
from rigfolio.layout.rows import LaidLine, LaidText

_BLANKS = re.compile(f"[{BLANKS}]*")


def layout_edits(text: str, file: str = "") -> tuple[Edit, ...]:
    """The edits that lay a text out, as `laid` gives them."""
    return laid(text, file)[0]


def laid(text: str, file: str) -> tuple[tuple[Edit, ...], tuple[Finding, ...]]:
    """The edits that lay a text out, none where it is laid out already; and the errors in it.

    Lines with an error stay as they are to the byte. Twice is once.

    Parameters
    ----------
    text : str
        The text, with its line ends as they stand in the file.
    file : str
        Its name, for the places.

    Raises
    ------
    RuntimeError
        The text would say something else then: a fault of this program, nothing may be written.
    """
    plain = re.sub("\r(?!\n)", "\n", text)
    held = LaidText(plain, file)
    edits = tuple([edit for row, line in written(held) for edit in _edits(plain, row, line, file)])
    if edits and _items(apply(plain, edits), file) != _items(plain, file):
        raise RuntimeError("the layout would change what the text says")
    return edits, in_order(held.found)


def _edits(text: str, row: LaidLine, line: str, file: str) -> Iterator[Edit]:
    """The edits of one line: run by run of white space, the characters between being equal."""
    at, new = row.start, 0
    while True:
        old_blanks, new_blanks = _run(text, at, row.end), _run(line, new, len(line))
        if old_blanks != new_blanks:
            yield Edit(Span(file, at, at + len(old_blanks)), new_blanks)
        at, new = at + len(old_blanks), new + len(new_blanks)
        if at == row.end and new == len(line):
            return
        if at == row.end or new == len(line) or text[at] != line[new]:
            raise RuntimeError("the layout would change more than white space")
        at, new = at + 1, new + 1


def _run(text: str, at: int, end: int) -> str:
    found = _BLANKS.match(text, at, end)
    return found.group() if found else ""


def _items(text: str, file: str) -> list[tuple[tuple[str, str, str], ...]]:
    """What a text says, line by line, without where it stands."""
    lines, _ = parse(text, file)
    return [tuple((item.kind, item.text, item.unit) for item in line.items) for line in lines]
