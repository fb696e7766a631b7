"""What a meter should show while the panel goes live, with blanks; also as CSV.

The short sheet has one line for each circuit and the heavy loads under load, `--form full` every
test point. Both show the last readings of the log. `--since OLD` prints what a change asks for.
"""

from argparse import ArgumentParser, Namespace

from rigfolio.cli.options import add_sheet, add_since
from rigfolio.cli.output import print_sheet
from rigfolio.cli.registry import Command
from rigfolio.sheet import forms_of

COMMAND = Command(
    "print what a meter should show, stage by stage, with blanks to fill in",
    "measure",
    ("testsheet my.rig", "testsheet my.rig --since HEAD~1:my.rig --form full"),
)


def takes(made: ArgumentParser) -> None:
    """Add the arguments."""
    add_sheet(made)
    add_since(made)
    made.add_argument(
        "--form", choices=forms_of("testsheet"), default="short",
        help="one line for each circuit, or every test point",
    )  # fmt: skip


def run(given: Namespace) -> int:
    """Print it."""
    return print_sheet(given)
