"""A result as SARIF 2.1.0, the open format in which analysers tell what they found in a file.

One run holds all files. The gravest, `error` and `danger`, have the level `error`, `fault` has
`warning`, `advice` has `note`. What cannot be judged has the kind `open`, and so by the standard no
level: it is never a pass. Our own words stand in `properties`: `severity`, `book`, `source`,
`numbers` (in SI units; null where one is not finite), and `left_out` where the rest of a text was
judged without that many statements that were not understood. A finding that the text accepts is
suppressed in its source. Fixes have been tried, as those of the JSON.

Files are named from the folder in which the command was typed, those outside of it in full. Columns
count characters from 1. What the standard says of messages and of levels is from memory; the shape
is held to the published schema by a test.
"""

import os
import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from rigfolio.findings import Edit, Finding, Fix, Label, Severity, Span
from rigfolio.judgement.messages.excerpt import Lines
from rigfolio.judgement.messages.places import place_at, placed_headline
from rigfolio.judgement.messages.report import CAUTION, summary
from rigfolio.judgement.result import Result
from rigfolio.reading import SHOWN_STDIN
from rigfolio.record import fields_by_name
from rigfolio.reports import JUDGED, clean, object_text
from rigfolio.rule import accepts, rule, rule_names
from rigfolio.study import Study

if TYPE_CHECKING:
    from rigfolio.reports import Value

    Object = Mapping[str, Value]

SCHEMA = (
    "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
)
"""Where the standard keeps its schema, from memory; a validator of the format takes it as final."""
VERSION = "2.1.0"
_BASE = "SRCROOT"
_LEVELS = {
    Severity.ERROR: "error",
    Severity.DANGER: "error",
    Severity.FAULT: "warning",
    Severity.UNKNOWN: "none",
    Severity.ADVICE: "note",
}
_LINE_ENDS = ("\r\n", "\n", "\r")


def as_sarif(
    results: Sequence[Result],
    manual: Callable[[str], str],
    fail_on: Severity = Severity.UNKNOWN,
    version: str = "",
) -> str:
    """The results as one SARIF log; it ends in a line break.

    Parameters
    ----------
    results : sequence of Result
        What was found in each rig file, with its ways out tried.
    manual : callable
        Gives the manual page of a rule, or of an error of the text, by its name.
    fail_on : Severity
        The least grave kind of finding that is told by the exit code.
    version : str
        That of the program; empty where it is not known.
    """
    run = _RuleRun()
    found = [one for result in results for one in run.results_of(result)]
    driver: dict[str, Value] = {"name": "rigfolio"}
    if version:
        driver["version"] = version
    driver["fullDescription"] = _message(f"Low-voltage DC fuse panels from one text file. {JUDGED}")
    driver["rules"] = [_descriptor(name, manual(name)) for name in run.rules]
    whole: Object = {
        "$schema": SCHEMA,
        "version": VERSION,
        "runs": [
            {
                "tool": {"driver": driver},
                "invocations": [_invocation(results, fail_on)],
                "originalUriBaseIds": {
                    _BASE: {"description": {"text": "The folder in which the command was typed."}}
                },
                "artifacts": [_artifact(run, name, results) for name in run.files],
                "results": found,
                "newlineSequences": _LINE_ENDS,
                "columnKind": "unicodeCodePoints",
                "properties": {"caution": CAUTION.split("\n")},
            }
        ],
    }
    return object_text(whole)


class _RuleRun:
    """The files and the rules of one run, each with its number in their order."""

    def __init__(self) -> None:
        self.files: dict[str, int] = {}
        self.rules: dict[str, int] = {}
        self._here = Path.cwd()

    def results_of(self, result: Result) -> "Iterator[Object]":
        """Every finding of a rig file, and of one that is not understood those of what is whole."""
        from rigfolio.judgement.trial import tried
        from rigfolio.judgement.whole import whole_of

        for name in result.texts:
            self.files.setdefault(name, len(self.files))
        yield from self._found(tried(result))
        whole = whole_of(result) if result.study is None else None
        if whole is not None:
            yield from self._found(tried(whole))

    def _found(self, result: Result) -> "Iterator[Object]":
        texts = {file: Lines(text) for file, text in result.texts.items()}
        places = _TextPlaces(self, result.file, texts)
        for finding in result.findings:
            number = self.rules.setdefault(finding.rule, len(self.rules))
            yield _result(finding, number, result, places)

    def location(self, name: str) -> "Object":
        """Where a file is."""
        number = self.files[name]
        if name == SHOWN_STDIN:
            return {"index": number, "description": {"text": "the standard input"}}
        whole = Path(os.path.normpath(self._here / name))
        if not whole.is_relative_to(self._here):
            return {"uri": whole.as_uri(), "index": number}
        from urllib.parse import quote_from_bytes

        below = whole.relative_to(self._here).as_posix()
        return {"uri": quote_from_bytes(os.fsencode(below)), "uriBaseId": _BASE, "index": number}


