"""What a rule forbids, why, its source and how sure that source is."""

import sys
from argparse import ArgumentParser, Namespace

from rigfolio.cli.registry import Command
from rigfolio.cli.terminal import say
from rigfolio.refusal import RefusalError

COMMAND = Command(
    "say what a rule forbids and why, or list all rules",
    "judge",
    ("explain fuse-over-wire", "explain rv"),
)


def takes(made: ArgumentParser) -> None:
    """Add the arguments."""
    made.add_argument("rule", nargs="?", help="a rule or an error; all of them if left out")


def run(given: Namespace) -> int:
    """Print the page of a rule, or the list of all."""
    from rigfolio.manual import explain, nearest_topic, overview

    if given.rule is None:
        say(sys.stdout, overview())
        return 0
    try:
        say(sys.stdout, explain(given.rule))
    except KeyError:
        near = nearest_topic(given.rule)
        fix = f"the nearest is `{near}`" if near else "`rigfolio explain` lists all rules"
        raise RefusalError("rule-unknown", f"`{given.rule}` is not a rule", fix) from None
    return 0
