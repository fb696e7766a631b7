"""What was found in few words: a line each for people, and a line each for editors and machines."""

from collections import Counter
from collections.abc import Iterator, Sequence

from rigfolio.findings import Finding, Severity, Span
from rigfolio.judgement.messages.excerpt import Lines
from rigfolio.judgement.messages.places import place_at, placed_headline
from rigfolio.judgement.messages.report import CAUTION, MOST_OF_A_RULE, summary
from rigfolio.judgement.result import Result
from rigfolio.reports import clean


def as_summary(results: Sequence[Result], *, every: bool = False, ways: bool = False) -> str:
    """A line a finding, the gravest first: how grave, where at the panel, what; then the count.

    Parameters
    ----------
    results : sequence of Result
        What was found in each rig file.
    every : bool
        Whether to print all findings of a rule in one file, however many there are.
    ways : bool
        Whether to print below a finding the way out that was tried, where there is one.
    """
    lines: list[str] = []
    for result in results:
        lines += [*summary_lines(result, every=every, ways=ways), ""]
    if any(result.study is not None for result in results):
        lines.append(CAUTION)
    return "\n".join(lines).rstrip("\n") + "\n"


def as_lines(results: Sequence[Result]) -> str:
    """A line a finding, as editors read it: `file:line:column: severity: place: what [rule]`.

    A finding of a file as a whole has line and column 1.
    """
    lines: list[str] = []
    for result in results:
        texts = {file: Lines(text) for file, text in result.texts.items()}
        for finding in result.findings:
            span = finding.at.span
            file = span.file or result.file
            line, column = _line_column(texts.get(file), span)
            words = _words(result, finding)
            head = f"{clean(file)}:{line}:{column}: {finding.severity.value}"
            lines.append(f"{head}: {clean(words)} [{finding.rule}]{_accepted(finding)}")
    return "".join(f"{line}\n" for line in lines)


def _line_column(text: Lines | None, span: Span) -> tuple[int, int]:
    return text.place(span.start) if text is not None and text.text else (1, 1)


def summary_lines(result: Result, *, every: bool, ways: bool = False) -> Iterator[str]:
    """A line a finding of one rig file, the gravest first, then the count."""
    yield from _short(result, every=every, ways=ways)
    yield summary(result)


def _short(result: Result, *, every: bool, ways: bool) -> Iterator[str]:
    count: Counter[str] = Counter()
    left: Counter[str] = Counter()
    for finding in result.findings:
        is_danger = finding.severity is Severity.DANGER
        count[finding.rule] += not is_danger
        if every or is_danger or count[finding.rule] <= MOST_OF_A_RULE:
            words = clean(_words(result, finding))
            yield f"{finding.severity.value:7}  {words}{_accepted(finding)}"
            if ways and finding.fix is not None and finding.fix.is_tried:
                yield f"{'':7}  fix: {clean(finding.fix.text)}"
        else:
            left[finding.rule] += 1
    for rule, number in left.items():
        yield f"{number} more of `{rule}`, `--all` shows them"


def _words(result: Result, finding: Finding) -> str:
    """Place and headline; an error of the text has no place at a panel."""
    return placed_headline(place_at(result.study, finding), finding)


def _accepted(finding: Finding) -> str:
    return f" (accepted: {clean(str(finding.accepted))})" if finding.accepted else ""
