"""The same circuits and wires in two versions of a rig, known again by what stays of them."""

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from functools import lru_cache
from itertools import product

from rigfolio.compare.runs import load_called, matched_runs
from rigfolio.findings import Unknown
from rigfolio.model import Circuit, Conductor, Load, Rig
from rigfolio.record import once, record
from rigfolio.wording import colour_words, gauge_words, is_return, is_unnamed

# What makes two circuits the same one: shares of likeness, and the least that is enough.
_SLOT, _NAME, _LOADS, _WIRES, _ENOUGH = 3.0, 4.0, 3.0, 2.0, 4.0

_AT_FUSE = re.compile(r"\.(fuse\.(?:line|load))$")

Pair = tuple[Circuit | None, Circuit | None]
"""A circuit as it was and as it is."""
WirePair = tuple[Conductor | None, Conductor | None]
"""A wire as it was and as it is."""
LoadPair = tuple[Load | None, Load | None]
"""A load as it was and as it is."""


def matched_circuits(before: Rig, after: Rig) -> tuple[Pair, ...]:
    """Circuits of both versions in the order of the later one, those that are gone last."""
    return _matched(before, _Itself(after))


class _Itself:
    """A version that is equal to none but itself: to compare two rigs would take too long."""

    def __init__(self, rig: Rig) -> None:
        self.rig = rig

    def __eq__(self, other: object) -> bool:
        """Whether both are the very same."""
        return isinstance(other, _Itself) and other.rig is self.rig

    def __hash__(self) -> int:
        """A hash of which it is."""
        return id(self.rig)


@once
def _matched(before: Rig, later: _Itself) -> tuple[Pair, ...]:
    """The circuits that are most alike first, each once.

    Most are known by their place or their name. Those are paired first where no other pair could be
    as much alike, so that not every circuit has to be held against every other one.
    """
    after = later.rig
    were, are = (dict(enumerate(_known(rig))) for rig in (before, after))
    taken: dict[int, int] = {}
    for may_be_pairs, at_most in _TURNS:
        scores = sorted(
            (-likeness, i, j)
            for i, j in may_be_pairs(were, are)
            if _have_something_alike(were[i], are[j])
            and (likeness := _likeness(before, after, were[i], are[j])) >= _ENOUGH
            and likeness > at_most
        )
        for _, i, j in scores:
            if i in were and j in are:
                taken[j] = i
                del were[i], are[j]
    found: list[Pair] = [
        (before.circuits[taken[j]] if j in taken else None, new)
        for j, new in enumerate(after.circuits)
    ]
    found += [(before.circuits[i], None) for i in were]
    return tuple(found)


@record
class _Known:
    """A circuit with the words by which its loads and its wires are known again."""

    circuit: Circuit
    loads: tuple[str, ...]
    wires: tuple[str, ...]
    some_loads: frozenset[str]


_Some = Mapping[int, _Known]


def _of_one_place(were: _Some, are: _Some) -> Iterator[tuple[int, int]]:
    at: dict[str, list[int]] = {}
    for j, new in are.items():
        at.setdefault(new.circuit.place, []).append(j)
    return ((i, j) for i, old in were.items() for j in at.get(old.circuit.place, ()))


def _of_one_name(were: _Some, are: _Some) -> Iterator[tuple[int, int]]:
    called: dict[str, list[int]] = {}
    for j, new in are.items():
        if new.circuit.label:
            called.setdefault(new.circuit.label.casefold(), []).append(j)
    return ((i, j) for i, old in were.items() for j in called.get(old.circuit.label.casefold(), ()))


def _of_one_place_or_name(were: _Some, are: _Some) -> Iterable[tuple[int, int]]:
    return {*_of_one_place(were, are), *_of_one_name(were, are)}


_TURNS: tuple[tuple[Callable[[_Some, _Some], Iterable[tuple[int, int]]], float], ...] = (
    (_of_one_place, _NAME + _LOADS + _WIRES),
    (_of_one_place_or_name, _LOADS + _WIRES),
    (product, 0.0),
)
"""Pairs that are looked at in turn, and how much alike any other pair is at the most."""


def _have_something_alike(old: _Known, new: _Known) -> bool:
    return (
        old.circuit.label == new.circuit.label
        or old.circuit.place == new.circuit.place
        or not old.some_loads.isdisjoint(new.some_loads)
    )


def _known(rig: Rig) -> list[_Known]:
    """The circuits of a version; what is said of them stands in the order of the text."""
    loads = {load.about.name: (place, load_called(load)) for place, load in enumerate(rig.loads)}
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


def _likeness(before: Rig, after: Rig, old: _Known, new: _Known) -> float:
    was, now = old.circuit, new.circuit
    same_name = bool(was.label) and was.label.casefold() == now.label.casefold()
    score = _SLOT * (was.place == now.place) + _NAME * same_name
    score += _LOADS * _shared(old.loads, new.loads)
    if was.place == now.place and _may_be(before, after, was, now):
        return score + _WIRES
    return score + _WIRES * _shared(old.wires, new.wires)


