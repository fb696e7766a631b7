"""What a person names to have it made dead: its terminals, and what feeds it, where hands go."""

from collections.abc import Callable, Iterable, Mapping

from rigfolio.model import Circuit, Device, Rig
from rigfolio.network import ends
from rigfolio.record import record
from rigfolio.study import once
from rigfolio.wording import Named, NameKind, finder_of


@record
class Target:
    """What is to be made dead: name, label, terminals.

    `with_it` are terminals that have to be dead with it, since hands go to what feeds it: to the
    bar behind a slot. `condition` is what it is marked as, where that is the reason.
    """

    name: str
    label: str
    terminals: tuple[str, ...]
    with_it: tuple[str, ...] = ()
    condition: str = ""


def place_of(rig: Rig, text: str, kind: NameKind | None = None) -> Target:
    """What a person means to make dead: a panel with all its slots, a circuit, a part, an end.

    Raises
    ------
    RefusalError
        Nothing has that name, or several parts have it.
    """
    found = finder_of(rig).the(text, kind)
    return Target(found.name, found.label, _terminals(rig, found))


def hands_at(rig: Rig, text: str, kind: NameKind | None = None) -> Target:
    """The same with what feeds it, where hands go there: a slot that is free, or to be mended.

    Raises
    ------
    RefusalError
        Nothing has that name, or several parts have it.
    """
    found = finder_of(rig).the(text, kind)
    terminals, condition = _terminals(rig, found), _condition(rig, found)
    with_it = _feeding(rig, found) if condition or found.kind == "slot" else ()
    with_it = tuple(end for end in with_it if end not in terminals)
    return Target(found.name, found.label, (*terminals, *with_it), with_it, condition)


def _terminals(rig: Rig, part: Named) -> tuple[str, ...]:
    return tuple(dict.fromkeys(_PLACES[part.kind](rig, part.key)))


def _condition(rig: Rig, part: Named) -> str:
    """What a circuit, its first device or a slot is marked as; empty where nothing is wrong."""
    circuit, device = _begun_by(rig, part)
    marks = [circuit.condition] if circuit is not None else []
    marks += [device.about.condition] if device is not None else []
    marks += [one.condition for one in rig.remarks if one.place == part.key]
    return next(filter(None, marks), "")


def _feeding(rig: Rig, part: Named) -> tuple[str, ...]:
    """What feeds a slot or the first device of a circuit: the fuse that is out leaves it live."""
    if part.kind == "slot":
        return (rig.by_name.panels[part.key.rpartition(".")[0]].bus,)
    _, device = _begun_by(rig, part)
    return (device.line,) if device is not None else ()


def _begun_by(rig: Rig, part: Named) -> tuple[Circuit | None, Device | None]:
    """A part as a circuit, and the device that it begins with or is."""
    circuit = rig.by_name.circuits.get(part.key) if part.kind == "circuit" else None
    return circuit, rig.by_name.devices.get(circuit.device if circuit is not None else part.key)


def _of_panel(rig: Rig, name: str) -> Iterable[str]:
    panel = rig.by_name.panels[name]
    slots = (d.load for d in rig.devices if d.in_slot and d.line == panel.bus)
    return (panel.feed, panel.bus, *slots)


def ends_of_circuit(rig: Rig, name: str) -> Iterable[str]:
    """All ends of the wires of a circuit, but for what feeds its first device."""
    return _ends_of_circuits(rig)[name]


@once
def _ends_of_circuits(rig: Rig) -> Mapping[str, tuple[str, ...]]:
    """The terminals of each circuit by its place, in the order of the text; not where it is fed."""
    circuits = rig.by_name.circuits
    held: dict[str, list[str]] = {}
    for place, circuit in circuits.items():
        for name in circuit.wires:
            held.setdefault(name, []).append(place)
    landed: dict[str, list[str]] = {}
    for wire in rig.conductors:
        for place in held.get(wire.name, ()):
            landed.setdefault(place, []).extend(ends(wire))
    found = {}
    for place, circuit in circuits.items():
        every = (circuit.start, *landed.get(place, ()))
        device = rig.by_name.devices.get(circuit.device)
        line = device.line if device is not None else ""
        # One that the text puts nowhere has no start.
        found[place] = tuple(end for end in every if end not in ("", line))
    return found


def _of_source(rig: Rig, name: str) -> Iterable[str]:
    """The plus of a source, and the input of one that passes on what it gets."""
    source = rig.by_name.sources[name]
    fed = (load.plus for load in rig.loads if load.about.name == source.inlet)
    return (source.plus, *fed, *(source.lit or ())[:1])


_PLACES: Mapping[NameKind, Callable[[Rig, str], Iterable[str]]] = {
    "panel": _of_panel,
    "circuit": ends_of_circuit,
    "wire": lambda rig, name: ends(rig.conductor(name)),
    "source": _of_source,
    "load": lambda rig, name: (one.plus for one in rig.loads if one.about.name == name),
    "device": lambda rig, name: (
        end for d in rig.devices if d.about.name == name for end in (d.line, d.load)
    ),
    "bar": lambda _, name: (name,),
    "slot": lambda _, name: (name,),
    "terminal": lambda _, name: (name,),
}
"""The terminals of a part, by what it is."""
