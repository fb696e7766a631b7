"""The same circuits and wires in two versions of a rig, known again by what stays of them."""

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

from rigfolio.model import Circuit, Conductor, Rig
from rigfolio.record import record
from rigfolio.wording import colour_words, gauge_words

# What makes two circuits the same one: shares of likeness, and the least that is enough.
_SLOT, _NAME, _LOADS, _WIRES, _ENOUGH = 3.0, 4.0, 3.0, 2.0, 4.0

_AT_FUSE = re.compile(r"\.(fuse\.(?:line|load))$")

Pair = tuple[Circuit | None, Circuit | None]
"""A circuit as it was and as it is."""
WirePair = tuple[Conductor | None, Conductor | None]
"""A wire as it was and as it is."""


def matched_circuits(before: Rig, after: Rig) -> tuple[Pair, ...]:
    """Circuits of both versions in the order of the later one, those that are gone last."""
    were, are = _known(before), _known(after)
    scores = sorted(
        (-_likeness(old, new), i, j)
        for i, old in enumerate(were)
        for j, new in enumerate(are)
        if old.circuit.label == new.circuit.label
        or old.circuit.place == new.circuit.place
        or not old.some_loads.isdisjoint(new.some_loads)
    )
    taken: dict[int, int] = {}
    used: set[int] = set()
    for score, i, j in scores:
        if -score >= _ENOUGH and j not in taken and i not in used:
            taken[j] = i
            used.add(i)
    found: list[Pair] = [
        (before.circuits[taken[j]] if j in taken else None, new)
        for j, new in enumerate(after.circuits)
    ]
    found += [(old, None) for i, old in enumerate(before.circuits) if i not in used]
    return tuple(found)


@record
class _Known:
    """A circuit with the words by which its loads and its wires are known again."""

    circuit: Circuit
    loads: tuple[str, ...]
    wires: tuple[str, ...]
    some_loads: frozenset[str]


def _known(rig: Rig) -> list[_Known]:
    """The circuits of a version; what is said of them stands in the order of the text."""
    loads = {
        load.about.name: (place, (load.about.label or load.about.name).casefold())
        for place, load in enumerate(rig.loads)
    }
    wires = {
        wire.name: (place, f"{gauge_words(wire)} {colour_words(wire.colour)}")
        for place, wire in enumerate(rig.conductors)
    }
    made = []
    for circuit in rig.circuits:
        own = _in_order(loads, circuit.loads)
        named = _in_order(wires, (*circuit.wires, *circuit.returns))
        made.append(_Known(circuit, own, named, frozenset(own)))
    return made


def _in_order(words: Mapping[str, tuple[int, str]], names: Iterable[str]) -> tuple[str, ...]:
    return tuple(word for _, word in sorted(words[name] for name in {*names} if name in words))


def _likeness(old: _Known, new: _Known) -> float:
    was, now = old.circuit, new.circuit
    same_name = bool(was.label) and was.label.casefold() == now.label.casefold()
    score = _SLOT * (was.place == now.place) + _NAME * same_name
    return score + _LOADS * _shared(old.loads, new.loads) + _WIRES * _shared(old.wires, new.wires)


def _shared(one: tuple[str, ...], two: tuple[str, ...]) -> float:
    """Share of two lists that both have [-]."""
    left = list(two)
    both = 0
    for each in one:
        if each in left:
            left.remove(each)
            both += 1
    return both / max(len(one), len(two), 1)


def same_wires(before: Rig, after: Rig) -> Mapping[str, str]:
    """What each wire that is in both versions was called, by what it is called now."""
    pairs = matched_circuits(before, after)
    places = {old.place: new.place for old, new in pairs if old and new}
    wires = [*matched_wires(before, after, places)]
    was, now = before.by_name.conductors, after.by_name.conductors
    for old, new in pairs:
        if old is not None and new is not None:
            for one, two in matched_runs(old, new):
                wires.append((was[one] if one else None, now[two] if two else None))
    return {new.name: old.name for old, new in wires if old is not None and new is not None}


def matched_runs(old: Circuit, new: Circuit) -> tuple[tuple[str, str], ...]:
    """The wires of a circuit as it was and as it is, out and then back; empty where there is none.

    Known again by their names, in which the place of the circuit does not count; the others by
    their order. Those of the later version come in their order, those that are gone last.
    """
    return (
        *_runs(old, new, old.wires, new.wires),
        *_runs(old, new, old.returns, new.returns),
    )


def _runs(
    old: Circuit, new: Circuit, was: Sequence[str], now: Sequence[str]
) -> Iterator[tuple[str, str]]:
    left = {_within(old, name): name for name in was}
    known = {name: left.pop(_within(new, name)) for name in now if _within(new, name) in left}
    rest = list(left.values())
    for name in now:
        yield known[name] if name in known else rest.pop(0) if rest else "", name
    yield from ((name, "") for name in rest)


def _within(circuit: Circuit, name: str) -> str:
    """The name of a wire without the place of its circuit."""
    head, slash, tail = name.partition("/")
    return tail if slash and circuit.stem.startswith(head) else name


def matched_wires(before: Rig, after: Rig, places: Mapping[str, str]) -> tuple[WirePair, ...]:
    """Wires of no circuit in the order of the later version, those that are gone last.

    They are known again by name, or by both ends; failing that, by one end, size and colour.

    Parameters
    ----------
    before, after : Rig
        The two versions.
    places : Mapping[str, str]
        What circuits were called, and what they are called now.
    """
    was = {wire.name: wire for wire in before.conductors if not wire.circuit}
    now = [wire for wire in after.conductors if not wire.circuit]
    taken: dict[str, Conductor] = {}
    tests: tuple[Callable[[Conductor, Conductor], bool], ...] = (
        lambda a, b: a.name == b.name,
        lambda a, b: ends_of(a, places) == ends_of(b, {}) and a.size == b.size,
        lambda a, b: ends_of(a, places) == ends_of(b, {}),
        lambda a, b: bool(ends_of(a, places) & ends_of(b, {})) and _looks(a) == _looks(b),
    )
    for is_same in tests:
        for new in now:
            if new.name in taken:
                continue
            old = next((one for one in was.values() if is_same(one, new)), None)
            if old is not None:
                taken[new.name] = was.pop(old.name)
    return (*((taken.get(new.name), new) for new in now), *((old, None) for old in was.values()))


def ends_of(wire: Conductor, places: Mapping[str, str]) -> frozenset[str]:
    """Both ends, those at a fuse on a wire without the name that they have from the wire."""
    return frozenset(places.get(end, end) for end in map(without_wire, (wire.a, wire.b)))


def without_wire(terminal: str) -> str:
    """A terminal; one at a fuse on a wire by that alone.

    Examples
    --------
    >>> without_wire("B1+/P1.fuse.load"), without_wire("F1.load")
    ('fuse.load', 'F1.load')
    """
    found = _AT_FUSE.search(terminal)
    return found[1] if found else terminal


def _looks(wire: Conductor) -> tuple[str, str]:
    return gauge_words(wire), colour_words(wire.colour)
