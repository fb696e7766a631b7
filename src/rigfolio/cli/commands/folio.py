"""What is printed of a rig, bound as three PDFs.

`folio.pdf` is read at the panel, `to-cut.pdf` is cut out and stuck on, `to-file.pdf` is kept.
`-o DIR` puts them elsewhere than under `out/<name>/`, `-o NAME.pdf` writes the folio alone.
`--sheets all` writes each sheet as a file of its own instead, `--sheets calculation,survey` some of
them; the pages of the schematic come as SVG too.

Of several rigs, or of all in a folder, each gets a folder of its own, named like its file and laid
as its file is; one that cannot be printed keeps none of the others back.
"""

import io
import os
import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Mapping
from contextlib import redirect_stderr, redirect_stdout
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from rigfolio.cli.options import add_file, add_out, add_paper
from rigfolio.cli.output import print_documents
from rigfolio.cli.registry import Command
from rigfolio.cli.terminal import say, watched
from rigfolio.refusal import RefusalError

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rigfolio.job import Job

COMMAND = Command(
    "print a rig: the folio for the panel, what is cut out, what is filed",
    "print",
    (
        "folio my.rig",
        "folio my.rig -o folio.pdf",
        "folio my.rig --sheets all",
        "folio . -o printed/",
    ),
)


def takes(made: ArgumentParser) -> None:
    """Add the arguments."""
    add_file(made, many=True)
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
    """Print one rig, or each of several into a folder of its own."""
    from rigfolio.judgement import rig_files

    files = rig_files(given.file)
    if files == tuple(given.file) and len(files) == 1:
        return _printed(Namespace(**{**vars(given), "file": files[0]}))
    return _each(files, given)


def _each(files: "Sequence[str]", given: Namespace) -> int:
    """Print many rigs, on all processors; the gravest decides the exit code."""
    from rigfolio.folio import is_one_file
    from rigfolio.judgement import CAUTION, each_in_turn

    for wrong, option in (
        (given.since, "`--since` compares one rig"),
        (is_one_file(given.out), f"`{given.out}` is one file"),
        ("-" in files, "`-` is one rig"),
    ):
        if wrong:
            headline = f"{option}, and there are {len(files)}"
            raise RefusalError("command-not-understood", headline, "name one rig file")
    above = os.path.commonpath([Path(file).absolute().parent for file in files])
    work = partial(_captured, above=above, given=given)
    codes: list[int] = []
    for code, out, err in watched(each_in_turn(work, files, worth=1), len(files), worth=2):
        say(sys.stdout, out)
        say(sys.stderr, err)
        codes.append(code)
    lost = sum(code != 0 for code in codes)
    told = f"{len(codes)} rigs: {len(codes) - lost} printed"
    say(sys.stderr, f"{told}{f', {lost} not' if lost else ''}\n{CAUTION}\n")
    return max(codes)


def _captured(file: str, above: str, given: Namespace) -> tuple[int, str, str]:
    """Print one of many as if it was typed alone; its exit code and what was said."""
    from rigfolio.cli.entry import main
    from rigfolio.judgement import CAUTION

    own = Path(file).absolute().relative_to(above).with_suffix("")
    asked = {"--rules": given.rules, "--paper": given.paper, "--measured": given.measured}
    asked |= {"--sheets": given.sheets, "-o": f"{Path(given.out or 'out') / own}/"}
    options = [word for name, value in asked.items() if value for word in (name, value)]
    out, err = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(err):
        code = main(["folio", *options, "--", file])
    return code, out.getvalue(), err.getvalue().removesuffix(f"{CAUTION}\n")


def _printed(given: Namespace) -> int:
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