class _TextPlaces:
    """The places of one rig's texts as the standard writes them."""

    def __init__(self, run: _RuleRun, file: str, texts: Mapping[str, Lines]) -> None:
        self._run = run
        self._file = file
        self._texts = texts

    def at(self, span: Span) -> "Object":
        """A file, and the region of it where the message is not about it as a whole."""
        name = span.file or self._file
        where = {"artifactLocation": self._run.location(name)}
        return where if not self._has_lines(name) else {**where, "region": self.region(span)}

    def _has_lines(self, name: str) -> bool:
        return name in self._texts and bool(self._texts[name].text)

    def region(self, span: Span) -> "Object":
        """Lines and columns; the end is the first character behind the place."""
        lines = self._texts[span.file or self._file]
        start, end = lines.place(span.start), lines.place(span.end)
        return {
            "startLine": start[0],
            "startColumn": start[1],
            "endLine": end[0],
            "endColumn": end[1],
        }

    def changes(self, edits: Iterable[Edit]) -> "Sequence[Object]":
        """What is to be written into each file."""
        by_file: dict[str, list[Object]] = {}
        for edit in edits:
            made = {"deletedRegion": self.region(edit.span), "insertedContent": {"text": edit.text}}
            by_file.setdefault(edit.span.file or self._file, []).append(made)
        return [
            {"artifactLocation": self._run.location(name), "replacements": made}
            for name, made in by_file.items()
        ]


def _result(finding: Finding, number: int, result: Result, places: _TextPlaces) -> "Object":
    place = place_at(result.study, finding)
    is_open = finding.severity is Severity.UNKNOWN
    made: dict[str, Value] = {
        "ruleId": finding.rule,
        "ruleIndex": number,
        "kind": "open" if is_open else "fail",
        "level": _LEVELS[finding.severity],
        "message": _message(_words(finding, place)),
        "locations": [_location(finding.at, places, place)],
    }
    if finding.others:
        made["relatedLocations"] = [
            {"id": place_number, **_location(label, places)}
            for place_number, label in enumerate(finding.others)
        ]
    if finding.accepted is not None:
        made["suppressions"] = [_suppression(finding, result.study, places)]
    fix = finding.fix
    if fix is not None and fix.is_tried and fix.edits:
        made["fixes"] = [_fix(fix, places)]
    made["properties"] = _properties(finding, result)
    return made


def _words(finding: Finding, place: str) -> str:
    """What was found, then what to do where nothing can be written into the text for it."""
    headline = placed_headline(place, finding)
    is_edit = finding.fix is not None and finding.fix.is_edit
    return headline if is_edit or not finding.way_out else f"{headline}. To do: {finding.way_out}"


def _location(label: Label, places: _TextPlaces, at_the_panel: str = "") -> "Object":
    made: dict[str, Value] = {"physicalLocation": places.at(label.span)}
    if at_the_panel:
        made["logicalLocations"] = [{"fullyQualifiedName": clean(at_the_panel)}]
    if label.text:
        made["message"] = _message(label.text)
    return made


def _suppression(finding: Finding, study: Study | None, places: _TextPlaces) -> "Object":
    """Why a finding is left as it is, and the line of the text that says so."""
    made: dict[str, Value] = {
        "kind": "inSource",
        "status": "accepted",
        "justification": clean(str(finding.accepted)),
    }
    rig = study.rig if study is not None else None
    lines = [one.span for one in rig.accepted if accepts(rig, one, finding)] if rig else []
    if lines:
        made["location"] = {"physicalLocation": places.at(lines[0])}
    return made


def _fix(fix: Fix, places: _TextPlaces) -> "Object":
    """Edits that have been tried; `kind` tells whether a person has to decide, as in the JSON."""
    return {
        "description": _message(fix.text),
        "artifactChanges": places.changes(fix.edits),
        "properties": {"kind": fix.kind},
    }


def _properties(finding: Finding, result: Result) -> "Object":
    made: dict[str, Value] = {"severity": finding.severity.value}
    if finding.book:
        made["book"] = finding.book
    if finding.source is not None:
        made["source"] = fields_by_name(finding.source)
    if finding.numbers:
        made["numbers"] = dict(finding.numbers)
    if result.left_out:
        made["left_out"] = result.left_out
    return made


def _descriptor(name: str, manual: str) -> "Object":
    """What a rule, or an error of the text, says of itself."""
    words = " ".join(manual.partition("\n\n")[2].split("\n\n")[0].split())
    made: dict[str, Value] = {
        "id": name,
        "shortDescription": _message(f"{words.split('. ')[0].rstrip('.')}."),
        "help": _message(manual),
    }
    if name not in rule_names():
        return {**made, "defaultConfiguration": {"level": _LEVELS[Severity.ERROR]}}
    one = rule(name)[0]
    return {
        **made,
        "defaultConfiguration": {"level": _LEVELS[one.severity]},
        "properties": {
            "severity": one.severities,
            "books": sorted(one.books),
            "source": fields_by_name(one.source),
        },
    }


def _invocation(results: Sequence[Result], fail_on: Severity) -> "Object":
    """How the run went: of a text that was not understood there is no verdict."""
    made: dict[str, Value] = {
        "executionSuccessful": all(result.study is not None for result in results),
        "exitCode": max((result.ends_with(fail_on) for result in results), default=0),
    }
    broken: list[Object] = [
        {"message": _message(summary(result)), "level": "error"}
        for result in results
        if result.study is None
    ]
    if broken:
        made["toolExecutionNotifications"] = broken
    return made


def _artifact(run: _RuleRun, name: str, results: Sequence[Result]) -> "Object":
    roles = ["analysisTarget"]
    if name == SHOWN_STDIN:
        roles.append("standardStream")
    elif any(result.file == name for result in results):
        roles.append("referencedOnCommandLine")
    return {"location": run.location(name), "roles": roles, "encoding": "utf-8"}


def _message(text: str) -> "Object":
    """Words for people: braces stand for themselves, and no text of a user is taken for a link."""
    lines = "\n".join(clean(line) for line in text.split("\n"))
    doubled = lines.replace("{", "{{").replace("}", "}}")
    return {"text": re.sub(r"\[(?=[^\[\]]*\]\()", r"\\[", doubled)}
