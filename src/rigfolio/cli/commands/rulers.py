"""A page to measure your printer by; its two figures go behind `--measured across,down`."""

from argparse import ArgumentParser, Namespace

from rigfolio.cli.options import add_out, add_paper
from rigfolio.cli.parts import put
from rigfolio.cli.registry import Command

COMMAND = Command(
    "print a page to measure your printer by",
    "print",
    ("rulers", "rulers --paper a4"),
)


def takes(made: ArgumentParser) -> None:
    """Add the arguments."""
    add_out(made)
    add_paper(made)


def run(given: Namespace) -> int:
    """Print the page that a printer is measured by."""
    from rigfolio.cli.wishes import correction, paper_of
    from rigfolio.folio import form_of, placed, rulers

    form_of(given.out, "pdf")
    made = rulers(paper_of(given.paper or "letter"), correction(given.measured))
    contents = placed(made, "printer", given.command, given.out)
    put(contents)
    return 0
