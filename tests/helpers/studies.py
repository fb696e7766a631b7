"""Studies of rigs that a test writes down in the language, and of the examples."""

from collections.abc import Iterable, Iterator
from pathlib import Path

from helpers.forgotten import cache
from rigfolio.findings import Finding, Severity
from rigfolio.job import Job
from rigfolio.judgement.result import Result, check, job_of, load
from rigfolio.model import Reading, Rig
from rigfolio.reading.logs.meter import read_log
from rigfolio.rule import rule, rule_names
from rigfolio.study import Study


def study_from(text: str, book: str = "") -> Study:
    """The study of a text; an error in it fails the test."""
    _, rig, errors = load("case.rig", text)
    assert rig is not None, errors
    assert rig.problems == (), rig.problems
    return Study(rig, book or rig.book)


def numbered(text: str) -> str:
    """A text whose wires are called W1, W2, ... and P1.1/2, P1.1/3, ... in their order."""
    _, rig, errors = load("case.rig", text)
    assert rig is not None, errors
    for one in sorted(rig.nameless, key=lambda each: each.span.end, reverse=True):
        if one.turn != one.name:
            text = f'{text[: one.span.end]}, tag "{one.turn}"{text[one.span.end :]}'
    return text


def numbered_study(text: str, book: str = "") -> Study:
    """The study of a text with its wires numbered."""
    return study_from(numbered(text), book)


def heard(rig: Rig, *lines: str) -> tuple[Reading, ...]:
    """Readings of a rig as a person writes them; what is not understood fails the test."""
    log, problems = read_log("\n".join(lines), "readings.txt", rig)
    assert not problems, problems[0].headline
    return log.readings


@cache
def checked(file: Path) -> Result:
    """What `check` says of a file that no test changes, read and judged once a process."""
    return check(str(file))


@cache
def job_from(file: Path) -> Job:
    """What the sheets of such a file are given."""
    return job_of(checked(file))


def studied(file: Path) -> Study:
    """The study of such a file, with what was worked out of it so far."""
    study = checked(file).study
    assert study is not None
    return study


@cache
def rules_for(severity: Severity) -> frozenset[str]:
    """The rules by which something so grave may be found."""
    every = (rule(name)[0] for name in rule_names())
    return frozenset(one.name for one in every if severity in (one.severity, *one.also))


def found_by(rules: Iterable[str], study: Study) -> Iterator[Finding]:
    """What some rules find, one rule after another; the others are not asked.

    Nothing is put right before, and nothing accepted: where a source may be turned, all are asked.
    """
    for one, find, _ in map(rule, sorted(rules)):
        if study.book.name in one.books:
            yield from find(study)
