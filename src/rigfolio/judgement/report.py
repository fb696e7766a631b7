"""A result as text for people and as JSON for programs.

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

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from rigfolio.findings import Finding, Fix, Label, Severity, Span
from rigfolio.judgement.excerpt import ExcerptRow, Lines, marks, rows
from rigfolio.judgement.places import place_at, placed_headline
from rigfolio.judgement.result import Result
from rigfolio.record import fields_by_name
from rigfolio.reports import DEFERS, JUDGED, MEASURE, clean
from rigfolio.study import Study

if TYPE_CHECKING:
    from rigfolio.reports import Value

CAUTION = f"{MEASURE}\n{DEFERS}"
"""What stands below every verdict, a line for what was judged and one for what comes first."""
_BOLD, _PLAIN, _BLUE = "\x1b[1m", "\x1b[0m", "\x1b[34m"
_RED, _YELLOW = "\x1b[31m", "\x1b[33m"
_PAINT = {
    Severity.ERROR: _RED,
    Severity.DANGER: _RED,
    Severity.FAULT: _YELLOW,
    Severity.UNKNOWN: _BLUE,
    Severity.ADVICE: _BLUE,
}
_PLURALS = {
    Severity.ERROR: "errors",
    Severity.DANGER: "dangers",
    Severity.FAULT: "faults",
    Severity.UNKNOWN: "unknowns",
    Severity.ADVICE: "pieces of advice",
}
_SINGULARS = {Severity.ADVICE: "piece of advice"}


MOST_OF_A_RULE = 8
"""Errors and faults of one rule in one file that are printed; the rest is counted."""
MOST_DANGERS = 50
"""Dangers of one rule in one file that are printed: all that a rig of people ever has."""
_MOST = {
    Severity.DANGER: MOST_DANGERS,
    Severity.ERROR: MOST_OF_A_RULE,
    Severity.FAULT: MOST_OF_A_RULE,
    Severity.UNKNOWN: 1,
    Severity.ADVICE: 1,
}
"""Findings of one rule in one file that are printed in full, by how grave they are.

