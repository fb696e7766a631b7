"""A name in the text for every wire that has none there, so that its tag stays true.

A text that was never through this gets the numbers that are on the tags printed of it so far, what
is new the next number that was never used; `tags used to W57` in the head of the rig keeps count.
`--since OLD` gives each wire the name that it had in an older version, `--as-called` writes what
the wires are called by now. `--write` edits the text and nothing else in it.
"""

import sys
from argparse import ArgumentParser, Namespace

from rigfolio.cli.options import add_file
from rigfolio.cli.parts import not_understood, understood, write_into
from rigfolio.cli.registry import Command
from rigfolio.cli.terminal import say
from rigfolio.refusal import not_written

COMMAND = Command(
    "write a name into the text for every wire that has none",
    "keep",
    ("name my.rig", "name my.rig --write", "name my.rig --since HEAD~3:my.rig --write"),
)


def takes(made: ArgumentParser) -> None:
    """Add the arguments."""
    add_file(made)
    made.add_argument(
        "--since", metavar="OLD", help="an older version, or REVISION:FILE: its names go on"
    )
    made.add_argument(
        "--as-called", action="store_true", help="the names of today, in the place of numbers"
    )
    made.add_argument("--write", action="store_true", help="write the names into the text")


def run(given: Namespace) -> int:
    """Show what would be written, or write it."""
    from rigfolio.answers import naming_of, naming_told
    from rigfolio.judgement import written_files
    from rigfolio.reports import written_words

    result = understood(given.file, given.rules)
    if result.study is None:
        return not_understood(result)
    older = None
    if given.since:
        from rigfolio.folio import understood as understood_at

        old = understood_at(given.since, given.rules or "").study
        older = old.rig if old is not None else None
    found = naming_of(result, result.study.rig, older, as_called=given.as_called)
    if given.write:
        try:
            contents = written_files(result, found.edits)
        except (OSError, ValueError) as problem:
            raise not_written(problem) from None
        write_into(result, contents)
        say(sys.stderr, written_words(contents))
    say(sys.stdout, naming_told(result, found, is_written=given.write))
    return 0
