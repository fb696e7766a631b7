"""The wires of one circuit in two versions, known again by their copper and what they lead to."""

from collections.abc import Callable, Iterator, Mapping
from math import isclose

from rigfolio.findings import UNKNOWN, Unknown
from rigfolio.model import Circuit, Conductor, Load, Rig
from rigfolio.record import once, record, replace


def load_called(load: Load) -> str:
    """What a load is known by: its label, or its name where it has none."""
    return (load.about.label or load.about.name).casefold()


def matched_runs(
    before: Rig, after: Rig, old: Circuit, new: Circuit
) -> tuple[tuple[str, str], ...]:
    """The wires of a circuit as it was and as it is, out and then back; empty where there is none.

    Known again by their names, in which the place of the circuit does not count, where they are
    made of the same copper or no other wire is; else by their copper and the part that they lead
    to; the others by their order. Those of the later version come in their order, those that are
    gone last.
    """
    return (
        *_runs(_WiresOf(before, old, old.wires), _WiresOf(after, new, new.wires)),
        *_runs(_WiresOf(before, old, old.returns), _WiresOf(after, new, new.returns)),
    )


def all_the_way(rig: Rig, circuit: Circuit, wire: Conductor | None) -> Conductor | None:
    """A return, of which one that is assumed is as long as it is from its load to its end."""
    if wire is None or not wire.assumed:
        return wire
    pieces = {one.a: one for one in map(rig.conductor, circuit.returns)}
    way = [wire]
    while way[-1].b in pieces:
        way.append(pieces.pop(way[-1].b))
    lengths = [one.length_m for one in way]
    known = [one for one in lengths if not isinstance(one, Unknown)]
    return replace(wire, length_m=sum(known) if len(known) == len(lengths) else UNKNOWN)


def is_between(rig: Rig, wire: Conductor | None) -> bool:
    """Whether a wire is a piece of an assumed return that begins at no load."""
    return wire is not None and wire.assumed and not _loads_of(rig, wire)


@record
class _WiresOf:
    """Wires of a circuit, out or back, by name."""

    rig: Rig
    circuit: Circuit
    names: tuple[str, ...]

    @property
    def within(self) -> dict[str, str]:
        """Its wires by what they are called within it."""
        return {_within(self.circuit, name): name for name in self.names}

    def leads_to(self, wire: Conductor) -> frozenset[str]:
        """The loads at which a wire ends, by what these are called."""
        return _loads_of(self.rig, wire)


def _loads_of(rig: Rig, wire: Conductor) -> frozenset[str]:
    """The loads at which a wire ends, by what these are called."""
    loads = _loads_at(rig)
    return frozenset(loads[end] for end in (wire.a, wire.b) if end in loads)


@once
def _loads_at(rig: Rig) -> Mapping[str, str]:
    """What the load at each terminal is called."""
    return {end: load_called(load) for load in rig.loads for end in (load.plus, load.minus)}


def _runs(was: _WiresOf, now: _WiresOf) -> Iterator[tuple[str, str]]:
    old = {name: was.rig.conductor(name) for name in was.names}
    new = {name: now.rig.conductor(name) for name in now.names}
    called = {name: within for within, name in was.within.items()}
    known: dict[str, str] = {}

    def is_named(one: str, two: str) -> bool:
        return called[one] == _within(now.circuit, two)

    def leads_alike(one: str, two: str) -> bool:
        loads = now.leads_to(new[two])
        return bool(loads) and loads == was.leads_to(old[one]) and _looks_alike(old[one], new[two])

    tests: tuple[Callable[[str, str], bool], ...] = (
        lambda one, two: is_named(one, two) and ("/" not in two or _is_same(old[one], new[two])),
        lambda one, two: leads_alike(one, two) and _is_as_long(old[one], new[two]),
        is_named,
        leads_alike,
    )
    left = dict.fromkeys(was.names)
    for is_it in tests:
        for name in now.names:
            found = None if name in known else next((o for o in left if is_it(o, name)), None)
            if found is not None:
                known[name] = found
                del left[found]
    rest = list(left)
    for name in now.names:
        yield known[name] if name in known else rest.pop(0) if rest else "", name
    yield from ((name, "") for name in rest)


def _is_same(old: Conductor, new: Conductor) -> bool:
    return _looks_alike(old, new) and _is_as_long(old, new)


def _looks_alike(old: Conductor, new: Conductor) -> bool:
    return (old.size, old.count, old.colour) == (new.size, new.count, new.colour)


def _is_as_long(old: Conductor, new: Conductor) -> bool:
    was_m, now_m = old.length_m, new.length_m
    if isinstance(was_m, Unknown) or isinstance(now_m, Unknown):
        return False
    return isclose(was_m, now_m, rel_tol=1e-6)


def _within(circuit: Circuit, name: str) -> str:
    """The name of a wire without the place of its circuit."""
    head, slash, tail = name.partition("/")
    return tail if slash and circuit.stem.startswith(head) else name
