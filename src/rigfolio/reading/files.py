"""A rig file and the files it includes: read, decoded and cut into blocks, within bounds."""

import os
import re
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path

from rigfolio.findings import Finding, Span, in_order
from rigfolio.lang import Block, TextLine, blocks, error, parse
from rigfolio.nearness import ENOUGH, nearest
from rigfolio.reading.merging import merge_mark
from rigfolio.reading.spelling import one_spelling
from rigfolio.reading.text import words
from rigfolio.reading.variants import taken_over

STDIN = "-"
SHOWN_STDIN = "<stdin>"
LARGEST_FILE = 3_000_000
"""Bytes of one file; some eighty thousand lines, where a large rig has one thousand."""
MOST_FILES = 50
MOST_ERRORS = 100
"""Errors of one rig that are shown."""
MOST_LINES = 60_000
"""Lines that say something, in all files of one rig."""


class RigTexts:
    """What was read: texts by file name, the rig file first; blocks in order; errors.

    The text of a rig file that could not be read is empty. `raw` is what the files hold, to the
    byte: a text has lost its byte order mark and bare carriage returns. `types` are the files of
    which an `include` excepts something, with the places there of what the rig has not; `excepted`
    what that is called, in small letters, with the places that except it.
    """

    def __init__(self, shown: str, instead: Mapping[str, str]) -> None:
        self.texts: dict[str, str] = {shown: ""}
        self.instead = instead
        self.raw: dict[str, bytes] = {}
        self.blocks: list[Block] = []
        self.found: list[Finding] = []
        self.lines = 0
        self.seen: set[str] = set()
        self.types: dict[str, tuple[Span, ...]] = {}
        self.excepted: dict[str, Span] = {}


def read_rig(
    file: str, text: str | None = None, instead: Mapping[str, str] | None = None
) -> RigTexts:
    """The blocks of a rig file, with those of each included file where it is named.

    Parameters
    ----------
    file : str
        Its path; `-` is the standard input.
    text : str, optional
        What the file says, where it has been read already; `file` is only shown then.
    instead : mapping of str to str, optional
        What included files say, by the names that are shown, where they have been read already.
    """
    shown = SHOWN_STDIN if file == STDIN and text is None else file
    reading = RigTexts(shown, instead or {})
    path = Path(file)
    if text is None or instead is not None:
        reading.seen.add(_identity(path))
    if text is None:
        text = _content(path, shown, reading, Span(shown, 0, 0), is_stdin=file == STDIN)
    else:
        reading.raw[shown] = text.encode(errors="replace")
        text = _line_ends(text)
    if text is not None:
        _add(path, shown, text, reading)
        if not reading.blocks and not reading.found:
            reading.found.append(_empty(shown))
    reading.blocks = one_spelling(reading.blocks)
    return reading


def read_alone(file: str) -> RigTexts:
    """The text of one file and its bytes, without what it includes and without its blocks."""
    shown = SHOWN_STDIN if file == STDIN else file
    reading = RigTexts(shown, {})
    text = _content(Path(file), shown, reading, Span(shown, 0, 0), is_stdin=file == STDIN)
    if text is not None:
        reading.texts[shown] = text
    return reading


def _add(path: Path, shown: str, text: str, reading: RigTexts) -> None:
    """Add the blocks of one text, and of what it includes."""
    reading.texts[shown] = text
    excess = _excess(text, shown, reading)
    if excess is not None:
        reading.found.append(excess)
        return
    unfinished = merge_mark(text, shown)
    if unfinished is not None:
        reading.found.append(unfinished)
        return
    lines, problems = parse(text, shown, _is_hopeless())
    here, strays = blocks(lines)
    reading.found += (*problems, *strays)
    for block in here:
        reading.blocks.append(block)
        for name, span in _named(block):
            _take_over(block, path, shown, (name, span), reading)


