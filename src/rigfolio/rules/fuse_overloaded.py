"""The loads of a fuse or breaker draw more than it is rated for.

*Why:* it opens in use, or ages until it does. The next larger fuse is no way out unless the wire
behind it allows it.
"""

from collections.abc import Iterator

from rigfolio.findings import Finding, Fix, Severity, Source
from rigfolio.model.graph import Device
from rigfolio.study.rule import Rule
from rigfolio.study.study import Study
from rigfolio.units import show

RULE = Rule(
    "fuse-overloaded",
    Severity.FAULT,
    Source("demand of all loads behind a device against its rating", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every protecting device against the demand that runs through it."""
    for device in study.rig.devices:
        if not device.protects or not isinstance(device.rating_a, float):
            continue
        demand = study.flows.demand(device.about.name)
        if demand.current_a <= device.rating_a:
            continue
        need, rated = show(demand.current_a, "A"), show(device.rating_a, "A")
        yield RULE.finding(
            f"loads of {need} behind a {rated} {device.kind}",
            device.rating_span or device.about.span,
            here=f"carries {need} in use",
            fix=_fix(study, device, demand.current_a),
            numbers=(("demand_a", demand.current_a), ("rating_a", device.rating_a)),
        )


def _fix(study: Study, device: Device, needed_a: float) -> Fix:
    wires = [
        (wire, study.limit(wire))
        for wire in study.rig.conductors
        if study.side.get(wire.a) == "+" and {device.line, device.load} & {wire.a, wire.b}
    ]
    limits = [limit.value for _, limit in wires if limit is not None]
    above = study.fuse_above(needed_a, device.family)
    if above is None:
        return Fix("divide the loads")
    if limits and min(limits) >= above and len(limits) == len(wires):
        return Fix(f"`{device.kind} {show(above, 'A')}`, its wires allow that", "ask")
    return Fix(f"`{device.kind} {show(above, 'A')}` needs thicker wire first; or divide the loads")
