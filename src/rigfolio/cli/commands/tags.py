"""A tag for both ends of every wire, as `--form flag`, `wrap` or `sleeve`."""

from argparse import ArgumentParser, Namespace

from rigfolio.cli.options import add_part
from rigfolio.cli.output import print_sheet
from rigfolio.cli.registry import Command
from rigfolio.record import replace

COMMAND = Command(
    "print the tags for both ends of every wire",
    "print",
    ("tags my.rig --only W7,P1.3",),
)


def takes(made: ArgumentParser) -> None:
    """Add the arguments."""
    add_part(made)
    made.add_argument(
        "--form", choices=("wrap", "flag", "sleeve"), help="by the wire's own size if left out"
    )


def run(given: Namespace) -> int:
    """Print the sheet."""
    return print_sheet(given, lambda wish, _: replace(wish, tag_form=given.form))
