"""A wire that some source reaches with nothing between that would open.

Every source is walked from, from both ends of the wire: a battery, a towing vehicle, a charger
whose rated output is more than the wire may carry.

*Why:* a chafed wire with no fuse before it carries what the battery can give, hundreds of amperes,
until it burns. A spare wire that ends in tape is a live wire all the same.
"""

from collections.abc import Iterator

from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.protection import (
    Exposure,
    MissingFuse,
    copper,
    fuse_near,
    missing_fuses,
    sure_a,
)
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.units import show_load
from rigfolio.wording import (
    carrying,
    distance,
    joined_words,
    listed,
    listed_wires,
    may_bear,
    name_of,
    place,
)

RULE = Rule(
    "unprotected-wire",
    Severity.DANGER,
    Citation("every conductor is protected from every source that reaches it", "common practice"),
    of_plan=True,
    unguarded=True,
)


def check(study: Study) -> Iterator[Finding]:
    """Conductors with nothing between them and a source; batteries without a fuse left out."""
    for missing in missing_fuses(study):
        yield _finding(study, missing)


def _finding(study: Study, missing: MissingFuse) -> Finding:
    """One finding for wires of one fate, with what else is protected once they are."""
    group = missing.wires
    thinnest = group[0]
    far = [s for one in missing.late for s in one.sources if s.about.name not in missing.sources]
    names = (*missing.sources, *dict.fromkeys(source.about.name for source in far))
    limit = thinnest.limit
    wires = joined_words([name_of(one.wire) for one in group])
    several = len(group) > 1
    reach = distance(thinnest.reach.value, thinnest.wire)
    drives = "drives into it"
    if thinnest.sources and isinstance(thinnest.sources[0].limit_a, float):
        drives = f"drives up to {show_load(thinnest.current_a, 'A')} into it"
    return RULE.finding(
        f"nothing protects {wires} from {listed(names)}, "
        f"{'the thinnest' if several else 'it'} {may_bear(limit)}",
        thinnest.wire.size_span,
        here=carrying(limit),
        others=[
            *((s.about.span, drives) for s in thinnest.sources),
            *((s.about.span, "drives into its other end") for s in far),
            *((one.wire.size_span, "nor this one") for one in group[1:]),
            *((one.wire.span, _so_long(study, one)) for one in missing.served),
        ],
        fix=_fix(study, missing, reach),
        source=thinnest.reach.source,
        numbers=(("limit_a", limit.value), ("reach_m", thinnest.reach.value)),
    )


def _so_long(study: Study, served: Exposure) -> str:
    run = distance(served.run_m, served.wire, served.reach.value)
    return f"as long as it has none, unprotected for {run} from {place(study.rig, served.start)}"


def _fix(study: Study, missing: MissingFuse, reach: str) -> Fix:
    """A fuse near where the supply connects; no fuse opens on what solar modules give."""
    group, first = missing.wires, missing.first
    wires = [one.wire for one in group]
    if all(source.traits.by_light for one in group for source in one.sources):
        most_a = max(one.current_a for one in group)
        return copper(study, wires, most_a, study.carries_all_of)
    behind = listed_wires([one.wire for one in missing.served]) if missing.served else ""
    more = [_other_end(study, one) for one in missing.late]
    more += [f", which serves {behind} behind it too"] if behind else []
    return fuse_near(
        study,
        wires,
        sure_a(group[0].limit),
        f"within {reach} of {place(study.rig, first.end)}",
        "".join(more),
        end="" if missing.late else first.end,
    )


def _other_end(study: Study, late: Exposure) -> str:
    reach = distance(late.reach.value, late.wire)
    return f", and another within {reach} of {place(study.rig, late.end)}"
