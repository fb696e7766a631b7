"""A disconnect, selector, relay, switch, shunt or plug carries more than it is made for.

*Why:* its contacts heat and weld; a battery disconnect that has welded no longer disconnects.
"""

from collections.abc import Iterator

from rigfolio.findings import Finding, Fix, Severity, Source
from rigfolio.study.rule import Rule
from rigfolio.study.study import Study
from rigfolio.units import show

RULE = Rule(
    "switch-overloaded",
    Severity.FAULT,
    Source("demand at one time against the rating of the device", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every series device that does not protect against the demand that runs through it."""
    for device in study.rig.devices:
        if device.protects or not isinstance(device.rating_a, float):
            continue
        demand_a = study.flows.demand(device.about.name).current_a
        if demand_a <= device.rating_a:
            continue
        yield RULE.finding(
            f"{show(demand_a, 'A')} at one time through {device.kind} `{device.about.name}` made "
            f"for {show(device.rating_a, 'A')}",
            device.rating_span or device.about.span,
            fix=Fix(f"a {device.kind} of {show(demand_a, 'A')} or more"),
            numbers=(("demand_a", demand_a), ("rating_a", device.rating_a)),
        )
