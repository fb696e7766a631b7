"""The first fuse or breaker behind a battery interrupts less than the battery drives into a short.

What flows there is what the battery drives by its maker's figure or its internal resistance, full
and at rest, through cold copper, into a short right beside the device, on the side that draws more.
All batteries add up that drive a current through it, with the copper that they share, those too
that come through a fuse of their own. What a battery's own electronics do never counts.
Few have these figures: where the text says nothing at all of them, it is advice to ask; where it
says one side, the other is wanted. Of a battery that has only its cold cranking amperes what it
drives at the least is counted; what a rule book lists for breakers by these amperes goes before it.

*Why:* a fuse beyond its interrupt rating does not open: it arcs, bursts and goes on feeding the
fault. Lithium and large banks drive thousands of amperes, a blade fuse breaks one thousand.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rigfolio.books import Limit, interrupt_a
from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.model import Device, Source
from rigfolio.protection import kinds_that_break
from rigfolio.record import record
from rigfolio.rule import Rule
from rigfolio.shorts import faults_of, firsts_of
from rigfolio.standard_sizes import families
from rigfolio.study import Study
from rigfolio.units import apart, show_limit, show_load
from rigfolio.wording import listed, unknown_inside, with_kind

if TYPE_CHECKING:
    from rigfolio.shorts import Faults, First, Interrupt

RULE = Rule(
    "interrupt-too-low",
    Severity.DANGER,
    Citation("interrupt rating against what the battery drives into a short", "common practice"),
    also=(Severity.FAULT, Severity.ADVICE, Severity.UNKNOWN),
)
_STATED = Citation("as stated for this device", "seen")


@record
class _Strength:
    """A device that nothing protecting stands before, and the batteries that reach it.

    `found` is what those batteries drive through it; None where none of them has a figure. `whole`
    is what flows there with all that is known of the others. `figure` is what it interrupts, and
    `is_sure` whether that is the figure of what it surely is.
    """

    device: Device
    batteries: tuple[Source, ...]
    found: "Interrupt | None"
    whole: "Interrupt | None"
    figure: Limit | None
    is_sure: bool

    @property
    def volts(self) -> float:
        return max(battery.voltage_v for battery in self.batteries)

    @property
    def short_a(self) -> float:
        """What flows for sure, the batteries left out of which no figure is known [A]."""
        return max((one.least_a or 0.0 for one in (self.found, self.whole) if one), default=0.0)

    @property
    def worst(self) -> "Interrupt | None":
        """The short that is the hardest to break."""
        if self.found is None or (self.whole and self.short_a > (self.found.least_a or 0.0)):
            return self.whole
        return max((one for one in (self.whole, self.found) if one), key=lambda o: o.flows_a or 0.0)

    @property
    def flows_a(self) -> float:
        """The most that can flow, what nobody knows counted in [A]."""
        worst = self.worst
        return max(self.short_a, (worst.flows_a or 0.0) if worst is not None else 0.0)

    @property
    def is_weak(self) -> bool:
        return self.is_sure and self.figure is not None and self.short_a > self.figure.value

    @property
    def is_strong(self) -> bool:
        """Whether it breaks all that can flow, whatever is not known."""
        if self.found is None or self.figure is None or self.found.bound_a is None:
            return False
        return self.found.bound_a <= self.figure.value

    @property
    def is_open(self) -> bool:
        """Whether a figure is wanted before it can be judged."""
        wants = self.figure is None or not self.is_sure or bool(self.unknown)
        return wants and not self.is_strong

    @property
    def unknown(self) -> tuple[Source, ...]:
        """The batteries of which a figure is wanted."""
        if self.found is None:
            return self.batteries
        return tuple(source for source in self.found.ask if source.stores)

    @property
    def drive(self) -> tuple[Source, ...]:
        """The batteries that drive the worst, and of which a figure is known."""
        found = self.worst
        asked, by = (found.ask, found.by) if found else ((), ())
        known = tuple(o for o in by if o.stores and (o not in asked or o.cranking_a is not None))
        return known or self.batteries


def check(study: Study) -> Iterator[Finding]:
    """Devices that are too weak, told once for their batteries; then what is to be asked."""
    told: dict[tuple[str, ...], list[_Strength]] = {}
    asked: dict[str, list[_Strength]] = {}
    for one in _firsts(study):
        listed_a = _listed(study, one)
        if listed_a is not None and one.figure is not None:
            if one.figure.value < listed_a.value:
                yield _below_list(one, one.figure, listed_a)
        elif one.is_weak:
            told.setdefault(tuple(b.about.name for b in one.drive), []).append(one)
        elif one.is_open:
            for battery in one.unknown or one.drive[:1]:
                asked.setdefault(battery.about.name, []).append(one)
    for weak in told.values():
        yield _finding(sorted(weak, key=_weakest_first))
    for battery in study.rig.sources:
        if battery.about.name in asked:
            yield _ask(battery, asked[battery.about.name])


def _listed(study: Study, one: _Strength) -> Limit | None:
    """What the rule book wants a breaker to break behind so many cranking amperes [A].

    None where it lists nothing, and where more is known of the batteries than that, or of others
    that drive a current through it.
    """
    cranked = [battery.cranking_a for battery in one.batteries]
    known_a = [each for each in cranked if each is not None]
    if one.found is not None or len(known_a) < len(cranked) or not one.device.traits.resets:
        return None
    if one.whole is not None and any(map(_has_figure, one.whole.by)):
        return None
    return study.book.interrupts_a(sum(known_a), main=True)


def _below_list(one: _Strength, figure: Limit, wanted: Limit) -> Finding:
    """A breaker that breaks less than the rule book lists."""
    device = one.device
    cranking_a = sum(battery.cranking_a or 0.0 for battery in one.batteries)
    return RULE.finding(
        f"{with_kind(device.kind, device.about.name)} interrupts {show_limit(figure.value, 'A')}, "
        f"{show_load(wanted.value, 'A')} are listed for a main breaker behind "
        f"{show_load(cranking_a, 'A')} of cold cranking",
        device.rating_span or device.about.span,
        others=[(battery.about.span, "the battery") for battery in one.batteries],
        source=wanted.source,
        fix=Fix(f"one that interrupts {show_load(wanted.value, 'A')} or more"),
        numbers=(("interrupts_a", figure.value), ("wanted_a", wanted.value)),
        severity=Severity.FAULT,
    )


def _weakest_first(one: _Strength) -> tuple[float, str]:
    return one.figure.value if one.figure else 0.0, one.device.about.name


def _firsts(study: Study) -> Iterator[_Strength]:
    """The devices that batteries reach with nothing before them that opens."""
    beside = _Beside(study)
    for first in firsts_of(study).values():
        device, reach = first.device, first.batteries
        found = beside.of(device, reach)
        # Where a figure is known and nothing flows, batteries are in series or joined wrongly.
        if found is not None or not any(_has_figure(one) for one in reach):
            figure, is_sure = _figure(device, max(one.voltage_v for one in reach))
            yield _Strength(device, reach, found, beside.whole(first), figure, is_sure)


class _Beside:
    """What flows beside devices with only some batteries on; what they share is worked out once."""

    def __init__(self, study: Study) -> None:
        self.study = study
        self.held: dict[frozenset[str], Faults] = {}

    def of(self, device: Device, on: tuple[Source, ...]) -> "Interrupt | None":
        """None where no battery that is on has a figure."""
        if not any(_has_figure(one) for one in on):
            return None
        names = frozenset(one.about.name for one in on)
        if names not in self.held:
            self.held[names] = self._with(names)
        return self.held[names].interrupt(device)

    def whole(self, first: "First") -> "Interrupt | None":
        """What flows through a device into a short beyond it, all sources on."""
        return faults_of(self.study).interrupt(first.device, first.beyond)

    def _with(self, names: frozenset[str]) -> "Faults":
        others = frozenset(source.about.name for source in self.study.rig.sources) - names
        return faults_of(self.study).without(others) if others else faults_of(self.study)


def _figure(device: Device, volts: float) -> tuple[Limit | None, bool]:
    """What a device interrupts, and whether that is the figure of what it surely is.

    Of a fuse whose kind is not stated the weakest kind stands in; that is enough to clear it, and
    not enough to condemn it.
    """
    if device.interrupts_a is not None:
        stated = device.interrupts_a
        return (Limit(stated, _STATED) if isinstance(stated, float) else None), True
    if device.family:
        return interrupt_a(device.family, volts), True
    if device.traits.resets:
        return None, False
    figures = [interrupt_a(name, volts) for name in families(device)]
    known = [figure for figure in figures if figure is not None]
    least = min(known, key=lambda one: one.value) if len(known) == len(figures) else None
    return least, False


def _finding(weak: list[_Strength]) -> Finding:
    first, figure = weak[0], weak[0].figure
    assert figure is not None  # noqa: S101
    device = first.device
    current = apart(first.short_a, figure.value, "A", 3)
    may = show_limit(figure.value, "A")
    return RULE.finding(
        f"{_drives(first)} {current} into a short, "
        f"{with_kind(device.kind, device.about.name)} interrupts {may}",
        device.rating_span or device.about.span,
        here=", ".join(filter(None, (f"interrupts {may}", figure.how))) + _most(first),
        others=[
            *((battery.about.span, "the short starts here") for battery in first.drive),
            *((o.device.rating_span or o.device.about.span, "nor this one") for o in weak[1:4]),
        ],
        source=figure.source,
        fix=_stronger(max(weak, key=lambda one: one.flows_a)),
        numbers=(("short_a", first.short_a), ("interrupts_a", figure.value)),
    )


def _most(first: _Strength) -> str:
    """What can flow at the most, where that is more than what flows for sure: a bound."""
    is_open = first.flows_a > first.short_a
    return f", up to {show_load(first.flows_a, 'A')} can flow" if is_open else ""


def _stronger(first: _Strength) -> Fix:
    words = kinds_that_break(first.flows_a, first.volts, [first.device])
    kinds = f": {words}" if words else ""
    wanted = first.worst.wanted if first.worst is not None else show_load(first.flows_a, "A")
    return Fix(f"one that interrupts {wanted}, here or ahead of it at the post{kinds}")


def _ask(battery: Source, firsts: list[_Strength]) -> Finding:
    """What is to be asked about a battery and the devices at it."""
    name = battery.about.name
    devices = sorted({one.device.about.name for one in firsts})
    weak = [one for one in firsts if one.figure is None or not one.is_sure]
    asked = sorted({one.device.about.name for one in weak})
    of_device = f"`interrupts` or the kind of {listed(asked)}" if asked else ""
    places = [
        (one.device.rating_span or one.device.about.span, "what it interrupts is not said")
        for one in weak[:3]
    ]
    if any(battery in one.unknown for one in firsts):
        fix = unknown_inside(name)
        is_open = _says_nothing(battery) and not any(_states(one.device) for one in firsts)
        return RULE.cannot_judge(
            f"what `{name}` drives into a short is unknown, and so whether {listed(devices)} "
            f"{'interrupts' if len(devices) == 1 else 'interrupt'} it",
            battery.about.span,
            others=places,
            fix=f"{fix}; {of_device}" if of_device else fix,
            severity=Severity.ADVICE if is_open else Severity.UNKNOWN,
        )
    worst = max(firsts, key=lambda one: one.short_a)
    return RULE.cannot_judge(
        f"{_drives(worst)} {show_load(worst.short_a, 'A')} into a short, what "
        f"{listed(asked)} {'interrupts' if len(asked) == 1 else 'interrupt'} is unknown",
        battery.about.span,
        others=places,
        fix=of_device,
    )


def _drives(first: _Strength) -> str:
    """The batteries that drive the worst, all of them: no one alone drives what they do."""
    names = [battery.about.name for battery in first.drive]
    return f"{listed(names)} {'drives' if len(names) == 1 else 'together drive'}"


def _has_figure(battery: Source) -> bool:
    """Whether the text gives a figure of what a battery drives."""
    return isinstance(battery.internal_ohm, float) or isinstance(battery.short_a, float)


def _says_nothing(battery: Source) -> bool:
    return battery.internal_ohm is None and battery.short_a is None


def _states(device: Device) -> bool:
    return device.interrupts_a is not None or bool(device.family)
