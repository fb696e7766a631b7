"""What is whole in a text that was not understood, judged without the statements that are not.

It is for whoever goes on writing, and never a verdict on the rig: a guard that is half written is
missing in it.
"""

from bisect import bisect_right
from collections.abc import Iterable, Iterator

from rigfolio.findings import Finding, Span, in_order
from rigfolio.judgement.crowding import too_crowded
from rigfolio.judgement.result import Result
from rigfolio.model import Rig, build
from rigfolio.reading import MOST_ERRORS
from rigfolio.record import replace
from rigfolio.rule import judge
from rigfolio.study import Study

_OF_NAMES = frozenset({"name-not-defined"})
"""What is found of a name that a lost statement may define."""


class _ErrorPlaces:
    """Places of a text, sorted and joined where they meet, so that asking of one costs little."""

    def __init__(self, spans: Iterable[Span]) -> None:
        self._starts: dict[str, list[int]] = {}
        self._ends: dict[str, list[int]] = {}
        for span in sorted(spans, key=lambda one: (one.file, one.start, one.end)):
            starts = self._starts.setdefault(span.file, [])
            ends = self._ends.setdefault(span.file, [])
            if ends and span.start <= ends[-1]:
                ends[-1] = max(ends[-1], span.end)
            else:
                starts.append(span.start)
                ends.append(span.end)

    def has(self, span: Span) -> bool:
        """Whether a place has a character in common with one of these, or ends where one begins."""
        last = bisect_right(self._starts.get(span.file, ()), span.end) - 1
        return last >= 0 and self._ends[span.file][last] >= span.start


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
    if too_crowded(rig) is not None:
        return None
    book = result.asked or rig.book
    study = Study(replace(rig, book=book), book)
    places = [_lines(result, one.span) for one in draft.broken]
    touched = _ErrorPlaces(places)
    apart = [one.at.span for one in result.findings if not touched.has(one.at.span)]
    is_lost = bool(apart) or any(one.is_lost for one in draft.broken)
    if is_lost:
        touched = _ErrorPlaces([*places, *_of_names(result, study.rig)])
    is_headless = any(one.word == "rig" for one in draft.broken)
    found = [] if is_headless else _judged(study, touched, is_lost=is_lost)
    # What cannot be read at all counts as one statement.
    left_out = len(places) + len(apart)
    return replace(result, study=study, findings=in_order(found), draft=None, left_out=left_out)


def _judged(study: Study, touched: _ErrorPlaces, *, is_lost: bool) -> list[Finding]:
    """What is found in places that no error of the text has a hand in."""
    return [
        one
        for one in judge(study)
        if not any(touched.has(label.span) for label in (one.at, *one.others))
        and not (is_lost and one.rule in _OF_NAMES)
    ]


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
