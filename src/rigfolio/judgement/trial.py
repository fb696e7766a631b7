"""Ways out tried before they are offered: the text with an edit is judged again, in memory.

A way out serves where the rule says nothing any more of that place, and nothing else has become
worse. One that does not is taken back, and what to measure, ask or part is said in its place.
"""

from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise
from types import MappingProxyType

from rigfolio.findings import RANK, Edit, Finding, Fix, Severity
from rigfolio.judgement.result import Result, check
from rigfolio.judgement.whole import whole_of
from rigfolio.lang import apply
from rigfolio.record import record, replace
from rigfolio.sizing import by_file, changed
from rigfolio.worsening import Moved, is_gone, moved_by, worse

_WRITTEN = frozenset({"area_m2", "bond_m2", "rating_a"})
"""First figures of a finding that are what the text says of a wire or a device."""


@record
class Mended:
    """The ways out of a rig that go together, and what is left to be found with all of them.

    `edits` are by file, `findings` those that are mended, `result` is that of the texts with them.
    `tried` are the same edits without what keeps beside them what is fitted, where that was added.
    """

    edits: Mapping[str, tuple[Edit, ...]]
    findings: tuple[Finding, ...]
    result: Result
    tried: Mapping[str, tuple[Edit, ...]] = MappingProxyType({})


def tried(result: Result, most: int | None = None) -> Result:
    """A result whose ways out have been tried; none is left in it that was not.

    Parameters
    ----------
    result : Result
        What was found.
    most : int, optional
        How many ways out are tried, the gravest first; all where it is left out. Of the others
        nothing is offered, and it can be told that nobody tried them.
    """
    findings: list[Finding] = []
    count = untried = 0
    for finding in result.findings:
        if finding.fix is None or not finding.fix.is_edit or finding.fix.is_tried:
            findings.append(finding)
        elif most is not None and count >= most:
            untried += 1
            findings.append(replace(finding, fix=Fix("")))
        else:
            count += 1
            findings.append(proved(result, finding))
    return replace(result, findings=tuple(findings), untried=result.untried + untried)


def proved(result: Result, finding: Finding) -> Finding:
    """A finding whose way out has been tried: with its edits where it serves.

    Else what is to be said in its place; a finding without a way out stays as it is.
    """
    fix = finding.fix
    if fix is None or not fix.is_edit or fix.is_tried:
        return finding
    edits = _edits(result, fix)
    again = _serves(result, edits, [finding]) if edits else None
    if again is not None:
        made = replace(fix, changes=(), edits=edits, is_tried=True)
        return replace(finding, fix=_with_price(result, again, made) if fix.changes else made)
    return replace(finding, fix=Fix(fix.otherwise) if fix.otherwise else None)


def _with_price(result: Result, again: Result, fix: Fix) -> Fix:
    """A way out that serves, with the advice that comes with it: that is for a person to decide."""
    gained = worse(result.findings, again.findings, moved_by(fix.edits))
    if not gained:
        return fix
    kind = "ask" if fix.kind == "safe" else fix.kind
    return replace(fix, kind=kind, text=f"{fix.text}; then {gained[0].headline}")


def _edits(result: Result, fix: Fix) -> tuple[Edit, ...]:
    """The edits of a way out; none where it cannot be written into the text."""
    if not fix.changes or result.study is None:
        return fix.edits
    try:
        made = changed(result.study, result.texts, fix.changes)
    except LookupError:
        return ()
    return (*fix.edits, *dict.fromkeys(made))


def _serves(
    result: Result, edits: Iterable[Edit], wanted: Sequence[Finding], *, at_no_price: bool = False
) -> Result | None:
    """What is found with some edits made; None where a finding stays, or something is worse.

    New advice is a price that mending something graver may have, unless that is barred.
    """
    again = _with(result, edits)
    if again is None:
        return None
    moved = moved_by(edits)
    if not all(is_gone(finding, again.findings, moved) for finding in wanted):
        return None
    if result.study is None:
        # Of a text that is not understood nothing was judged; what is judged now is not worse.
        errors = [one for one in again.findings if one.severity is Severity.ERROR]
        new = worse(result.findings, errors, moved)
        is_read = all(_was_hidden(one, wanted, again, moved) for one in new)
        return again if is_read and not _is_nameless(again, wanted, moved) else None
    if again.study is None:
        return None
    if any(_forbids(one, edits, moved) for one in again.findings):
        return None
    gravest = min(RANK[finding.severity] for finding in wanted)
    new = worse(result.findings, again.findings, moved)
    is_light = not at_no_price and all(one.severity is Severity.ADVICE for one in new)
    is_better = not new or (is_light and gravest < RANK[Severity.ADVICE])
    return again if is_better else None


