"""A part is rated for fewer volts than the system it sits in.

A fuse that says nothing of its volts is judged by those that its kind is made for. What nobody
knows of fuses and breakers in a system of more than 32 V is asked for once.

*Why:* a fuse or switch above its volts draws an arc that it cannot put out; a load burns.
"""

from collections.abc import Iterator

from rigfolio.books import RatedVolts, rated_volts
from rigfolio.findings import Citation, Finding, Fix, Severity, Span
from rigfolio.model import About, Device, plural
from rigfolio.protection import listed
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.units import show, show_limit, show_load
from rigfolio.wording import with_kind

RULE = Rule(
    "voltage-rating-low",
    Severity.DANGER,
    Citation("rated for the volts of its circuit or more, in boats 33 CFR 183.455(a)", "seen"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every part with a stated voltage rating, then every fuse and breaker without."""
    for about, ends in _parts(study):
        system_v = max((study.most_volts.get(end, 0.0) for end in ends), default=0.0)
        if about.rated_v is None or about.rated_v >= system_v:
            continue
        yield RULE.finding(
            f"`{about.name}` is rated {show_limit(about.rated_v, 'V')}, its circuit has "
            f"{show_load(system_v, 'V')}",
            about.span,
            fix=Fix(f"a part rated {show_load(system_v, 'V')} or more"),
            numbers=(("rated_v", about.rated_v), ("system_v", system_v)),
        )
    yield from _of_kinds(study)


def _parts(study: Study) -> Iterator[tuple[About, tuple[str, ...]]]:
    rig = study.rig
    yield from ((device.about, (device.line, device.load)) for device in rig.devices)
    yield from ((panel.about, (panel.feed, panel.bus)) for panel in rig.panels)
    yield from ((load.about, (load.plus,)) for load in rig.loads)
    yield from ((bar.about, (bar.terminal,)) for bar in rig.junctions)


def _volts(study: Study, ends: tuple[str, ...]) -> float:
    return max((study.volts.get(end, 0.0) for end in ends), default=0.0)


def _of_kinds(study: Study) -> Iterator[Finding]:
    """Fuses and breakers of which only the kind is known, or not even that."""
    slots: dict[str, list[Device]] = {}
    unread: list[Device] = []
    usual = rated_volts("regular")
    for device in study.rig.devices:
        system_v = _volts(study, (device.line, device.load))
        if not device.protects or device.about.rated_v is not None or usual is None:
            continue
        if device.family:
            made = rated_volts(device.family)
            if made is not None and made.rated_v < system_v:
                yield _kind(device, made, system_v)
        elif system_v > usual.rated_v:
            panel = study.panel(device.load.rsplit(".", 1)[0]) if device.in_slot else None
            if panel is None:
                unread.append(device)
            elif panel.about.rated_v is None:
                slots.setdefault(panel.about.name, []).append(device)
    for name, devices in slots.items():
        panel = study.panel(name)
        span = panel.about.span if panel is not None else devices[0].about.span
        yield _ask(study, devices, span, f"{_called(devices)} of `{name}`")
    if unread:
        span = unread[0].rating_span or unread[0].about.span
        yield _ask(study, unread, span, listed([device.about.name for device in unread]))


def _kind(device: Device, made: RatedVolts, system_v: float) -> Finding:
    """A fuse of a kind that is made for fewer volts than its circuit has."""
    version = (
        f"; `rated {show(made.also_v, 'V')}` only where that is printed on it"
        if made.also_v is not None and made.also_v >= system_v
        else ""
    )
    return RULE.finding(
        f"{with_kind(device.kind, device.about.name)} is of the kind `{device.family}`, made for "
        f"{show_limit(made.rated_v, 'V')}, its circuit has {show_load(system_v, 'V')}",
        device.rating_span or device.about.span,
        source=made.source,
        fix=Fix(f"a kind made for {show_load(system_v, 'V')} or more{version}"),
        severity=None if made.is_firm else Severity.ADVICE,
        numbers=(("rated_v", made.rated_v), ("system_v", system_v)),
    )


def _called(devices: list[Device]) -> str:
    kinds = dict.fromkeys(
        plural(one.kind) if len(devices) > 1 else f"the {one.kind}" for one in devices
    )
    return " and ".join(kinds)


def _ask(study: Study, devices: list[Device], span: Span, what: str) -> Finding:
    system_v = max(_volts(study, (one.line, one.load)) for one in devices)
    is_blade = all(one.traits.slot_family and one.in_slot for one in devices)
    blades = ", and blade fuses are usually made for 32 V" if is_blade else ""
    return RULE.cannot_judge(
        f"what volts {what} {'is' if len(devices) == 1 else 'are'} made for is not said; there are "
        f"{show_load(system_v, 'V')}{blades}",
        span,
        fix="`rated` with the DC volts printed on them, or their kind",
        severity=Severity.UNKNOWN if is_blade else Severity.ADVICE,
    )