def _take_over(
    include: Block, path: Path, shown: str, named: tuple[str, Span], reading: RigTexts
) -> None:
    """Add what an included file says, but what its `include` excepts."""
    start, texts, errors = len(reading.blocks), len(reading.texts), len(reading.found)
    _include(path, shown, *named, reading)
    found: list[Finding] = []
    taken = taken_over(include, reading.blocks[start:], found)
    reading.blocks[start:] = taken.blocks
    reading.excepted |= taken.names
    if len(reading.found) == errors:
        # In a file that was not read whole, something is missing for another reason.
        reading.found += found
    for file in list(reading.texts)[texts:] if taken.is_type else ():
        out = [one for one in taken.left_out if one.file == file]
        reading.types[file] = (*reading.types.get(file, ()), *out)


def _is_hopeless() -> Callable[[TextLine], bool]:
    """A count of lines of which each is an error by itself; yes once they are more than are shown.

    A text that is no rig at all is then not read to its end.
    """
    known = frozenset(words())
    count = 0
    is_open = False

    def is_enough(line: TextLine) -> bool:
        nonlocal count, is_open
        is_header = not line.indent
        is_open = is_open or is_header
        if not is_open or (is_header and line.head not in known):
            count += 1
        return count > MOST_ERRORS

    return is_enough


def _excess(text: str, shown: str, reading: RigTexts) -> Finding | None:
    """Count the lines of a text before they are parsed; an error where they are too many."""
    start = 0
    for line in text.split("\n"):
        said = line.strip()
        if said and said[0] != "#":
            reading.lines += 1
        if reading.lines > MOST_LINES:
            return error(
                "too-many-lines",
                Span(shown, start, start + len(line)),
                f"more than {MOST_LINES} lines in one rig",
                here="the first line too many",
                fix="see whether this is a rig file; write several rigs in several files",
            )
        start += len(line) + 1
    return None


def _named(block: Block) -> Iterator[tuple[str, Span]]:
    """The file that an `include` names."""
    items = block.header.items
    if block.header.head == "include" and len(items) > 1 and items[1].kind == "label":
        yield items[1].text, items[1].span


def _include(path: Path, shown: str, name: str, span: Span, reading: RigTexts) -> None:
    target = Path(name)
    # An anchor is a root or a drive; a backslash parts folders on some machines only.
    inside = not target.anchor and ".." not in target.parts and "\\" not in name
    if not inside or not name.strip():
        reading.found.append(
            error(
                "include-outside",
                span,
                f"`{name}` does not lie beside this file or below it",
                fix="keep the parts of a rig in one folder, and part folders with `/`",
            )
        )
        return
    there = path.parent / target
    if not _is_below(there, path.parent):
        reading.found.append(
            error(
                "include-outside",
                span,
                f"`{name}` is a link out of the folder of this file",
                fix="copy the file to where the link stands",
            )
        )
        return
    if _identity(there) in reading.seen:
        reading.found.append(
            error("include-twice", span, f"`{name}` is read twice", fix="take one line out")
        )
        return
    if len(reading.seen) >= MOST_FILES:
        reading.found.append(
            error("include-many", span, f"more than {MOST_FILES} files in one rig")
        )
        return
    reading.seen.add(_identity(there))
    label = str(Path(shown).parent / target) if shown != SHOWN_STDIN else str(target)
    text = reading.instead.get(label)
    if text is None:
        text = _content(there, label, reading, span)
    if text is not None:
        _add(there, label, text, reading)


def _is_below(path: Path, folder: Path) -> bool:
    """Whether a file lies in a folder or below it when all links are followed."""
    return Path(_identity(path)).is_relative_to(_identity(folder))


def _identity(path: Path) -> str:
    """A name that all ways to write one file share."""
    try:
        return os.path.realpath(path)
    except (OSError, ValueError):
        return str(path)


