"""What the text remarks of parts: notes and conditions, for whoever stands before them."""

from collections.abc import Iterable, Iterator, Mapping

from rigfolio.model import About, Circuit, Device, Panel, Rig
from rigfolio.record import once, record
from rigfolio.wording import called, circuits_in_order, is_return, load_words


@record
class PartNote:
    """What is remarked of one part: its name as it is printed, its condition, its note."""

    part: str
    condition: str
    note: str

    @property
    def words(self) -> str:
        """`P1.7 Blower: SCORCHED; replace at the next swap`."""
        said = "; ".join(word for word in (self.condition.upper(), self.note) if word)
        return f"{self.part}: {said}"


def notes_at(rig: Rig, panel: Panel) -> tuple[PartNote, ...]:
    """What is remarked of a panel, of its slots, and of what its circuits hold."""
    name = panel.about.name
    places = {circuit.place for circuit in rig.circuits if circuit.panel == name}
    slots = {f"{name}.{number}" for number in range(1, panel.slots + 1)}
    found = (
        *_abouts([panel.about]),
        *_remarks(rig, slots),
        *_circuits(rig, [c for c in circuits_in_order(rig) if c.place in places]),
    )
    return _once(found)


def notes_elsewhere(rig: Rig) -> tuple[PartNote, ...]:
    """What is remarked of the rig and of all that hangs on no panel."""
    held = {panel.about.name for panel in rig.panels}
    slots = {f"{p.about.name}.{n}" for p in rig.panels for n in range(1, p.slots + 1)}
    loose = [c for c in circuits_in_order(rig) if c.panel not in held]
    inside = {
        one.about.name for one in devices_within(rig, [c for c in rig.circuits if c.panel in held])
    }
    outer = [d.about for d in rig.devices if d.about.name not in inside]
    wires = [wire for wire in rig.conductors if not wire.circuit]
    found = (
        *([PartNote(rig.name, "", rig.note)] if rig.note else []),
        *_abouts([*(s.about for s in rig.sources), *(j.about for j in rig.junctions)]),
        *_abouts(outer),
        *(PartNote(f"wire {w.name}", w.condition, w.note) for w in wires if w.condition or w.note),
        *_abouts(load.about for load in rig.loads if not load.circuit),
        *_remarks(rig, {one.place for one in rig.remarks} - slots),
        *_circuits(rig, loose),
    )
    return _once(found)


def notes_of(rig: Rig, circuit: Circuit) -> tuple[PartNote, ...]:
    """What is remarked of one circuit, of its slot, and of all that is in it."""
    return _once((*_remarks(rig, {circuit.place}), *_circuits(rig, [circuit])))


def notes_about(*abouts: About) -> tuple[PartNote, ...]:
    """What is remarked of some parts themselves."""
    return _once(_abouts(abouts))


def _once(found: Iterable[PartNote]) -> tuple[PartNote, ...]:
    return tuple(dict.fromkeys(found))


def _abouts(abouts: Iterable[About]) -> Iterator[PartNote]:
    for about in abouts:
        if about.condition or about.note:
            yield PartNote(str(about), about.condition, about.note)


def _remarks(rig: Rig, places: Iterable[str]) -> Iterator[PartNote]:
    held = frozenset(places)
    for one in rig.remarks:
        if one.place in held:
            yield PartNote(one.place, one.condition, one.note)


def _circuits(rig: Rig, circuits: Iterable[Circuit]) -> Iterator[PartNote]:
    """What is remarked of circuits, of their wires, of switches in them, and of their loads."""
    for circuit in circuits:
        if circuit.condition or circuit.note:
            yield PartNote(called(circuit.place, circuit.label), circuit.condition, circuit.note)
        for name in (*circuit.wires, *circuit.returns):
            wire = rig.by_name.conductors[name]
            if wire.condition or wire.note:
                what = "return" if is_return(rig, wire) else "wire"
                yield PartNote(f"{what} {name}", wire.condition, wire.note)
        yield from _abouts(device.about for device in devices_within(rig, [circuit]))
        for name in circuit.loads:
            load = rig.by_name.loads[name]
            if load.about.condition or load.about.note:
                yield PartNote(load_words(rig, load), load.about.condition, load.about.note)


def devices_within(rig: Rig, circuits: Iterable[Circuit]) -> Iterator[Device]:
    """The switches and fuses that stand within circuits, wires of theirs on both ends."""
    for circuit in circuits:
        wires = (rig.by_name.conductors[name] for name in (*circuit.wires, *circuit.returns))
        ends = {end for wire in wires for end in (wire.a, wire.b)}
        begun = (pair for end in ends for pair in _by_line(rig).get(end, ()))
        within = {place: device for place, device in begun if device.load in ends}
        yield from (within[place] for place in sorted(within))


@once
def _by_line(rig: Rig) -> Mapping[str, list[tuple[int, Device]]]:
    """The devices by the terminal of their line, each with its place in the text."""
    found: dict[str, list[tuple[int, Device]]] = {}
    for place, device in enumerate(rig.devices):
        found.setdefault(device.line, []).append((place, device))
    return found
