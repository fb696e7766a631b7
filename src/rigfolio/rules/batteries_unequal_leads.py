"""Batteries side by side have leads of unlike resistance to the place where loads are taken off.

Of a current that they give together each has its part by its own leads and its inside. The part is
worked out with no resistance inside but the least that such a bank usually has, where the text
gives none, and told where one gives a third more than its share. Unlike batteries are left aside.

*Why:* the one with the short leads does most of the work, is worn out first, and then draws the
others down. Leads that are taken from opposite corners of the bank make all ways alike.
"""

from collections.abc import Iterator

from rigfolio.books import uneven_share
from rigfolio.demand import shared_banks
from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.model import Source
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.units import show

RULE = Rule(
    "batteries-unequal-leads",
    Severity.ADVICE,
    Citation("leads of batteries in parallel are of equal resistance", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every bank of equal batteries that are joined by wires alone, at its heaviest take-off."""
    for bank in shared_banks(study):
        if not bank.parts or not _are_like(bank.batteries):
            continue
        worst = max(bank.parts, key=lambda one: (bank.parts[one], one))
        share, even = bank.parts[worst], 1.0 / len(bank.parts)
        if share <= even * uneven_share().value:
            continue
        others = [_source(study, name) for name in bank.parts if name != worst]
        yield RULE.finding(
            f"`{worst}` gives {show(share, '%', 2)} of what {len(bank.parts)} batteries side by "
            f"side give, {show(even, '%', 2)} would be its share",
            _source(study, worst).about.span,
            others=[(one.about.span, "gives the less") for one in others],
            source=uneven_share().source,
            fix=Fix(
                "take plus from one end of the bank and minus from the other, or give each "
                "battery leads of one length and one gauge to a bar"
            ),
            numbers=(("share", share), ("even", even)),
        )


def _are_like(bank: tuple[Source, ...]) -> bool:
    """Whether the text says the same of all, chemistry and capacity at the least."""
    facts = {(one.chemistry, one.voltage_v, one.capacity_c) for one in bank}
    return len(facts) == 1 and bool(bank[0].chemistry) and isinstance(bank[0].capacity_c, float)


def _source(study: Study, name: str) -> Source:
    return study.rig.by_name.sources[name]
