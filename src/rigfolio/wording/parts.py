"""How the parts of a rig are called on every sheet, and in which order they are listed."""

import math
from collections.abc import Collection, Iterable, Mapping

from rigfolio.books import colour_book, fuse_colour
from rigfolio.findings import Finding, Severity, Unknown
from rigfolio.kinds import DEVICES
from rigfolio.model import (
    Circuit,
    Conductor,
    Device,
    Modules,
    Panel,
    Rig,
    Slot,
)
from rigfolio.natural_order import natural
from rigfolio.record import once
from rigfolio.units import Size, from_si, show, show_limit
from rigfolio.values import MINUS, Colour
from rigfolio.wording.names import end_words
from rigfolio.wording.quoted import capital, joined_words

NOT_SURVEYED = "? not surveyed"
_UNCOMBINED = frozenset({"GN", "YE", "GNYE"})
_FOUND = {
    Severity.ERROR: ("error", "errors"),
    Severity.DANGER: ("danger", "dangers"),
    Severity.FAULT: ("fault", "faults"),
    Severity.UNKNOWN: ("unknown", "unknowns"),
    Severity.ADVICE: ("piece of advice", "pieces of advice"),
}
_FINE_IN, _FINE_STEPS = 36.0, 4
_SIGNS = {"+": "plus +", "-": f"minus {MINUS}"}


def colour_words(colour: Colour | Unknown | None) -> str:
    """`red/black`; what is not known or not stated says so."""
    if isinstance(colour, Unknown):
        return NOT_SURVEYED
    return str(colour) if colour else "colour not stated"


def colour_code(colour: Colour | Unknown | None) -> str:
    """`RD/BK`, the IEC 60757 codes of base and stripe; empty where there is none.

    IEC 60757 keeps green and yellow for the pair GNYE, so that a stripe beside either has words
    only.

    Examples
    --------
    >>> colour_code(Colour("red", "black")), colour_code(Colour("tan"))
    ('RD/BK', '')
    >>> colour_code(Colour("yellow")), colour_code(Colour("yellow", "green"))
    ('YE', '')
    """
    if isinstance(colour, Unknown) or colour is None:
        return ""
    words = [word for word in (colour.base, colour.stripe) if word]
    known = [colour_book().find(word) for word in words]
    codes = [each.code for each in known if each and each.code]
    if len(codes) < len(words) or (len(codes) > 1 and _UNCOMBINED & set(codes)):
        return ""
    return "/".join(codes)


def colour_text(colour: Colour | Unknown | None) -> str:
    """Words and code: `red/black RD/BK`."""
    return f"{colour_words(colour)} {colour_code(colour)}".strip()


def colour_short(colour: Colour | Unknown | None) -> str:
    """The code alone, words where there is none, `colour ?` where neither is known."""
    if isinstance(colour, Unknown) or colour is None:
        return "colour ?"
    return colour_code(colour) or str(colour)


def shades(colour: Colour | Unknown | None) -> tuple[str | None, str | None]:
    """Print shades of base and stripe, `#rrggbb`; None for an unknown base and for no stripe."""
    if isinstance(colour, Unknown) or colour is None:
        return None, None
    book = colour_book()
    base = book.find(colour.base)
    stripe = book.find(colour.stripe) if colour.stripe else None
    return base.rgb if base else None, stripe.rgb if stripe else None


def colour_order(colour: Colour | Unknown | None) -> tuple[int, str, str]:
    """Sorting key: words in order, what is not stated after them, what is not surveyed last."""
    if isinstance(colour, Unknown):
        return 2, "", ""
    return (0, colour.base, colour.stripe or "") if colour else (1, "", "")


def size_words(size: Size | Unknown) -> str:
    """`16 AWG`, or `? size`."""
    return "? size" if isinstance(size, Unknown) else size.text


def gauge_words(wire: Conductor) -> str:
    """Size of a conductor and how many lie side by side: `2 x 6 AWG`."""
    size = size_words(wire.size)
    return f"{wire.count} x {size}" if wire.count > 1 else size


def is_imperial(rig: Rig) -> bool:
    """Whether lengths that nobody wrote are printed in feet, as those of most wires are."""
    known = [w for w in rig.conductors if w.length_unit or not isinstance(w.size, Unknown)]
    return 2 * sum(wire.is_in_feet for wire in known) >= max(1, len(known))


def wire_length(wire: Conductor) -> str:
    """The length of a wire in the unit that it is written in."""
    return length_words(wire.length_m, imperial=wire.is_in_feet)


