"""What an edit of a text has made worse: findings before and after, place held against place."""

from bisect import bisect_left
from collections import Counter
from collections.abc import Callable, Iterable, Sequence

from rigfolio.findings import RANK, Edit, Finding, Span

_NOTICEABLE = 1.01
"""By how much a figure has to grow to be worse: less would not show in what is printed."""
_MORE_IS_BETTER = frozenset({"bond_m2", "area_m2", "rated_v"})
"""First figures of a finding that are too small where they offend; all others are too large."""
_THERE = frozenset({"found_a", "marked_a"})
"""First figures that somebody read at the rig, which no text changes."""
_NO_STRAIN = frozenset({"limit_a", *_THERE})
"""First figures that no edit makes worse by themselves: what a thing bears where nothing guards it,
which grows to the better, and what was read there."""
_FOUND_WIRE = "found_mm2"
"""The only figure of a finding about a wire that was found."""
_BELONGS = "rating_a"
"""The last figure of a finding that holds against something what the text says belongs there."""

Moved = Callable[[Span], tuple[str, int]]
"""Where in the new texts a place of the old ones begins."""


def moved_by(edits: Iterable[Edit]) -> Moved:
    """Where places begin once some edits are made."""
    held: dict[str, list[tuple[int, int, int]]] = {}
    for edit in edits:
        shift = len(edit.text) - (edit.span.end - edit.span.start)
        held.setdefault(edit.span.file, []).append((edit.span.start, edit.span.end, shift))
    for each in held.values():
        each.sort()

    def moved(span: Span) -> tuple[str, int]:
        made = held.get(span.file, [])
        before = made[: bisect_left(made, (span.start, -1, 0))]
        at = span.start + sum(shift for _, _, shift in before)
        if before and before[-1][1] > span.start:
            # Inside of what was replaced: at its start.
            at = before[-1][0] + sum(shift for _, _, shift in before[:-1])
        return span.file, at

    return moved


def unmoved(span: Span) -> tuple[str, int]:
    """Where a place begins in texts that are the same."""
    return span.file, span.start


def is_gone(finding: Finding, after: Iterable[Finding], moved: Moved = unmoved) -> bool:
    """Whether a rule says nothing any more of the place where it said something.

    What is so until a wire is pulled no text mends: it is gone from the text where it is only that.
    """
    place = moved(finding.at.span)
    return not any(
        one.rule == finding.rule and unmoved(one.at.span) == place and not one.until_pulled
        for one in after
    )


def worse(
    before: Sequence[Finding], after: Sequence[Finding], moved: Moved = unmoved
) -> tuple[Finding, ...]:
    """The findings that were not there before, and those that are graver or whose figures grew."""
    by_place: dict[tuple[str, tuple[str, int]], list[Finding]] = {}
    for one in before:
        by_place.setdefault((one.rule, moved(one.at.span)), []).append(one)
    still = {(one.rule, unmoved(one.at.span)) for one in after}
    # What is said in the same words of another place, and no more of its own, has only moved.
    gone = Counter(
        (one.rule, one.headline)
        for place, held in by_place.items()
        if place not in still
        for one in held
    )
    found = []
    for one in after:
        known = by_place.get((one.rule, unmoved(one.at.span)))
        if known is None and gone[one.rule, one.headline] > 0:
            gone[one.rule, one.headline] -= 1
        elif known is None and _is_read_there(one):
            # It was there before, and was what belonged there: now it is to be taken out.
            continue
        elif not any(_is_no_worse(one, old) for old in known or ()):
            found.append(one)
    return tuple(found)


def _is_read_there(finding: Finding) -> bool:
    """Whether a finding says no more than that something else was read than belongs there.

    No way out makes a wire thinner: where what was found is too much for its wires now, it was
    before, and was told. What a wire that was found bears until another is pulled is told of all
    that is written over a gauge.
    """
    figures = [name for name, _ in finding.numbers]
    return figures == [_FOUND_WIRE] or (
        len(figures) > 1 and figures[0] in _THERE and figures[-1] == _BELONGS
    )


def _is_no_worse(now: Finding, before: Finding) -> bool:
    if RANK[now.severity] < RANK[before.severity] or before.until_pulled > now.until_pulled:
        return False
    return strain(now) <= strain(before) * _NOTICEABLE


def strain(finding: Finding) -> float:
    """By how much a finding is beyond its limit, where it has figures; 1 where it has none [-]."""
    if len(finding.numbers) < 2 or finding.numbers[0][0] in _NO_STRAIN:
        return 1.0
    (name, has), (_, held) = finding.numbers[0], finding.numbers[-1]
    over, under = (held, has) if name in _MORE_IS_BETTER else (has, held)
    return over / under if under > 0.0 else float("inf")
