"""A wire of the plus side must carry more than it may with what can run at one time.

*Why:* a feeder behind a large fuse is not protected against a slow overload of many small loads.
Branch fuses that add up to more than the main are no fault; loads that do are.
"""

import math
from collections.abc import Iterator

from rigfolio.findings import Citation, Finding, Severity
from rigfolio.protection import copper, exposures_of, overload_out
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.units import apart
from rigfolio.wording import bears, carrying, name_of

RULE = Rule(
    "wire-overloaded",
    Severity.DANGER,
    Citation("demand at one time against what the conductor may carry", "common practice"),
    of_plan=True,
)


def check(study: Study) -> Iterator[Finding]:
    """Every conductor of the plus side against its demand.

    Where the device before a wire opens first, or lets too much into it, the device is told of.
    Where the book lets a device be larger than what a wire carries both are told: what mends the
    one need not mend the other.
    """
    told = {
        e.wire.name
        for e in exposures_of(study)
        if not e.limit.of_device
        and (e.fault == "over" or (e.fault == "bare" and math.isfinite(e.current_a)))
    }
    for wire in study.rig.conductors:
        over = overload_out(study, wire) if wire.name not in told else None
        if over is None:
            continue
        demand_a, limit = over.demand_a, over.limit
        yield RULE.finding(
            f"{apart(demand_a, limit.value, 'A')} at one time in {name_of(wire)}, it may carry "
            f"{bears(limit)}",
            wire.size_span,
            here=carrying(limit),
            source=limit.source,
            fix=copper(study, [wire], demand_a, study.carries_all_of),
            numbers=(("demand_a", demand_a), ("limit_a", limit.value)),
        )
