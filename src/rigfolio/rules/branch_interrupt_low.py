"""A fuse or breaker behind another one interrupts less than can flow into a short beside it.

So does one at the post of a battery for a short on the battery's side, which other batteries feed
through it.

The current is that of the coldest copper and full batteries, through all the copper on its way.
Fuses in slots are taken as blade fuses where the text names no kind. What nobody knows of breakers,
and of fuses of which the kind or the figure at their volts is not known, is asked for once for each
panel, as advice: the device ahead of them stands in meanwhile. Where what flows for sure is less
than a device interrupts, and what may flow from a source or through a wire that nobody knows is
more, it cannot be judged.

*Why:* a fuse that cannot break the current arcs and bursts until the one ahead of it opens, and a
breaker may weld. What was to lose one lamp then loses the panel, and its bay with it.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rigfolio.books import interrupt_a, most_any_breaks
from rigfolio.findings import Citation, Finding, Fix, Severity, Span, Unknown
from rigfolio.kinds import plural
from rigfolio.model import Device, Source
from rigfolio.natural_order import natural
from rigfolio.network import edge_name
from rigfolio.protection import kinds_that_break
from rigfolio.record import record
from rigfolio.rule import Rule
from rigfolio.shorts import faults_of, firsts_of, knows_shorts
from rigfolio.standard_sizes import families
from rigfolio.study import Study
from rigfolio.units import show_limit, show_load
from rigfolio.wording import listed, unknown_copper, unknown_inside, with_kind

if TYPE_CHECKING:
    from rigfolio.shorts import Interrupt

RULE = Rule(
    "branch-interrupt-low",
    Severity.FAULT,
    Citation("interrupt rating against what can flow beside a branch device", "common practice"),
    also=(Severity.ADVICE, Severity.UNKNOWN),
)


@record
class _WeakGroup:
    """Devices of one place that are weak alike, or of which nobody knows how strong they are."""

    panel: str
    devices: tuple[Device, ...]
    held: "tuple[Interrupt, ...]"
    """What is known of each of them, the worst first."""

    @property
    def worst(self) -> "Interrupt":
        """The one beside which most can flow."""
        return self.held[0]

    @property
    def flows_a(self) -> float:
        """What can flow beside the worst of them [A]."""
        return self.worst.flows_a or 0.0


def check(study: Study) -> Iterator[Finding]:
    """Devices and their ends that no battery reaches without another device, by panel."""
    if not knows_shorts(study):
        return
    weak: dict[tuple[str, float], list[Interrupt]] = {}
    open_: dict[tuple[str, float], list[Interrupt]] = {}
    unread: dict[str, list[Interrupt]] = {}
    for device, at in _behind(study):
        found = faults_of(study).interrupt(device, at)
        if found is None:
            continue
        panel = _panel_of(study, device)
        if found.rating is not None and (found.may is False or _is_open(study, found)):
            told = weak if found.may is False else open_
            told.setdefault((panel, found.rating.value), []).append(found)
        elif found.rating is None and found.least_a is not None and _may_fail(study, found):
            unread.setdefault(panel if device.in_slot else "", []).append(found)
    for (panel, _), held in weak.items():
        yield _weak(study, _group(panel, held))
    for (panel, _), held in open_.items():
        yield _unsure(study, _group(panel, held))
    for panel, held in unread.items():
        yield _ask(study, _group(panel, held))


def _behind(study: Study) -> Iterator[tuple[Device, tuple[str, ...]]]:
    """Devices with those of their ends at which a short is not their own alone to break."""
    firsts = firsts_of(study)
    for device in study.rig.devices:
        if device.line in study.sunlit:
            # Modules drive tens of amperes into a short, and every fuse breaks hundreds.
            continue
        first = firsts.get(edge_name(device))
        beyond = first.beyond if first is not None else ()
        at = tuple(end for end in (device.load, device.line) if end not in beyond)
        if device.protects and at:
            yield device, at


def _is_open(study: Study, found: "Interrupt") -> bool:
    """Whether a source or a wire decides of which nobody knows what it drives or bears.

    What stands first behind such a battery is asked for by `interrupt-too-low`.
    """
    first = firsts_of(study).get(edge_name(found.device))
    own = first.batteries if first is not None else ()
    if found.may is not None or any(one in own for one in found.ask):
        return False
    return bool(found.unknown) or any(map(_may_drive_hard, found.ask))


def _may_drive_hard(source: Source) -> bool:
    """Whether a battery stands behind a source: what only gives folds back in a short."""
    return source.traits.takes_back


def _may_fail(study: Study, found: "Interrupt") -> bool:
    """Whether the kinds that a device may be of are not known to break what flows for sure.

    Of a fuse that may be of any kind nothing is asked below what fuses of some kinds break.
    """
    device = found.device
    if device.traits.resets or isinstance(device.interrupts_a, Unknown):
        return True
    volts = study.nominal_v(device.line)
    kinds = (device.family,) if device.family else families(device)
    figures = [interrupt_a(name, volts) for name in kinds]
    known = [most_any_breaks(), *(one for one in figures if one is not None)]
    if len(known) <= len(figures):
        return True
    return (found.least_a or 0.0) > (known[1] if len(kinds) == 1 else known[0]).value


def _panel_of(study: Study, device: Device) -> str:
    circuit = study.circuit(device.about.name) if device.in_slot else None
    return circuit.panel if circuit is not None else device.about.name


def _group(panel: str, held: "list[Interrupt]") -> _WeakGroup:
    worst_first = sorted(held, key=lambda one: -(one.flows_a or 0.0))
    devices = sorted((one.device for one in held), key=lambda one: natural(one.about.name))
    return _WeakGroup(panel, tuple(devices), tuple(worst_first))


def _what(group: _WeakGroup) -> str:
    """The devices in words: one by its name, several by their panel."""
    first = group.devices[0]
    if len(group.devices) == 1:
        return with_kind(first.kind, first.about.name)
    if not group.panel:
        return listed([device.about.name for device in group.devices])
    return f"{len(group.devices)} {plural(first.kind)} of `{group.panel}`"


def _weak(study: Study, group: _WeakGroup) -> Finding:
    worst, first = group.worst, group.devices[0]
    assert worst.rating is not None  # noqa: S101
    may = show_limit(worst.rating.value, "A")
    breaks = "interrupt" if len(group.devices) > 1 else "interrupts"
    return RULE.finding(
        f"{worst.flows} can flow beside {_what(group)}, which {breaks} {may}",
        first.rating_span or first.about.span,
        here=f"interrupts {may}",
        others=[
            *_said_by_panel(study, group),
            *(
                (device.rating_span or device.about.span, "nor this one")
                for device in group.devices[1:3]
            ),
        ],
        source=worst.rating.source,
        fix=Fix("; or ".join(_ways_out(study, group))),
        numbers=(("short_a", group.flows_a), ("interrupts_a", worst.rating.value)),
    )


def _unsure(study: Study, group: _WeakGroup) -> Finding:
    """Devices of which what nobody knows decides whether more can flow than they interrupt."""
    worst, first = group.worst, group.devices[0]
    assert worst.rating is not None  # noqa: S101
    may = show_limit(worst.rating.value, "A")
    breaks = "interrupt" if len(group.devices) > 1 else "interrupts"
    wires = {wire.name: wire for one in group.held for wire in one.unknown}
    asked = {
        source.about.name: source
        for one in group.held
        for source in one.ask
        if _may_drive_hard(source)
    }
    wanted = [unknown_inside(name) for name in asked]
    wanted += [unknown_copper(wires)] if wires else []
    return RULE.cannot_judge(
        f"{_what(group)} {breaks} {may}, whether more can flow beside "
        f"{'them' if len(group.devices) > 1 else 'it'} is unknown",
        first.rating_span or first.about.span,
        here=f"interrupts {may}",
        others=[
            *_said_by_panel(study, group),
            *((one.about.span, "what it drives into a short decides") for one in asked.values()),
            *((wire.size_span, "its copper decides") for wire in wires.values()),
        ],
        fix="; ".join(wanted),
    )


def _said_by_panel(study: Study, group: _WeakGroup) -> Iterator[tuple[Span, str]]:
    """The line of the panel, where that is what says how much its devices interrupt."""
    panel = study.panel(group.panel)
    if panel is not None and group.devices[0].interrupts_a == panel.interrupts_a is not None:
        yield panel.about.span, "says what its slots interrupt"


def _ways_out(study: Study, group: _WeakGroup) -> Iterator[str]:
    """Stronger devices; and more copper where no more than that of the way itself is wanted."""
    first, may = group.devices[0], group.worst.rating
    stronger = "ones that interrupt" if len(group.devices) > 1 else "one that interrupts"
    volts = study.most_volts.get(first.line, study.rig.system_v)
    words = "" if first.in_slot else kinds_that_break(group.flows_a, volts, group.devices)
    kinds = f": {words}" if words else ""
    yield f"{stronger} {group.worst.wanted}{kinds}"
    if may is not None and group.flows_a <= 2.0 * may.value:
        more = show_load(group.flows_a / may.value - 1.0, "%", 2)
        yield (
            "a longer or thinner feed, as far as its drop allows: the battery, its trunk and the "
            f"feed together have to hold back {more} more than they do"
        )


def _ask(study: Study, group: _WeakGroup) -> Finding:
    first = group.devices[0]
    panel = study.panel(group.panel)
    span = panel.about.span if panel is not None else first.rating_span or first.about.span
    names = listed([device.about.name for device in group.devices[:3]])
    return RULE.cannot_judge(
        f"what {_what(group)} may interrupt is not said; up to {group.worst.most} can flow beside "
        f"{'them' if len(group.devices) > 1 else 'it'}",
        span,
        fix=f"`interrupts` of {names if panel is None else f'panel `{group.panel}`'}, from the "
        "maker",
        severity=Severity.ADVICE,
    )
