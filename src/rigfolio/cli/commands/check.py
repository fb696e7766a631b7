"""What is wrong in rigs, where, by how much, by which source, and what would serve.

A way out is offered below `fix:` only after the text with it was judged again: the finding is gone
and nothing else is worse. The first ten of each file are tried, `--fix` and JSON try all. `--fix`
shows as a difference what may be written without a question, `--fix --write` writes it.

`--rules NAME` judges under another book, `--format json` is for programs, `--summary` prints one
line a rule, `--all` every finding of a rule that a text breaks many times.
"""

import sys
from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from rigfolio.cli.options import add_file, add_format
from rigfolio.cli.parts import known_book, not_understood, write
from rigfolio.cli.registry import Command
from rigfolio.cli.terminal import in_colour, say
from rigfolio.refusal import RefusalError, not_written

if TYPE_CHECKING:
    from pathlib import Path

    from rigfolio.judgement import Result

COMMAND = Command(
    "judge rig files under their rule book, and try the ways out",
    "judge",
    (
        "check my.rig",
        "check my.rig other.rig --rules boat",
        "check my.rig --fix",
    ),
)


def takes(made: ArgumentParser) -> None:
    """Add the arguments."""
    add_file(made, many=True)
    add_format(made)
    made.add_argument("--summary", action="store_true", help="one line a rule")
    made.add_argument("--all", action="store_true", help="every finding of a rule")
    made.add_argument(
        "--fix", action="store_true", help="try every way out, and show what may be written"
    )
    made.add_argument(
        "--write", action="store_true", help="with --fix: write it, and judge what stands then"
    )


def run(given: Namespace) -> int:
    """Judge each file; the gravest decides the exit code."""
    from rigfolio.judgement import FIRST, as_json, as_summary, check_many

    known_book(given.rules)
    if given.write and not given.fix:
        raise RefusalError("command-not-understood", "`--write` without `--fix`", "`--fix --write`")
    is_json = given.format == "json"
    every = None if given.fix or is_json else 0 if given.summary else FIRST
    results = check_many(given.file, given.rules or "", most=every)
    told = ""
    if given.fix:
        results, told = _mended(results, given)
    if is_json:
        say(sys.stdout, as_json(results))
    elif given.summary:
        say(sys.stdout, as_summary(results))
    else:
        _say_text(results, every=given.all)
    if told:
        say(sys.stderr if is_json else sys.stdout, f"\n{told}")
    return max(result.exit_code for result in results)


def _say_text(results: "tuple[Result, ...]", *, every: bool) -> None:
    """What was found in texts that were understood, and on the other stream why others were not."""
    from rigfolio.judgement import as_text

    judged = [result for result in results if result.study is not None]
    broken = [result for result in results if result.study is None]
    if judged:
        say(sys.stdout, as_text(judged, colour=in_colour(sys.stdout), every=every))
    if broken:
        not_understood(*broken)


def _mended(results: "tuple[Result, ...]", given: Namespace) -> "tuple[tuple[Result, ...], str]":
    """What is found, after what may be written is written where that is asked; and what changes."""
    from rigfolio.judgement import check_many, mended, written_files

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
        told += [f"written: {path}\n" for path in contents]
        results = check_many(given.file, given.rules or "", most=None)
    return results, "".join(told)
