"""What guards a wire or a circuit against what its wires allow, in words.

The wires are those that are there: of one that was found thinner than what belongs there, what was
found counts until it is pulled.
"""

from rigfolio.findings import Unknown
from rigfolio.kinds import USUAL_GUARD, plural
from rigfolio.model import Circuit, Conductor, Device, Rig
from rigfolio.protection.guard import Guard, guard_of_circuit, own_of
from rigfolio.protection.too_large import (
    bare_behind,
    guard_there,
    is_too_large,
    largest_instead,
    largest_made_a,
    lets_too_much,
)
from rigfolio.protection.weakest import parts_on_the_way
from rigfolio.record import once
from rigfolio.study import Study, as_found
from rigfolio.units import show
from rigfolio.wording import (
    amps,
    fitted_there,
    fuse_word,
    in_a_row,
    rating_words,
)

_MOST_NAMED = 3
"""How many wires a label names."""


def largest_words(study: Study, circuit: Circuit, *, short: bool = True) -> str:
    """Largest device that is made and that a circuit allows: `max fuse 15 A`, or `max fuse ?`.

    A rating of the family that fits, never between two of them; `none made` where the smallest is
    too large.
    """
    devices = guard_of_circuit(as_found(study), circuit).devices
    made = largest_made_a(study, circuit)
    figure = "none made" if made is None else amps(made).replace("? A", "?")
    kind = devices[0].kind if devices else USUAL_GUARD
    return f"max {kind} {figure}" if short else figure


def instead_words(study: Study, device: Device) -> str:
    """The largest device in its place: `40 A`, `none made`, `125 A and a fuse for W21`.

    Never a figure alone where a wire behind it is not protected by that.
    """
    largest = largest_instead(study, device)
    figure = "none made" if largest is None else amps(largest).replace("? A", "?")
    bare = [wire.name for wire in bare_behind(study, device)]
    if not bare:
        return figure
    if len(bare) > _MOST_NAMED:
        return f"{figure} and fuses for {len(bare)} wires"
    return f"{figure} and {'a fuse' if len(bare) == 1 else 'fuses'} for {in_a_row(bare)}"


def is_unproven(study: Study, device: Device) -> bool:
    """Whether a device begins a circuit and nobody knows that it may stand there.

    Nobody has read its rating, or the size of a wire that it is there for.
    """
    begun = study.rig.begun.get(device.about.name, ())
    if not device.protects or not begun:
        return False
    return isinstance(device.rating_a, Unknown) or any(is_unread(study, one) for one in begun)


def colour_word(study: Study, circuit: Circuit) -> str | None:
    """Colour of the fuse that belongs before a circuit; None of one that may not be copied."""
    devices = guard_of_circuit(study, circuit).devices
    is_copied = devices and not (is_too_large(study, circuit) or is_unread(study, circuit))
    return fuse_word(devices[0]) if is_copied else None


@once
def is_unread(study: Study, circuit: Circuit) -> bool:
    """Whether nobody has read the size of a wire that the device of a circuit is there for."""
    there = as_found(study)
    beyond, _, _ = parts_on_the_way(there, circuit)
    wires = (*filter(there.is_judged_lead, there.wires_of(circuit.place)), *beyond)
    return any(isinstance(wire.size, Unknown) for wire in wires)


def fitted_words(study: Study, circuit: Circuit) -> str:
    """What guards a circuit: rating and colour, or a warning that leaves no colour to copy."""
    guard = guard_of_circuit(as_found(study), circuit)
    own = study.device(circuit.device)
    if own is not None and guard.guards and is_unread(study, circuit):
        known = isinstance(own.rating_a, float)
        return f"{amps(own.rating_a)}, wire ?" if known else rating_words(own)
    return _words(guard, () if own is None else (own,))


def fitted_now_words(study: Study, circuit: Circuit) -> str:
    """The same as it is read before anything is put right: `20 A found, 5 A tan belongs`."""
    own, words = study.device(circuit.device), fitted_words(study, circuit)
    if own is None:
        return words
    return fitted_there(study.rig, own, words, is_warned=is_too_large(study, circuit))


def guard_words(study: Study, wire: Conductor) -> str:
    """What guards a wire, or why nothing does: `7.5 A brown`, `none: cranking cable`.

    A device that is not that of the wire's own circuit, and not on the wire, is named. Of one that
    was found in place of another both are told.
    """
    guard, own = guard_there(study, wire), own_of(study, wire)
    circuit = study.circuit(wire.circuit)
    if circuit is not None and guard.guards and guard.devices == own:
        # One device has one word in a circuit, too large for any of its wires or for none.
        return fitted_now_words(study, circuit)
    over = _let_through(study, wire, guard, own)
    if over:
        return f"{over}, NONE against {_against(guard)}"
    return _words(guard, own, study.rig)


