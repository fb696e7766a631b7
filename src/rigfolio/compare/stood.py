"""What stood in a rig before it was changed: what was found, where another one belongs there.

A text with `found` tells of what is there and of what belongs there. What is done and told between
two versions begins with what is there; unless the later version says the same of it: then the other
one is still waited for.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

from rigfolio.compare.change import Thing
from rigfolio.compare.match import Pair, same_wires
from rigfolio.compare.wires import run_words
from rigfolio.model import Circuit, Conductor, Device, Rig
from rigfolio.record import replace
from rigfolio.units import Size
from rigfolio.wording import device_named, gauge_words, rating_words

ToldWith = tuple[Thing, str, str]
"""With what a change is told: its kind of part, its name and its label."""


def as_it_stood(before: Rig, after: Rig, pairs: Sequence[Pair]) -> Rig:
    """The former version with what was found where that was another than belongs there.

    What is said of it in the same words in both versions was not touched, and stays as it is
    written. It is the same rig where nothing was found.

    Parameters
    ----------
    before, after : Rig
        The two versions.
    pairs : Sequence[Pair]
        Their circuits.
    """
    if not _has_found(before):
        return before
    same = {was: now for now, was in same_wires(before, after).items()}
    later = dict(_same_devices(before, after, pairs, same))
    now = after.by_name.conductors
    circuits = {id(old): new for old, new in pairs if old is not None}
    slots = {one.device: one for one in before.circuits if isinstance(one.found_a, float)}

    def device(one: Device) -> Device:
        new, slot = later.get(one.about.name), slots.get(one.about.name)
        part = new if slot is None else circuits.get(id(slot))
        found_a = one.found_a if slot is None else slot.found_a
        still_a = None if part is None else part.found_a
        waits = new is not None and (found_a, one.rating_a) == (still_a, new.rating_a)
        if not isinstance(found_a, float) or waits:
            return one
        return replace(one, rating_a=found_a, found_a=None if still_a is None else one.found_a)

    def circuit(one: Circuit) -> Circuit:
        new = circuits.get(id(one))
        is_told = isinstance(one.found_a, float) and new is not None and new.found_a is None
        return replace(one, found_a=None) if is_told else one

    return replace(
        before,
        devices=tuple(map(device, before.devices)),
        circuits=tuple(map(circuit, before.circuits)),
        conductors=tuple(
            _wire_that_stood(one, now.get(same.get(one.name, ""))) for one in before.conductors
        ),
    )


def _wire_that_stood(one: Conductor, new: Conductor | None) -> Conductor:
    """A wire in the size that was found, unless that is written of it in both versions.

    Of a return that is assumed nobody found anything: it says after the wire that it goes beside.
    """
    if not isinstance(one.found, Size):
        return one
    if new is not None and (new.found, new.size) == (one.found, one.size):
        return one
    if one.assumed:
        is_so = new is not None and new.size == one.found
        return replace(one, size=one.found if is_so else one.size, found=None)
    still = new is not None and new.found is not None
    return replace(one, size=one.found, found=one.found if still else None)


def written_as_found(
    before: Rig, stood: Rig, after: Rig, pairs: Sequence[Pair]
) -> Mapping[ToldWith, Sequence[str]]:
    """What was found and is written now as what belongs there, by what it is told with.

    Nothing is done with it.

    Parameters
    ----------
    before, stood, after : Rig
        The two versions, and between them the former one `as_it_stood`.
    pairs : Sequence[Pair]
        Their circuits.
    """
    found: dict[ToldWith, list[str]] = {}
    for name, is_now, was in _written(before, stood, after, pairs):
        words = f"{is_now} is written now, as it was found, was {was}"
        found.setdefault(_told_with(after, name), []).append(words)
    return found


def _written(
    before: Rig, stood: Rig, after: Rig, pairs: Sequence[Pair]
) -> Iterator[tuple[str, str, str]]:
    """The devices and wires that are written as they were found: name, what is written, was."""
    if stood is before:
        return
    same = {was: now for now, was in same_wires(before, after).items()}
    later = dict(_same_devices(before, after, pairs, same))
    for name, was in before.by_name.devices.items():
        there_a, new = stood.by_name.devices[name].rating_a, later.get(name)
        if there_a != was.rating_a and new is not None and new.rating_a == there_a:
            yield new.about.name, rating_words(new), rating_words(was)
    for wire in stood.conductors:
        old = before.conductor(wire.name)
        now = after.by_name.conductors.get(same.get(wire.name, ""))
        if wire.assumed or wire.size == old.size:
            continue
        if now is not None and now.size == wire.size:
            yield now.name, gauge_words(now), gauge_words(old)


def _told_with(rig: Rig, name: str) -> ToldWith:
    """The circuit, the wire or the device with which a device or a wire is told."""
    device, wire = rig.by_name.devices.get(name), rig.by_name.conductors.get(name)
    circuit = next(iter(rig.begun.get(name, ())), None)
    if wire is None and device is not None:
        wire = rig.by_name.conductors.get(device.on_wire)
    if circuit is None and wire is not None:
        circuit = rig.by_name.circuits.get(wire.circuit)
    if circuit is not None:
        return "circuit", circuit.place, circuit.label
    if wire is not None:
        return "wire", wire.name, run_words(rig, wire)
    return "device", name, device.about.label if device is not None else ""


def _has_found(rig: Rig) -> bool:
    """Whether anything was found that is not what belongs there."""
    amperes = (*(one.found_a for one in rig.devices), *(one.found_a for one in rig.circuits))
    return any(isinstance(one, float) for one in amperes) or any(
        isinstance(one.found, Size) for one in rig.conductors
    )


def _same_devices(
    before: Rig, after: Rig, pairs: Sequence[Pair], same: Mapping[str, str]
) -> Iterator[tuple[str, Device]]:
    """By its former name each device that is in both, as it is written now."""
    renamed = renaming(pairs)
    for name in before.by_name.devices:
        known = device_named(after, renamed(name))
        if known is not None:
            yield name, known
    for wire, seated in before.seated.items():
        now = after.seated.get(same.get(wire, ""), ())
        yield from ((old.about.name, new) for old, new in zip(seated, now, strict=False))
    for old, new in pairs:
        known = device_named(after, new.device) if old is not None and new is not None else None
        if old is not None and known is not None:
            yield old.device, known


def renaming(pairs: Iterable[Pair]) -> Callable[[str], str]:
    """What a part inside a circuit is called once the circuit has moved."""
    stems = {old.stem: new.stem for old, new in pairs if old and new}

    def renamed(name: str) -> str:
        stem = next((one for one in stems if name == one or name.startswith(f"{one}/")), "")
        return stems[stem] + name.removeprefix(stem) if stem else name

    return renamed
