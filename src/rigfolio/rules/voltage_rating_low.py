"""A part is rated for fewer volts than the system it sits in.

A fuse that says nothing of its volts is judged by those that its kind is made for, where these have
been seen in print. Of all else that breaks a circuit of more than 32 V the volts are asked for,
once for all of it: fuses, breakers, switches, relays and plugs are mostly made for 12 and 24 V.
What opens a minus lead breaks the volts of the loads that come back through it. Between solar
modules and their controller the volts are those of the modules with nothing on them, on the coldest
morning where the text tells it.

*Why:* a fuse or switch above its volts draws an arc that it cannot put out; a load burns.
"""

from collections.abc import Iterator

from rigfolio.books import RatedVolts, family_words, rated_volts
from rigfolio.findings import Citation, Finding, Fix, Severity, Span
from rigfolio.kinds import plural
from rigfolio.model import Device
from rigfolio.protection import broken_v, kind_too_low, rated_too_low
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.units import show, show_limit, show_load
from rigfolio.wording import joined_words, with_kind

RULE = Rule(
    "voltage-rating-low",
    Severity.DANGER,
    Citation("rated for the volts of its circuit or more, in boats 33 CFR 183.455(a)", "seen"),
    also=(Severity.UNKNOWN,),
)

_NAMED = 4


def check(study: Study) -> Iterator[Finding]:
    """Every part with a stated voltage rating, then every fuse and breaker without."""
    for low in rated_too_low(study):
        about, system_v = low.about, low.system_v
        assert about.rated_v is not None  # noqa: S101
        yield RULE.finding(
            f"`{about.name}` is rated {show_limit(about.rated_v, 'V')}, its circuit has "
            f"{show_load(system_v, 'V')}",
            about.span,
            fix=Fix(f"a part rated {show_load(system_v, 'V')} or more"),
            numbers=(("rated_v", about.rated_v), ("system_v", system_v)),
        )
    yield from _of_kinds(study)


def _of_kinds(study: Study) -> Iterator[Finding]:
    """Fuses of which only the kind is known, then all that breaks a circuit and says nothing."""
    unread: dict[str, list[Device]] = {}
    usual = rated_volts("regular")
    asked = {gap.name for gap in study.rig.gaps if gap.key == "rated"}
    for device in study.rig.devices:
        system_v = broken_v(study, device)
        if not _breaks(device) or device.about.rated_v is not None or usual is None:
            continue
        made = rated_volts(device.family) if device.family else usual
        if made is None or made.rated_v >= system_v:
            continue
        low = kind_too_low(study, device)
        if low is not None:
            yield _kind(device, low.made, low.system_v)
        elif device.about.name not in asked:
            panel = study.panel(device.load.rsplit(".", 1)[0]) if device.in_slot else None
            if panel is None or panel.about.rated_v is None:
                name = device.about.name if panel is None else panel.about.name
                unread.setdefault(name, []).append(device)
    if unread:
        yield _ask(study, unread)


def _breaks(device: Device) -> bool:
    """Whether a part opens its circuit: what only joins it has no arc to put out."""
    return device.protects or device.traits.opens or device.traits.is_plug


def _kind(device: Device, made: RatedVolts, system_v: float) -> Finding:
    """A fuse of a kind that is made for fewer volts than its circuit has."""
    version = (
        f"; `rated {show(made.also_v, 'V')}` only where that is printed on it"
        if made.also_v is not None and made.also_v >= system_v
        else ""
    )
    family = family_words(device.family)
    return RULE.finding(
        f"{with_kind(device.kind, device.about.name)} is of the kind `{family}`, made for "
        f"{show_limit(made.rated_v, 'V')}, its circuit has {show_load(system_v, 'V')}",
        device.rating_span or device.about.span,
        source=made.source,
        fix=Fix(f"a kind made for {show_load(system_v, 'V')} or more{version}"),
        numbers=(("rated_v", made.rated_v), ("system_v", system_v)),
    )


def _called(devices: list[Device]) -> str:
    kinds = dict.fromkeys(
        plural(one.kind) if len(devices) > 1 else f"the {one.kind}" for one in devices
    )
    return " and ".join(kinds)


def _ask(study: Study, unread: dict[str, list[Device]]) -> Finding:
    """One question for all parts of which nobody has said the volts, those of a panel together."""
    places: list[tuple[Span, str]] = []
    for name, devices in unread.items():
        panel = study.panel(name) if devices[0].in_slot else None
        if panel is not None:
            places.append((panel.about.span, f"{_called(devices)} of `{name}`"))
        else:
            places.append((devices[0].rating_span or devices[0].about.span, f"`{name}`"))
    every = [one for devices in unread.values() for one in devices]
    system_v = max(broken_v(study, one) for one in every)
    is_blade = any(one.traits.slot_family and one.in_slot for one in every)
    blades = ", and blade fuses are usually made for 32 V" if is_blade else ""
    names = [words for _, words in places]
    what = joined_words(names, _NAMED)
    is_one = len(places) == 1 and not what.endswith("s") and len(every) == 1
    return RULE.cannot_judge(
        f"what volts {what} {'is' if is_one else 'are'} made for is not said; there are "
        f"{show_load(system_v, 'V')}{blades}",
        places[0][0],
        others=[(span, "nor of this one") for span, _ in places[1:]],
        fix="`rated` with the DC volts printed on them, or the kind of a fuse",
    )
