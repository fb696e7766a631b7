"""What is printed of a rig, bound as three PDFs.

`folio.pdf` is read at the panel, `to-cut.pdf` is cut out and stuck on, `to-file.pdf` is kept.
`-o DIR` puts them elsewhere than under `out/<name>/`, `-o NAME.pdf` writes the folio alone.
`--sheets all` writes each sheet as a file of its own instead, `--sheets calculation,survey` some of
them; the pages of the schematic come as SVG too.
"""

from argparse import ArgumentParser, Namespace
from collections.abc import Mapping
from typing import TYPE_CHECKING

from rigfolio.cli.options import add_file, add_out, add_paper
from rigfolio.cli.output import print_documents
from rigfolio.cli.registry import Command
from rigfolio.refusal import RefusalError

if TYPE_CHECKING:
    from rigfolio.job import Job

COMMAND = Command(
    "print a rig: the folio for the panel, what is cut out, what is filed",
    "print",
    (
        "folio my.rig",
        "folio my.rig -o folio.pdf",
        "folio my.rig --sheets all",
    ),
)


def takes(made: ArgumentParser) -> None:
    """Add the arguments."""
    add_file(made)
    add_out(made, "folder, or a .pdf for the folio alone,")
    add_paper(made)
    made.add_argument(
        "--sheets", metavar="NAMES",
        help="sheets by themselves, by the names of their files: calculation,survey; or all",
    )  # fmt: skip
    made.add_argument(
        "--since", metavar="OLD", help="only the sheets that changed since that file or revision"
    )


def run(given: Namespace) -> int:
    """Print what is bound, some sheets by themselves, or what changed."""
    from rigfolio.folio import bound, chosen, folio, is_one_file, some
    from rigfolio.sheet import sheets_bound

    files = [file.strip() for file in (given.sheets or "").split(",") if file.strip()]
    if files and given.since:
        raise RefusalError(
            "command-not-understood", "`--sheets` and `--since` both choose sheets", "leave one out"
        )

    def render(job: "Job") -> Mapping[str, bytes]:
        again = job.wish.since
        if again is not None:
            return some(job, again.sheets)
        if files:
            return chosen(job, files)
        return bound(job) if is_one_file(given.out) else folio(job)

    return print_documents(given, sheets_bound(), render)
