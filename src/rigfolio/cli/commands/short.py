"""What a dead short at some place does: what flows, what opens, what goes dark, what gets hot."""

from argparse import ArgumentParser, Namespace

from rigfolio.cli.options import add_question
from rigfolio.cli.parts import answered
from rigfolio.cli.registry import Command

COMMAND = Command(
    "say what a dead short at some place does: what flows, what opens, what burns",
    "judge",
    ("short my.rig P1.3", "short my.rig P1 --format json"),
)


def takes(made: ArgumentParser) -> None:
    """Add the arguments."""
    add_question(made)
    made.add_argument(
        "place", metavar="WHERE", help="a panel, slot, wire, load, part or terminal: P1.3, W2, B1+"
    )


def run(given: Namespace) -> int:
    """Say it."""
    return answered(given, given.place)
