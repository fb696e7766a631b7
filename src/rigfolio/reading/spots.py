"""Which part of a rig a person means who writes its name beside a reading."""

from collections.abc import Iterable, Iterator
from functools import cached_property

from rigfolio.model import PartKind, Rig
from rigfolio.nearness import nearest
from rigfolio.record import record


@record
class Spot:
    """A part: its own name, what it is, its two terminals, the loads that it runs.

    `b` is empty where the part has one terminal; what is read there is read against its minus.
    """

    name: str
    kind: PartKind
    a: str
    b: str = ""
    loads: tuple[str, ...] = ()


class Spots:
    """The parts of a rig by name, terminal and label; labels in any case."""

    def __init__(self, rig: Rig) -> None:
        self.rig = rig

    @property
    def states(self) -> tuple[str, ...]:
        """The states that the rig names."""
        return tuple(state.name for state in self.rig.states)

    @property
    def all_loads(self) -> tuple[str, ...]:
        """The names of all loads."""
        return tuple(load.about.name for load in self.rig.loads)

    @cached_property
    def _named(self) -> dict[str, Spot]:
        found: dict[str, Spot] = {}
        for spot in _spots(self.rig):
            found.setdefault(_key(self.rig, spot.name, spot.kind), spot)
        for terminal in self.rig.where:
            found.setdefault(terminal, Spot(terminal, "terminal", terminal))
        return found

    @cached_property
    def _labelled(self) -> dict[str, tuple[str, ...]]:
        found: dict[str, tuple[str, ...]] = {}
        for label, name in _labels(self.rig):
            key = _folded(label)
            if key and name not in found.get(key, ()):
                found[key] = (*found.get(key, ()), name)
        return found

    def find(self, name: str) -> Spot | None:
        """The one part that is meant; None where there is none, or more than one."""
        if name in self._named:
            return self._named[name]
        for key in self._named:
            if key.lower() == name.lower():
                return self._named[key]
        names = self.several(name)
        return self._named[names[0]] if len(names) == 1 else None

    def several(self, name: str) -> tuple[str, ...]:
        """The names of all parts that bear a label; one load goes before all else of that label."""
        names = self._labelled.get(_folded(name), ())
        loads = [each for each in names if self._named[each].kind == "load"]
        return (loads[0],) if len(loads) == 1 else names

    def near(self, name: str) -> str:
        """The closest name or label, or where to look for one."""
        labels = [label for label, _ in _labels(self.rig) if label]
        close = nearest(name, [*(key for key in self._named if "~" not in key), *labels])
        if close:
            return f"the nearest name is `{close}`"
        return "`rigfolio live FILE` lists the parts by name"


def _folded(label: str) -> str:
    return " ".join(label.casefold().split())


def _key(rig: Rig, name: str, kind: PartKind) -> str:
    """The name that a part goes by: a terminal comes before a circuit that starts at it."""
    circuit = rig.by_name.circuits.get(name) if kind == "circuit" else None
    return name if circuit is None or circuit.start == name else f"circuit {name}"


def _spots(rig: Rig) -> Iterator[Spot]:
    for load in rig.loads:
        yield Spot(load.about.name, "load", load.plus, load.minus, (load.about.name,))
    for circuit in rig.circuits:
        yield Spot(circuit.place, "circuit", circuit.start, "", circuit.loads)
    for source in rig.sources:
        yield Spot(source.about.name, "source", source.plus, source.minus)
    for panel in rig.panels:
        yield Spot(panel.about.name, "panel", panel.feed)
    for device in rig.devices:
        if not device.traits.is_plug:
            yield Spot(device.about.name, "device", device.line, device.load)
    for wire in rig.conductors:
        yield Spot(wire.name, "wire", wire.a, wire.b)
    for junction in rig.junctions:
        yield Spot(junction.about.name, "terminal", junction.terminal)


def _labels(rig: Rig) -> Iterator[tuple[str, str]]:
    for load in rig.loads:
        yield load.about.label, load.about.name
    for circuit in rig.circuits:
        yield circuit.label, _key(rig, circuit.place, "circuit")
    parts: Iterable[Iterable[tuple[str, str]]] = (
        ((each.about.label, each.about.name) for each in rig.sources),
        ((each.about.label, each.about.name) for each in rig.panels),
        ((each.about.label, each.about.name) for each in rig.devices if not each.traits.is_plug),
        ((each.about.label, each.about.name) for each in rig.junctions),
    )
    for part in parts:
        yield from part
