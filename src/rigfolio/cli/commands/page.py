"""The rig as one HTML file for a telephone at the panel; `--format json` gives what it is told.

The file needs no network. Face, cards, steps, test sheet, diagram and findings are in it; readings
that are typed there stay on the telephone, and are saved as a text for `log --from`. `--watch`
shows the same page at the desk and renews it whenever the text is saved. The JSON keeps to
`grammar/page.schema.json`.
"""

import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from rigfolio.cli.options import add_file, add_out
from rigfolio.cli.output import job_for
from rigfolio.cli.parts import ends_soon, judged, not_understood, put, spared
from rigfolio.cli.registry import Command
from rigfolio.cli.terminal import say
from rigfolio.refusal import RefusalError

if TYPE_CHECKING:
    from rigfolio.job import Job
    from rigfolio.judgement import Result

COMMAND = Command(
    "make a page of the panel to hold in the hand, which works without a network",
    "print",
    (
        "page my.rig",
        "page my.rig --format json",
    ),
)
_SHEETS = ("test_sheet", "photo")
"""The sheets that are given what the page is given: the log, and photographs."""
_FILE = "panel-page.html"


def takes(made: ArgumentParser) -> None:
    """Add the arguments."""
    add_file(made)
    add_out(made)
    made.add_argument("--format", choices=("html", "json"), default="html")
    made.add_argument(
        "--watch", action="store_true", help="serve it to a browser here, renewed on every save"
    )
    made.set_defaults(paper=None, measured=None)


def run(given: Namespace) -> int:
    """Write the page, print what it is told, or show it until somebody stops it."""
    if given.watch:
        return _watched(given)
    from rigfolio.folio import placed
    from rigfolio.judgement import CAUTION, summary, tried_for_print

    result = judged(given.file, given.rules)
    if result.study is None:
        return not_understood(result, given=given)
    ends_soon(given)
    result = tried_for_print(result)
    job = job_for(given, _SHEETS, result)
    if job is None:
        return 2
    if given.format == "json":
        return _told(given, result, job)
    spared(given.out, result.texts)
    put(placed(_page(result, job), given.file, given.command, given.out), result.texts)
    say(sys.stderr, f"{summary(result)}\n{CAUTION}\n")
    return 0


def _page(result: "Result", job: "Job") -> Mapping[str, bytes]:
    from rigfolio.folio import SVG_REMARK, as_drawing
    from rigfolio.page import page_html, rig_page

    return {_FILE: as_drawing(page_html(rig_page(result, job)), SVG_REMARK)}


def _told(given: Namespace, result: "Result", job: "Job") -> int:
    """What the page is told, on the terminal or in a file."""
    from rigfolio.page import page_json, rig_page

    text = page_json(rig_page(result, job))
    if given.out is None:
        say(sys.stdout, text)
    else:
        put({Path(given.out): text.encode()}, result.texts)
    return 0


def _watched(given: Namespace) -> int:
    """Serve the page until Ctrl-C."""
    if given.file == "-" or given.out is not None or given.format != "html":
        raise RefusalError(
            "command-not-understood", "`--watch` shows a file and writes none",
            "`rigfolio page my.rig --watch`",
        )  # fmt: skip
    from rigfolio.books import known_book

    known_book(given.rules)
    from rigfolio.page import WatchedRig, served
    from rigfolio.reports import clean

    with served(WatchedRig(given.file, given.rules or "")) as address:
        say(sys.stdout, f"{address.url}\n")
        told = f"shows `{clean(given.file)}` on this computer alone and renews it on every save"
        say(sys.stderr, f"{told}; Ctrl-C ends it\n")
        address.wait()
    return 0
