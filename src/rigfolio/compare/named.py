"""The parts that are known again by their names, with all that is said of each."""

from collections.abc import Callable, Iterable, Mapping, Sequence

from rigfolio.compare.change import Thing
from rigfolio.compare.facts import (
    ac_said,
    acceptance_said,
    device_said,
    facts_of,
    junction_said,
    load_said,
    panel_said,
    picture_said,
    source_said,
    state_said,
)
from rigfolio.compare.match import Pair
from rigfolio.compare.stated import Said
from rigfolio.model import Device, Rig
from rigfolio.wording import short_end

Named = tuple[str, str, Said]
"""A part: its name, its label, what is said of it."""
About = Callable[[Rig, Sequence[Pair], int], Mapping[str, Named]]
"""The parts of one kind in one of the two versions, by what they are known again by."""


def _by_key(parts: Iterable[tuple[str, Named]]) -> Mapping[str, Named]:
    """All parts; of several with one key the second is another one."""
    found: dict[str, Named] = {}
    for key, part in parts:
        free = key
        while free in found:
            free += "'"
        found[free] = part
    return found


def _by_name(parts: Iterable[Named]) -> Mapping[str, Named]:
    return _by_key((part[0], part) for part in parts)


def _sources(rig: Rig, _pairs: Sequence[Pair], _which: int) -> Mapping[str, Named]:
    return _by_name((s.about.name, s.about.label, source_said(rig, s)) for s in rig.sources)


def _panels(rig: Rig, _pairs: Sequence[Pair], _which: int) -> Mapping[str, Named]:
    return _by_name((p.about.name, p.about.label, panel_said(rig, p)) for p in rig.panels)


def _bars(rig: Rig, pairs: Sequence[Pair], which: int) -> Mapping[str, Named]:
    stems = _stems(pairs, which)
    return _by_key(
        (_stemmed(j.about.name, stems), (j.about.name, j.about.label, junction_said(rig, j)))
        for j in rig.junctions
    )


def _devices(rig: Rig, pairs: Sequence[Pair], which: int) -> Mapping[str, Named]:
    """Devices that are neither the first of a circuit nor one that was told with its wire."""
    first = {circuit.device for circuit in rig.circuits}
    feeds = {wire.name for wire in rig.conductors if not wire.circuit}
    stems = _stems(pairs, which)
    told: set[str] = set()
    found = []
    for device in rig.devices:
        name = device.about.name
        is_told = device.on_wire in feeds and device.on_wire not in told
        told |= {device.on_wire} if is_told else set()
        if name in first or is_told:
            continue
        if device is not rig.by_name.devices[name]:
            continue
        said = {**device_said(rig, device), "on": _seat(rig, device)}
        found.append((_stemmed(name, stems), (name, device.about.label, said)))
    return _by_key(found)


def _seat(rig: Rig, device: Device) -> str:
    """What a device sits on: an end that it has not for itself."""
    own = f"{device.about.name}."
    seats = (end for end in (device.line, device.load) if not end.startswith(own))
    return " and ".join(short_end(rig, end) for end in seats if "/" not in end)


def _loads(rig: Rig, _pairs: Sequence[Pair], _which: int) -> Mapping[str, Named]:
    """Loads of no circuit; what feeds a source is told with it."""
    inlets = {source.inlet for source in rig.sources}
    own = {name for circuit in rig.circuits for name in circuit.loads}
    return _by_name(
        (load.about.name, load.about.label, {**load_said(rig, load), "label": load.about.label})
        for load in rig.loads
        if load.about.name not in own and load.about.name not in inlets
    )


def _ac(rig: Rig, _pairs: Sequence[Pair], _which: int) -> Mapping[str, Named]:
    return _by_name((one.label, "", ac_said(one)) for one in rig.ac)


def _states(rig: Rig, _pairs: Sequence[Pair], _which: int) -> Mapping[str, Named]:
    return _by_name((one.name, "", state_said(one)) for one in rig.states)


def _places(rig: Rig, _pairs: Sequence[Pair], _which: int) -> Mapping[str, Named]:
    return _by_name((one.place, "", facts_of(one)) for one in rig.remarks)


def _pictures(rig: Rig, _pairs: Sequence[Pair], _which: int) -> Mapping[str, Named]:
    return _by_name((one.file, "", picture_said(one)) for one in rig.photos)


def _accepted(rig: Rig, _pairs: Sequence[Pair], _which: int) -> Mapping[str, Named]:
    return _by_name(
        (f"{one.rule} at {one.place}" if one.place else one.rule, "", acceptance_said(one))
        for one in rig.accepted
    )


def _stems(pairs: Sequence[Pair], which: int) -> Mapping[str, str]:
    """What the names within circuits of the former version begin with now."""
    return {old.stem: new.stem for old, new in pairs if old and new} if which == 0 else {}


def _stemmed(name: str, stems: Mapping[str, str]) -> str:
    stem = name.partition("/")[0]
    return stems.get(stem, stem) + name[len(stem) :]


ABOUT: Mapping[Thing, About] = {
    "source": _sources,
    "device": _devices,
    "panel": _panels,
    "bar": _bars,
    "load": _loads,
    "AC breaker": _ac,
    "state": _states,
    "place": _places,
    "picture": _pictures,
    "acceptance": _accepted,
}
