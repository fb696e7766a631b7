"""A tag for both ends of every wire, as `--form flag`, `wrap` or `sleeve`."""

from argparse import ArgumentParser, Namespace
from collections.abc import Mapping
from typing import TYPE_CHECKING

from rigfolio.cli.options import add_part
from rigfolio.cli.output import ending_in, print_documents, suffix_of
from rigfolio.cli.registry import Command
from rigfolio.record import replace
from rigfolio.sheet import sheet_of

if TYPE_CHECKING:
    from rigfolio.job import Job

COMMAND = Command(
    "print the tags for both ends of every wire",
    "print",
    ("tags my.rig", "tags my.rig --only W7,P1.3 --form wrap"),
)


def takes(made: ArgumentParser) -> None:
    """Add the arguments."""
    add_part(made)
    made.add_argument(
        "--form", choices=("wrap", "flag", "sleeve"), help="by the wire's own size if left out"
    )


def run(given: Namespace) -> int:
    """Print the sheet; no tags where none changed."""
    from rigfolio.folio import form_of

    form_of(given.out, "pdf")
    end, name = suffix_of(given.out, ".pdf"), sheet_of(given.command)

    def render(job: "Job") -> Mapping[str, bytes]:
        from rigfolio.folio import sheet
        from rigfolio.labels import tagged_wires

        if job.wish.since is not None and not (job.wish.only and any(tagged_wires(job))):
            return {}
        return ending_in(end, sheet(job, name), given)

    return print_documents(
        given, (name,), render, lambda wish, _: replace(wish, tag_form=given.form)
    )
