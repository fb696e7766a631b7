"""More can flow into a panel than the panel is made for.

*Why:* the bar and the feed stud of a panel are made for a current. Where the fuses in its slots add
up to more, only the device ahead of it keeps the bar from running hot, and that one is too large.
"""

import math
from collections.abc import Iterator

from rigfolio.demand import flows_of
from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.model import Device, Panel
from rigfolio.protection import exposures_of, rating, reach_of, smaller_device
from rigfolio.rule import Rule
from rigfolio.standard_sizes import rating_below
from rigfolio.study import Study
from rigfolio.units import show_against, show_load

RULE = Rule(
    "fuse-over-panel",
    Severity.FAULT,
    Citation("device ahead of a panel against the rating of its bar", "common practice"),
)
_SLACK = 1.0 + 1e-9


def check(study: Study) -> Iterator[Finding]:
    """Every panel whose slots could draw more than its bar is made for, by each device ahead of it.

    What a charger adds to the battery counts for itself: the two seldom give all at one time, and
    the loads are the same. Where the loads do so already, `panel-overloaded` says it.
    """
    for panel in study.rig.panels:
        if not isinstance(panel.total_a, float):
            continue
        above_a = panel.total_a * _SLACK
        slots = [one for one in study.rig.devices if one.in_slot and one.line == panel.bus]
        demand_a = flows_of(study).together_a([one.about.name for one in slots])
        if demand_a > above_a or math.fsum(map(_at_most_a, slots)) <= above_a:
            continue
        by = reach_of(study).into([panel.bus]).by
        large = [one for one in by if isinstance(one, Device) and above_a < rating(one) < math.inf]
        if large and not _mended_by_wire(study, large, panel.total_a):
            yield _finding(study, panel, large[0], panel.total_a)


def _finding(study: Study, panel: Panel, device: Device, total_a: float) -> Finding:
    limit = study.book.panel_share()
    rated, made_for = show_against(rating(device), total_a, "A")
    return RULE.finding(
        f"{rated} {device.kind} ahead of panel `{panel.about.name}` made for {made_for} in all",
        device.rating_span or device.about.span,
        others=[(panel.about.span, f"made for {made_for}")],
        source=limit.source if limit is not None else RULE.source,
        fix=_fix(study, device, total_a),
        numbers=(("rating_a", rating(device)), ("total_a", total_a)),
    )


def _at_most_a(slot: Device) -> float:
    """What a slot lets through [A]; a fuse that nobody has read lets everything through."""
    return slot.rating_a if isinstance(slot.rating_a, float) else math.inf


def _mended_by_wire(study: Study, devices: list[Device], total_a: float) -> bool:
    """Whether the wire behind a device already asks for one that is small enough for the panel."""
    names = {one.about.name for one in devices}
    return any(
        exposure.fault == "over"
        and exposure.limit.value <= total_a * _SLACK
        and names & {one.about.name for one in exposure.devices}
        for exposure in exposures_of(study)
    )


def _fix(study: Study, device: Device, total_a: float) -> Fix:
    """A smaller device where the loads allow it, else a panel that is made for more."""
    otherwise = f"a panel that is made for {show_load(rating(device), 'A')}, or loads fed elsewhere"
    smaller = rating_below(total_a, device)
    if smaller is not None and smaller >= flows_of(study).demand(device.about.name).current_a:
        return smaller_device(study, device, smaller, otherwise=otherwise)
    return Fix(otherwise)
