"""The first fuse or breaker behind a battery interrupts less than the battery drives into a short.

What flows there is what the battery drives by its maker's figure or its internal resistance, full
and at rest, through the copper between its post and the device. Batteries that reach the device
together add up. What a battery's own electronics do never counts. Few have these figures: where the
text says nothing at all of them, it is advice to ask; where it says one side, the other is wanted.

*Why:* a fuse beyond its interrupt rating does not open: it arcs, bursts and goes on feeding the
fault. Lithium and large banks drive thousands of amperes, a blade fuse breaks one thousand.
"""

from collections.abc import Iterator

from rigfolio.books.faults import coldest_copper_c, full_v
from rigfolio.books.loader import (
    Limit,
    fuse_families,
    fuse_series,
    interrupt_a,
    resistance_ohm_per_m,
)
from rigfolio.findings import Finding, Fix, Severity, Source
from rigfolio.model.graph import Device
from rigfolio.model.graph import Source as Supply
from rigfolio.record import record
from rigfolio.study.net import Edge
from rigfolio.study.rule import Rule
from rigfolio.study.stock import families
from rigfolio.study.study import Study
from rigfolio.study.wayout import apart, joined_words, listed
from rigfolio.units import Size, show

RULE = Rule(
    "interrupt-too-low",
    Severity.DANGER,
    Source("interrupt rating against what the battery drives into a short", "common practice"),
)
_STATED = Source("as stated for this device", "seen")


@record
class _First:
    """A device that nothing protecting stands before, the batteries that reach it, and their sum.

    `short_a` leaves out the batteries of which no figure is known, `unknown`.
    """

    device: Device
    batteries: tuple[Supply, ...]
    short_a: float
    unknown: tuple[Supply, ...]

    @property
    def volts(self) -> float:
        return max(battery.voltage_v for battery in self.batteries)


def check(study: Study) -> Iterator[Finding]:
    """Devices that are too weak, told once for their batteries; then what is to be asked."""
    firsts = tuple(_firsts(study))
    told: dict[tuple[str, ...], list[tuple[_First, Limit]]] = {}
    asked: dict[str, list[_First]] = {}
    for one in firsts:
        figure, is_sure = _figure(one)
        names = tuple(battery.about.name for battery in one.batteries)
        if figure is not None and is_sure and one.short_a > figure.value:
            told.setdefault(names, []).append((one, figure))
        elif figure is None or one.unknown or one.short_a > figure.value:
            for battery in one.unknown or one.batteries[:1]:
                asked.setdefault(battery.about.name, []).append(one)
    for weak in told.values():
        yield _finding(sorted(weak, key=lambda each: (each[1].value, each[0].device.about.name)))
    for battery in study.rig.sources:
        if battery.about.name in asked:
            yield _ask(battery, asked[battery.about.name])


def _firsts(study: Study) -> Iterator[_First]:
    """The devices that batteries reach with nothing before them that opens."""
    near: dict[str, dict[str, float]] = {}
    for battery in study.rig.sources:
        if battery.kind == "battery" and battery.plus not in study.shorted:
            near[battery.about.name] = dict(study.net.distances(battery.plus, _ohm))
    if not near:
        return
    batteries = {one.about.name: one for one in study.rig.sources}
    for device in study.rig.devices:
        if not device.protects:
            continue
        reached = {
            name: min(ohm[end] for end in (device.line, device.load) if end in ohm)
            for name, ohm in near.items()
            if (device.line in ohm) != (device.load in ohm)
        }
        if reached:
            found = tuple(batteries[name] for name in reached)
            shorts = [_short_a(batteries[name], ohm) for name, ohm in reached.items()]
            unknown = tuple(b for b, a in zip(found, shorts, strict=True) if a is None)
            yield _First(device, found, sum(a for a in shorts if a is not None), unknown)


def _ohm(edge: Edge) -> float | None:
    """Resistance of cold copper [ohm]; none where it is not known; None for what opens."""
    if isinstance(edge, Device):
        return None if edge.protects else 0.0
    if isinstance(edge.length_m, float) and isinstance(edge.size, Size):
        return (
            resistance_ohm_per_m(edge.size, coldest_copper_c().value) * edge.length_m / edge.count
        )
    return 0.0


