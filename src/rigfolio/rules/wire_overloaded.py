"""A wire of the plus side must carry more than it may, with what can be expected to run at one time.

*Why:* a feeder behind a large fuse is not protected against a slow overload of many small loads.
Branch fuses that add up to more than the main are no fault; loads that do are.
"""

from collections.abc import Iterator

from rigfolio.findings import Finding, Severity, Source
from rigfolio.study.rule import Rule
from rigfolio.study.study import Study
from rigfolio.study.wayout import copper, name_of
from rigfolio.units import show

RULE = Rule(
    "wire-overloaded",
    Severity.DANGER,
    Source("demand at one time against what the conductor may carry", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every conductor of the plus side against its demand."""
    for wire in study.rig.conductors:
        limit = study.carries(wire)
        if study.side.get(wire.a) != "+" or limit is None:
            continue
        allowed_a = limit.value * wire.count
        demand = study.flows.demand(wire.name)
        if demand.current_a <= allowed_a or wire.cranking or not study.is_judged_lead(wire):
            continue
        yield RULE.finding(
            f"{show(demand.current_a, 'A')} at one time in {name_of(wire)}, it may carry "
            f"{show(allowed_a, 'A')}",
            wire.size_span,
            here=f"may carry {show(allowed_a, 'A')}: {limit.how}",
            source=limit.source,
            fix=copper(study, wire, demand.current_a),
            numbers=(("demand_a", demand.current_a), ("limit_a", allowed_a)),
        )
