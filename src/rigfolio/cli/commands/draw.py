"""The schematic; `--format svg`, `pdf` or `png`, or `dot` for those who lay it out themselves."""

from argparse import ArgumentParser, Namespace

from rigfolio.cli.options import add_sheet
from rigfolio.cli.output import print_documents
from rigfolio.cli.registry import Command

COMMAND = Command(
    "draw the schematic",
    "print",
    ("draw my.rig", "draw my.rig -o schematic.svg"),
)


def takes(made: ArgumentParser) -> None:
    """Add the arguments."""
    add_sheet(made)
    made.add_argument("--format", choices=("svg", "pdf", "png", "dot"))


def run(given: Namespace) -> int:
    """Draw the schematic, a file a page unless it is a PDF."""
    from rigfolio.folio import drawing, form_of
    from rigfolio.sheet import sheet_of

    form, name = form_of(given.out, given.format), sheet_of(given.command)
    return print_documents(given, (name,), lambda job: drawing(job, name, form))
