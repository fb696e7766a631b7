"""The loads of a panel together draw more than the panel is made for.

*Why:* the bus and the feed stud of a panel are made for a current, whatever its slots add up to.
"""

from collections.abc import Iterator

from rigfolio.findings import Finding, Fix, Severity, Source
from rigfolio.study.rule import Rule
from rigfolio.study.study import Study
from rigfolio.units import show

RULE = Rule(
    "panel-overloaded",
    Severity.DANGER,
    Source("demand at one time against the rating of the panel", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every panel against the demand of its slots."""
    for panel in study.rig.panels:
        if not isinstance(panel.total_a, float):
            continue
        circuits = [c for c in study.rig.circuits if c.panel == panel.about.name]
        demand_a = study.flows.together_a([c.device for c in circuits])
        if demand_a <= panel.total_a:
            continue
        yield RULE.finding(
            f"loads of {show(demand_a, 'A')} at one time on panel `{panel.about.name}` made for "
            f"{show(panel.total_a, 'A')} in all",
            panel.about.span,
            fix=Fix("feed the largest circuits from another panel or straight from the bus"),
            numbers=(("demand_a", demand_a), ("total_a", panel.total_a)),
        )
