"""What is wrong in rigs, where, by how much, by which source, and what would serve.

`--rules NAME` judges under another book, `--format json` is for programs.
"""

import sys
from argparse import ArgumentParser, Namespace

from rigfolio.cli.options import add_file, add_format
from rigfolio.cli.parts import known_book
from rigfolio.cli.registry import Command
from rigfolio.cli.terminal import in_colour, say

COMMAND = Command(
    "judge rig files under their rule book",
    "judge",
    (
        "check my.rig",
        "check my.rig other.rig --rules boat",
    ),
)


def takes(made: ArgumentParser) -> None:
    """Add the arguments."""
    add_file(made, many=True)
    add_format(made)


def run(given: Namespace) -> int:
    """Judge each file; the gravest decides the exit code."""
    from rigfolio.judgement import as_json, as_text, check_many

    known_book(given.rules)
    results = check_many(given.file, given.rules or "")
    if given.format == "json":
        say(sys.stdout, as_json(results))
    else:
        say(sys.stdout, as_text(results, colour=in_colour(sys.stdout)))
    return max(result.exit_code for result in results)
