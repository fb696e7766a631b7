"""Protection as reachability: what can flow into each end of a conductor, and what stops it.

A fuse or breaker lets its rating through, a source with a limit no more than that; wires and
switches let everything through. The most that all sources together can drive into one end of a
conductor is the largest flow through that network, and its narrowest cut names the devices that
decide. That one figure covers a step down in size, a second source, feeding from the far end, and
fuses side by side.
"""

import math
from collections import deque
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from rigfolio.findings import Unknown
from rigfolio.model.graph import Conductor, Device, Rig, Source
from rigfolio.record import record
from rigfolio.study.net import Edge, Net

_ROOT = -1


@record
class Inflow:
    """What can flow into one end of a conductor [A], infinite where nothing limits it.

    `by` are the devices and sources that decide; `maybe` is true where a device of unknown
    rating was taken to stop everything.
    """

    end: str
    current_a: float
    by: tuple[Device | Source, ...]
    maybe: bool = False


@dataclass(slots=True)
class _Arc:
    to: int
    room: float
    by: Device | Source | None
    twin: int


@dataclass(slots=True)
class _Flow:
    """A flow network of zones; `arcs` in pairs, each with its reverse."""

    arcs: list[_Arc] = field(default_factory=list)
    out: dict[int, list[int]] = field(default_factory=dict)

    def add(self, one: int, two: int, rooms: tuple[float, float], by: Device | Source) -> None:
        for here, there, room, way in ((one, two, rooms[0], 1), (two, one, rooms[1], -1)):
            self.out.setdefault(here, []).append(len(self.arcs))
            self.arcs.append(_Arc(there, room, by, len(self.arcs) + way))

    def search(self, goal: int) -> dict[int, int]:
        """Arcs by which zones are reached from the root while there is room."""
        by: dict[int, int] = {_ROOT: -1}
        waiting = deque([_ROOT])
        while waiting and goal not in by:
            for number in self.out.get(waiting.popleft(), ()):
                arc = self.arcs[number]
                if arc.room > 0.0 and arc.to not in by:
                    by[arc.to] = number
                    waiting.append(arc.to)
        return by

    def largest(self, goal: int) -> tuple[float, tuple[Device | Source, ...]]:
        """The largest flow from the root to a zone, and the arcs of the narrowest cut."""
        total = 0.0
        while True:
            by = self.search(goal)
            if goal not in by:
                return total, self._cut(by)
            way = []
            here = goal
            while here != _ROOT:
                way.append(by[here])
                here = self.arcs[self.arcs[by[here]].twin].to
            room = min(self.arcs[number].room for number in way)
            if math.isinf(room):
                return math.inf, tuple(
                    arc.by for arc in (self.arcs[n] for n in way) if isinstance(arc.by, Source)
                )
            for number in way:
                self.arcs[number].room -= room
                self.arcs[self.arcs[number].twin].room += room
            total += room

    def _cut(self, reached: Mapping[int, int]) -> tuple[Device | Source, ...]:
        deciding = [
            arc.by
            for here in reached
            for arc in (self.arcs[number] for number in self.out.get(here, ()))
            if arc.to not in reached and arc.by is not None
        ]
        return tuple(dict.fromkeys(deciding))


def _rating(device: Device) -> float:
    """What a protecting device lets through; unknown or missing counts as a full stop."""
    return device.rating_a if isinstance(device.rating_a, float) else 0.0


def _zones(net: Net, without: Conductor | None) -> dict[str, int]:
    """Terminals joined without a protecting device between them, by a number."""
    zone: dict[str, int] = {}
    for start in net.at:
        if start in zone:
            continue
        reached = net.walk([start], lambda edge: edge is without or _stops(edge))
        number = len(zone)
        zone.update(dict.fromkeys((end for end in reached if end not in zone), number))
    return zone


def _stops(edge: Edge) -> bool:
    return isinstance(edge, Device) and edge.protects


class Reach:
    """What can flow into the ends of the conductors of a rig."""

    def __init__(self, rig: Rig, net: Net, side: Mapping[str, str]) -> None:
        self.net = net
        self.side = side
        self.sources = rig.sources
        self.stops = [device for device in rig.devices if device.protects]
        self.zone = _zones(net, None)
        self._around: dict[int, float] = {}
        for device in self.stops:
            for end in (device.line, device.load):
                self._raise(end, _rating(device))
        for source in rig.sources:
            self._raise(source.plus, _limit(source))

    def _raise(self, end: str, current_a: float) -> None:
        number = self.zone.get(end, -2)
        self._around[number] = self._around.get(number, 0.0) + current_a

    def at_most_a(self, wire: Conductor) -> float:
        """A quick upper bound of what can flow into a conductor [A]."""
        return self._around.get(self.zone.get(wire.a, -2), 0.0)

    def inflows(self, wire: Conductor) -> tuple[Inflow, Inflow]:
        """What can flow into both ends of a conductor, the conductor itself taken out."""
        zone = _zones(self.net, wire)
        return self._inflow(zone, wire.a), self._inflow(zone, wire.b)

    def _inflow(self, zone: Mapping[str, int], end: str) -> Inflow:
        goal = zone.get(end)
        if goal is None:
            return Inflow(end, self._direct(end), self._at(end))
        flow = _Flow()
        maybe = False
        for device in self.stops:
            one, two = zone.get(device.line, -2), zone.get(device.load, -2)
            if one != two:
                room = _rating(device)
                maybe = maybe or isinstance(device.rating_a, Unknown)
                flow.add(one, two, (room, room), device)
        for source in self.sources:
            maybe = maybe or isinstance(source.limit_a, Unknown)
            flow.add(_ROOT, zone.get(source.plus, -3), (_limit(source), 0.0), source)
        current_a, by = flow.largest(goal)
        return Inflow(end, current_a, by, maybe)

    def _at(self, end: str) -> tuple[Source, ...]:
        return tuple(source for source in self.sources if source.plus == end)

    def _direct(self, end: str) -> float:
        """An end with nothing else on it: what a source right there drives."""
        return sum((_limit(source) for source in self._at(end)), 0.0)


def _limit(source: Source) -> float:
    """What a source can drive: a battery without bound; an unknown limit counts as a full stop."""
    if source.limit_a is None:
        return math.inf
    return source.limit_a if isinstance(source.limit_a, float) else 0.0


def guards(
    net: Net, wire: Conductor, far: str, limit_a: float, loads: frozenset[str]
) -> tuple[Sequence[Device], float]:
    """The devices that a short feeder runs into, and the longest way to one of them [m].

    Walks on from the far end of an unprotected conductor. No device at all is returned where some
    way leads to a load first, or to a device that lets more through than the conductor may carry.
    """
    found: list[Device] = []
    longest = 0.0
    seen = {far}
    waiting = [(far, 0.0)]
    while waiting:
        here, way = waiting.pop()
        if here in loads:
            return (), math.inf
        longest = max(longest, way)
        for edge, there in net.steps(here):
            if edge is wire or there in seen:
                continue
            if isinstance(edge, Device) and edge.protects:
                if _rating(edge) > limit_a:
                    return (), math.inf
                found.append(edge)
                continue
            length = edge.length_m if isinstance(edge, Conductor) else 0.0
            seen.add(there)
            waiting.append((there, way + (length if isinstance(length, float) else math.inf)))
    return found, longest
