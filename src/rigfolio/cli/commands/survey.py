"""A sheet to take to the panel, with a blank for every `?`, and a table to type it into.

`--from TABLE --write` puts a filled table into the text and changes nothing that stands there.
"""

import sys
from argparse import ArgumentParser, Namespace

from rigfolio.cli.options import add_file, add_out, add_paper
from rigfolio.cli.parts import not_understood, write_into
from rigfolio.cli.registry import Command
from rigfolio.cli.terminal import say
from rigfolio.refusal import not_written

COMMAND = Command(
    "print a sheet to take to the panel and a table to fill in, or put a filled one in",
    "write down",
    (
        "survey my.rig",
        "survey my.rig --from survey.csv --write",
    ),
)


def takes(made: ArgumentParser) -> None:
    """Add the arguments."""
    add_file(made)
    add_out(made)
    add_paper(made)
    made.add_argument("--from", dest="survey", metavar="TABLE", help="a filled survey, as CSV")
    made.add_argument("--write", action="store_true", help="write what it says into the rig file")


def run(given: Namespace) -> int:
    """Print the sheet, or say what a filled table gives."""
    if not given.survey:
        from rigfolio.cli.output import print_sheet

        return print_sheet(given)
    from rigfolio.answers import put_in
    from rigfolio.books import known_book
    from rigfolio.reports import written_words

    known_book(given.rules)
    try:
        put, result = put_in(given.file, given.survey, given.rules or "")
    except (OSError, ValueError) as problem:
        raise not_written(problem) from None
    if put is None:
        return not_understood(result)
    say(sys.stdout, put.told)
    if given.write:
        write_into(result, put.contents, put.read)
        say(sys.stderr, written_words(put.contents))
    elif put.contents:
        say(sys.stderr, "nothing was written; `--write` puts it into the text\n")
    return 1 if put.has_trouble else 0