def length_words(length_m: float | Unknown, *, imperial: bool) -> str:
    """A length in feet and inches or in metres, as goes with the sizes of the rig.

    From 3 ft on inches are whole, the last one begun counts.

    Examples
    --------
    >>> length_words(5.4864, imperial=True), length_words(5.5, imperial=False)
    ('18 ft', '5.5 m')
    >>> length_words(0.254, imperial=True), length_words(0.762, imperial=True)
    ('10 in', '2 ft 6 in')
    """
    if isinstance(length_m, Unknown):
        return "? length"
    if not imperial:
        return show(length_m, "m")
    inches = from_si(length_m, "in")
    steps = _FINE_STEPS if inches < _FINE_IN else 1
    feet, rest = divmod(math.ceil(inches * steps - 1e-6) / steps, 12)
    first = f"{feet:.0f} ft" if feet else ""
    return f"{first} {rest:g} in".strip() if rest or not feet else first


def amps(value: float | Unknown | None) -> str:
    """A rating as it is printed, `7.5 A`; `? A` for what is not known or not stated."""
    return show_limit(value, "A")


def most_amps(value: float) -> str:
    """An upper limit as it is printed, never rounded up.

    Examples
    --------
    >>> most_amps(8.196), most_amps(15.0)
    ('8.19 A', '15 A')
    """
    return show_limit(value, "A")


def device_named(rig: Rig, name: str) -> Device | None:
    """The device of a name."""
    return rig.by_name.devices.get(name)


def fuse_word(device: Device | None) -> str | None:
    """Colour word of a blade fuse; None for breakers and families without a colour code.

    A slot holds blades of the regular family unless the text names another.
    """
    if device is None or device.traits.resets:
        return None
    if not isinstance(device.rating_a, float | int) or not device.fitted_family:
        return None
    return fuse_colour(device.rating_a, device.fitted_family)


def rating_words(device: Device | None) -> str:
    """Rating and colour word of a protective device: `7.5 A brown`, `15 A breaker`, `fuse ?`."""
    if device is None:
        return "no fuse stated"
    if isinstance(device.rating_a, Unknown) or device.rating_a is None:
        return f"{device.kind} ?"
    return f"{amps(device.rating_a)} {fuse_word(device) or device.kind}"


def module_words(modules: Modules) -> tuple[str, ...]:
    """What an array is made of, in the words of its statement, one fact each."""
    return tuple(
        words
        for words, is_said in (
            (f"{modules.series} modules in series", modules.series > 1),
            (f"{modules.parallel} strings in parallel", modules.parallel > 1),
            (f"open circuit {_figure(modules.open_v, 'V')}", True),
            (f"short circuit {_figure(modules.short_a, 'A')}", True),
            (f"{show(modules.power_w or 0.0, 'W', 6)}", modules.power_w is not None),
            (f"works at {show(modules.works_v or 0.0, 'V', 6)}", modules.works_v is not None),
            (
                f"gains {show(modules.cold_share or 0.0, '%', 6)} a degree colder",
                modules.cold_share is not None,
            ),
            (f"series fuse {_figure(modules.back_a, 'A')}", modules.back_a is not None),
        )
        if is_said
    )


def _figure(value: float | Unknown | None, unit: str) -> str:
    return show(value, unit, 6) if isinstance(value, float) else f"? {unit}"


CLOSES_AGAIN = "closes again by itself"
"""What is said of a breaker that resets by itself, wherever somebody may take it for a switch."""


def again_words(device: Device | None) -> str:
    """That a device closes again by itself; empty of any that a hand resets."""
    return CLOSES_AGAIN if device is not None and device.resets_itself else ""


def closes_again_words(name: str) -> str:
    """What a breaker that resets by itself does in a short, by its name."""
    return (
        f"`{name}` {CLOSES_AGAIN.upper()} once it has cooled, onto the short, and heats the wires "
        "each time: it is over when somebody parts it."
    )


def rating_and_kind(device: Device | None) -> str:
    """Rating, colour word and kind of a protective device: `5 A tan fuse`, `5 A breaker`."""
    words = rating_words(device)
    if device is None or device.kind in words:
        return words
    return f"{words} {device.kind}"


def goes_words(device: Device) -> str:
    """How a protective device is put to use: `5 A tan fuse in`, `5 A breaker on`."""
    goes = "in, its lead on" if device.resets_itself else device.traits.goes
    return f"{rating_and_kind(device)} {goes}"


def off_words(device: Device) -> str:
    """How a protective device passes nothing: `out`, `off`, `its lead off` without a handle."""
    if device.resets_itself:
        return "its lead off"
    return "off" if device.traits.resets else "out"


