"""What is crimped to an end of a wire and how it is fastened where it lands."""

from collections.abc import Iterator, Mapping

from rigfolio.books import barrel_colour, outside_diameter_m, sleeve_m
from rigfolio.findings import Unknown
from rigfolio.kinds import is_of_heat
from rigfolio.model import About, Circuit, Conductor, Rig
from rigfolio.network import places_of
from rigfolio.protection import guard_of_circuit, is_too_large
from rigfolio.record import once
from rigfolio.shorts import barred_words, is_barred
from rigfolio.study import Study
from rigfolio.swap.purchases import usual_terminal
from rigfolio.units import show
from rigfolio.wording import (
    colour_short,
    gauge_words,
    length_words,
    off_words,
    rating_and_kind,
    short_end,
)

TAG_FIRST = "Tag first, then sleeve, then terminal: a sleeve does not go over a crimped end."
"""Stands above every list of wires to be tagged."""


def looks(wire: Conductor) -> str:
    """Size and colour of a wire, as somebody sees it."""
    return f"{gauge_words(wire)} {colour_short(wire.colour)}".strip()


def ready_words(study: Study, circuit: Circuit) -> str:
    """What stands ready for a slot while its panel is dead; nothing that is too large for it."""
    device = next(iter(guard_of_circuit(study, circuit).devices), None)
    if device is not None and (is_too_large(study, circuit) or is_barred(study, device)):
        return barred_words(study, device)
    is_breaker = device is not None and device.traits.resets
    ready = f"in place, {off_words(device)}" if is_breaker and device else "laid ready, not in"
    return f"{rating_and_kind(device)} {ready}"


def find_words(rig: Rig, wire: Conductor) -> str:
    """Where a return is found that nobody stated: at its load, and where it is taken to land."""
    ends = [short_end(rig, end) for end in (wire.a, wire.b) if end in places_of(rig)]
    return f"find it at {' and at '.join(ends)}" if ends else "find it where it runs"


def ran_words(rig: Rig, name: str) -> str:
    """Where a wire that is removed runs; empty where there is none of that name."""
    wire = rig.by_name.conductors.get(name)
    if wire is None:
        return ""
    if wire.assumed:
        return f"return, not stated: {find_words(rig, wire)}"
    return f"{short_end(rig, wire.a)} to {short_end(rig, wire.b)}"


def sleeve_words(wire: Conductor) -> str:
    """The tube that goes over the end of a wire."""
    if isinstance(wire.size, Unknown):
        return "sleeve: see how thick it is"
    diameter = sleeve_m(outside_diameter_m(wire.size).value)
    return "no tube in stock fits" if diameter is None else f"sleeve {diameter * 1000.0:g} mm"


def fitting(rig: Rig, wire: Conductor, end: str) -> Iterator[str]:
    """Terminal, torque and tail of a wire at one of its ends, and what has to be cut back."""
    yield terminal_words(rig, wire, end)
    torque = torque_words(rig, end)
    if torque:
        yield torque
    if wire.tail_m is not None and end == wire.a:
        yield f"tail {length_words(wire.tail_m, imperial=wire.is_in_feet)}"
    if is_of_heat(wire.condition):
        yield f"is {wire.condition}: a new one, this one does not go on again"
    elif wire.condition:
        yield f"is {wire.condition}: cut back to bright copper"


def both_ends(rig: Rig, wire: Conductor) -> Iterator[str]:
    """Terminals and torques of both ends, told once where they are alike."""
    told = [
        ", ".join(w for w in (terminal_words(rig, wire, end), torque_words(rig, end)) if w)
        for end in (wire.a, wire.b)
    ]
    if told[0] == told[1]:
        yield f"each end: {told[0]}"
        return
    for end, words in zip((wire.a, wire.b), told, strict=True):
        yield f"at {short_end(rig, end)}: {words}"


def terminal_words(rig: Rig, wire: Conductor, end: str) -> str:
    """What is crimped to an end, and the colour of its barrel."""
    said = wire.ends[0 if end == wire.a else 1]
    colour = "" if isinstance(wire.size, Unknown) else barrel_colour(wire.size.area_m2)
    kind, barrel = said or usual_terminal(rig, end), f"{colour} barrel" if colour else ""
    return ", ".join(word for word in (kind, barrel) if word) or "terminal to suit"


def torque_words(rig: Rig, end: str) -> str:
    """How tight the nut or screw of a terminal is to be; empty where the text does not say."""
    about = _owners(rig).get(end)
    if about is None or about.torque_nm is None:
        return ""
    return f"torque {show(about.torque_nm, 'Nm')}"


@once
def _owners(rig: Rig) -> Mapping[str, About]:
    """The part that each terminal belongs to; a slot and a feed belong to their panel."""
    found = {one.terminal: one.about for one in reversed(rig.junctions)}
    in_slots: dict[str, list[str]] = {}
    for device in rig.devices:
        if device.in_slot:
            in_slots.setdefault(device.line, []).append(device.load)
    for panel in rig.panels:
        slots = (f"{panel.about.name}.{number}" for number in range(1, panel.slots + 1))
        for end in (panel.feed, panel.bus, *slots, *in_slots.get(panel.bus, ())):
            found.setdefault(end, panel.about)
    for source in rig.sources:
        for end in (source.plus, source.minus):
            found.setdefault(end, source.about)
    for device in rig.devices:
        for end in (device.line, device.load):
            found.setdefault(end, device.about)
    return found
