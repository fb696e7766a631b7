"""What runs through a fuse or breaker in use is more than it is rated for.

*Why:* it opens in use, or ages until it does. The next larger fuse is no cure unless the wire
behind it allows it.
"""

import math
from collections.abc import Iterable, Iterator
from functools import partial

from rigfolio.demand import flows_of, least_rated_a
from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.model import Conductor, Device
from rigfolio.network import edge_name, is_guard
from rigfolio.operating import user_of, watts_words
from rigfolio.protection import (
    OUTSIDE,
    copper,
    copper_left,
    exposures_of,
    fuse_left,
    is_cranking,
    led_elsewhere,
    limit_in,
    limit_of,
    other_rating,
    parted,
    reach_of,
    slot_limit_a,
    unread_source,
)
from rigfolio.rule import Rule
from rigfolio.sizing import chosen_of
from rigfolio.standard_sizes import rating_above
from rigfolio.study import Study
from rigfolio.units import apart, is_over, show_added, show_limit
from rigfolio.wording import listed

RULE = Rule(
    "fuse-overloaded",
    Severity.FAULT,
    Citation("demand of all loads behind a device against its rating", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every protecting device against the demand that runs through it.

    A device that lets too much into a wire gets its answer there.
    """
    over = {d.about.name for e in exposures_of(study) if e.fault == "over" for d in e.devices}
    charged = _on_charger_wires(study)
    for device in study.rig.devices:
        name = device.about.name
        if not device.protects or not isinstance(device.rating_a, float) or name in over:
            continue
        demand = flows_of(study).demand(name)
        charges = demand.charge_a > demand.loads_a
        if not is_over(demand.current_a, device.rating_a) or (charges and name in charged):
            continue
        need, rated = (
            apart(demand.current_a, device.rating_a, "A"),
            show_limit(device.rating_a, "A"),
        )
        headline = f"loads of {need} behind a {rated} {device.kind}"
        if charges:
            chargers = flows_of(study).charges[name].sources
            headline = f"{listed(chargers)} can drive {need} through a {rated} {device.kind}"
        yield RULE.finding(
            headline,
            device.rating_span or device.about.span,
            here=f"carries {need} in use{'' if charges else _watts(study, name)}",
            fix=_fix(study, device, least_rated_a(study, name)),
            numbers=(("demand_a", demand.current_a), ("rating_a", device.rating_a)),
        )


def _watts(study: Study, name: str) -> str:
    """The volts that make amperes of the watts behind a device, where there is one such load."""
    users = flows_of(study).users(name)
    loads = [one for one in study.rig.loads if user_of(one) in users]
    words = [watts for one in loads if (watts := watts_words(study, one))]
    return f": {words[0]}" if len(words) == len(loads) == 1 else ""


def _on_charger_wires(study: Study) -> set[str]:
    """Devices at the end of a wire that its charger overloads, of which another rule tells."""
    ends = {
        end
        for e in exposures_of(study)
        if e.fault == "bare" and math.isfinite(e.current_a)
        for end in (e.wire.a, e.wire.b)
    }
    return {d.about.name for d in study.rig.devices if d.line in ends or d.load in ends}


def _fix(study: Study, device: Device, needed_a: float) -> Fix:
    least = rating_above(needed_a, device)
    above = chosen_of(study, device) or least
    slot_a = slot_limit_a(study, device)
    if slot_a is not None and (above is None or above > slot_a):
        outside = led_elsewhere(study, [edge_name(device)], OUTSIDE)
        return Fix(f"{outside}: the slot gives {show_limit(slot_a, 'A')}")
    if above is None:
        left = fuse_left(study, device, needed_a)
        return Fix(f"{left}: no {device.kind} of this kind carries {show_added(needed_a, 'A')}")
    unread = unread_source(study, {edge_name(device)})
    if unread:
        return Fix(f"read first what `{unread}` gives")
    wires, less = _behind(study, device), parted(study, [edge_name(device)])
    if any(limit_of(study, wire) is None for wire in wires):
        return Fix(f"{less}; a larger one only if every wire behind it allows that")
    # The one that `size` chooses, which spares what may run for hours; else the least, as there.
    for rating_a in (above, least):
        if rating_a is not None and not _too_thin(study, wires, device, rating_a):
            return other_rating(device, rating_a, ", its wires allow that", less)
    thin = _too_thin(study, wires, device, above)
    most_a = max(_then(study, wire, device, above) for wire in thin)
    thicker = copper(study, thin, most_a, partial(limit_in, study))
    larger = other_rating(device, above)
    if not thicker.changes:
        left = copper_left(study, thin, most_a, partial(limit_in, study), larger.text)
        return Fix(f"no stock size carries {show_added(most_a, 'A')}: {left}")
    changes = (*thicker.changes, *larger.changes)
    return Fix(f"{thicker.text}, and {larger.text}", "ask", changes, otherwise=less)


def _too_thin(
    study: Study, wires: Iterable[Conductor], device: Device, rating_a: float
) -> list[Conductor]:
    """The wires that do not bear what could flow into them if a device had another rating [A]."""
    limits = [(wire, limit_of(study, wire)) for wire in wires]
    return [
        wire
        for wire, limit in limits
        if limit is not None and limit.is_broken_by(_then(study, wire, device, rating_a))
    ]


def _then(study: Study, wire: Conductor, device: Device, above_a: float) -> float:
    """What could flow into a wire if a device were larger [A]."""
    rated_a = device.rating_a if isinstance(device.rating_a, float) else 0.0
    return max(
        inflow.current_a - rated_a + above_a if device in inflow.by else 0.0
        for inflow in reach_of(study).inflows(wire)
    )


def _behind(study: Study, device: Device) -> list[Conductor]:
    """The conductors on both sides of a device up to the next device that protects."""
    found: dict[str, Conductor] = {}
    starts = [device.load] if device.in_slot else [device.line, device.load]
    ends = study.net.walk(starts, is_guard)
    for end in ends:
        for edge, _ in study.net.steps(end):
            if not isinstance(edge, Conductor) or is_cranking(study, edge):
                continue
            if study.is_judged_lead(edge):
                found[edge.name] = edge
    return list(found.values())