def kinds_title(kinds: Collection[str]) -> str:
    """What devices of some kinds are called together above a list: `Fuses, switches and relays`.

    Empty for none.
    """
    many = dict.fromkeys(row.many or f"{kind}s" for kind, row in DEVICES.items() if kind in kinds)
    words = joined_words(list(many), len(many)) if many else ""
    return capital(words)


def outside_title(rig: Rig, names: Iterable[str]) -> str:
    """What stands above a list of devices outside panels, by name: what kinds are among them."""
    return f"{kinds_title({rig.by_name.devices[name].kind for name in names})} outside panels"


def fed_from(rig: Rig, circuit: Circuit) -> str:
    """The panel of a circuit, or the terminal that it is written at and what that belongs to.

    Where its fuse comes some inches along the wire, that is where this stub begins.
    """
    if circuit.panel:
        return circuit.panel
    device = device_named(rig, circuit.device)
    start = device.line if device else circuit.start
    stub = next((w for w in map(rig.conductor, circuit.wires) if w.b == start), None)
    return end_words(rig, start if stub is None else stub.a)


def polarity_words(side: str) -> str:
    """`plus +`, `minus −`, or that a wire is joined to no source; from `+`, `-` or nothing."""
    return _SIGNS.get(side, "not joined to a source")


def sign(side: str) -> str:
    """The printed sign of a conductor; a question mark where it is joined to no source."""
    return {"+": "+", "-": MINUS}.get(side, "?")


def circuit_of(rig: Rig, wire: Conductor) -> Circuit | None:
    """The circuit that a wire belongs to."""
    return rig.by_name.circuits.get(wire.circuit)


def is_return(rig: Rig, wire: Conductor) -> bool:
    """Whether a wire of a circuit leads back from its loads."""
    circuit = circuit_of(rig, wire)
    return circuit is not None and wire.name in circuit.returns


@once
def circuits_in_order(rig: Rig) -> tuple[Circuit, ...]:
    """Circuits by panel and slot, then those that start elsewhere."""
    ranks = {panel.about.name: number for number, panel in enumerate(rig.panels)}
    last = len(ranks)
    return tuple(
        sorted(
            rig.circuits,
            key=lambda c: (ranks.get(c.panel, last) if c.slot else last, c.slot, natural(c.place)),
        )
    )


@once
def wires_in_order(rig: Rig) -> tuple[Conductor, ...]:
    """Conductors by panel and slot, then supply and shared returns; leads of fixtures left out."""
    order: dict[str, int] = {}
    for circuit in circuits_in_order(rig):
        for name in (*circuit.wires, *circuit.returns):
            order.setdefault(name, len(order))
    wires = [wire for wire in rig.conductors if not wire.lead]
    last = len(order)
    return tuple(sorted(wires, key=lambda wire: order.get(wire.name, last)))


def slot_holders(
    rig: Rig, panel: Panel
) -> tuple[tuple[int, tuple[Circuit, ...], Slot | None], ...]:
    """Each slot of a panel in order: its number, its circuits, and what it is kept for."""
    name = panel.about.name
    kept = {slot.number: slot for slot in rig.slots if slot.panel == name}
    held = in_slots(rig)
    return tuple(
        (number, held.get((name, number), ()), kept.get(number))
        for number in range(1, panel.slots + 1)
    )


@once
def in_slots(rig: Rig) -> Mapping[tuple[str, int], tuple[Circuit, ...]]:
    """The circuits of each slot, by its panel and its number."""
    held: dict[tuple[str, int], list[Circuit]] = {}
    for circuit in rig.circuits:
        held.setdefault((circuit.panel, circuit.slot), []).append(circuit)
    return {slot: tuple(circuits) for slot, circuits in held.items()}


def verdict_words(book: str, findings: Iterable[Finding]) -> str:
    """How much was found under a rule book, in words that never say that a rig is safe."""
    found = found_words(findings)
    return (
        f"Found under rule book {book}: {found}."
        if found
        else (f"no findings under rule book {book}")
    )


def found_words(findings: Iterable[Finding]) -> str:
    """How many findings there are of each severity: `1 danger, 2 unknowns`; empty if none."""
    found = tuple(findings)
    severities = [finding.severity for finding in found]
    accepted = sum(finding.accepted is not None for finding in found)
    counts = [(severities.count(severity), _FOUND[severity]) for severity in Severity]
    words = ", ".join(f"{count} {words[count > 1]}" for count, words in counts if count)
    return f"{words} ({accepted} of them accepted)" if accepted else words
