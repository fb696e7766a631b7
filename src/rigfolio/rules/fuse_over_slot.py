"""A fuse or breaker is rated above what its slot is made for.

*Why:* the clips of a slot are made for a current. A larger fuse lets more through, the clips run
hot and cook the bay, and no fuse sees it.
"""

from collections.abc import Iterator

from rigfolio.demand import flows_of, least_rated_a
from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.model import Device, Panel
from rigfolio.protection import (
    exposures_of,
    fuse_or_copper,
    is_let_by,
    largest_fuse_of,
    need_of,
    slot_limit_a,
    smaller_device,
    sure_a,
)
from rigfolio.rule import Rule
from rigfolio.sizing import asked_of
from rigfolio.standard_sizes import rating_below
from rigfolio.study import Study
from rigfolio.units import show_against, show_limit

RULE = Rule(
    "fuse-over-slot",
    Severity.DANGER,
    Citation("rating of a slot by the maker of the panel", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every device in a slot against the rating of the slot."""
    mended = _mended_by_wire(study)
    for circuit in study.rig.circuits:
        device, panel = study.device(circuit.device), study.panel(circuit.panel)
        if device is None or panel is None or not isinstance(device.rating_a, float):
            continue
        slot_a = slot_limit_a(study, device)
        if slot_a is None or device.rating_a <= slot_a or device.about.name in mended:
            continue
        rated, made_for = show_against(device.rating_a, slot_a, "A")
        yield RULE.finding(
            f"{rated} {device.kind} in slot `{device.about.name}` made for {made_for}",
            device.rating_span or device.about.span,
            others=[(panel.about.span, f"slots of {made_for}")],
            fix=_fix(study, device, panel, slot_a),
            numbers=(("rating_a", device.rating_a), ("slot_a", slot_a)),
        )


def _mended_by_wire(study: Study) -> set[str]:
    """Devices that the wire behind them already asks to be made smaller than the slot."""
    found = set()
    for exposure in exposures_of(study):
        if exposure.fault != "over" or len(exposure.devices) > 1:
            continue
        device = exposure.devices[0]
        slot_a = slot_limit_a(study, device)
        smaller = rating_below(sure_a(exposure.limit), device)
        needed_a = flows_of(study).demand(device.about.name).current_a
        if slot_a is not None and smaller is not None and needed_a <= smaller <= slot_a:
            found.add(device.about.name)
    return found


def _fix(study: Study, device: Device, panel: Panel, slot_a: float) -> Fix:
    """A fuse that the slot takes, with wire that bears it; a line of its own beyond the slot."""
    asked = asked_of(study, device)
    outside = (
        f"feed it from outside the panel: {asked[1] or need_of(study, [device.about.name])}, a "
        f"slot of `{panel.about.name}` gives {show_limit(slot_a, 'A')}"
    )
    bears = [
        limit.value
        for circuit in study.rig.begun.get(device.about.name, ())
        if (limit := largest_fuse_of(study, circuit)) is not None
    ]
    smaller = rating_below(min([slot_a, *bears]), device)
    if smaller is not None and smaller >= asked[0]:
        return smaller_device(study, device, smaller, otherwise=outside)
    over = [one for one in exposures_of(study) if is_let_by(device, one)]
    thin = {one.wire.name: one for one in sorted(over, key=lambda one: one.limit.value)}
    if thin:
        # The wire asks for another fuse as well: one answer serves slot, wire and load.
        thinnest = min(over, key=lambda one: one.limit.value)
        own_a = sure_a(thinnest.limit) - thinnest.others_a
        return fuse_or_copper(study, [one.wire for one in thin.values()], own_a, [device], asked)
    within = rating_below(slot_a, device)
    needed_a = least_rated_a(study, device.about.name)
    if within is None or within < needed_a:
        return Fix(outside)
    return smaller_device(study, device, within, otherwise=outside)