def _content(
    path: Path, shown: str, reading: RigTexts, at: Span, *, is_stdin: bool = False
) -> str | None:
    """The text of a file; None where it cannot be read, and why is noted at a place."""
    try:
        raw = _piped() if is_stdin else plain_bytes(path, LARGEST_FILE)
    except (OSError, ValueError) as problem:
        reading.found.append(_not_read(path, shown, problem, at))
        return None
    if len(raw) > LARGEST_FILE:
        reading.found.append(
            error(
                "file-too-large",
                at,
                f"`{shown}` holds more than {LARGEST_FILE} bytes",
                fix="see whether this is a rig file; write several rigs in several files",
            )
        )
        return None
    reading.raw[shown] = raw
    return _decoded(raw, shown, reading)


def _piped() -> bytes:
    # None where the program was started with a closed input.
    if sys.stdin is None:
        raise OSError(0, "it is closed")
    return sys.stdin.buffer.read(LARGEST_FILE + 1)


def plain_bytes(path: Path, most: int) -> bytes:
    """What a plain file holds, and one byte beyond `most` where that is not all of it.

    Raises
    ------
    OSError
        It cannot be read, or is no plain file; a pipe or a device could go on for ever.
    ValueError
        No file could have that name.
    """
    if path.exists() and not path.is_file():
        raise OSError(0, "it is a folder" if path.is_dir() else "it is not a plain file")
    with path.open("rb") as file:
        return file.read(most + 1)


def _not_read(path: Path, shown: str, problem: Exception, at: Span) -> Finding:
    why = getattr(problem, "strerror", None) or "its name cannot be used"
    near = _neighbour(path) if isinstance(problem, FileNotFoundError) else ""
    return error(
        "file-not-read",
        at,
        f"`{shown}` cannot be read: {why[0].lower()}{why[1:]}",
        fix=f"the nearest file there is `{near}`" if near else "",
    )


def _neighbour(path: Path) -> str:
    """The rig file beside a missing one whose name is most like it; empty where none is."""
    try:
        stems = sorted(file.stem for file in path.parent.glob("*.rig"))
    except (OSError, ValueError):
        return ""
    close = nearest(path.stem, stems, least=ENOUGH)
    return f"{close}.rig" if close else ""


def _decoded(raw: bytes, shown: str, reading: RigTexts) -> str | None:
    try:
        return _line_ends(raw.decode("utf-8-sig"))
    except UnicodeDecodeError as problem:
        # The text is kept with marks for what is not text, so that the message can show the line.
        body = problem.object
        text = _line_ends(body.decode("utf-8", errors="replace"))
        at = len(body[: problem.start].decode("utf-8"))
        reading.texts[shown] = text
        is_wide = raw[:2] in (b"\xff\xfe", b"\xfe\xff")
        reading.found.append(
            error(
                "not-utf-8",
                Span(shown, at, at + 1),
                f"byte {body[problem.start]:#04x} found, expected UTF-8 text",
                here="UTF-16 text starts like this" if is_wide else "",
                fix="save the file as UTF-8 in your editor",
            )
        )
        return None


def _line_ends(text: str) -> str:
    """A text in which every line ends in a line feed; no character moves."""
    return re.sub("\r(?!\n)", "\n", text) if "\r" in text else text


def _empty(file: str) -> Finding:
    return error(
        "file-empty",
        Span(file, 0, 0),
        f"`{file}` says nothing",
        fix='begin with `rig "Name"`, and `system 12 V` indented below it',
    )


def first_errors(found: Sequence[Finding]) -> tuple[Finding, ...]:
    """The first errors in the order of the text, and how it goes on where there are more."""
    ordered = in_order(list(found))
    if len(ordered) <= MOST_ERRORS:
        return ordered
    kept = ordered[:MOST_ERRORS]
    last = error(
        "too-many-errors",
        kept[-1].at.span,
        f"more than {MOST_ERRORS} errors, the rest is not shown",
        fix="mend the first ones and run again",
    )
    return (*kept, last)
