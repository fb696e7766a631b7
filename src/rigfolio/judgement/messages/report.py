"""A result as text for people."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from rigfolio.findings import Finding, Label, Severity, Span
from rigfolio.judgement.messages.excerpt import ExcerptRow, Lines, marks, rows
from rigfolio.judgement.messages.places import place_at, placed_headline
from rigfolio.judgement.result import Result
from rigfolio.reports import DEFERS, MEASURE, clean

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