def _short_a(battery: Supply, ohm: float) -> float | None:
    """What a battery drives through some copper [A]; None where neither of its figures is known."""
    volts = full_v(battery.chemistry, battery.voltage_v).value
    if isinstance(battery.internal_ohm, float):
        return volts / (battery.internal_ohm + ohm)
    if isinstance(battery.short_a, float) and battery.short_a > 0.0:
        return volts / (volts / battery.short_a + ohm)
    return None


def _figure(first: _First) -> tuple[Limit | None, bool]:
    """What a device interrupts, and whether that is the figure of what it surely is.

    Of a fuse whose kind is not stated the weakest kind stands in; that is enough to clear it, and
    not enough to condemn it.
    """
    device = first.device
    if device.interrupts_a is not None:
        stated = device.interrupts_a
        return (Limit(stated, _STATED) if isinstance(stated, float) else None), True
    if device.family:
        return interrupt_a(device.family, first.volts), True
    if device.kind == "breaker":
        return None, False
    figures = [interrupt_a(name, first.volts) for name in families(device)]
    known = [figure for figure in figures if figure is not None]
    least = min(known, key=lambda one: one.value) if len(known) == len(figures) else None
    return least, False


def _finding(weak: list[tuple[_First, Limit]]) -> Finding:
    first, figure = weak[0]
    device, names = first.device, [battery.about.name for battery in first.batteries]
    current = apart(first.short_a, figure.value, "A")
    may = show(figure.value, "A")
    drives = "drives" if len(names) == 1 else "together drive"
    return RULE.finding(
        f"{listed(names)} {drives} {current} into a short, {device.kind} `{device.about.name}` "
        f"interrupts {may}",
        device.rating_span or device.about.span,
        here=f"interrupts {may}" if not figure.how else f"interrupts {may}, {figure.how}",
        others=[
            *((battery.about.span, "the short starts here") for battery in first.batteries),
            *((o.device.rating_span or o.device.about.span, "nor this one") for o, _ in weak[1:4]),
        ],
        source=figure.source,
        fix=_stronger(first),
        numbers=(("short_a", first.short_a), ("interrupts_a", figure.value)),
    )


def _stronger(first: _First) -> Fix:
    """The kinds of fuse that are strong enough, and the ratings that they come in."""
    words = []
    for family in fuse_families():
        figure = interrupt_a(family, first.volts)
        if figure is not None and figure.value >= first.short_a:
            series = fuse_series(family)
            span = f"{show(series[0], 'A')} to {show(series[-1], 'A')}"
            words.append(f"`{family.replace(' ', '-')}` ({span})")
    current = show(first.short_a, "A")
    kinds = f": {joined_words(words)}" if words else ""
    return Fix(f"one that interrupts {current} or more, here or ahead of it at the post{kinds}")


def _ask(battery: Supply, firsts: list[_First]) -> Finding:
    """What is to be asked about a battery and the devices at it."""
    name = battery.about.name
    devices = sorted({one.device.about.name for one in firsts})
    weak = [one for one in firsts if _figure(one)[0] is None or not _figure(one)[1]]
    asked = sorted({one.device.about.name for one in weak})
    of_device = f"`interrupts` or the kind of {listed(asked)}" if asked else ""
    if any(battery in one.unknown for one in firsts):
        fix = f"`delivers` from the maker of `{name}`, or its `internal` resistance"
        is_open = _says_nothing(battery) and not any(_states(one.device) for one in firsts)
        return RULE.cannot_judge(
            f"what `{name}` drives into a short is unknown, and so whether {listed(devices)} "
            f"{'interrupts' if len(devices) == 1 else 'interrupt'} it",
            battery.about.span,
            fix=f"{fix}; {of_device}" if of_device else fix,
            severity=Severity.ADVICE if is_open else Severity.UNKNOWN,
        )
    return RULE.cannot_judge(
        f"`{name}` drives {show(max(one.short_a for one in firsts), 'A')} into a short, what "
        f"{listed(asked or devices)} {'interrupts' if len(asked) == 1 else 'interrupt'} is unknown",
        battery.about.span,
        fix=of_device,
    )


def _says_nothing(battery: Supply) -> bool:
    return battery.internal_ohm is None and battery.short_a is None


def _states(device: Device) -> bool:
    return device.interrupts_a is not None or bool(device.family)
