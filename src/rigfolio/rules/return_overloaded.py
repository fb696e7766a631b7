"""A return must carry more than it may, with what can be expected to run at one time.

*Why:* a return that circuits share carries the sum of them, and no fuse watches it.
"""

from collections.abc import Iterator

from rigfolio.findings import Finding, Severity, Source
from rigfolio.study.rule import Rule
from rigfolio.study.study import Study
from rigfolio.study.wayout import copper, name_of
from rigfolio.units import show

RULE = Rule(
    "return-overloaded",
    Severity.DANGER,
    Source("demand at one time against what the conductor may carry", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every stated conductor of the minus side against its demand."""
    for wire in study.rig.conductors:
        limit = study.carries(wire)
        if study.side.get(wire.a) != "-" or limit is None or wire.assumed or wire.cranking:
            continue
        demand = study.flows.demand(wire.name)
        allowed_a = limit.value * wire.count
        if demand.current_a <= allowed_a:
            continue
        back = study.flows.backs.get(wire.name)
        shared = f" from {len(back.levels)} circuits" if back and len(back.levels) > 1 else ""
        yield RULE.finding(
            f"{show(demand.current_a, 'A')} come back at one time through {name_of(wire)}{shared}, "
            f"it may carry {show(allowed_a, 'A')}",
            wire.size_span,
            here=f"may carry {show(allowed_a, 'A')}: {limit.how}",
            source=limit.source,
            fix=copper(study, wire, demand.current_a),
            numbers=(("demand_a", demand.current_a), ("limit_a", allowed_a)),
        )
