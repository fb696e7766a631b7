"""The pictures of the panel with slots and circuits named beside their marks.

Under them stand the likeliest wire colours. `--form grid` prints each picture below a grid, by
which marks are set: `mark P1.3 at C4`.
"""

import sys
from argparse import ArgumentParser, Namespace

from rigfolio.cli.options import add_sheet
from rigfolio.cli.output import print_sheet
from rigfolio.cli.parts import judged, not_understood
from rigfolio.cli.registry import Command
from rigfolio.cli.terminal import say
from rigfolio.refusal import RefusalError
from rigfolio.sheet import forms_of

COMMAND = Command(
    "print the pictures of the panel with names beside their marks, and guess colours",
    "print",
    ("photo my.rig", "photo my.rig --form grid"),
)


def takes(made: ArgumentParser) -> None:
    """Add the arguments."""
    add_sheet(made)
    made.add_argument(
        "--form", choices=forms_of("photo"), default="names",
        help="names beside the marks, or a grid to set marks by",
    )  # fmt: skip


def run(given: Namespace) -> int:
    """Print the pictures, and say which wire colours stand under their marks."""
    from rigfolio.folio import taken
    from rigfolio.labels import colour_words
    from rigfolio.reports import clean

    result = judged(given.file, given.rules)
    if result.study is None:
        return not_understood(result)
    pictures = taken(result)
    if not pictures:
        raise RefusalError(
            "photo-not-read", "the rig names no photo", '`photo "before.jpg"` with its marks'
        )
    code = print_sheet(given)
    if given.form == "grid":
        return code
    for each in pictures:
        for line in colour_words(result.study.rig, each):
            say(sys.stdout, f"{clean(line)}\n")
    say(sys.stderr, "a colour on a picture is a hint: look at the wire before you write it down\n")
    return code
