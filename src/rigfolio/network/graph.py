"""The wiring as edges between terminals: walks, sides and volts."""

import heapq
import math
import re
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from typing import TypeGuard

from rigfolio.model import Conductor, Device, Rig
from rigfolio.network.flow import dead_ends
from rigfolio.record import once, record

Edge = Conductor | Device
Step = tuple[Edge, str]
_LOOSE = re.compile(r"~[01]$")


def ends(edge: Edge) -> tuple[str, str]:
    """The two terminals of a conductor or a device."""
    return (edge.a, edge.b) if isinstance(edge, Conductor) else (edge.line, edge.load)


def edge_name(edge: Edge) -> str:
    """A name that no other edge bears.

    The pins of a plug, the banks of a selector and the poles of a switch share one name; they are
    told apart by terminal.
    """
    if isinstance(edge, Conductor):
        return edge.name
    return edge.line if edge.traits.shares_name or edge.pole else edge.about.name


def edges_of_device(rig: Rig, name: str) -> frozenset[str]:
    """All that is one device in the hand, by its name, as edges; none where it is no device."""
    return frozenset(map(edge_name, rig.poles.get(name, ())))


@once
def plug_pins(rig: Rig) -> frozenset[str]:
    """The pins of all plugs, as edges."""
    return frozenset(edge_name(device) for device in rig.devices if device.traits.is_plug)


def is_guard(edge: Edge) -> TypeGuard[Device]:
    """Whether an edge is a device that opens by itself on too much current."""
    return isinstance(edge, Device) and edge.protects


def landing_on(
    rig: Rig, terminals: Iterable[str], left_out: Collection[str] = ()
) -> tuple[Conductor, ...]:
    """The wires that land on terminals, in the order of the text: by an end, or by what sits on it.

    A wire does not land by a device of one of the names that are `left_out`.
    """
    at = _landings(rig)
    found = {
        place for end in terminals for place, by in at.get(end, ()) if not by or by not in left_out
    }
    return tuple(rig.conductors[place] for place in sorted(found))


@once
def _landings(rig: Rig) -> Mapping[str, list[tuple[int, str]]]:
    """The wires on each terminal by their places in the text, and by which device they land."""
    found: dict[str, list[tuple[int, str]]] = {}
    for place, wire in enumerate(rig.conductors):
        for end in ends(wire):
            found.setdefault(end, []).append((place, ""))
        for device in rig.seated.get(wire.name, ()):
            for end in ends(device):
                found.setdefault(end, []).append((place, device.about.name))
    return found


def unguarded_m(edge: Edge) -> float | None:
    """How far an edge leads on, as far as that is known [m]; None where it ends at a guard."""
    if isinstance(edge, Device):
        return None if edge.protects else 0.0
    return edge.length_m if isinstance(edge.length_m, float) else 0.0


@record
class Net:
    """All edges of a rig by terminal; loads and sources are not edges, every device is closed.

    At a terminal of `turning` ways meet of which a switch makes one at a time.
    """

    at: Mapping[str, tuple[Step, ...]]
    turning: frozenset[str] = frozenset()

    def steps(self, terminal: str) -> tuple[Step, ...]:
        """The edges at a terminal, each with the terminal at its other end."""
        return self.at.get(terminal, ())

    def wires(self, terminal: str) -> tuple[Conductor, ...]:
        """The wires that land on a terminal; returns that the text does not state are left out."""
        edges = (edge for edge, _ in self.steps(terminal))
        return tuple(one for one in edges if isinstance(one, Conductor) and not one.assumed)

    def walk(
        self, starts: Iterable[str], is_open: Callable[[Edge], bool] | None = None
    ) -> dict[str, Step | None]:
        """Every terminal reached from some starts, with the step that leads back to a start.

        `is_open` tells which edges are not to be walked. Fewest edges first. What has come by one
        way of a switch that makes one at a time does not leave by another.
        """
        if self.turning:
            return self._turning_walk(starts, is_open)
        back: dict[str, Step | None] = dict.fromkeys(starts)
        at, waiting = self.at, list(back)
        # It grows as it is gone through.
        for here in waiting:
            for edge, there in at.get(here, ()):
                if there not in back and (is_open is None or not is_open(edge)):
                    back[there] = (edge, here)
                    waiting.append(there)
        return back

    def without(self, starts: Iterable[str], edges: Collection[Edge]) -> dict[str, Step | None]:
        """As `walk`, without some edges."""
        apart = set(map(id, edges))
        return self.walk(starts, lambda edge: id(edge) in apart)

    def _turning_walk(
        self, starts: Iterable[str], is_open: Callable[[Edge], bool] | None
    ) -> dict[str, Step | None]:
        back: dict[str, Step | None] = dict.fromkeys(starts)
        waiting, again = list(back), set[str]()
        for here in waiting:
            come = back[here]
            for edge, there in self.at.get(here, ()):
                if (is_open is not None and is_open(edge)) or excludes(come, edge):
                    continue
                if there not in back:
                    back[there] = (edge, here)
                    waiting.append(there)
                elif there in self.turning and there not in again:
                    # Reached otherwise than by one of those ways, all of them lead on from here.
                    first = back[there]
                    if (
                        first is not None
                        and is_way(first[0])
                        and not excludes(first, edge)
                        and there not in _trail(back, here)
                    ):
                        again.add(there)
                        back[there] = (edge, here)
                        waiting.append(there)
        return back

    def distances(
        self,
        start: str,
        length_m: Callable[[Edge], float | None],
        stops: Collection[str] = (),
        back: dict[str, Step] | None = None,
    ) -> Iterator[tuple[str, float]]:
        """The terminals around a start and the shortest way to each [m], nearest first.

        `length_m` gives the length of an edge, None where it is not to be walked; the way does not
        go on beyond a terminal of `stops`. In `back` the step is kept that leads from each of them
        back to the start, for `path`.
        """
        waiting = [(0.0, start)]
        nearest = {start: 0.0}
        seen: set[str] = set()
        while waiting:
            way_m, here = heapq.heappop(waiting)
            if here in seen:
                continue
            seen.add(here)
            yield here, way_m
            if here in stops:
                continue
            for edge, there in self.steps(here):
                own_m = None if there in seen else length_m(edge)
                if own_m is None or way_m + own_m >= nearest.get(there, math.inf):
                    continue
                nearest[there] = way_m + own_m
                if back is not None:
                    back[there] = edge, here
                heapq.heappush(waiting, (way_m + own_m, there))


