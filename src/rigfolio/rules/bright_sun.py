"""A wire, switch or fuse between solar modules and their controller bears no bright sun.

Modules give more than their label says where a cloud's edge, snow or water adds light, and for
hours. Wires and switches are made for a quarter more than the short-circuit current, and a fuse in
the way for a quarter more than that again. What does not bear the current of the label is told
elsewhere, as a danger or a fault.

*Why:* a wire on a hot roof has nothing to spare, and a fuse that ages opens at noon in summer.
"""

from collections.abc import Iterator

from rigfolio.books import Limit, sun_figure
from rigfolio.demand import flows_of
from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.model import Conductor, Device
from rigfolio.network import edge_name
from rigfolio.protection import apart, carrying, name_of, sun_sides
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.units import is_over, show_limit
from rigfolio.wording import with_kind

RULE = Rule(
    "bright-sun",
    Severity.ADVICE,
    Citation("short-circuit current of the modules and more against what carries it", "memory"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every wire and device that nothing but arrays drives through."""
    if not sun_sides(study):
        return
    bright = sun_figure("bright", "factor")
    for wire in study.rig.conductors:
        if wire.a in study.sunlit and study.is_judged_lead(wire):
            yield from _wire(study, wire, bright)
    for device in study.rig.devices:
        if device.line in study.sunlit:
            yield from _device(study, device, bright)


def _wire(study: Study, wire: Conductor, bright: Limit) -> Iterator[Finding]:
    carries = study.carries(wire)
    given_a = flows_of(study).charge_a(wire.name)
    if carries is None or is_over(given_a, carries.value * wire.count):
        return
    bright_a, limit_a = given_a * bright.value, carries.value * wire.count
    if is_over(bright_a, limit_a):
        yield RULE.finding(
            f"{apart(bright_a, limit_a, 'A')} in bright sun in {name_of(wire)}, it may carry "
            f"{show_limit(limit_a, 'A')}",
            wire.size_span,
            here=carrying(carries),
            source=bright.source,
            fix=Fix("thicker wire"),
            numbers=(("demand_a", bright_a), ("limit_a", limit_a)),
        )


def _device(study: Study, device: Device, bright: Limit) -> Iterator[Finding]:
    given_a, rating_a = flows_of(study).charge_a(edge_name(device)), device.rating_a
    if not isinstance(rating_a, float) or is_over(given_a, rating_a):
        return
    source, need_a = bright.source, given_a * bright.value
    if device.protects:
        more = sun_figure("string_fuse", "factor")
        source, need_a = more.source, need_a * more.value
    if is_over(need_a, rating_a):
        what = with_kind(device.kind, device.about.name)
        yield RULE.finding(
            f"{what} of {show_limit(rating_a, 'A')} in the way of modules that ask for "
            f"{apart(need_a, rating_a, 'A')} in bright sun",
            device.rating_span or device.about.span,
            source=source,
            fix=Fix(f"a {device.kind} of more, no larger than its wire and the modules bear")
            if device.protects
            else Fix(f"a {device.kind} made for more"),
            numbers=(("demand_a", need_a), ("rating_a", rating_a)),
        )
