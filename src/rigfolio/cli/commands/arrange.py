"""The slot order that every wire reaches with the fewest extensions.

Heavy circuits lie by the feed, and columns carry alike; `--write` edits the slot numbers only.
"""

import sys
from argparse import ArgumentParser, Namespace

from rigfolio.cli.options import add_question
from rigfolio.cli.parts import not_understood, understood, write_into
from rigfolio.cli.registry import Command
from rigfolio.cli.terminal import say
from rigfolio.refusal import RefusalError, not_written

COMMAND = Command(
    "propose the order of slots that every wire reaches, and write it in if asked",
    "plan",
    ("arrange my.rig", "arrange my.rig --write"),
)


def takes(made: ArgumentParser) -> None:
    """Add the arguments."""
    add_question(made)
    made.add_argument("--write", action="store_true", help="edit the slot numbers in the text")


def run(given: Namespace) -> int:
    """Say the order that is proposed, and write it in where that was asked."""
    from rigfolio.answers import arranging
    from rigfolio.calc import UnprovedError
    from rigfolio.reports import written_words

    result = understood(given.file, given.rules)
    if result.study is None:
        return not_understood(result, given=given)
    try:
        text, contents = arranging(result, as_json=given.format == "json")
    except UnprovedError as problem:
        raise RefusalError(
            "no-best-order", str(problem), "say `stays put` of some circuits"
        ) from None
    except (OSError, ValueError) as problem:
        raise not_written(problem) from None
    if given.write:
        write_into(result, contents)
    say(sys.stdout, text)
    if given.write:
        say(sys.stderr, written_words(contents) or "nothing had to be written\n")
    return 0
