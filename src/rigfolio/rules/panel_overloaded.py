"""The loads of a panel together draw more than the panel is made for.

*Why:* the bus and the feed stud of a panel are made for a current, whatever its slots add up to.
"""

from collections.abc import Iterator

from rigfolio.demand import flows_of
from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.units import apart, is_over, show_limit
from rigfolio.wording import listed

RULE = Rule(
    "panel-overloaded",
    Severity.DANGER,
    Citation("demand at one time against the rating of the panel", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every panel against the demand of its slots."""
    slots: dict[str, list[str]] = {}
    for device in study.rig.devices:
        if device.in_slot:
            slots.setdefault(device.line, []).append(device.about.name)
    for panel in study.rig.panels:
        names = slots.get(panel.bus, [])
        if not isinstance(panel.total_a, float) or not names:
            continue
        demand_a = flows_of(study).together_a(names)
        if not is_over(demand_a, panel.total_a):
            continue
        largest = _largest(study, names, panel.total_a)
        yield RULE.finding(
            f"loads of {apart(demand_a, panel.total_a, 'A')} at one time on panel "
            f"`{panel.about.name}` made for {show_limit(panel.total_a, 'A')} in all",
            panel.about.span,
            fix=Fix(f"feed {listed(largest)} from outside this panel"),
            numbers=(("demand_a", demand_a), ("total_a", panel.total_a)),
        )


def _largest(study: Study, names: list[str], total_a: float) -> list[str]:
    """The fewest slots that have to go, the largest first."""
    stay = sorted(names, key=lambda name: flows_of(study).demand(name).loads_a)
    gone: list[str] = []
    while stay and is_over(flows_of(study).together_a(stay), total_a):
        gone.append(stay.pop())
    return gone
