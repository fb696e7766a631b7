"""A fuse or breaker lets more current through than the wire behind it may carry.

The wire is the weakest part then: an overload or a short heats it past what its insulation
stands, and the fuse looks on. A thinner wire further on, a second source that feeds the same wire
and fuses side by side are found the same way.

The lead of a battery with its fuse at the battery is fed from its other end too, where more
batteries and chargers stand on the same bar. What runs *through* the lead runs through its own
fuse; what comes from the bar can only feed a short on the lead itself. There the fuse of every
other battery opens, and what is left is what the chargers give. Where no fuse of these is above
what the lead may carry, nor all that is left then, only a fault of just the wrong resistance draws
the sum for long. The rule books held here do not say how such fuses add up; a fuse at its battery
is what they ask for, and how such banks are built. So this is advice: a second fuse at the bar end
closes it. It stays a danger where one fuse alone, or the chargers alone, are more than the lead may
carry, where a battery comes by two of the fuses, and on every wire that loads hang on.

Fuses that were found larger than what belongs there let their own ratings through until they are
out again: what they let into a wire together, or beside another supply, is told here.

A fuse further up that nobody has read may let less through than the wire may carry, or not: then it
cannot be judged, and a fuse in this place that fits its own wire serves whatever that one is.

*Why:* the fuse is there for the wire, not for the load. A larger fuse that "stops the nuisance" is
how fires start.
"""

from collections import Counter
from collections.abc import Iterable, Iterator

from rigfolio.findings import Citation, Finding, Fix, Severity, Span
from rigfolio.model import is_found_larger
from rigfolio.protection import (
    Exposure,
    exposures_of,
    found_letting_in,
    fuse_or_copper,
    hidden_of,
    refit_words,
    slot_limit_a,
    summed_of,
    sure_a,
)
from rigfolio.record import replace
from rigfolio.rule import Rule
from rigfolio.sizing import asked_of
from rigfolio.standard_sizes import rating_below
from rigfolio.study import Study, fused_as_found
from rigfolio.units import Size, show_against, show_limit, show_load
from rigfolio.wording import carrying, may_bear, name_of, place

RULE = Rule(
    "fuse-over-wire",
    Severity.DANGER,
    Citation("the protecting device opens before the wire is harmed", "common practice"),
    also=(Severity.UNKNOWN, Severity.ADVICE),
    of_plan=True,
)


_BATTERY_LEADS = Citation(
    "a battery has its fuse at its own post (NFPA 70 240.21(H) permits that)", "memory"
)


_UNREAD = "a device before it that nobody has read may let less through"


def check(study: Study) -> Iterator[Finding]:
    """Devices that let too much through, each once, with the thinnest wire behind it."""
    for group in _groups(exposures_of(study)):
        yield _finding(study, group)
    for group in _groups(found_letting_in(study)):
        yield _until_refit(study, group)
    for group in _groups(summed_of(study)):
        yield _summed(study, group)
    for group in _groups(hidden_of(study)):
        found = _finding(study, group)
        yield replace(
            found,
            severity=Severity.UNKNOWN,
            headline=f"cannot judge: {found.headline}; {_UNREAD}",
        )


def _groups(exposures: Iterable[Exposure]) -> Iterator[list[Exposure]]:
    """Wires behind the same devices, the thinnest first."""
    groups: dict[tuple[str, ...], dict[str, Exposure]] = {}
    for exposure in exposures:
        if exposure.fault == "over":
            names = tuple(sorted(device.about.name for device in exposure.devices))
            groups.setdefault(names, {}).setdefault(exposure.wire.name, exposure)
    for group in groups.values():
        yield sorted(group.values(), key=lambda one: one.limit.value)


def _until_refit(study: Study, group: list[Exposure]) -> Finding:
    """What devices that were found let through together: those that belong there are enough."""
    rig, first = study.rig, group[0]
    names = {device.about.name for device in first.devices}
    larger = [one for one in rig.by_name.devices.values() if is_found_larger(rig, one)]
    # In a ring the devices that bound a part of it may be others than those that were found.
    found = [one for one in larger if one.about.name in names] or larger
    told = _finding(fused_as_found(study), group)
    return replace(told, fix=Fix(refit_words(study, found)), until_pulled=True)


def _summed(study: Study, group: list[Exposure]) -> Finding:
    """A lead of a battery that others feed from its far end, no one of them too much for it."""
    found = _finding(study, group, " as long as no fuse opens")
    first = group[0]
    most_a = rating_below(sure_a(first.limit))
    most = "" if most_a is None else f", {show_limit(most_a, 'A')} at most,"
    return replace(
        found,
        severity=Severity.ADVICE,
        source=_BATTERY_LEADS,
        fix=Fix(f"a second fuse{most} for {name_of(first.wire)} at {place(study.rig, first.end)}"),
    )


def _finding(study: Study, group: list[Exposure], while_it: str = "") -> Finding:
    thinnest = group[0]
    wire, limit, devices = thinnest.wire, thinnest.limit, thinnest.devices
    ratings = [d.rating_a for d in devices if isinstance(d.rating_a, float)]
    rated, may = show_against(ratings[0], limit.value, "A")
    what = f"{rated} {devices[0].kind}"
    if len(devices) > 1 or thinnest.sources:
        all_of_it, may = show_against(thinnest.current_a, limit.value, "A")
        what = f"{_together(thinnest)}, {all_of_it} together{while_it}"
    size = wire.size.text if isinstance(wire.size, Size) else "?"
    several = f"{wire.count} x " if wire.count > 1 else ""
    # What other supplies add cannot be taken off by a smaller fuse.
    own_a = sure_a(limit) - thinnest.others_a
    return RULE.finding(
        f"{what}, {several}{size} {may_bear(limit, may)}",
        devices[0].rating_span or devices[0].about.span,
        here=f"opens above {rated}",
        others=[
            *((d.rating_span or d.about.span, "and this one") for d in devices[1:]),
            *((s.about.span, "and this source") for s in thinnest.sources),
            *((one.wire.size_span, carrying(one.limit)) for one in group),
            *_slots(study, thinnest),
        ],
        source=limit.source,
        fix=fuse_or_copper(
            study, [one.wire for one in group], own_a, devices, asked_of(study, devices[0])
        ),
        numbers=(("inflow_a", thinnest.current_a), ("limit_a", limit.value)),
    )


def _slots(study: Study, exposure: Exposure) -> Iterator[tuple[Span, str]]:
    """The slot, where it is made for less than the fuse in it."""
    device = exposure.devices[0]
    slot_a = slot_limit_a(study, device)
    panel = study.panel(device.load.rsplit(".", 1)[0])
    rated = device.rating_a
    if slot_a is not None and panel is not None and isinstance(rated, float) and rated > slot_a:
        yield panel.about.span, f"slots made for {show_limit(slot_a, 'A')}"


def _together(exposure: Exposure) -> str:
    """What adds up, where it is more than one device: `2 x 150 A fuse and 45 A charger`."""
    parts = [
        f"{show_limit(d.rating_a, 'A')} {d.kind}"
        for d in exposure.devices
        if isinstance(d.rating_a, float)
    ]
    parts += [
        f"{show_load(s.limit_a, 'A')} {s.kind}"
        for s in exposure.sources
        if isinstance(s.limit_a, float)
    ]
    counted = [f"{n} x {one}" if n > 1 else one for one, n in Counter(parts).items()]
    return " and ".join(filter(None, (", ".join(counted[:-1]), counted[-1])))
