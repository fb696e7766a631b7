"""What is wrong in rigs, where, by how much, by which source, and what would serve.

A fix is offered below `fix:` only after the text with it was judged again: the finding is gone
and nothing else is worse. The first ten of each file are tried, `--fix` and JSON try all. `--fix`
shows as a difference what may be written without a question, `--fix --write` writes it.

Of a text that is not understood as a whole the errors are told first, then what is found in its
whole statements, without the others.

`--summary` prints a line a finding, `--format lines` the same as editors read it,
`file:line:column`, `--format json` is for programs, `--format sarif` for those that gather what
analysers find (SARIF 2.1.0), `--all` shows every finding of a rule that a
text breaks many times. `--rules NAME` judges under another book. `--fail-on danger` ends with 1 for
dangers alone, `--fail-on fault` for faults too; what a text accepts is shown and never fails.
"""

import sys
from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from rigfolio.cli.options import add_file
from rigfolio.cli.parts import not_understood, write
from rigfolio.cli.registry import Command
from rigfolio.cli.terminal import in_colour, say
from rigfolio.record import replace
from rigfolio.refusal import RefusalError, not_written

if TYPE_CHECKING:
    from pathlib import Path

    from rigfolio.findings import Severity
    from rigfolio.judgement import Result

COMMAND = Command(
    "judge rig files under their rule book, and try the fixes",
    "judge",
    (
        "check my.rig",
        "check my.rig other.rig --rules boat",
        "check my.rig --fix",
        "check my.rig --summary --fail-on danger",
    ),
)


def takes(made: ArgumentParser) -> None:
    """Add the arguments."""
    add_file(made, many=True)
    made.add_argument(
        "--format",
        choices=("text", "lines", "json", "sarif"),
        default="text",
        help="for people, for editors (file:line:column), for programs",
    )
    made.add_argument("--summary", action="store_true", help="a line a finding")
    made.add_argument(
        "--fail-on",
        choices=("danger", "fault", "unknown"),
        default="unknown",
        help="the least that ends with 1: a danger; a fault; what cannot be judged, too",
    )
    made.add_argument(
        "--all",
        action="store_true",
        help="every finding of a rule",
    )
    made.add_argument(
        "--fix", action="store_true", help="try every fix, and show what may be written"
    )
    made.add_argument(
        "--write", action="store_true", help="with --fix: write it, and judge what stands then"
    )


def run(given: Namespace) -> int:
    """Judge each file; the gravest decides the exit code."""
    from rigfolio.books import known_book
    from rigfolio.findings import Severity
    from rigfolio.judgement import FIRST, as_json, as_lines, as_summary, check_many

    known_book(given.rules)
    if given.write and not given.fix:
        raise RefusalError("command-not-understood", "`--write` without `--fix`", "`--fix --write`")
    is_object = given.format in ("json", "sarif")
    is_short = given.summary or given.format == "lines"
    fail_on = Severity(given.fail_on)
    every = None if given.fix or is_object else 0 if is_short else FIRST
    results = check_many(given.file, given.rules or "", most=every)
    told = ""
    if given.fix:
        results, told = _mended(results, given)
    if given.format == "json":
        say(sys.stdout, as_json(results, fail_on))
    elif given.format == "sarif":
        say(sys.stdout, _sarif(results, fail_on))
    elif given.format == "lines":
        say(sys.stdout, as_lines(results))
    elif given.summary:
        say(sys.stdout, as_summary(results, every=given.all))
    else:
        _say_text(results, every=given.all)
    if told:
        say(sys.stderr if is_object else sys.stdout, f"\n{told}")
    return max(result.ends_with(fail_on) for result in results)


def _sarif(results: "tuple[Result, ...]", fail_on: "Severity") -> str:
    """The findings for programs that gather what analysers find, each rule with its page."""
    from rigfolio.answers import explain
    from rigfolio.faces import own_version
    from rigfolio.judgement import as_sarif

    return as_sarif(results, explain, fail_on, own_version())


def _say_text(results: "tuple[Result, ...]", *, every: bool) -> None:
    """What was found in texts that were understood, and on the other stream why others were not.

    Of the others, what is whole is judged without what is not.
    """
    from rigfolio.judgement import FIRST, as_text, tried, whole_of

    judged = [result for result in results if result.study is not None]
    broken = [(result, whole_of(result)) for result in results if result.study is None]
    wholes = [tried(whole, FIRST) for _, whole in broken if whole is not None]
    if broken:
        left = [replace(one, left_out=whole.left_out if whole else 0) for one, whole in broken]
        not_understood(*left)
    if judged or wholes:
        say(sys.stdout, as_text([*judged, *wholes], colour=in_colour(sys.stdout), every=every))


def _mended(results: "tuple[Result, ...]", given: Namespace) -> "tuple[tuple[Result, ...], str]":
    """What is found, after what may be written is written where that is asked; and what changes."""
    from rigfolio.judgement import check_many, mended, written_files
    from rigfolio.reports import written_words

    told: list[str] = []
    contents: dict[Path, bytes] = {}
    for result in results:
        found, difference = mended(result)
        told.append(difference)
        try:
            contents |= written_files(result, found.edits) if given.write else {}
        except (OSError, ValueError) as problem:
            raise not_written(problem) from None
    if contents:
        write(contents)
        told.append(written_words(contents))
        results = check_many(given.file, given.rules or "", most=None)
    return results, "".join(told)
