"""One layout for rig files: columns, bodies of circuits and comments line up.

Only the white space between items changes, so that no meaning can. Lines that are not understood
stay as they are, and are named. The file is written over; `--check` writes nothing and says which
files would change, `--diff` writes nothing and shows how. A text from a pipe goes on through it.
"""

import sys
from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from rigfolio.cli.parts import not_understood, write
from rigfolio.cli.registry import Command
from rigfolio.cli.terminal import say
from rigfolio.record import record

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from rigfolio.judgement import Result
    from rigfolio.layout import LaidFile

COMMAND = Command(
    "lay rig files out in columns, changing nothing but white space",
    "write down",
    ("format my.rig", "format --check my.rig other.rig", "format --diff my.rig"),
)


def takes(made: ArgumentParser) -> None:
    """Add the arguments."""
    made.add_argument("file", nargs="+", metavar="FILE", help="a rig file; - reads from a pipe")
    made.add_argument("--check", action="store_true", help="write nothing, name what would change")
    made.add_argument("--diff", action="store_true", help="write nothing, show what would change")


def run(given: Namespace) -> int:
    """Lay every file out, or say how it would be."""
    read = [_read(file) for file in dict.fromkeys(given.file)]
    laid = {one.result.file: one.laid for one in read if one.laid is not None}
    changed = {file: one for file, one in laid.items() if one.before != one.after}
    broken = [one.result for one in read if one.result.findings]
    if given.diff or given.check:
        _show(changed, as_difference=given.diff)
    else:
        _write(read, changed)
    if broken:
        return not_understood(*broken)
    return int(given.check and bool(changed))


@record
class _Read:
    """A file that was read, why some of its lines stay as they are, and how it is laid out."""

    result: "Result"
    laid: "LaidFile | None"


def _read(file: str) -> _Read:
    from rigfolio.judgement import Result
    from rigfolio.layout import laid_out
    from rigfolio.reading import first_errors, read_alone

    reading = read_alone(file)
    ((shown, text),) = reading.texts.items()
    found, laid = tuple(reading.found), None
    if not found:
        laid = laid_out(reading.raw[shown], shown)
        found = first_errors(laid.errors)
    return _Read(Result(shown, {shown: text}, None, found), laid)


def _show(changed: "Mapping[str, LaidFile]", *, as_difference: bool) -> None:
    from rigfolio.judgement import difference
    from rigfolio.reports import clean

    for file, one in changed.items():
        if as_difference:
            lines = difference(file, one.before, one.after, "laid out")
            say(sys.stdout, "".join(f"{line}\n" for line in lines))
        else:
            say(sys.stdout, f"not laid out: {clean(file)}\n")


def _write(read: "Sequence[_Read]", changed: "Mapping[str, LaidFile]") -> None:
    """Write what changes over its file; what came through a pipe goes on through it."""
    from pathlib import Path

    from rigfolio.reading import SHOWN_STDIN
    from rigfolio.reports import written_words

    piped = next((one for one in read if one.result.file == SHOWN_STDIN), None)
    contents = {Path(file): one.content for file, one in changed.items() if file != SHOWN_STDIN}
    if contents:
        write(contents, read={file: one.before for file, one in changed.items()})
        say(sys.stdout if piped is None else sys.stderr, written_words(contents))
    if piped is not None and piped.laid is not None:
        say(sys.stdout, piped.laid.after)
