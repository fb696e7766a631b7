"""Batteries of unlike chemistry stand side by side.

What only a combiner or a selector joins is together for a while; so is what a switch for an
emergency joins, which is open in use. Of these only lithium beside lead is told: as advice behind a
selector or such a switch, which a person turns. A combiner closes at the volts of a bank that is
charged, and lithium at rest has those, so that it holds the combiner in for good.

*Why:* each chemistry has volts of its own at rest and under charge. One of them is never full, the
other is held above what it takes, and lithium drives all it has into a weak lead battery.
"""

from collections.abc import Callable, Iterator
from itertools import combinations

from rigfolio.books import are_one_system, mixed_batteries
from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.model import Device, Source
from rigfolio.natural_order import natural
from rigfolio.network import Edge, parallel_switches, within_bank
from rigfolio.rule import Rule
from rigfolio.study import Study

RULE = Rule(
    "unlike-chemistries",
    Severity.FAULT,
    Citation("one chemistry side by side", "common practice"),
    also=(Severity.ADVICE,),
)
_LITHIUM = "lithium"


def check(study: Study) -> Iterator[Finding]:
    """Every two banks of one system that are joined plus to plus."""
    banks = [
        one for one in study.rig.sources
        if one.stores and one.chemistry and one.plus not in study.shorted
    ]  # fmt: skip
    by_hand = _turned_by_hand(study)
    for one, two in combinations(sorted(banks, key=lambda bank: natural(bank.about.name)), 2):
        if one.chemistry == two.chemistry or not are_one_system(one.voltage_v, two.voltage_v):
            continue
        has_lithium = _LITHIUM in (one.chemistry, two.chemistry)
        if two.plus in within_bank(study.rig, study.net, one.plus):
            yield _finding(one, two, "side by side", None if has_lithium else Severity.ADVICE)
        elif has_lithium and two.plus in study.net.walk([one.plus], by_hand):
            yield _finding(one, two, "joined by a combiner, which lithium at rest holds in", None)
        elif has_lithium and two.plus in study.net.walk([one.plus]):
            yield _finding(one, two, "joined at times", Severity.ADVICE)


def _turned_by_hand(study: Study) -> Callable[[Edge], bool]:
    """What a person joins banks with: selectors, and switches that are open in use."""
    parallel = parallel_switches(study.rig)
    return lambda edge: (
        isinstance(edge, Device) and (edge.traits.selects or edge.about.name in parallel)
    )


def _finding(one: Source, two: Source, how: str, severity: Severity | None) -> Finding:
    name, other = one.about.name, two.about.name
    return RULE.finding(
        f"{one.chemistry} `{name}` and {two.chemistry} `{other}` are {how}",
        two.about.span,
        others=[(one.about.span, one.chemistry)],
        source=mixed_batteries(),
        fix=Fix(f"a charger from one to the other, or `{other}` of the kind of `{name}`"),
        severity=severity,
    )
