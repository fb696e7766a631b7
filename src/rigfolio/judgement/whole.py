"""What is whole in a text that was not understood, judged without the statements that are not.

It is for whoever goes on writing, and never a verdict on the rig: a guard that is half written is
missing in it.
"""

from collections.abc import Iterator

from rigfolio.findings import Finding, Span, in_order
from rigfolio.judgement.result import Result
from rigfolio.model import Draft, Rig, build
from rigfolio.reading import MOST_ERRORS
from rigfolio.record import replace
from rigfolio.rule import judge
from rigfolio.study import Study

_OF_NAMES = frozenset({"name-not-defined"})
"""What is found of a name that a lost statement may define."""


def whole_of(result: Result) -> Result | None:
    """A result of the statements that were understood; None where all were, or too few.

    Findings that point into a statement with an error in it are left out, and where a statement is
    lost with its name those of names that nothing is called by. Nothing is judged where the head of
    the rig is broken: what it says decides how all else is judged.
    """
    draft = result.draft
    if draft is None or len(result.findings) > MOST_ERRORS:
        return None
    rig = build(draft)
    if not (rig.sources or rig.devices or rig.panels or rig.conductors):
        return None
    book = result.asked or rig.book
    study = Study(replace(rig, book=book), book)
    found = [] if any(one.word == "rig" for one in draft.broken) else _judged(result, draft, study)
    return replace(
        result, study=study, findings=in_order(found), draft=None, left_out=_count(result, draft)
    )


def _judged(result: Result, draft: Draft, study: Study) -> list[Finding]:
    """What is found in places that no error of the text has a hand in."""
    touched = _places(result, draft)
    of_files = [one.at.span for one in result.findings if not _within(one.at.span, touched)]
    is_lost = bool(of_files) or any(one.is_lost for one in draft.broken)
    if is_lost:
        touched += _of_names(result, study.rig)
    return [
        one
        for one in judge(study)
        if not any(_within(label.span, touched) for label in (one.at, *one.others))
        and not (is_lost and one.rule in _OF_NAMES)
    ]


def _places(result: Result, draft: Draft) -> list[Span]:
    """Where the statements with an error in them stand, whole lines of them."""
    return [_lines(result, one.span) for one in draft.broken]


def _of_names(result: Result, rig: Rig) -> Iterator[Span]:
    """The lines that name what nothing is called by."""
    for one in rig.problems:
        if one.kind == "not-defined":
            yield _lines(result, one.at)


def _lines(result: Result, span: Span) -> Span:
    """A place and the rest of the lines on which it begins and ends."""
    text = result.texts.get(span.file, "")
    end = text.find("\n", span.end)
    start = text.rfind("\n", 0, span.start) + 1
    return Span(span.file, start, end if end >= 0 else len(text))


def _within(span: Span, others: list[Span]) -> bool:
    """Whether a place has a character in common with one of others."""
    return any(
        span.file == other.file and span.start <= other.end and other.start <= span.end
        for other in others
    )


def _count(result: Result, draft: Draft) -> int:
    """How many statements are broken or lost; what cannot be read at all counts as one."""
    places = _places(result, draft)
    return len(places) + sum(not _within(one.at.span, places) for one in result.findings)