def _forbids(finding: Finding, edits: Iterable[Edit], moved: Moved) -> bool:
    """Whether a book forbids the very gauge or rating that an edit writes."""
    is_grave = finding.severity in (Severity.DANGER, Severity.FAULT)
    if not is_grave or not finding.numbers or finding.until_pulled:
        # What is so until a wire is pulled is said of that one, not of what is written.
        return False
    at = finding.at.span
    places = [moved(one.span) for one in edits]
    is_there = any(file == at.file and at.start <= place < at.end for file, place in places)
    return is_there and finding.numbers[0][0] in _WRITTEN


def goes_with(result: Result, edits: Iterable[Edit], wanted: Sequence[Finding]) -> bool:
    """Whether some edits mend some findings of a rig, or none, and leave nothing in it worse."""
    made = tuple(edits)
    if wanted:
        return _serves(result, made, wanted) is not None
    again = _with(result, made)
    if again is None or (again.study is None) != (result.study is None):
        return False
    return not worse(result.findings, again.findings, moved_by(made))


def _was_hidden(new: Finding, wanted: Iterable[Finding], again: Result, moved: Moved) -> bool:
    """Whether the same is wrong further on in the line: of one line the first such is told."""
    file, text = new.at.span.file, again.texts[new.at.span.file]
    for old in wanted:
        place, start = moved(old.at.span)
        is_behind = place == file and start < new.at.span.start
        if is_behind and new.rule == old.rule and "\n" not in text[start : new.at.span.start]:
            return True
    return False


def _is_nameless(again: Result, wanted: Iterable[Finding], moved: Moved) -> bool:
    """Whether a line that can be read now speaks of something that nothing is called."""
    problems = again.study.rig.problems if again.study is not None else ()
    for one in (each for each in problems if each.kind == "not-defined"):
        text = again.texts[one.at.file]
        for old in wanted:
            place, start = moved(old.at.span)
            low, high = sorted((start, one.at.start))
            if place == one.at.file and "\n" not in text[low:high]:
                return True
    return False


def _with(result: Result, edits: Iterable[Edit]) -> Result | None:
    """What is found in the texts with some edits made; None where two of them overlap."""
    texts = dict(result.texts)
    try:
        for file, made in by_file(edits).items():
            texts[file] = apply(texts[file], made)
    except ValueError:
        return None
    book = result.book or result.asked
    again = check(result.file, book, text=texts[result.file], instead=texts)
    return whole_of(again) if result.left_out and result.study is not None else again


def together(result: Result, kinds: Iterable[str] = ("safe",)) -> Mended:
    """The ways out of some kinds that go together, each left out that spoils another.

    Parameters
    ----------
    result : Result
        What was found, with its ways out tried.
    kinds : iterable of str
        The kinds of way out that are taken.
    """
    wanted = [one for one in result.findings if _is_of(one, frozenset(kinds))]
    every = _joined(wanted)
    is_whole = bool(every) and _are_apart(every)
    again = _serves(result, every, wanted, at_no_price=True) if is_whole else None
    if again is not None:
        return Mended(by_file(every), tuple(wanted), again)
    held: list[Finding] = []
    edits: tuple[Edit, ...] = ()
    again = result
    for finding in wanted:
        if edits and is_gone(finding, again.findings, moved_by(edits)):
            # What is done for another mends it too.
            continue
        more = _joined([*held, finding])
        meant = [*held, finding]
        then = _serves(result, more, meant, at_no_price=True) if _are_apart(more) else None
        if then is not None:
            held, edits, again = [*held, finding], more, then
    moved = moved_by(edits)
    gone = [one for one in wanted if edits and is_gone(one, again.findings, moved)]
    return Mended(by_file(edits), tuple(gone), again)


def _is_of(finding: Finding, kinds: frozenset[str]) -> bool:
    fix = finding.fix
    return fix is not None and fix.is_tried and fix.kind in kinds and finding.accepted is None


def _joined(findings: Iterable[Finding]) -> tuple[Edit, ...]:
    made = [edit for one in findings if one.fix is not None for edit in one.fix.edits]
    return tuple(dict.fromkeys(made))


def _are_apart(edits: Sequence[Edit]) -> bool:
    """Whether no two edits touch one place; two that put something in there would both stay."""
    ordered = sorted((one.span.file, one.span.start, one.span.end) for one in edits)
    return all(
        one[0] != two[0] or (one[2] <= two[1] and one[1] != two[1])
        for one, two in pairwise(ordered)
    )
