"""Every document of a rig, each by itself, and the sheets for the binder bound as one PDF.

`-o DIR`, by default `out/<name>/`, or `-o NAME.pdf` for the bound one alone.
"""

from argparse import ArgumentParser, Namespace
from collections.abc import Mapping
from typing import TYPE_CHECKING

from rigfolio.cli.options import add_file, add_out, add_paper
from rigfolio.cli.output import print_documents
from rigfolio.cli.registry import Command

if TYPE_CHECKING:
    from rigfolio.job import Job

COMMAND = Command(
    "print the documents of a rig, each by itself and bound as one PDF",
    "print",
    (
        "folio my.rig",
        "folio my.rig -o folio.pdf",
    ),
)


def takes(made: ArgumentParser) -> None:
    """Add the arguments."""
    add_file(made)
    add_out(made, "folder, or a .pdf for the bound folio alone,")
    add_paper(made)
    made.add_argument(
        "--since", metavar="OLD", help="only the sheets that changed since that file or revision"
    )


def run(given: Namespace) -> int:
    """Print everything, or what changed."""
    from rigfolio.folio import bound, folio, is_one_file, some
    from rigfolio.sheet import sheets_bound

    def render(job: "Job") -> Mapping[str, bytes]:
        again = job.wish.since
        if again is not None:
            return some(job, again.sheets)
        return bound(job) if is_one_file(given.out) else folio(job)

    return print_documents(given, sheets_bound(), render)
