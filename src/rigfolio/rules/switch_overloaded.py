"""A disconnect, selector, relay, switch, shunt or plug carries more than it is made for.

The start of an engine lasts for seconds and counts for no demand. Where it runs through more than
a switch is made for, what that bears for seconds is to be seen from its maker.

*Why:* its contacts heat and weld; a battery disconnect that has welded no longer disconnects.
"""

from collections.abc import Callable, Iterator

from rigfolio.demand import flows_of
from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.model import Device, Load
from rigfolio.network import edge_name
from rigfolio.protection import whole_starts
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.units import apart, is_over, show_added, show_limit, show_load
from rigfolio.wording import label_of, with_kind

RULE = Rule(
    "switch-overloaded",
    Severity.FAULT,
    Citation("demand at one time against the rating of the device", "common practice"),
    also=(Severity.ADVICE,),
)
_NO_START = (0.0, None)


def check(study: Study) -> Iterator[Finding]:
    """Every series device that does not protect against what runs through it."""
    flows, starts = flows_of(study), whole_starts(study)
    over = set()
    for device, demand_a, rating_a in _over(study, lambda edge: flows.demand(edge).current_a):
        over.add(device.about.name)
        yield RULE.finding(
            f"{apart(demand_a, rating_a, 'A')} at one time through {_which(study, device)} "
            f"made for {show_limit(rating_a, 'A')}",
            device.rating_span or device.about.span,
            fix=Fix(f"a {device.kind} of {show_added(demand_a, 'A')} or more"),
            numbers=(("demand_a", demand_a), ("rating_a", rating_a)),
        )
    if not starts:
        return
    for device, start_a, rating_a in _over(study, lambda edge: starts.get(edge, _NO_START)[0]):
        if device.about.name not in over:
            yield _started(study, device, rating_a, start_a, starts[edge_name(device)][1])


def _over(study: Study, asked_a: Callable[[str], float]) -> Iterator[tuple[Device, float, float]]:
    """The devices through which more runs than they are made for, and both [A].

    Of a plug or selector the worst pin or bank is told.
    """
    worst: dict[str, tuple[Device, float, float]] = {}
    for device in study.rig.devices:
        if not device.protects and isinstance(device.rating_a, float):
            through_a = asked_a(edge_name(device))
            held = worst.get(device.about.name)
            if held is None or through_a > held[1]:
                worst[device.about.name] = (device, through_a, device.rating_a)
    return (one for one in worst.values() if is_over(one[1], one[2]))


def _started(study: Study, device: Device, rating_a: float, start_a: float, load: Load) -> Finding:
    return RULE.finding(
        f"`{label_of(load)}` starts at {show_load(start_a, 'A')} through "
        f"{_which(study, device)} made for {show_limit(rating_a, 'A')}; what that bears for "
        "seconds is not said",
        device.rating_span or device.about.span,
        others=[(load.about.span, "starts here")],
        severity=Severity.ADVICE,
        fix=Fix(f"see from its maker that it bears {show_added(start_a, 'A')} for a start"),
        numbers=(("start_a", start_a), ("rating_a", rating_a)),
    )


def _which(study: Study, device: Device) -> str:
    """The device by its name; of one with several ways which one it is, and its side."""
    name, way = device.about.name, device.line.removesuffix(".line")
    if way in (name, device.line):
        return with_kind(device.kind, name)
    side = {"+": ", plus,", "-": ", minus,"}.get(study.side.get(device.line, ""), "")
    return f"`{way}` of {with_kind(device.kind, name)}{side}"
