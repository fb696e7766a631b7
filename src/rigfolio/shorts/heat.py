"""Which wires a short makes hot, and for how long they take that."""

import math
from collections.abc import Iterator

from rigfolio.books import longest_s
from rigfolio.demand import flows_of
from rigfolio.shorts.cases import Case, Fault
from rigfolio.shorts.clearing import Clearing, Stress
from rigfolio.units import brief_words, is_over, show_limit, show_load
from rigfolio.wording import gauge_words

_HOT = 5
_TWICE = 2.0


def hot_wires(fault: Fault) -> tuple[Stress, ...]:
    """What a short does to the wires that it makes hot, those that are nearest to their end first.

    That is in the case that takes longest to clear.
    """
    held = [one for one in _told(fault).stresses if one.holds is not True or _wear(one) > 0.1]
    return tuple(sorted(held, key=_rank))


def hot_words(fault: Fault) -> Iterator[str]:
    """Those wires in words, as many as are told.

    What a charger drives through a wire with no short as well is no deed of this one: whether that
    is too much, `check` tells.
    """
    case = _told(fault)
    flows = flows_of(case.study)
    held = [one for one in hot_wires(fault)
            if is_over(one.current_a, flows.charge_a(one.wire.name))]  # fmt: skip
    for one in held[:_HOT]:
        amps = show_limit(one.current_a, "A")
        if case.current_a is None:
            amps = f"up to {show_load(one.current_a, 'A')}"
        name = f"`{one.wire.name}` {gauge_words(one.wire)}, {amps}"
        if one.withstand_s is None:
            yield f"{name}: what it takes cannot be told"
        elif one.holds is False and _is_slow(case, one):
            may, takes = show_limit(_may_a(case, one), "A"), brief_words(one.withstand_s)
            yield f"{name}: GETS TOO HOT, may carry {may}, and takes that for {takes} at the least"
        elif one.holds is False:
            yield f"{name}: BURNS, it takes that for {brief_words(one.withstand_s)}"
        elif one.holds is None:
            ends = _open_end(case.ends.along([one.wire.name])[0])
            yield f"{name}: takes that for {brief_words(one.withstand_s)}; {ends}"
        else:
            share = 100.0 * _wear(one)
            takes = brief_words(one.withstand_s)
            yield f"{name}: {share:.0f} % of the time that it takes ({takes})"


def _told(fault: Fault) -> Case:
    return fault.hottest if fault.hottest.stresses else fault.coldest


def _is_slow(case: Case, one: Stress) -> bool:
    """Whether so much heat leaves a wire before its end that nobody can tell when that comes.

    Beyond some seconds copper does not keep its heat, and the rise that it settles at goes by the
    square of the current: at less than twice what it may carry it is below four times its own.
    """
    if one.withstand_s is None or one.withstand_s <= longest_s().value:
        return False
    return not is_over(one.current_a, _TWICE * _may_a(case, one))


def _may_a(case: Case, one: Stress) -> float:
    """What the conductors side by side may carry together [A]; nothing where no book tells it."""
    carries = case.study.carries(one.wire)
    return 0.0 if carries is None else carries.value * one.wire.count


def _open_end(end: Clearing) -> str:
    """Why nobody can tell whether a wire outlasts a fault."""
    if end.beyond and end.window is not None and math.isfinite(end.window.max_s):
        return f"it ends within {brief_words(end.window.max_s)} or far sooner"
    return "when it ends is not known"


def _wear(one: Stress) -> float:
    if one.withstand_s is None or one.clears_s is None or math.isinf(one.withstand_s):
        return 0.0
    return one.clears_s / one.withstand_s


def _rank(one: Stress) -> tuple[int, float]:
    return (0 if one.holds is False else 1 if one.holds is None else 2, -_wear(one))
