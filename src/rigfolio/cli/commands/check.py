"""What is wrong in rigs, where, by how much, by which source, and what would serve.

A fix is offered below `fix:` only after the text with it was judged again: the finding is gone
and nothing else is worse. The first ten of each file are tried, `--fix` and JSON try all. `--fix`
shows as a difference what may be written without a question, then a line a finding with its fix;
`--fix --write` writes it.

Of a text that is not understood as a whole the errors are told first, then what is found in its
whole statements, without the others. A folder stands for all rigs in it and below it; of those
where nothing is found only the number is told. What was said of many rigs is kept in the cache
folder of the user, and holds until a text or the program changes.

`--summary` prints a line a finding, `--format lines` the same as editors read it,
`file:line:column`, `--format json` is for programs, `--format sarif` for those that gather what
analysers find (SARIF 2.1.0), `--all` shows every finding of a rule that a
text breaks many times. `--rules NAME` judges under another book. `--fail-on danger` ends with 1 for
dangers alone, `--fail-on fault` for faults too; what a text accepts is shown and never fails.
"""

import sys
from argparse import ArgumentParser, Namespace
from functools import partial
from typing import TYPE_CHECKING

from rigfolio.cli.options import add_file
from rigfolio.cli.parts import not_understood, write
from rigfolio.cli.registry import Command
from rigfolio.cli.terminal import in_colour, say, watched
from rigfolio.record import replace
from rigfolio.refusal import RefusalError, not_written

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from pathlib import Path

    from rigfolio.findings import Severity
    from rigfolio.judgement import Asking, Result, RigVerdict, VerdictForm

