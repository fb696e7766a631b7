"""When a short ends, and what else may open beside the first, in words."""

import math
from collections.abc import Iterator, Sequence

from rigfolio.shorts.cases import Case, Fault
from rigfolio.shorts.clearing import Blow, Clearing
from rigfolio.units import brief_words
from rigfolio.wording import in_a_row

_NEVER = "never by itself"


def told_case(fault: Fault) -> Case:
    """The case of which it is told what opens first."""
    return next((one for one in (fault.hottest, fault.coldest) if one.opens), fault.coldest)


def when_words(fault: Fault) -> str:
    """When it ends: of a current of which nothing is known but a bound, no time is known."""
    cases = [fault.coldest, fault.hottest]
    if fault.hottest.current_a is None and fault.coldest.current_a is None:
        cases = [case for case in cases if case.ends.endless]
    told = [(case, words) for case in cases if (words := _time(case.ends))]
    parts = list(dict.fromkeys(words for _, words in told))
    if not parts:
        return ""
    if len(parts) > 1:
        parts = [f"{words} {case.words}" for case, words in told]
    timed = {one.about.name for case in cases if not case.ends.endless for one in case.ends.by}
    blows = [one for case in reversed(cases) for one in case.blows
             if one.source is not None and one.device.about.name in timed]  # fmt: skip
    tail = f"; by {blows[0].source}" if blows else ""
    verb = "Opens" if fault.closing_again else "Ends"
    return f"{verb} {', '.join(parts)}{tail}.{_beyond(cases, blows)}"


def _beyond(cases: Sequence[Case], blows: Sequence[Blow]) -> str:
    """That a time is the last of its source, which ends below what flows."""
    beyond = [one for one in blows if one.beyond and any(case.ends.beyond for case in cases)]
    ends = (f"{one.last:g} times the rating of `{one.device.about.name}`" for one in beyond[:1])
    tail = "with more it opens no later, how much sooner no standard says"
    return "".join(f" That source ends at {where}: {tail}." for where in ends)


def _time(end: Clearing) -> str:
    """When a fault ends; by which device, where that is not the one that opens first."""
    words, firsts = _window(end), {one.about.name for one in end.firsts}
    later = [f"`{one.about.name}`" for one in end.by if one.about.name not in firsts]
    if not later or words in ("", _NEVER):
        return words
    return f"{words}, by {in_a_row(later)} if nothing opens before"


def _window(end: Clearing) -> str:
    if end.window is None:
        return "in a time that no table gives" if end.by or end.firsts or end.feeds_on else ""
    if math.isinf(end.window.max_s):
        return _NEVER
    least, most = brief_words(end.window.min_s), brief_words(end.window.max_s)
    return f"after {least} to {most}" if end.window.min_s > 0.0 else f"within {most}"


def selective_words(fault: Fault) -> str:
    """Whether others open beside the first, or may; empty where none would."""
    cases = [c for c in (fault.coldest, fault.hottest) if c.opens is not None]
    others = dict.fromkeys(name for case in cases for name in _overloaded(case))
    told = told_case(fault).opens
    others.pop(told.device.about.name if told is not None else "", None)
    if not others:
        return ""
    names = ", ".join(f"`{name}`" for name in others)
    firsts = {c.opens.device.about.name for c in cases if c.opens is not None}
    verdicts = {c.is_selective for c in cases} if len(firsts) == 1 else {None}
    if verdicts == {True}:
        return f"It opens before {names} in any case."
    if False in verdicts:
        return f"MAY OPEN TOO: {names}; then more goes dark than is listed here."
    return f"Whether {names} opens too cannot be told."


def _overloaded(case: Case) -> Iterator[str]:
    return (one.device.about.name for one in case.blows if one.overload > 1.0)