def _let_through(study: Study, wire: Conductor, guard: Guard, own: tuple[Device, ...]) -> str:
    """What sits on a wire and is too large, where something else is not even guarded against."""
    if guard.why not in ("bare", "far"):
        return ""
    over = [amps(one.rating_a) for one in own if lets_too_much(study, wire, one)]
    return f"{' + '.join(over)} TOO LARGE" if over else ""


def _against(guard: Guard) -> str:
    """The sources that a wire is worst guarded against."""
    names = dict.fromkeys(one.source.about.name for one in guard.against if one.why == guard.why)
    return " and ".join(names)


def guard_facts(study: Study, wire: Conductor) -> tuple[str, str]:
    """The same for a tag, long and short: `fuse F1 50 A` and `50 A`; empty for a return."""
    guard, own = guard_there(study, wire), own_of(study, wire)
    if not guard.devices and guard.why in ("return", "idle"):
        return "", ""
    between = " + " if guard.why == "over" else ", "
    figures = between.join(amps(device.rating_a).replace("? A", "?") for device in guard.devices)
    if guard.why == "guarded":
        each = [f"{_with_kind(device, own)} {amps(device.rating_a)}" for device in guard.devices]
        several = _how_many(guard.devices) if len(guard.devices) > 2 else figures
        return ", ".join(each).replace("? A", "?"), several
    if guard.why == "over":
        return f"{guard.devices[0].kind} {figures} TOO LARGE", f"{figures} TOO LARGE"
    over = _let_through(study, wire, guard, own)
    if over:
        return f"{own[0].kind} {over}, NO FUSE against {_against(guard)}", over
    unguarded = _unguarded(guard)
    if unguarded and own:
        # What stands in it is printed elsewhere: the tag says against whom it does not count.
        least = f"NO FUSE against {unguarded}"
        held = (f"{_with_kind(d, own)} {amps(d.rating_a)}" for d in own)
        return ", ".join((*held, least)).replace("? A", "?"), least
    none = "NO FUSE" if guard.why in ("far", "bare") else "no fuse"
    if guard.why == "ahead" and guard.devices:
        return f"{none}, ahead of {_names(guard.devices, own)}", none
    return none, none


def _words(guard: Guard, own: tuple[Device, ...], now: Rig | None = None) -> str:
    """What guards a wire; `now` is the rig of which it is told what was found in its place."""

    def told(words: str, each: Device) -> str:
        said = _after(words, each, own)
        return said if now is None else fitted_there(now, each, said)

    if guard.why == "guarded":
        return ", ".join(told(rating_words(each), each) for each in guard.devices)
    if guard.why == "over":
        figures = " + ".join(told(amps(each.rating_a), each) for each in guard.devices)
        return f"{figures} TOO LARGE"
    if guard.why == "cranking":
        return "none: cranking cable"
    if guard.why == "itself":
        gives = ", ".join(
            f"{one.source.about.name} gives {_most(one.source.limit_a)}" for one in guard.against
        )
        return f"none: {gives}"
    if guard.why == "ahead" and guard.devices:
        return f"none: ahead of {_names(guard.devices, own)}"
    if guard.why not in ("bare", "far"):
        return "none"
    unguarded = _unguarded(guard)
    if unguarded:
        return f"NONE against {unguarded}"
    late = f": {_names(guard.devices, own)} too far on" if guard.devices else ""
    return f"NONE{late}"


def _unguarded(guard: Guard) -> str:
    """The sources that nothing guards a wire against which is guarded against others, in words."""
    if guard.why not in ("bare", "far") or all(one.why != "guarded" for one in guard.against):
        return ""
    return _against(guard)


def _most(limit_a: object) -> str:
    return f"{show(limit_a, 'A')} at most" if isinstance(limit_a, float) else "? A"


def _names(devices: tuple[Device, ...], own: tuple[Device, ...]) -> str:
    if len(devices) > 2:
        return _how_many(devices)
    return " and ".join(_called(each, own) or f"its {each.kind}" for each in devices)


def _how_many(devices: tuple[Device, ...]) -> str:
    kinds = dict.fromkeys(plural(device.kind) for device in devices)
    return f"{len(devices)} {' and '.join(kinds)}"


def _after(words: str, device: Device, own: tuple[Device, ...]) -> str:
    """Words with the name of a device after them; a name that says what it is says it for both."""
    name = _called(device, own)
    if name.endswith(device.kind):
        words = amps(device.rating_a)
    return f"{words} {name}".strip()


def _called(device: Device, own: tuple[Device, ...]) -> str:
    """What a device is called beside a wire; empty where it goes without saying."""
    if device in own:
        return ""
    return device.about.name


def _with_kind(device: Device, own: tuple[Device, ...]) -> str:
    """`fuse F1`, `W4 fuse`; only what it is where its name goes without saying."""
    name = _called(device, own)
    return name if name.endswith(device.kind) else f"{device.kind} {name}".strip()
