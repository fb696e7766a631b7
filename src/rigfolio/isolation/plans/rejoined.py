"""Batteries side by side that a plan parts: at what volts they may be joined again.

What joins banks now and then, a combiner, a selector or a switch for an emergency, is left out: it
stands open or on one bank while somebody works, and nobody puts it back as it was.
"""

from collections.abc import Iterable, Iterator

from rigfolio.books import joined_again_v, mixed_batteries
from rigfolio.isolation.energised import Open, bank_joins, in_use
from rigfolio.isolation.plans.least_cut import opened_by
from rigfolio.isolation.plans.plan import Plan
from rigfolio.model import Source
from rigfolio.network import edge_name, rests_open
from rigfolio.study import Study, once
from rigfolio.units import show_limit
from rigfolio.wording import joined_words

Pairs = frozenset[frozenset[str]]
"""Batteries that are joined to each other, two by two, by name."""


def rejoin_words(study: Study, plan: Plan, closed: Iterable[str] = ()) -> str:
    """What is minded before what a plan parts is joined again; empty where it parts no batteries.

    `closed` are parts of the plan that are closed already, by name.
    """
    return _words(study, _parted(study, plan, closed))


def rejoined_by(study: Study, plan: Plan, part: str, closed: Iterable[str] = ()) -> str:
    """The same of those that closing one part joins, with others closed already; else empty."""
    done = tuple(closed)
    return _words(study, _parted(study, plan, done) - _parted(study, plan, (*done, part)))


@once
def side_by_side_words(study: Study) -> str:
    """The same of all batteries that stand side by side and that something can part."""
    every = Open(frozenset(edge_name(one) for one in study.rig.devices))
    return _words(study, _joined(study, _base(study)) - _joined(study, every))


def _parted(study: Study, plan: Plan, closed: Iterable[str]) -> Pairs:
    done = set(closed)
    actions = [step.action for step in plan.steps if step.action.part not in done]
    base = _base(study)
    return _joined(study, base) - _joined(study, opened_by(study.rig, actions, base))


@once
def _base(study: Study) -> Open:
    """What stands open or on one bank in use."""
    rig = study.rig
    selectors = frozenset(edge_name(one) for one in rig.devices if one.traits.selects)
    return Open(in_use(rig).edges | bank_joins(rig) | selectors | rests_open(rig).keys())


def _joined(study: Study, state: Open) -> Pairs:
    """The batteries whose plus posts are joined in a state, and whose minus posts are."""
    on = [s for s in study.rig.sources if s.stores and s.about.name not in state.sources]
    found = set[frozenset[str]]()
    for place, one in enumerate(on[:-1]):
        plus, minus = (study.net.walk([end], state.bars) for end in (one.plus, one.minus))
        found.update(
            frozenset((one.about.name, other.about.name)) for other in on[place + 1 :]
            if other.plus in plus and other.minus in minus
        )  # fmt: skip
    return frozenset(found)


def _words(study: Study, pairs: Pairs) -> str:
    return "; ".join(map(_of_group, _groups(study, pairs)))


def _groups(study: Study, pairs: Pairs) -> Iterator[list[Source]]:
    """The batteries of some pairs, those of pairs that share one together."""
    left = [one for one in study.rig.sources if any(one.about.name in pair for pair in pairs)]
    while left:
        names, more = {left[0].about.name}, set[str]()
        while True:
            more = {name for pair in pairs if pair & names for name in pair}
            if more <= names:
                break
            names |= more
        yield [one for one in left if one.about.name in names]
        left = [one for one in left if one.about.name not in names]


def _of_group(batteries: list[Source]) -> str:
    names = joined_words([one.about.name for one in batteries])
    limits = [
        limit for one in batteries
        if (limit := joined_again_v(one.chemistry, one.voltage_v)) is not None
    ]  # fmt: skip
    least = min(limits, key=lambda one: one.value, default=None)
    within, source = "", mixed_batteries()
    if least is not None:
        within, source = f", no more than {show_limit(least.value, 'V')} apart", least.source
    return (
        f"join {names} side by side again only when rested and at equal volts{within} "
        f"({source.title}, {source.status}), or a rush of current flows from one into the other"
    )
