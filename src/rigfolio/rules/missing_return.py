"""A load has no way back to the source that feeds it.

*Why:* without a return it does not work; with a return through some bolt or hinge it works and
heats the bolt.
"""

from collections.abc import Iterator

from rigfolio.demand import flows_of
from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.model import Load
from rigfolio.protection import explained, groups
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.wording import label_of, listed

RULE = Rule(
    "missing-return",
    Severity.FAULT,
    Citation("every load is joined to plus and to minus", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Loads whose minus reaches no source that feeds them; returns not surveyed are left out."""
    unsure = frozenset(
        p.name for p in study.rig.problems if p.kind in ("return-unknown", "return-not-plain")
    )
    lost = [load for load in study.rig.loads if _is_lost(study, load, unsure)]
    if not lost:
        return
    told = explained(study, "-")
    for group in groups(study, [load for load in lost if load.about.name not in told], "-"):
        first = group[0]
        has = "has" if len(group) == 1 else "have"
        fix = Fix("a `return` in its circuit, or a wire from its minus to the negative bar")
        if len(group) > 1:
            fix = Fix("a wire from their negative bar to the minus of the source")
        yield RULE.finding(
            f"{listed(label_of(load) for load in group)} {has} no way back to a source",
            first.about.span,
            others=[(load.about.span, "nor this one") for load in group[1:4]],
            fix=fix,
        )


def _is_lost(study: Study, load: Load, unsure: frozenset[str]) -> bool:
    if study.side.get(load.plus) != "+" or load.minus in study.shorted or load.circuit in unsure:
        return False
    if study.side.get(load.minus) == "+":
        return False
    ways = flows_of(study).ways.get(load.about.name, ())
    # Where a battery feeds it, a battery must get it back: a charger alone feeds nothing for long.
    is_whole = any(way.source.traits.serves for way in ways) or (
        bool(ways) and not _from_store(study, load)
    )
    return not is_whole and not _in_series(study)


def _from_store(study: Study, load: Load) -> bool:
    stores = [source.plus for source in study.rig.sources if source.traits.serves]
    return load.plus in study.net.walk(stores)


def _in_series(study: Study) -> bool:
    """Whether batteries stand in series, of which another rule tells."""
    return bool(study.shorted)
