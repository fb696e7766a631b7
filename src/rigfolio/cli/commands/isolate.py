"""What to open to make a panel or part dead, in order, what stays live, what would back-feed."""

from argparse import ArgumentParser, Namespace

from rigfolio.cli.options import add_question
from rigfolio.cli.parts import answered
from rigfolio.cli.registry import Command

COMMAND = Command(
    "say what to open to make a panel or part dead, and what stays live then",
    "plan",
    ("isolate my.rig P1", "isolate my.rig F1 --format json"),
)


def takes(made: ArgumentParser) -> None:
    """Add the arguments."""
    add_question(made)
    made.add_argument("place", metavar="PLACE", help="a panel, a slot or a part: P1, P1.3")


def run(given: Namespace) -> int:
    """Say it."""
    return answered(given, given.place)
