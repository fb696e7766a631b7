"""Conductors of the text that are one piece of wire: nobody finds an end between them.

A text divides a wire where it enters a conduit or a hotter place; the return that is assumed beside
a wire is divided wherever that is, at a switch too, where no return has a joint.
"""

from collections.abc import Collection, Iterator

from rigfolio.findings import UNKNOWN, Unknown
from rigfolio.model import Conductor, Rig
from rigfolio.record import once, replace

_LONGEST = 24
"""Letters of the names of several conductors that a tag still takes as one."""


@once
def runs_of(rig: Rig) -> tuple[tuple[Conductor, ...], ...]:
    """The pieces of wire of a rig, each as its conductors from one end to the other.

    Two conductors are one piece where they meet at a terminal that is nothing else, and are alike
    in circuit, copper, colour and number side by side.
    """
    at: dict[str, list[Conductor]] = {}
    for wire in rig.conductors:
        for end in (wire.a, wire.b):
            at.setdefault(end, []).append(wire)
    parts = frozenset(_terminals(rig))
    joined: dict[str, list[Conductor]] = {}
    for end, wires in at.items():
        if end not in parts and len(wires) == 2 and _are_alike(*wires):
            for one, two in (wires, reversed(wires)):
                joined.setdefault(one.name, []).append(two)
    made: list[tuple[Conductor, ...]] = []
    done: set[str] = set()
    # Begun at an end each; what is left goes round in a ring and begins anywhere.
    for most in (1, 2):
        for wire in rig.conductors:
            if wire.name not in done and len(joined.get(wire.name, ())) <= most:
                run = tuple(_along(wire, joined, done))
                made.append(run)
    order = {wire.name: place for place, wire in enumerate(rig.conductors)}
    return tuple(sorted(made, key=lambda run: min(order[wire.name] for wire in run)))


def ends_of_run(run: tuple[Conductor, ...]) -> tuple[str, str]:
    """The two terminals at which a piece of wire begins and ends."""
    first, last = run[0], run[-1]
    if len(run) == 1:
        return first.a, first.b
    begins = first.a if first.b in (run[1].a, run[1].b) else first.b
    ends = last.b if last.a in (run[-2].a, run[-2].b) else last.a
    return begins, ends


def name_of_run(rig: Rig, run: tuple[Conductor, ...]) -> str:
    """What a piece of wire is called: `P1.2/1`, or `P1.2/1+2` of two conductors.

    A return that is assumed goes by its piece at the load alone where all names are too long.
    """
    first, *more = (wire.name for wire in run)
    stem = first[: first.find("/") + 1]
    called = "+".join((first, *(name.removeprefix(stem) for name in more)))
    if len(called) <= _LONGEST or not run[0].assumed:
        return called
    whole = with_whole_returns(rig).by_name.conductors
    return next(wire.name for wire in run if wire.name in whole)


@once
def with_whole_returns(rig: Rig) -> Rig:
    """A rig in which each return that is assumed is one wire, from its load to where it lands.

    It goes by the name of its piece at the load; nobody finds the places between its pieces.
    """
    minus = {load.minus for load in rig.loads}
    whole: dict[str, Conductor] = {}
    gone: set[str] = set()
    for run in runs_of(rig):
        if run[0].assumed and len(run) > 1:
            wire = _whole(run, minus)
            whole[wire.name] = wire
            gone |= {piece.name for piece in run} - {wire.name}
    if not gone:
        return rig
    conductors = tuple(whole.get(w.name, w) for w in rig.conductors if w.name not in gone)
    circuits = tuple(
        replace(one, returns=tuple(name for name in one.returns if name not in gone))
        for one in rig.circuits
    )
    return replace(rig, conductors=conductors, circuits=circuits)


def _whole(run: tuple[Conductor, ...], minus: Collection[str]) -> Conductor:
    here, there = ends_of_run(run)
    piece = run[0]
    if here not in minus and there in minus:
        here, there, piece = there, here, run[-1]
    lengths = [wire.length_m for wire in run]
    known = [length for length in lengths if not isinstance(length, Unknown)]
    length_m = sum(known) if len(known) == len(lengths) else UNKNOWN
    return replace(piece, a=here, b=there, length_m=length_m)


@once
def places_of(rig: Rig) -> frozenset[str]:
    """The terminals that somebody finds at a rig, without those between assumed returns alone."""
    stated = (end for wire in rig.conductors if not wire.assumed for end in (wire.a, wire.b))
    return frozenset((*_terminals(rig), *stated))


def _along(
    wire: Conductor, joined: dict[str, list[Conductor]], done: set[str]
) -> Iterator[Conductor]:  # fmt: skip
    """The conductors from one on, each once."""
    here: Conductor | None = wire
    while here is not None:
        done.add(here.name)
        yield here
        here = next((each for each in joined.get(here.name, ()) if each.name not in done), None)


def _are_alike(one: Conductor, two: Conductor) -> bool:
    def kind(wire: Conductor) -> tuple[object, ...]:
        return wire.circuit, wire.size, wire.colour, wire.count, wire.assumed, wire.lead

    return one.name != two.name and bool(one.circuit) and kind(one) == kind(two)


def _terminals(rig: Rig) -> Iterator[str]:
    """Where something is that has terminals of its own."""
    for source in rig.sources:
        yield from (source.plus, source.minus)
    for device in rig.devices:
        yield from (device.line, device.load)
    for load in rig.loads:
        yield from (load.plus, load.minus)
    for panel in rig.panels:
        yield from (end for end in (panel.feed, panel.bus, panel.negative) if end is not None)
    yield from (junction.terminal for junction in rig.junctions)
