"""Which terminals a part that a person names has, and what they are to it.

Commands ask for several of them: a meter is held to two, a short is put on some, hands that reach
in ask for all that can be live, and who asks for what lands on a part for every one.
"""

from collections.abc import Callable, Mapping

from rigfolio.model import Rig
from rigfolio.record import once, record
from rigfolio.wording.finder import NameKind


@record
class Terminals:
    """The terminals of a part.

    A meter is held to `a` and `b`; `b` is empty where the part has one, which is read against its
    minus. `plus` are all by which it is fed and feeds others: what has to be dead before hands go
    there. `minus` are those by which that comes back. On `shorted` a dead short is put.
    """

    a: str
    b: str
    plus: tuple[str, ...]
    minus: tuple[str, ...] = ()
    shorted: tuple[str, ...] = ()

    @property
    def every(self) -> tuple[str, ...]:
        """All of them."""
        return (*self.plus, *self.minus)


@once
def terminals_of(rig: Rig, kind: NameKind, key: str) -> Terminals:
    """The terminals of a part by what it is and what it is called in the graph, each once.

    Raises
    ------
    KeyError
        The rig has no such part.
    """
    found = _TERMINALS[kind](rig, key)
    shorted = found.shorted or found.plus
    return Terminals(found.a, found.b, *map(_each_once, (found.plus, found.minus, shorted)))


def _each_once(terminals: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(filter(None, terminals)))


def _panel(rig: Rig, name: str) -> Terminals:
    """A slip inside a panel reaches all of it; a meter is held to what feeds it."""
    panel = rig.by_name.panels[name]
    slots = tuple(d.load for d in rig.devices if d.in_slot and d.line == panel.bus)
    return Terminals(
        panel.feed, "", (panel.feed, panel.bus, *slots), (panel.negative or "",), (panel.bus,)
    )


def _circuit(rig: Rig, place: str) -> Terminals:
    """All ends of the wires of a circuit but for what feeds its first device; shorts at its ends.

    One that the text puts nowhere has no start.
    """
    circuit = rig.by_name.circuits[place]
    device = rig.by_name.devices.get(circuit.device)
    line = device.line if device is not None else ""
    every = (circuit.start, *_landed(rig).get(place, ()))
    loads = tuple(rig.by_name.loads[name].plus for name in circuit.loads)
    plus = tuple(end for end in every if end != line)
    return Terminals(circuit.start, "", plus, shorted=(circuit.start, *loads))


@once
def _landed(rig: Rig) -> Mapping[str, tuple[str, ...]]:
    """The ends of the wires of each circuit by its place, in the order of the text."""
    held: dict[str, list[str]] = {}
    for place, circuit in rig.by_name.circuits.items():
        for name in circuit.wires:
            held.setdefault(name, []).append(place)
    landed: dict[str, tuple[str, ...]] = {}
    for wire in rig.conductors:
        for place in held.get(wire.name, ()):
            landed[place] = (*landed.get(place, ()), wire.a, wire.b)
    return landed


def _source(rig: Rig, name: str) -> Terminals:
    """A source with the input of one that passes on what it gets."""
    source = rig.by_name.sources[name]
    into, back = source.fed_by or ("", "")
    return Terminals(source.plus, source.minus, (source.plus, into), (source.minus, back))


def _load(rig: Rig, name: str) -> Terminals:
    load = rig.by_name.loads[name]
    return Terminals(load.plus, load.minus, (load.plus,), (load.minus,))


def _device(rig: Rig, name: str) -> Terminals:
    """A device with all of its ways; a meter is held to the first of them."""
    poles = rig.poles[name]
    ends = tuple(end for one in poles for end in (one.line, one.load))
    return Terminals(poles[0].line, poles[0].load, ends)


def _wire(rig: Rig, name: str) -> Terminals:
    wire = rig.conductor(name)
    return Terminals(wire.a, wire.b, (wire.a, wire.b))


def _bar(rig: Rig, name: str) -> Terminals:
    """A bar, a frame or a splice; beside a splice on the way out is that of the ways back."""
    back = f"{name}-"
    return Terminals(name, "", (name,), (back,) if back in rig.where else ())


def _itself(_: Rig, terminal: str) -> Terminals:
    return Terminals(terminal, "", (terminal,))


_TERMINALS: Mapping[NameKind, Callable[[Rig, str], Terminals]] = {
    "panel": _panel,
    "circuit": _circuit,
    "source": _source,
    "bar": _bar,
    "device": _device,
    "load": _load,
    "wire": _wire,
    "slot": _itself,
    "terminal": _itself,
}
