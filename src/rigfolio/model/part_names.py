"""The names of parts that the text gives none: fuses on wires, circuits, loads with a label only.

A part is called by its name wherever it is printed, and found by it wherever it is typed. So each
name is made here, once, when the rig is built: plain words that a person can write on a tag and
type in a driveway, and no two parts of a rig bear the same.
"""

from collections import Counter
from collections.abc import Iterable, Iterator

from rigfolio.kinds import guards
from rigfolio.model.asides import NOT_IN_SLOT, About, Circuit
from rigfolio.model.graph import Conductor, Load, Rig
from rigfolio.record import replace


def on_wire(wire: str, kind: str) -> str:
    """The fuse or breaker that sits on a wire.

    Examples
    --------
    >>> on_wire("W12", "fuse"), on_wire("D1/1", "breaker")
    ('W12 fuse', 'D1/1 breaker')
    """
    return f"{wire} {kind}"


def circuit_name(stem: str, *, in_slot: bool) -> str:
    """A circuit: by its slot, or else as the text writes it, so that it is not its terminal.

    Examples
    --------
    >>> circuit_name("P1.3", in_slot=True), circuit_name("D1", in_slot=False)
    ('P1.3', 'circuit D1')
    """
    return stem if in_slot else f"{NOT_IN_SLOT}{stem}"


def in_circuit(circuit: str, kind: str, before: int) -> str:
    """A device along a circuit that has no name, behind so many of its kind.

    A slot bears a fuse or breaker of its own; one along the wire is told from it.

    Examples
    --------
    >>> in_circuit("P1.4", "switch", 0), in_circuit("P1.4", "fuse", 1)
    ('P1.4 switch', 'P1.4 in-line fuse 2')
    """
    word = f"in-line {kind}" if kind in guards() else kind
    return f"{circuit} {word}" + (f" {before + 1}" if before else "")


def main_name(panel: str) -> str:
    """The main fuse or breaker of a panel."""
    return f"{panel} main"


def with_loads_named(rig: Rig, unnamed: Iterable[str]) -> Rig:
    """The rig with its nameless loads called by their labels, with their place where that is more.

    Parameters
    ----------
    rig : Rig
        With a made-up name on each load that the text gives none.
    unnamed : Iterable[str]
        Those made-up names.
    """
    loose = frozenset(unnamed)
    labels = Counter(_labels(rig))
    taken = {name.casefold() for name in _names(rig, loose)}
    circuits = {circuit.place: circuit for circuit in rig.circuits}
    names: dict[str, str] = {}
    for load in rig.loads:
        if load.about.name in loose:
            name = _free(load, circuits.get(load.circuit), labels, taken)
            taken.add(name.casefold())
            names[load.about.name] = name
    return replace(
        rig,
        loads=tuple(
            replace(one, about=replace(one.about, name=names.get(one.about.name, one.about.name)))
            for one in rig.loads
        ),
        circuits=tuple(
            replace(one, loads=tuple(names.get(load, load) for load in one.loads))
            for one in rig.circuits
        ),
    )


def _free(load: Load, circuit: Circuit | None, labels: Counter[str], taken: set[str]) -> str:
    label = load.about.label
    own = 1 + (circuit is not None and circuit.label.casefold() == label.casefold())
    if label and label.casefold() not in taken and labels[label.casefold()] <= own:
        return label
    word, number = label or "load", 1
    name = f"{word} at {load.circuit}"
    while name.casefold() in taken:
        number += 1
        name = f"{word} {number} at {load.circuit}"
    return name


def _labels(rig: Rig) -> Iterator[str]:
    """The label of every part; a slot and its circuit are one."""
    abouts: list[About] = [one.about for one in rig.sources] + [one.about for one in rig.junctions]
    abouts += [one.about for one in rig.panels] + [one.about for one in rig.loads]
    seen = {one.about.name: one.about for one in rig.devices if not one.in_slot}
    yield from (about.label.casefold() for about in (*abouts, *seen.values()))
    yield from (circuit.label.casefold() for circuit in rig.circuits)


def _names(rig: Rig, loose: frozenset[str]) -> Iterator[str]:
    """All names but those of nameless loads, and the slots and terminals that wires land on."""
    yield from (one.about.name for one in rig.sources)
    yield from (one.about.name for one in rig.devices)
    yield from (one.about.name for one in rig.junctions)
    yield from (one.about.name for one in rig.loads if one.about.name not in loose)
    yield from (state.name for state in rig.states)
    for panel in rig.panels:
        name = panel.about.name
        yield from (name, *(f"{name} {end}" for end in PANEL_ENDS.values()))
        yield from (f"{name}.{number}" for number in range(1, panel.slots + 1))
    for circuit in rig.circuits:
        yield from (circuit.place, circuit.stem)
    for wire in rig.conductors:
        yield from (wire.name, wire.a, wire.b, *(f"{wire.name} {end}" for end in WIRE_ENDS))
    for device in rig.devices:
        yield from (device.line, device.load)


PANEL_ENDS = {"": "feed", ".bus": "bus", "-": "negative bar"}
"""What the terminals of a panel are called, by what follows its name in the graph."""
WIRE_ENDS = ("start", "end")
"""What a joint that has no name is called, behind the name of the wire that leads to it."""


def end_of(wire: Conductor, terminal: str) -> str:
    """A place without a name by a wire that ends there: `P1.6/1 end`."""
    return f"{wire.name} {WIRE_ENDS[wire.b == terminal]}"
