"""What a rig says of each of its parts, fact by fact in words, so that two versions compare."""

from collections.abc import Mapping
from math import inf

from rigfolio.findings import Unknown
from rigfolio.model import AcBreaker, Circuit, Conductor, Device, Junction, Load, Panel, Rig, Source
from rigfolio.record import once
from rigfolio.units import show, time_words
from rigfolio.wording import (
    amps,
    colour_words,
    device_named,
    gauge_words,
    length_words,
    module_words,
    rating_words,
)

Said = Mapping[str, str]
"""Facts by name, in words; empty words where nothing is said."""
Told = tuple[str, bool]
"""What differs in words, and whether only that was learnt: the part itself is as it was."""


def source_said(source: Source) -> Said:
    """What is said of a battery, charger or other source."""
    return {
        "kind": source.kind,
        "label": source.about.label,
        "volts": show(source.voltage_v, "V"),
        "rating": _maybe(source.limit_a, "A"),
        "capacity": _maybe(source.capacity_c, "Ah"),
        "internal resistance": _maybe(source.internal_ohm, "mohm"),
        "short-circuit current": _maybe(source.short_a, "A"),
        "modules": "" if source.modules is None else ", ".join(module_words(source.modules)),
        "input": _maybe(source.input_most_v, "V"),
        "cold cranking": _maybe(source.cranking_a, "A"),
        "for hours": _maybe(source.hours_a, "A"),
        "chemistry": source.chemistry,
        "stud": source.about.stud,
        "condition": source.about.condition,
        "note": source.about.note,
    }


def device_said(device: Device) -> Said:
    """What is said of a fuse, breaker or switch."""
    return {
        "kind": device.kind,
        "label": device.about.label,
        "rating": _maybe(device.rating_a, "A"),
        "made as": device.family,
        "interrupts": _maybe(device.interrupts_a, "A"),
        "resets": "by itself" if device.resets_itself else "",
        "rests": device.rests,
        "rated": _maybe(device.about.rated_v, "V"),
        "stud": device.about.stud,
        "condition": device.about.condition,
        "note": device.about.note,
    }


def junction_said(junction: Junction) -> Said:
    """What is said of a bar, frame or splice."""
    return {
        "kind": junction.kind,
        "label": junction.about.label,
        "rating": _maybe(junction.rating_a, "A"),
        "ways": str(junction.ways or ""),
        "stud": junction.about.stud,
        "condition": junction.about.condition,
        "note": junction.about.note,
    }


def panel_said(panel: Panel) -> Said:
    """What is said of a panel, its slots aside."""
    return {
        "label": panel.about.label,
        "slots": str(panel.slots),
        "slot rating": _maybe(panel.slot_a, "A"),
        "rating in all": _maybe(panel.total_a, "A"),
        "pitch": "" if panel.pitch_m is None else show(panel.pitch_m, "mm"),
        "window": _window(panel),
        "columns": str(panel.columns),
        "negative": panel.negative or "",
        "stud": panel.about.stud,
        "condition": panel.about.condition,
        "note": panel.about.note,
    }


def _window(panel: Panel) -> str:
    if panel.window_m is None:
        return ""
    return " by ".join(show(side_m, "mm") for side_m in panel.window_m)


def wire_said(rig: Rig, wire: Conductor, *, imperial: bool) -> Said:
    """What is said of a conductor, the fuse on it among them.

    A fuse elsewhere that guards it is told of once, where it stands.
    """
    on_it = None if wire.circuit else _fuses(rig).get(wire.name)
    return {
        "size": gauge_words(wire),
        "colour": colour_words(wire.colour),
        "length": length_words(wire.length_m, imperial=imperial),
        "insulation": " ".join((wire.insulation, _maybe(wire.insulation_c, "degC"))).strip(),
        "terminals": " and ".join(end for end in wire.ends if end),
        "fuse": rating_words(on_it) if on_it is not None else "",
        "ambient": _maybe(wire.ambient_c, "degC"),
        "bundle": str(wire.bundle) if wire.bundle > 1 else "",
        "place": ", ".join(_lies(wire)),
        "condition": wire.condition,
        "note": wire.note,
    }


@once
def _fuses(rig: Rig) -> Mapping[str, Device]:
    """The first fuse or breaker on each wire that has one, by the name of the wire."""
    return {device.on_wire: device for device in reversed(rig.devices) if device.on_wire}


def load_said(load: Load) -> Said:
    """What is said of a load."""
    unit = {"current": "A", "power": "W", "resistance": "ohm"}[load.kind]
    return {
        "draws": _maybe(load.value, unit),
        "runs": load.duty,
        "day": "" if load.day_share is None else show(load.day_share, "h/day"),
        "at rest": _maybe(load.rest_a, "A"),
        "made for": _maybe(load.made_for_v, "V"),
        "starts at": "" if load.starts_at is None else f"{load.starts_at:g} times",
        "starts for": "" if load.start_s is None else time_words(load.start_s),
        "must stay on": "yes" if load.always_on else "",
        "condition": load.about.condition,
        "note": load.about.note,
    }


def circuit_said(rig: Rig, circuit: Circuit) -> Said:
    """What is said of a circuit itself: its device, and what goes for all of it."""
    device = device_named(rig, circuit.device)
    made = device.family if device else ""
    return {
        "fuse": " ".join((rating_words(device), made)).strip() if device else "",
        "must stay on": "yes" if circuit.always_on else "",
        "condition": circuit.condition,
        "note": circuit.note,
    }


def ac_said(breaker: AcBreaker) -> Said:
    """What is said of an AC breaker."""
    return {"rating": amps(breaker.rating_a)}


def rig_said(rig: Rig) -> Said:
    """What is said of the whole rig."""
    return {
        "name": rig.name,
        "system": show(rig.system_v, "V"),
        "rule book": rig.book,
        "ambient": _maybe(rig.ambient_c, "degC"),
        "coldest": _maybe(rig.coldest_c, "degC"),
        "insulation": _maybe(rig.insulation_c, "degC"),
        "note": rig.note,
    }


def differences(before: Said, after: Said) -> tuple[Told, ...]:
    """Every fact that is not the same, as `size 12 AWG, was 14 AWG`."""
    found = []
    for name, now in after.items():
        was = before.get(name, "")
        if now != was:
            words = f"{name} {now or 'no longer said'}, was {was or 'not said'}"
            found.append((words, is_unread(was)))
    return tuple(found)


def is_unread(words: str) -> bool:
    """Whether what was said of a fact is that nobody knows it."""
    return "?" in words.split()


def _maybe(value: float | Unknown | None, unit: str) -> str:
    if value is None:
        return ""
    if isinstance(value, Unknown):
        return f"? {unit}"
    return "no limit" if value == inf else show(value, unit)


def _lies(wire: Conductor) -> tuple[str, ...]:
    said = (
        ("engine space", wire.engine_space),
        ("sheathed", wire.sheathed),
        ("cranking", wire.cranking),
    )
    return tuple(words for words, holds in said if holds)
