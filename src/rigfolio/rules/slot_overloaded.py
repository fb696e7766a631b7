"""What runs through a slot in use is more than the slot is made for.

*Why:* the clips of a slot have a rating of their own, whatever fuse sits in them, and run hot above
it. Where the rating of the fuse is known, the fuse tells; this rule tells where it is not.
"""

from collections.abc import Iterator

from rigfolio.demand import flows_of
from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.network import edge_name
from rigfolio.protection import OUTSIDE, led_elsewhere, slot_limit_a
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.units import apart, is_over, show_limit

RULE = Rule(
    "slot-overloaded",
    Severity.FAULT,
    Citation("demand of all loads of a slot against its rating", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every slot with a device of unknown rating against the demand that runs through it."""
    for circuit in study.rig.circuits:
        device, panel = study.device(circuit.device), study.panel(circuit.panel)
        if device is None or panel is None or isinstance(device.rating_a, float):
            continue
        slot_a = slot_limit_a(study, device)
        demand_a = flows_of(study).demand(device.about.name).current_a
        if slot_a is None or not is_over(demand_a, slot_a):
            continue
        yield RULE.finding(
            f"loads of {apart(demand_a, slot_a, 'A')} on slot `{device.about.name}` made for "
            f"{show_limit(slot_a, 'A')}",
            circuit.span,
            others=[(panel.about.span, f"slots of {show_limit(slot_a, 'A')}")],
            fix=Fix(led_elsewhere(study, [edge_name(device)], OUTSIDE)),
            numbers=(("demand_a", demand_a), ("slot_a", slot_a)),
        )
