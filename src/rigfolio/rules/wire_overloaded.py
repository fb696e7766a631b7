"""A wire of the plus side must carry more than it may with what can run at one time.

*Why:* a feeder behind a large fuse is not protected against a slow overload of many small loads.
Branch fuses that add up to more than the main are no fault; loads that do are.
"""

import math
from collections.abc import Iterator

from rigfolio.books import Limit
from rigfolio.findings import Citation, Finding, Severity
from rigfolio.model import Conductor
from rigfolio.protection import (
    apart,
    bears,
    carrying,
    copper,
    exposures_of,
    name_of,
    reach_of,
    running_of,
)
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.units import Size, is_over

RULE = Rule(
    "wire-overloaded",
    Severity.DANGER,
    Citation("demand at one time against what the conductor may carry", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every conductor of the plus side against its demand.

    Where the device before a wire opens first, or lets too much into it, the device is told of.
    """
    told = {
        e.wire.name
        for e in exposures_of(study)
        if e.fault == "over" or (e.fault == "bare" and math.isfinite(e.current_a))
    }
    for wire in study.rig.conductors:
        limit = _allowed(study, wire)
        if limit is None or wire.name in told:
            continue
        demand_a = running_of(study, wire).demand(wire.name).current_a
        if not is_over(demand_a, limit.value) or _opens_first(study, wire, limit):
            continue
        yield RULE.finding(
            f"{apart(demand_a, limit.value, 'A')} at one time in {name_of(wire)}, it may carry "
            f"{bears(limit)}",
            wire.size_span,
            here=carrying(limit),
            source=limit.source,
            fix=copper(study, [wire], demand_a, study.carries_all_of),
            numbers=(("demand_a", demand_a), ("limit_a", limit.value)),
        )


def _allowed(study: Study, wire: Conductor) -> Limit | None:
    if study.side.get(wire.a) != "+" or not study.is_judged_lead(wire):
        return None
    return study.carries_at_most(wire, wire.size) if isinstance(wire.size, Size) else None


def _opens_first(study: Study, wire: Conductor, limit: Limit) -> bool:
    """Whether no more can flow into the wire than it may carry, whatever the loads ask for."""
    return all(
        not is_over(inflow.current_a, limit.value) and not inflow.maybe
        for inflow in reach_of(study).inflows(wire)
    )
