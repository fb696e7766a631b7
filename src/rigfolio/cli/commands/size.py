"""The least gauge and the right fuse for every circuit and feed, and which rule decided.

`--write` edits just those words of the text.
"""

import sys
from argparse import ArgumentParser, Namespace

from rigfolio.cli.options import add_question
from rigfolio.cli.parts import answer_text, not_understood, understood, write_into
from rigfolio.cli.registry import Command
from rigfolio.cli.terminal import say
from rigfolio.refusal import not_written

COMMAND = Command(
    "propose gauge and fuse for every circuit and feed, and write them in if asked",
    "plan",
    (
        "size my.rig",
        "size my.rig --write",
    ),
)


def takes(made: ArgumentParser) -> None:
    """Add the arguments."""
    add_question(made)
    made.add_argument(
        "--write", action="store_true", help="edit those gauges and ratings in the text"
    )


def run(given: Namespace) -> int:
    """Say what is proposed; where it is written in, only once that is done."""
    from rigfolio.answers import sized

    result = understood(given.file, given.rules)
    if result.study is None:
        return not_understood(result, given=given)
    text = answer_text(given, result.study)
    if not given.write:
        say(sys.stdout, text)
        return 0
    try:
        contents, told = sized(result)
    except (OSError, ValueError) as problem:
        raise not_written(problem) from None
    write_into(result, contents)
    say(sys.stdout, text)
    say(sys.stderr, told)
    return 0
