"""A wire, switch or fuse between solar modules and their controller bears no bright sun.

Modules give more than their label says where a cloud's edge, snow or water adds light, and for
hours. Wires and switches are made for a quarter more than the short-circuit current, and a fuse in
the way for a quarter more than that again. What does not bear the current of the label is told
elsewhere, as a danger or a fault.

*Why:* a wire on a hot roof has nothing to spare, and a fuse that ages opens at noon in summer.
"""

from collections.abc import Iterator

from rigfolio.demand import bright_need, flows_of
from rigfolio.findings import Citation, Finding, Fix, Severity, Unknown
from rigfolio.model import Conductor, Device
from rigfolio.network import edge_name
from rigfolio.protection import copper, other_rating, sun_sides
from rigfolio.rule import Rule
from rigfolio.standard_sizes import rating_above
from rigfolio.study import Study
from rigfolio.units import apart, is_over, show_limit
from rigfolio.wording import carrying, name_of, with_kind

RULE = Rule(
    "bright-sun",
    Severity.ADVICE,
    Citation("short-circuit current of the modules and more against what carries it", "memory"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every wire and device that nothing but arrays drives through."""
    if not sun_sides(study):
        return
    for wire in study.rig.conductors:
        if study.is_judged_lead(wire):
            yield from _wire(study, wire)
    for device in study.rig.devices:
        yield from _device(study, device)


def _wire(study: Study, wire: Conductor) -> Iterator[Finding]:
    need = bright_need(study, wire)
    carries = None if isinstance(wire.size, Unknown) else study.carries_all_of(wire, wire.size)
    if carries is None or need is None:
        return
    bears_a = carries.value
    is_told = carries.is_broken_by(flows_of(study).charge_a(wire.name))
    if carries.is_broken_by(need.value) and not is_told:
        yield RULE.finding(
            f"{apart(need.value, bears_a, 'A')} in bright sun in {name_of(wire)}, it may carry "
            f"{show_limit(bears_a, 'A')}",
            wire.size_span,
            here=carrying(carries),
            source=need.source,
            fix=copper(study, [wire], need.value, study.carries_all_of),
            numbers=(("demand_a", need.value), ("limit_a", bears_a)),
        )


def _device(study: Study, device: Device) -> Iterator[Finding]:
    rating_a, need = device.rating_a, bright_need(study, device)
    if not isinstance(rating_a, float) or need is None:
        return
    given_a = flows_of(study).charge_a(edge_name(device))
    if not is_over(given_a, rating_a) and is_over(need.value, rating_a):
        what = with_kind(device.kind, device.about.name)
        yield RULE.finding(
            f"{what} of {show_limit(rating_a, 'A')} in the way of modules that ask for "
            f"{apart(need.value, rating_a, 'A')} in bright sun",
            device.rating_span or device.about.span,
            source=need.source,
            fix=_fix(device, need.value),
            numbers=(("demand_a", need.value), ("rating_a", rating_a)),
        )


def _fix(device: Device, needed_a: float) -> Fix:
    if not device.protects:
        return Fix(f"a {device.kind} made for more")
    by_hand = f"a {device.kind} of more, no larger than its wire and the modules bear"
    above = rating_above(needed_a, device)
    return Fix(by_hand) if above is None else other_rating(device, above, otherwise=by_hand)
