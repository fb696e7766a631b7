"""A disconnect, selector, relay, switch, shunt or plug carries more than it is made for.

*Why:* its contacts heat and weld; a battery disconnect that has welded no longer disconnects.
"""

from collections.abc import Iterator

from rigfolio.demand import flows_of
from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.model import Device
from rigfolio.network import edge_name
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.units import apart, is_over, show_added, show_limit
from rigfolio.wording import with_kind

RULE = Rule(
    "switch-overloaded",
    Severity.FAULT,
    Citation("demand at one time against the rating of the device", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every series device that does not protect against the demand that runs through it.

    Of a plug or selector the worst pin or bank is told.
    """
    worst: dict[str, tuple[Device, float, float]] = {}
    for device in study.rig.devices:
        if not device.protects and isinstance(device.rating_a, float):
            demand_a = flows_of(study).demand(edge_name(device)).current_a
            held = worst.get(device.about.name)
            if held is None or demand_a > held[1]:
                worst[device.about.name] = (device, demand_a, device.rating_a)
    for device, demand_a, rating_a in worst.values():
        if not is_over(demand_a, rating_a):
            continue
        yield RULE.finding(
            f"{apart(demand_a, rating_a, 'A')} at one time through {_which(study, device)} "
            f"made for {show_limit(rating_a, 'A')}",
            device.rating_span or device.about.span,
            fix=Fix(f"a {device.kind} of {show_added(demand_a, 'A')} or more"),
            numbers=(("demand_a", demand_a), ("rating_a", rating_a)),
        )


def _which(study: Study, device: Device) -> str:
    """The device by its name; of one with several ways which one it is, and its side."""
    name, way = device.about.name, device.line.removesuffix(".line")
    if way in (name, device.line):
        return with_kind(device.kind, name)
    side = {"+": ", plus,", "-": ", minus,"}.get(study.side.get(device.line, ""), "")
    return f"`{way}` of {with_kind(device.kind, name)}{side}"
