"""A result as JSON for programs.

The JSON is one object. It begins as that of every command: `format`, which changes when a field
changes its meaning or goes away (new fields may come at any time), `command`, `rig`, `book` (null
where several files were judged, or the text was not understood) and `cautions`, which are meant to
be shown beside any verdict. `exit` is the exit code of the run, and `files` holds one object a rig
file, or one without a file where the command could not be done: `file`,
`rig`, `book`, `digest` (null where the text was not understood), `exit`, and `findings`, the
gravest first and then in the order of the text. A finding has `rule`, `severity` (`error`,
`danger`, `fault`, `unknown`, `advice`), `book`, `headline`, `place` (where it is at the panel, in
words; empty for the text as a whole), `accepted` (`reason` and `date`, or null), its place in the
text, `label`, `others` (places with a `label`), `citation` (`title` and `status`, or null), `fix`
(or null) and `numbers` (figures that decided, by name, in SI units; null where one is not finite).
A place is `file`, `line`, `column`, `end_line`, `end_column`: lines and columns count characters
from 1, the end is the first character behind the place, and all four are null where the message is
about a file as a whole.

A fix has `text`, `kind` and `edits`. Edits have been tried: with them the text was judged again,
this finding was gone and nothing else worse; each has a place, `old` (what stands there) and `new`
(what is to stand there; where `old` is empty it is put in). `safe` ones may be written in without a
question, `ask` is for a person to decide, and `show` has no edits and says what to do by hand.
`together` tells whether the edits belong to those of the file that serve all at once.

Of a text that was not understood, `whole` tells what is found in its whole statements: `book`,
`findings`, and `left_out`, the number of statements that they are without; null where it says too
little.
"""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from rigfolio.findings import Finding, Fix, Label, Severity, Span
from rigfolio.judgement.messages.excerpt import Lines
from rigfolio.judgement.messages.places import place_at
from rigfolio.judgement.result import Result
from rigfolio.record import fields_by_name
from rigfolio.reports import JUDGED
from rigfolio.study import Study

if TYPE_CHECKING:
    from rigfolio.reports import Value


def as_json(
    results: Sequence[Result], fail_on: Severity = Severity.UNKNOWN, command: str = "check"
) -> str:
    """The results as one JSON object, as the head of this module describes it.

    `fail_on` is the least grave kind of finding that is told by the exit code, `command` the one
    that was asked.
    """
    files = [json_of_file(result, fail_on) for result in results]
    worst = max((result.ends_with(fail_on) for result in results), default=0)
    return joined_json(files, tuple(result.rig_and_book for result in results), worst, command)


def json_of_file(result: Result, fail_on: Severity) -> str:
    """What programs get of one rig file, as it stands in the list of files."""
    from rigfolio.reports import object_text

    lines = object_text(object_of_file(result, fail_on)).splitlines()
    return "\n".join(f"    {line}" for line in lines)


def refused_json(command: str, finding: Finding) -> str:
    """What programs get of a command that cannot be done: its one error, of no file."""
    from rigfolio.reports import AnswerOf, json_text

    file = {
        "file": None, "rig": None, "book": None, "digest": None, "exit": 2,
        "findings": [{**_finding(finding, "", {}, None, is_joined=False), "file": None}],
        "whole": None,
    }  # fmt: skip
    return json_text(AnswerOf(command), (JUDGED,), {"exit": 2, "files": [file]})


def joined_json(
    files: Sequence[str],
    judged: Sequence[tuple[str, str] | None],
    exit_code: int,
    command: str = "check",
) -> str:
    """The objects of rig files as the one object that is printed.

    Where there is but one, its rig and its rule book are those of the whole.
    """
    from rigfolio.reports import AnswerOf, json_text

    rig, book = (judged[0] if len(judged) == 1 else None) or (None, None)
    of = AnswerOf(command, rig, book)
    head, _, end = json_text(of, (JUDGED,), {"exit": exit_code, "files": []}).rpartition("]")
    held = ",\n".join(files)
    return f"{head}\n{held}\n  ]{end}" if held else f"{head}]{end}"


def object_of_file(result: Result, fail_on: Severity = Severity.UNKNOWN) -> "Mapping[str, Value]":
    """What programs get of one rig file, with all of its ways out tried."""
    from rigfolio.judgement.trial import together, tried

    result = tried(result)
    mended = together(result, ("safe", "ask")).findings
    texts = {file: Lines(text) for file, text in result.texts.items()}
    judged = result.study
    rig, book = result.rig_and_book or (None, None)
    return {
        "file": result.file,
        "rig": rig,
        "book": book,
        "digest": result.digest if judged else None,
        "exit": result.ends_with(fail_on),
        "findings": [
            _finding(finding, result.file, texts, judged, is_joined=finding in mended)
            for finding in result.findings
        ],
        **({} if judged else {"whole": _of_whole(result, texts)}),
    }


def _of_whole(result: Result, texts: Mapping[str, Lines]) -> "Mapping[str, Value] | None":
    """What is found in the whole statements of a text that was not understood."""
    from rigfolio.judgement.trial import tried
    from rigfolio.judgement.whole import whole_of

    whole = whole_of(result)
    if whole is None:
        return None
    return {
        "book": whole.book,
        "left_out": whole.left_out,
        "findings": [
            _finding(finding, result.file, texts, whole.study, is_joined=False)
            for finding in tried(whole).findings
        ],
    }


def _finding(
    finding: Finding,
    file: str,
    texts: Mapping[str, Lines],
    study: Study | None,
    *,
    is_joined: bool,
) -> "Mapping[str, Value]":
    source, fix, accepted = finding.source, finding.fix, finding.accepted
    return {
        "rule": finding.rule,
        "severity": finding.severity.value,
        "book": finding.book or None,
        "headline": finding.headline,
        "place": place_at(study, finding),
        "accepted": {"reason": accepted.reason, "date": accepted.date} if accepted else None,
        **_place(finding.at, file, texts),
        "others": [_place(label, file, texts) for label in finding.others],
        "citation": fields_by_name(source) if source else None,
        "fix": _fix(fix, file, texts, is_joined=is_joined) if fix and fix.text else None,
        "numbers": dict(finding.numbers),
    }


def _fix(
    fix: Fix, file: str, texts: Mapping[str, Lines], *, is_joined: bool
) -> "Mapping[str, Value]":
    edits = [
        {
            **_span(edit.span, file, texts),
            "old": texts[edit.span.file].text[edit.span.start : edit.span.end],
            "new": edit.text,
        }
        for edit in fix.edits
    ]
    kind = fix.kind if edits else "show"
    return {"text": fix.text, "kind": kind, "edits": edits, "together": is_joined}


def _place(label: Label, file: str, texts: Mapping[str, Lines]) -> "Mapping[str, Value]":
    return {**_span(label.span, file, texts), "label": label.text}


def _span(span: Span, file: str, texts: Mapping[str, Lines]) -> "Mapping[str, Value]":
    where = span.file or file
    start: tuple[int | None, int | None] = (None, None)
    end: tuple[int | None, int | None] = (None, None)
    if where in texts and texts[where].text:
        start, end = texts[where].place(span.start), texts[where].place(span.end)
    return {
        "file": where,
        "line": start[0],
        "column": start[1],
        "end_line": end[0],
        "end_column": end[1],
    }