def _may_be(before: Rig, after: Rig, old: Circuit, new: Circuit) -> bool:
    """Whether nothing that was known of a circuit speaks against its being another one.

    So a circuit that nobody had identified is known again once it is.
    """
    if not is_unnamed(old.label) and old.label.casefold() != new.label.casefold():
        return False
    pairs = [pair for pair in matched_runs(before, after, old, new) if all(pair)]
    wires = [(before.conductor(was), after.conductor(now)) for was, now in pairs]
    return all(
        (isinstance(was.size, Unknown) or was.size == now.size)
        and (was.colour is None or isinstance(was.colour, Unknown) or was.colour == now.colour)
        for was, now in wires
    )


def identified_loads(
    before: Rig, after: Rig, old: Circuit | None, new: Circuit | None
) -> Mapping[str, str]:
    """What the loads were called that nobody had named, by what they are called now."""
    if old is None or new is None:
        return {}
    was, now = before.by_name.loads, after.by_name.loads
    named = {was[name].about.label.casefold() for name in old.loads}
    fresh = [name for name in new.loads if now[name].about.label.casefold() not in named]
    kept = {now[name].about.label.casefold() for name in new.loads}
    labels = {name: was[name].about.label for name in old.loads}
    unnamed = [n for n, label in labels.items() if is_unnamed(label) and label not in kept]
    return dict(zip(fresh, unnamed, strict=False))


def matched_loads(before: Rig, after: Rig, pairs: Sequence[Pair]) -> tuple[LoadPair, ...]:
    """Loads in the order of the later version, those that are gone last.

    They are known again by what they are called, in their own circuit first; those that nobody had
    named by the circuit that they are on.
    """
    places = {old.place: new.place for old, new in pairs if old and new}
    named: dict[str, str] = {}
    for pair in pairs:
        named |= identified_loads(before, after, *pair)
    was_unnamed = frozenset(named.values())
    left = _Alike((load for load in before.loads if load.about.name not in was_unnamed), places)
    found: list[LoadPair] = []
    for load in after.loads:
        is_named = load.about.name in named
        same = before.by_name.loads[named[load.about.name]] if is_named else left.taken_for(load)
        found.append((same, load))
    return (*found, *((load, None) for load in left.rest()))


class _Alike:
    """Loads of the former version by what they are called, to be taken one by one.

    `places` are what circuits were called, and what they are called now.
    """

    def __init__(self, loads: Iterable[Load], places: Mapping[str, str]) -> None:
        self._left: dict[str, dict[int, Load]] = {}
        self._at: dict[tuple[str, str], list[int]] = {}
        for number, load in enumerate(loads):
            self._left.setdefault(load_called(load), {})[number] = load
            if load.circuit in places:
                self._at.setdefault((load_called(load), places[load.circuit]), []).append(number)

    def taken_for(self, load: Load) -> Load | None:
        """The first one of the same name, of the same circuit if there is any; None without."""
        alike = self._left.get(load_called(load), {})
        here = (n for n in self._at.get((load_called(load), load.circuit), ()) if n in alike)
        number = next(here, next(iter(alike), None))
        return None if number is None else alike.pop(number)

    def rest(self) -> Iterator[Load]:
        """Those that were not taken."""
        for alike in self._left.values():
            yield from alike.values()


def was_run(before: Rig, old: Circuit) -> bool:
    """Whether the wires of a circuit had been found out, as far as its text tells."""
    wires = [before.conductor(name) for name in old.wires]
    return bool(wires) and not all(isinstance(wire.size, Unknown) for wire in wires)


def was_surveyed(before: Rig, old: Circuit) -> bool:
    """Whether the loads of a circuit had been found out, as far as its text tells."""
    if old.loads:
        return not all(is_unnamed(before.by_name.loads[name].about.label) for name in old.loads)
    return was_run(before, old) and not is_unnamed(old.label)


def renewed_panels(before: Rig, after: Rig, pairs: Iterable[Pair]) -> Mapping[str, str]:
    """Panels that are gone, each with the new one that all of its circuits that stay went to."""
    gone = before.by_name.panels.keys() - after.by_name.panels.keys()
    new = after.by_name.panels.keys() - before.by_name.panels.keys()
    went: dict[str, set[str]] = {}
    for was, now in pairs:
        if was is not None and now is not None and was.panel in gone:
            went.setdefault(was.panel, set()).add(now.panel)
    found = {was: next(iter(to)) for was, to in went.items() if len(to) == 1 and to <= new}
    taken = list(found.values())
    return {was: to for was, to in sorted(found.items()) if taken.count(to) == 1}


def is_another(before: Rig, after: Rig, old: Circuit, wire: Conductor) -> bool:
    """Whether a wire that is told now is one more than a circuit had.

    It is none where the text had not told all of the circuit's wires out, or back.
    """
    if not was_run(before, old):
        return False
    return not is_return(after, wire) or was_surveyed(before, old)


@lru_cache(maxsize=4096)
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
            for one, two in matched_runs(before, after, old, new):
                wires.append((was[one] if one else None, now[two] if two else None))
    return {new.name: old.name for old, new in wires if old is not None and new is not None}


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