COMMAND = Command(
    "judge rig files under their rule book, and try the fixes",
    "judge",
    (
        "check my.rig",
        "check my.rig other.rig --rules boat",
        "check . --summary",
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
    from rigfolio.judgement import rig_files

    known_book(given.rules)
    if given.write and not given.fix:
        raise RefusalError("command-not-understood", "`--write` without `--fix`", "`--fix --write`")
    files = rig_files(given.file)
    if given.fix or given.format == "sarif":
        return _at_once(files, given)
    return _one_by_one(files, given, is_folder=files != tuple(given.file))


def _one_by_one(files: "Sequence[str]", given: Namespace, *, is_folder: bool) -> int:
    """Say what is found in each file as it comes, then the counts; of a folder in all of it."""
    from rigfolio.findings import Severity
    from rigfolio.judgement import Asking, total

    form: VerdictForm = "summary" if given.summary and given.format == "text" else given.format
    colours = in_colour(sys.stdout), in_colour(sys.stderr)
    asking = Asking(given.rules or "", form, Severity(given.fail_on), given.all, colours)
    told = _Teller(form, is_folder=is_folder)
    for verdict in watched(_verdicts(files, asking), len(files)):
        told.add(verdict)
    told.close(total(told.verdicts) if is_folder else "")
    return max(verdict.exit_code for verdict in told.verdicts)


def _verdicts(files: "Sequence[str]", asking: "Asking") -> "Iterator[RigVerdict]":
    """The verdicts in the order of the files; of many those that are kept and still hold."""
    from rigfolio.judgement import WORTH_A_PROCESS, each_in_turn, verdict_of

    if len(files) >= WORTH_A_PROCESS:
        from rigfolio.judgement import kept_verdicts

        kept = kept_verdicts(asking)
        if kept is not None:
            return each_in_turn(kept.verdict, files)
    return (verdict for verdict, _ in each_in_turn(partial(verdict_of, asking=asking), files))


class _Teller:
    """What was said so far: the findings of a file as soon as it was judged, the counts below."""

    def __init__(self, form: str, *, is_folder: bool) -> None:
        self.verdicts: list[RigVerdict] = []
        self._form = form
        self._is_folder = is_folder
        self._said: list[str] = []
        self._closing: list[str] = []

    def add(self, verdict: "RigVerdict") -> None:
        """Say what was found in one file; what is counted is all that is kept of it."""
        say(sys.stderr, verdict.errors)
        is_quiet = self._is_folder and verdict.is_clean
        if self._form == "json":
            self._said.append(verdict.said)
        elif self._form == "summary" and not is_quiet:
            say(sys.stdout, f"{verdict.said}\n")
        elif self._form != "summary":
            say(sys.stdout, verdict.said)
        self._closing += () if is_quiet else verdict.closing
        self.verdicts.append(replace(verdict, said="", errors="", closing=()))

    def close(self, total: str) -> None:
        """Say what stands below the findings of all files."""
        from rigfolio.judgement import CAUTION, joined_json

        if self._form == "json":
            worst = max(verdict.exit_code for verdict in self.verdicts)
            say(sys.stdout, joined_json(self._said, [one.of for one in self.verdicts], worst))
        elif self._form != "lines":
            judged = any(verdict.is_judged for verdict in self.verdicts)
            lines = [*self._closing, *([total] if total else []), *([CAUTION] if judged else [])]
            say(sys.stdout, "".join(f"{line}\n" for line in lines))


def _at_once(files: "Sequence[str]", given: Namespace) -> int:
    """Judge all files, then say what is found, and what of it is mended where that is asked."""
    from rigfolio.findings import Severity
    from rigfolio.judgement import as_json, as_lines, as_summary, check_many

    is_object = given.format in ("json", "sarif")
    fail_on = Severity(given.fail_on)
    results = check_many(files, given.rules or "", most=None)
    if given.fix:
        results, told = _mended(results, given)
        # What changes comes first: below a long list of findings nobody looks for it.
        say(sys.stderr if is_object else sys.stdout, f"{told}\n")
    if given.format == "json":
        say(sys.stdout, as_json(results, fail_on))
    elif given.format == "sarif":
        say(sys.stdout, _sarif(results, fail_on))
    elif given.format == "lines":
        say(sys.stdout, as_lines(results))
    elif given.summary:
        say(sys.stdout, as_summary(results, every=given.all, ways=given.fix))
    else:
        _say_text(results, every=given.all, ways=given.fix)
    return max(result.ends_with(fail_on) for result in results)


def _sarif(results: "tuple[Result, ...]", fail_on: "Severity") -> str:
    """The findings for programs that gather what analysers find, each rule with its page."""
    from rigfolio.faces import own_version
    from rigfolio.judgement import as_sarif
    from rigfolio.manual import explain

    return as_sarif(results, explain, fail_on, own_version())


def _say_text(results: "tuple[Result, ...]", *, every: bool, ways: bool) -> None:
    """What was found in texts that were understood, and on the other stream why others were not.

    Of the others, what is whole is judged without what is not. `ways` asks for a line a finding,
    with what would mend it below.
    """
    from rigfolio.judgement import FIRST, as_summary, as_text, tried, whole_of

    judged = [result for result in results if result.study is not None]
    broken = [(result, whole_of(result)) for result in results if result.study is None]
    wholes = [tried(whole, FIRST) for _, whole in broken if whole is not None]
    if broken:
        left = [replace(one, left_out=whole.left_out if whole else 0) for one, whole in broken]
        not_understood(*left)
    if ways and judged + wholes:
        say(sys.stdout, as_summary([*judged, *wholes], every=every, ways=True))
    elif judged or wholes:
        say(sys.stdout, as_text([*judged, *wholes], colour=in_colour(sys.stdout), every=every))


def _mended(results: "tuple[Result, ...]", given: Namespace) -> "tuple[tuple[Result, ...], str]":
    """What is found, after what may be written is written where that is asked; and what changes."""
    from rigfolio.judgement import check_many, combined, mended, refuse_types, written_files
    from rigfolio.reports import written_words

    found = [mended(result) for result in results]
    told = [difference for _, difference in found]
    contents: dict[Path, bytes] = {}
    if given.write:
        for result, (one, _) in zip(results, found, strict=True):
            refuse_types(result, one.edits)
        for file, (result, edits) in combined(results, [one for one, _ in found]).items():
            try:
                contents |= written_files(result, {file: edits})
            except (OSError, ValueError) as problem:
                raise not_written(problem) from None
    if contents:
        write(contents, read={k: v for one in results for k, v in one.texts.items()})
        told.append(written_words(contents))
        results = check_many([result.file for result in results], given.rules or "", most=None)
    return results, "".join(told)