A first survey has a hundred blanks, of which one shows what to do.
"""
MOST_PLACES = 12
"""Places beside the main one that a finding shows."""


def as_text(results: Sequence[Result], *, colour: bool = False, every: bool = False) -> str:
    """The findings with their places in the text, then what was counted; ends in a line break.

    Parameters
    ----------
    results : sequence of Result
        What was found in each rig file.
    colour : bool
        Whether to paint it for a terminal.
    every : bool
        Whether to print all findings of a rule in one file, however many there are.
    """
    parts = [messages(result, colour=colour, every=every) for result in results]
    closing = [line for result in results for line in closing_lines(result)]
    if any(result.study is not None for result in results):
        closing.append(CAUTION)
    return "".join(parts) + "\n".join(closing) + "\n"


def messages(result: Result, *, colour: bool = False, every: bool = False) -> str:
    """The findings of one rig file with their places, a blank line below each."""
    parts: list[str] = []
    texts = {file: Lines(text) for file, text in result.texts.items()}
    shown, rest = (result.findings, ()) if every else _first_of_each(result)
    for finding in shown:
        place = place_at(result.study, finding)
        parts.append("\n".join(_message(finding, result.file, texts, place, colour=colour)))
    if rest:
        parts.append("\n".join(rest))
    return "".join(f"{part}\n\n" for part in parts)


def summary(result: Result) -> str:
    """One line that says what was found, and under which rule book."""
    file = clean(result.file)
    counts = counted(result.findings)
    if result.study is None:
        judged = "what is whole of it is judged apart" if result.left_out else "nothing was judged"
        return f"{file}: {counts}; the text was not understood, {judged}"
    told = f"{file}: {counts or 'no findings'} under rule book {result.book}"
    if result.left_out:
        count = result.left_out
        left = "1 statement that was" if count == 1 else f"{count} statements that were"
        return f"{told} in what is whole, {left} not understood left out"
    return told


def closing_lines(result: Result) -> Iterator[str]:
    """The summary of a rig, and how many ways out were not tried."""
    yield summary(result)
    if result.untried:
        count = result.untried
        ways = "1 more fix was" if count == 1 else f"{count} more fixes were"
        yield f"{clean(result.file)}: {ways} not tried and not printed, `check --fix` tries all"


def _first_of_each(result: Result) -> tuple[list[Finding], list[str]]:
    """The findings without those that one rule says too often of one file, and their count."""
    shown: list[Finding] = []
    count: Counter[tuple[str, str, Severity]] = Counter()
    left: Counter[tuple[str, str]] = Counter()
    for finding in result.findings:
        key = (finding.at.span.file or result.file, finding.rule)
        count[(*key, finding.severity)] += 1
        if count[(*key, finding.severity)] <= _MOST[finding.severity]:
            shown.append(finding)
        else:
            left[key] += 1
    rest = [
        f"{clean(file)}: {number} more of `{name}`, `check --all` shows them"
        for (file, name), number in left.items()
    ]
    return shown, rest


def counted(findings: Sequence[Finding]) -> str:
    """How many findings of each severity; empty where there are none."""
    numbers = Counter(finding.severity for finding in findings)
    return number_words(numbers, sum(finding.accepted is not None for finding in findings))


def number_words(numbers: Mapping[Severity, int], accepted: int) -> str:
    """So many findings of each severity, and so many of them accepted, in words."""
    said: list[str] = []
    for severity in Severity:
        number = numbers.get(severity, 0)
        if number:
            one = _SINGULARS.get(severity, severity.value)
            said.append(f"{number} {one if number == 1 else _PLURALS[severity]}")
    return ", ".join(said) + (f" ({accepted} of them accepted)" if accepted else "")


def one_message(finding: Finding, *, colour: bool = False) -> str:
    """A finding that has no text to point at; ends in a line break."""
    return "\n".join(_message(finding, "", {}, "", colour=colour)) + "\n"


def _message(
    finding: Finding, file: str, texts: Mapping[str, Lines], place: str, *, colour: bool
) -> Iterator[str]:
    """The lines of one message; `place` is where it is at the panel."""
    paint = _PAINT[finding.severity] if colour else ""
    bold, dim, plain = (_BOLD, _BLUE, _PLAIN) if colour else ("", "", "")
    name = f"{finding.severity.value}[{finding.rule}]"
    yield f"{paint}{name}{plain}: {bold}{clean(placed_headline(place, finding))}{plain}"
    places = _by_file(finding, file)
    # A whole file has no line to show; the place is its name.
    drawn = [
        (where, list(rows(texts[where], marks(texts[where], labels[0], labels[1:]))))
        for where, labels in places
        if where in texts and texts[where].text
    ]
    wide = max((len(row.number) for _, shown in drawn for row in shown), default=1)
    margin = " " * wide
    for number, (where, labels) in enumerate(places):
        if not where:
            continue
        yield f"{margin}{dim}-->{plain} {_where(where, labels[0].span, texts)}"
        shown = next((made for name, made in drawn if name == where), [])
        for row in shown:
            strong = paint if row.kind == "^" and number == 0 else dim
            yield _row(row, margin, (dim, strong, plain), is_main=number == 0)
    hidden = len(finding.others) - MOST_PLACES
    if hidden > 0:
        more = "1 more place is" if hidden == 1 else f"{hidden} more places are"
        yield f"{margin} {dim}={plain} {more} part of this, `--format json` lists all"
    yield from (f"{margin} {dim}={plain} {clean(end)}" for end in _ends(finding))


def _row(row: ExcerptRow, margin: str, ink: tuple[str, str, str], *, is_main: bool) -> str:
    dim, strong, plain = ink
    if row.kind == "gap":
        return f"{dim}{row.text}{plain}"
    bar = f"{dim}{row.number or margin:>{len(margin)}} |{plain}"
    if row.kind == "source":
        return f"{bar} {row.text}".rstrip() if row.text else bar
    # In a second file nothing is the main place.
    signs = row.text if is_main else row.text.replace("^", "~")
    said = f"{signs} {clean(row.note)}" if signs and row.note else signs + clean(row.note)
    return f"{bar} {strong}{said}{plain}"


def _by_file(finding: Finding, file: str) -> list[tuple[str, list[Label]]]:
    """The labels of a finding that are shown, by file, its own file first."""
    grouped: dict[str, list[Label]] = {}
    for label in (finding.at, *finding.others[:MOST_PLACES]):
        grouped.setdefault(label.span.file or file, []).append(label)
    return list(grouped.items())


def _where(file: str, span: Span, texts: Mapping[str, Lines]) -> str:
    if file not in texts or not texts[file].text:
        return clean(file)
    line, column = texts[file].place(span.start)
    return f"{clean(file)}:{line}:{column}"


def _ends(finding: Finding) -> Iterator[str]:
    if finding.source is not None:
        yield f"source: {finding.source}"
    if finding.book:
        yield f"book: {finding.book}"
    if finding.accepted:
        yield f"accepted: {finding.accepted}"
    if finding.way_out and finding.fix is not None:
        is_fix = finding.fix.is_edit or finding.severity is Severity.ERROR
        yield f"fix: {finding.way_out}" if is_fix else f"to do: {finding.way_out}"


def as_json(
    results: Sequence[Result], fail_on: Severity = Severity.UNKNOWN, command: str = "check"
) -> str:
    """The results as one JSON object, as the head of this module describes it.

    `fail_on` is the least grave kind of finding that is told by the exit code, `command` the one
    that was asked.
    """
    files = [json_of_file(result, fail_on) for result in results]
    worst = max((result.ends_with(fail_on) for result in results), default=0)
    return joined_json(files, worst, command)


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


def joined_json(files: Sequence[str], exit_code: int, command: str = "check") -> str:
    """The objects of rig files as the one object that is printed.

    Where there is but one, its rig and its rule book are those of the whole.
    """
    import json

    from rigfolio.reports import AnswerOf, json_text

    one = json.loads(files[0]) if len(files) == 1 else {}
    of = AnswerOf(command, one.get("rig"), one.get("book"))
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
    return {
        "file": result.file,
        "rig": judged.rig.name if judged else None,
        "book": result.book if judged else None,
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
