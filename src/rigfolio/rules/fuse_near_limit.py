"""A load that runs on for hours takes more of a fuse than a fuse carries for hours.

Only loads are looked at of which the text says that they run on: `continuous`, or for three hours a
day or more. The fuse of a charger's own line, and that before a converter, is its maker's choice
and left out. So is a fuse that several circuits hang on, which need not run together.

*Why:* a fuse is rated at 25 °C in free air. Close to its rating it runs hot, ages, and opens on a
warm day with nothing wrong behind it.
"""

from collections.abc import Iterator

from rigfolio.demand import least_rated_a, told_hours_a
from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.model import Device
from rigfolio.network import edge_name
from rigfolio.protection import (
    OUTSIDE,
    exposures_of,
    largest_fuse_of,
    led_elsewhere,
    or_parted,
    other_rating,
    slot_limit_a,
)
from rigfolio.rule import Rule
from rigfolio.standard_sizes import rating_above
from rigfolio.study import Study
from rigfolio.units import apart, is_over, show_limit

RULE = Rule(
    "fuse-near-limit",
    Severity.ADVICE,
    Citation("share of its rating that a fuse carries for hours", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every device of one circuit against its loads that run on for hours.

    Where a device lets too much into a wire, that is told, and nothing larger is offered.
    """
    share = study.book.continuous_share()
    over = {d.about.name for e in exposures_of(study) if e.fault == "over" for d in e.devices}
    for device in study.rig.devices:
        rated_a = device.rating_a
        if not device.protects or not isinstance(rated_a, float) or device.about.name in over:
            continue
        current_a = told_hours_a(study, device.about.name)
        most_a = rated_a * share.value
        if not is_over(current_a, most_a) or is_over(current_a, rated_a):
            continue
        yield RULE.finding(
            f"{apart(current_a, most_a, 'A')} for hours through a {show_limit(rated_a, 'A')} "
            f"{device.kind}, {show_limit(most_a, 'A')} are {show_limit(share.value, '%')} of it",
            device.rating_span or device.about.span,
            source=share.source,
            fix=_fix(study, device),
            numbers=(("current_a", current_a), ("most_a", most_a)),
        )


def _fix(study: Study, device: Device) -> Fix:
    """The next larger device where every wire behind it and the slot allow that."""
    slot_a = slot_limit_a(study, device)
    above = rating_above(least_rated_a(study, device.about.name), device)
    if above is not None and slot_a is not None and is_over(above, slot_a):
        outside = led_elsewhere(study, [edge_name(device)], OUTSIDE)
        return Fix(f"{outside}: the slot gives {show_limit(slot_a, 'A')}")
    larger = "thicker wire and the next larger fuse that it allows"
    left = or_parted(study, [edge_name(device)], larger)
    circuits = study.rig.begun.get(device.about.name, ())
    limit = largest_fuse_of(study, circuits[0]) if circuits else None
    if above is not None and limit is not None and not limit.is_broken_by(above):
        return other_rating(device, above, ", its wires allow that", left)
    return Fix(left)
