"""The rig file that a folio was made from, to the byte."""

import sys
from argparse import ArgumentParser, Namespace

from rigfolio.cli.parts import write
from rigfolio.cli.registry import Command
from rigfolio.cli.terminal import say
from rigfolio.refusal import ELSEWHERE

COMMAND = Command(
    "give back the rig file that a folio was made from",
    "keep",
    ("extract folio.pdf", "extract folio.pdf -o as-printed/"),
)


def takes(made: ArgumentParser) -> None:
    """Add the arguments."""
    made.add_argument("file", metavar="FOLIO.pdf", help="a folio as it was printed to a file")
    made.add_argument("-o", dest="out", metavar="FOLDER", help="a folder instead of this one")


def run(given: Namespace) -> int:
    """Write the files that a folio carries, never over another."""
    from pathlib import Path

    from rigfolio.folio import kept_apart, taken_out
    from rigfolio.reports import clean

    folder = Path(given.out or ".")
    found = taken_out(given.file)
    contents = {folder / name: content for name, content in found.files.items()}
    write(kept_apart(contents), fix=ELSEWHERE)
    say(sys.stdout, "".join(f"{clean(str(path))}\n" for path in contents))
    for name in found.unproved:
        told = f"`{name}`: nothing in `{given.file}` tells whether it is as it was attached"
        say(sys.stderr, f"{clean(told)}\n")
    return 0
