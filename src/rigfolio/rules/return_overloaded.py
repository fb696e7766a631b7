"""A return must carry more than it may, with what can be expected to run at one time.

*Why:* a return that circuits share carries the sum of them, and no fuse watches it.
"""

from collections.abc import Iterator

from rigfolio.findings import Citation, Finding, Severity
from rigfolio.protection import copper, overload_back, returns_of
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.units import apart
from rigfolio.wording import bears, carrying, name_of

RULE = Rule(
    "return-overloaded",
    Severity.DANGER,
    Citation("demand at one time against what the conductor may carry", "common practice"),
    of_plan=True,
)


def check(study: Study) -> Iterator[Finding]:
    """Every stated conductor of the minus side against its demand.

    Where the fuses on the way out let even more come back, that is told instead, unless the book
    lets a fuse be larger than what a wire carries: then both figures are told.
    """
    for wire in study.rig.conductors:
        over = overload_back(study, wire)
        if over is None:
            continue
        demand_a, limit = over.demand_a, over.limit
        back = returns_of(study)[wire.name]
        shared = f" from {len(back.circuits)} circuits" if len(back.circuits) > 1 else ""
        yield RULE.finding(
            f"{apart(demand_a, limit.value, 'A')} come back at one time through "
            f"{name_of(wire)}{shared}, it may carry {bears(limit)}",
            wire.size_span,
            here=carrying(limit),
            source=limit.source,
            fix=copper(study, [wire], demand_a, study.carries_all_of),
            numbers=(("demand_a", demand_a), ("limit_a", limit.value)),
        )
