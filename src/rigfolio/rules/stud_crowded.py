"""More terminals sit on one stud than belong there, or more wires on a bar than it has ways.

*Why:* each terminal on a stack is one more joint that the current of those above it passes, and a
nut on too high a stack has no thread to hold by. The largest lies next to the part, the others on
top of it by size.
"""

from collections.abc import Iterator, Mapping, Sequence

from rigfolio.books import most_on_stud
from rigfolio.findings import Citation, Finding, Fix, Severity, Span
from rigfolio.model import Device
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.wording import how_many

RULE = Rule(
    "stud-crowded",
    Severity.ADVICE,
    Citation("four terminals on one stud and no more", "common practice"),
)

_WAYS = Citation("one wire under each screw of a bar", "common practice")


def check(study: Study) -> Iterator[Finding]:
    """Posts of sources, ends of devices and feeds of panels, each of which is one stud; bars."""
    most = most_on_stud()
    held = _on_each(study)
    yield from _bars(study, held)
    for terminal, span in _studs(study):
        names = held.get(terminal, [])
        if most.is_broken_by(len(names)):
            yield RULE.finding(
                f"{len(names)} terminals on the stud of `{terminal}`, {most.value:.0f} belong on "
                "one",
                span,
                source=most.source,
                fix=Fix("put a bar beside it and one wire from the stud to the bar"),
                numbers=(("terminals", float(len(names))), ("most", most.value)),
            )


def _bars(study: Study, held: Mapping[str, Sequence[str]]) -> Iterator[Finding]:
    """Bars that say how many ways they have, against what lands on each terminal."""
    for bar in study.rig.junctions:
        wires = len(held.get(bar.terminal, []))
        if bar.ways and wires > bar.ways:
            yield RULE.finding(
                f"{how_many(wires, 'wire')} on bar `{bar.about.name}` of "
                f"{how_many(bar.ways, 'way')}",
                bar.about.span,
                source=_WAYS,
                fix=Fix("a bar of more ways, or a second one beside it"),
                numbers=(("wires", float(wires)), ("ways", float(bar.ways))),
            )


def _on_each(study: Study) -> dict[str, list[str]]:
    """What lands on each terminal: every wire, and every fuse that sits on it.

    The end of a part of its own is the stud itself, and no terminal on it.
    """
    held: dict[str, list[str]] = {}
    for wire in study.rig.conductors:
        for end in (wire.a, wire.b):
            held.setdefault(end, []).extend([wire.name] * wire.count)
    for device in study.rig.devices:
        if not device.in_slot and device.line not in _own_ends(device):
            held.setdefault(device.line, []).append(device.about.name)
    return held


def _studs(study: Study) -> Iterator[tuple[str, Span]]:
    own: dict[str, Span] = {}
    for source in study.rig.sources:
        own |= {source.plus: source.about.span, source.minus: source.about.span}
    for panel in study.rig.panels:
        own.setdefault(panel.feed, panel.about.span)
    for device in study.rig.devices:
        if not device.traits.is_plug:
            own |= dict.fromkeys(_own_ends(device), device.about.span)
    bars = {junction.terminal for junction in study.rig.junctions}
    yield from ((terminal, span) for terminal, span in own.items() if terminal not in bars)


def _own_ends(device: Device) -> tuple[str, ...]:
    """The studs of a device: its ends, but not the post, bar or slot that it sits in or on.

    A fuse on a wire has none.
    """
    name = f"{device.about.name}."
    return tuple(end for end in (device.line, device.load) if end.startswith(name))
