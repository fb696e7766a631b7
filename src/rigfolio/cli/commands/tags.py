"""A tag for both ends of every wire, as `--form flag`, `wrap` or `sleeve`.

With `--since OLD` one for each wire whose tag is no longer true: it is called otherwise, or the tag
says something else of it. Which old tags come off is said, too.
"""

import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Mapping
from typing import TYPE_CHECKING

from rigfolio.cli.options import add_part
from rigfolio.cli.output import ending_in, print_documents, suffix_of
from rigfolio.cli.registry import Command
from rigfolio.cli.terminal import say
from rigfolio.record import replace
from rigfolio.sheet import sheet_of

if TYPE_CHECKING:
    from rigfolio.job import Job, Wish
    from rigfolio.judgement import Result

COMMAND = Command(
    "print the tags for both ends of every wire",
    "print",
    ("tags my.rig --only W7,P1.3 --form wrap", "tags my.rig --since HEAD~1:my.rig"),
)


def takes(made: ArgumentParser) -> None:
    """Add the arguments."""
    add_part(made)
    made.add_argument(
        "--form", choices=("wrap", "flag", "sleeve"), help="by the wire's own size if left out"
    )
    made.set_defaults(at_parts=True)


def run(given: Namespace) -> int:
    """Print the sheet; no tags where none changed."""
    from rigfolio.answers import tags_off_words
    from rigfolio.folio import form_of
    from rigfolio.reports import clean

    form_of(given.out, "pdf")
    end, name = suffix_of(given.out, ".pdf"), sheet_of(given.command)

    def render(job: "Job") -> Mapping[str, bytes]:
        from rigfolio.folio import sheet
        from rigfolio.labels import tagged_wires

        since = job.wish.since
        if since is not None and since.tags_off:
            say(sys.stdout, f"to be taken off: {clean('; '.join(tags_off_words(since)))}\n")
        if since is not None and not tagged_wires(job):
            return {}
        return ending_in(end, sheet(job, name), given)

    def widen(wish: "Wish", _: "Result") -> "Wish":
        return replace(wish, tag_form=given.form)

    return print_documents(given, (name,), render, widen)