def excludes(come: Step | None, edge: Edge) -> bool:
    """Whether a step has come by a way of a switch, and an edge is a way of it that is not made."""
    if come is None or come[0] is edge or not (is_way(edge) and is_way(come[0])):
        return False
    return come[0].about.name == edge.about.name


def is_way(edge: Edge) -> TypeGuard[Device]:
    """Whether an edge is one of the ways of a switch that makes one of them at a time."""
    return isinstance(edge, Device) and bool(edge.position)


def _trail(back: Mapping[str, Step | None], here: str) -> Iterator[str]:
    """The terminals from one back to the start of a walk."""
    step = back.get(here)
    yield here
    while step is not None:
        yield step[1]
        step = back.get(step[1])


def in_line(net: Net, step: Step) -> Iterator[Step]:
    """The steps from one on, as far as nothing else is joined on the way; of a ring each once."""
    first, _ = step
    while True:
        yield step
        edge, there = step
        further = [one for one in net.steps(there) if one[0] is not edge]
        if len(further) != 1 or further[0][0] is first:
            return
        (step,) = further


@once
def net_of(rig: Rig) -> Net:
    """The net of a rig."""
    return net_among((*rig.conductors, *rig.devices))


def net_among(edges: Iterable[Edge]) -> Net:
    """The net of some edges; what begins and ends at one terminal is no step."""
    at: dict[str, list[Step]] = {}
    every = tuple(edges)
    for edge in every:
        one, two = ends(edge)
        if one != two:
            at.setdefault(one, []).append((edge, two))
            at.setdefault(two, []).append((edge, one))
    turning = {edge.load for edge in every if is_way(edge)}
    return Net({terminal: tuple(steps) for terminal, steps in at.items()}, frozenset(turning))


def ringed(net: Net, links: Iterable[tuple[str, str]] = ()) -> tuple[Edge, ...]:
    """The edges that are left when all loose ends are taken off, again and again; no ring is lost.

    None are left of a rig in which there is one way from anywhere to anywhere. `links` join two
    terminals each beside the edges.
    """
    joined: dict[str, Sequence[tuple[Edge | None, str]]] = {**net.at}
    for one, two in links:
        joined[one] = (*joined.get(one, ()), (None, two))
        joined[two] = (*joined.get(two, ()), (None, one))
    off = dead_ends(joined)
    found: dict[str, Edge] = {}
    for terminal, steps in net.at.items():
        if terminal not in off:
            found |= {edge_name(edge): edge for edge, there in steps if there not in off}
    return tuple(found.values())


def loose_ends(rig: Rig) -> dict[str, Conductor]:
    """The terminals of wires that the text leaves open or that were not found, with their wires."""
    found = {}
    for wire in rig.conductors:
        if not wire.circuit:
            found.update({end: wire for end in (wire.a, wire.b) if _LOOSE.search(end)})
    return found


def path(back: Mapping[str, Step] | Mapping[str, Step | None], terminal: str) -> Iterator[Edge]:
    """The edges from a terminal back to the start of a walk."""
    step = back.get(terminal)
    while step is not None:
        edge, terminal = step
        yield edge
        step = back.get(terminal)


def sides(rig: Rig, net: Net) -> tuple[dict[str, str], frozenset[str]]:
    """Plus or minus of every terminal that is joined to a source, and those joined to both.

    Worked out from the wiring alone; colours say nothing here.
    """
    plus = net.walk(source.plus for source in rig.sources)
    minus = net.walk(source.minus for source in rig.sources)
    both = frozenset(plus.keys() & minus.keys())
    side = dict.fromkeys(plus, "+") | dict.fromkeys(minus, "-")
    return {end: sign for end, sign in side.items() if end not in both}, both


def sunlit(rig: Rig, net: Net) -> frozenset[str]:
    """The terminals that nothing but arrays of solar modules is joined to, of plus and of minus."""
    lit, others = ([end for one in rig.sources if one.traits.by_light is by_light
                    for end in (one.plus, one.minus)] for by_light in (True, False))  # fmt: skip
    return frozenset(net.walk(lit).keys() - net.walk(others).keys()) if lit else frozenset()


def volts(rig: Rig, net: Net) -> dict[str, float]:
    """The nominal volts of every terminal of the plus side [V].

    They are those of the battery that is joined to it, of several the lowest; where there is none,
    the lowest of what else is joined to it. What a charger is set to never makes them higher.
    """
    found: dict[str, float] = {}
    for source in sorted(rig.sources, key=lambda one: (not one.stores, one.voltage_v)):
        if source.plus not in found:
            for terminal in net.walk([source.plus]):
                found[terminal] = source.voltage_v
    return found


def most_volts(rig: Rig, net: Net) -> dict[str, float]:
    """The highest source voltage at every terminal of the plus side [V]."""
    found: dict[str, float] = {}
    for source in sorted(rig.sources, key=lambda one: -one.voltage_v):
        if source.plus not in found:
            for terminal in net.walk([source.plus]):
                found[terminal] = source.voltage_v
    return found
