"""Protection as reachability: what can flow into each end of a conductor, and what stops it.

A fuse or breaker lets its rating through, a source with a limit no more than that; wires and
switches let everything through. The most that all sources together can drive into one end of a
conductor is the largest flow through that network, and its narrowest cut names the devices that
decide. That one figure covers a step down in size, a second source, feeding from the far end, and
fuses side by side.

Terminals joined without a protecting device between them form a zone; between zones stand devices.
A search starts at the zone that is asked about, so that of equal cuts the nearest is named.
"""

import math
from collections import deque
from collections.abc import Collection, Hashable, Iterator, Mapping
from typing import cast

from rigfolio.findings import Unknown
from rigfolio.kinds import USUAL_GUARD
from rigfolio.model import Conductor, Device, Rig, Source
from rigfolio.network import (
    START,
    Arc,
    Flow,
    Net,
    dead_ends,
    is_guard,
    largest_flow,
    net_of,
    nets_in_turn,
)
from rigfolio.record import record, replace
from rigfolio.study import Study, once

_GOAL = -1
_TINY_A = 1e-9


@record
class Inflow:
    """What can flow into one end of a conductor [A], infinite where nothing limits it.

    `by` are the devices and sources that decide, `at` the terminals where the current comes in.
    `maybe` is true where a device or a source of unknown rating was taken to let nothing through.
    """

    end: str
    current_a: float
    by: tuple[Device | Source, ...]
    at: tuple[str, ...] = ()
    maybe: bool = False


Fence = tuple[tuple[Source, tuple[Device, ...]], ...]
"""Sources, each with the devices that part it from a terminal."""


@record
class Goal:
    """What a current is to flow into: some terminals of a zone that a cut divides, whole zones."""

    zone: int = -2
    terminals: frozenset[str] = frozenset()
    whole: frozenset[int] = frozenset()
    left_out: frozenset[str] = frozenset()
    """Sources by name that are not counted."""


def rating(device: Device) -> float:
    """What a protecting device lets through; unknown or missing counts as a full stop [A]."""
    return device.rating_a if isinstance(device.rating_a, float) else 0.0


def source_limit(source: Source) -> float:
    """What a source can drive [A]: a battery without bound; an unknown limit is a full stop."""
    if source.limit_a is None:
        return math.inf
    return source.limit_a if isinstance(source.limit_a, float) else 0.0


@record
class _Side:
    """One side of a protecting device: its terminal here and there, the zone of each."""

    number: int
    device: Device
    here: str
    there: str
    zone: int
    beyond: int

    @property
    def sense(self) -> int:
        """+1 on the side that current from its line comes out of."""
        return 1 if self.here == self.device.load else -1


def _towards_sources(
    doors: Mapping[int, list[_Side]], driven: Collection[int], *, further: bool
) -> dict[int, list[_Side]]:
    """The devices of each zone through which a source may come.

    A zone that no source is in and that one device leads to can only take. So can one behind which
    there are only such, which is looked for if asked to go `further`; from these the one device
    that is left leads back.
    """
    steps = {
        zone: [(side, side.beyond) for side in sides if side.beyond != zone]
        for zone, sides in doors.items()
    }
    taking: dict[int, list[_Side]] = {}
    for zone in dead_ends(steps, driven, further=further):
        taking[zone] = _left(doors[zone], taking)
    return {zone: taking.get(zone) or _left(sides, taking) for zone, sides in doors.items()}


def _left(sides: list[_Side], taking: Collection[int]) -> list[_Side]:
    """The sides that do not lead into what can only take."""
    return [side for side in sides if side.beyond == side.zone or side.beyond not in taking]


class Reach:
    """What can flow into the ends of the conductors of a rig."""

    def __init__(self, rig: Rig, net: Net) -> None:
        self.net = net
        self.zone: dict[str, int] = {}
        for start in net.at:
            if start not in self.zone:
                found = net.walk([start], is_guard)
                self.zone.update(dict.fromkeys(found, len(self.zone)))
        doors: dict[int, list[_Side]] = {}
        self._sources: dict[int, list[Source]] = {}
        self._around: dict[int, float] = {}
        for number, device in enumerate(d for d in rig.devices if d.protects):
            for here, there in ((device.line, device.load), (device.load, device.line)):
                zone, beyond = self._zone(here), self._zone(there)
                doors.setdefault(zone, []).append(_Side(number, device, here, there, zone, beyond))
                self._around[zone] = self._around.get(zone, 0.0) + rating(device)
        for source in rig.sources:
            zone = self._zone(source.plus)
            self._sources.setdefault(zone, []).append(source)
            self._around[zone] = self._around.get(zone, 0.0) + source_limit(source)
        units = [source.unit for source in rig.sources if source.unit]
        self._unit_a = {
            source.unit: source_limit(source) for source in rig.sources
            if units.count(source.unit) > 1
        }  # fmt: skip
        """What the outputs of one part drive together, by its name [A]."""
        alone = sum(source.unit not in self._unit_a for source in rig.sources)
        self._count = alone + len(self._unit_a)
        self._sides = _towards_sources(doors, self._sources.keys(), further=True)
        self._sides_of_many = _towards_sources(doors, self._sources.keys(), further=False)

    def _zone(self, terminal: str) -> int:
        """The zone of a terminal; one with no wire on it gets a zone of its own."""
        return self.zone.setdefault(terminal, len(self.zone) + len(self.net.at))

    def at_most_a(self, wire: Conductor) -> float:
        """A quick upper bound of what can flow into a conductor [A]."""
        return self._around.get(self._zone(wire.a), 0.0)

    def inflows(self, wire: Conductor) -> tuple[Inflow, Inflow]:
        """What can flow into both ends of a conductor, the conductor itself taken out."""
        found = []
        for end in (wire.a, wire.b):
            near = self.net.walk([end], lambda edge: edge is wire or is_guard(edge))
            goal = Goal(self._zone(end), frozenset(near))
            found.append(self._largest(goal, end))
        return found[0], found[1]

    def cut_at(self, end: str, wire: Conductor | None) -> frozenset[int]:
        """The devices that decide what flows into an end of a conductor, each by its identity."""
        near = self.net.walk([end], lambda edge: edge is wire or is_guard(edge))
        found = self._largest(Goal(self._zone(end), frozenset(near)), end)
        return frozenset(id(one) for one in found.by if isinstance(one, Device))

    def fence(
        self, end: str, wire: Conductor | None = None, by: Collection[Device] | None = None
    ) -> Fence:
        """What stands between an end of a conductor and each source that can drive into it.

        Parameters
        ----------
        end : str
            The terminal.
        wire : Conductor, optional
            The conductor, taken out; if left out all that is joined to the end counts.
        by : Collection[Device], optional
            The devices of a cut; the nearest of all if left out.

        Returns
        -------
        Fence
            The sources, those with nothing between first, each with the devices that part it from
            the end.
        """
        near = self.net.walk([end], lambda edge: edge is wire or is_guard(edge))
        goal = Goal(self._zone(end), frozenset(near))
        inside = {_GOAL: None}
        waiting = deque(inside if by is not None else ())
        cut = {id(device) for device in by or ()}
        while waiting:
            for side, beyond in self._doors(goal, waiting.popleft()):
                if id(side.device) not in cut and beyond not in inside:
                    inside[beyond] = None
                    waiting.append(beyond)
        found: dict[str, tuple[Source, dict[str, Device]]] = {}
        for node in inside:
            for source in self._driving(goal, node):
                found[source.about.name] = source, {}
        # Many devices may lead to one place: what drives there is looked up once.
        behind: dict[int, tuple[Source, ...]] = {}
        for node in inside:
            for side, beyond in self._doors(goal, node):
                if beyond not in behind:
                    behind[beyond] = tuple(self._behind(goal, beyond, inside))
                for source in behind[beyond]:
                    known = found.setdefault(source.about.name, (source, {}))[1]
                    known[side.device.about.name] = side.device
        return tuple((source, tuple(devices.values())) for source, devices in found.values())

    def _behind(self, goal: Goal, node: int, inside: Collection[int]) -> Iterator[Source]:
        """The sources that can come by a node without passing some others."""
        seen = {node, *inside}
        waiting = deque({node} - set(inside))
        while waiting:
            here = waiting.popleft()
            yield from self._driving(goal, here)
            for _, beyond in self._doors(goal, here):
                if beyond not in seen:
                    seen.add(beyond)
                    waiting.append(beyond)

    def into(self, terminals: Collection[str], left_out: frozenset[str] = frozenset()) -> Inflow:
        """What can flow into some terminals taken together, some sources left out by name."""
        whole = frozenset(self._zone(terminal) for terminal in terminals)
        return self._largest(Goal(whole=whole, left_out=left_out), "")

    def _largest(self, goal: Goal, end: str) -> Inflow:
        """The largest flow from all sources into a goal."""
        endless = [s for s in self._driving(goal, _GOAL) if math.isinf(source_limit(s))]
        if endless:
            return Inflow(end, math.inf, tuple(endless), tuple(s.plus for s in endless))
        room_a = sum(source_limit(source) for source in self._driving(goal, _GOAL))
        room_a += sum(rating(side.device) for side, _ in self._doors(goal, _GOAL))

        def ways_in(node: Hashable) -> Iterator[Arc]:
            if isinstance(node, str):
                yield f"all of {node}", 1, START, self._unit_a[node]
                return
            place = cast("int", node)
            for source in self._driving(goal, place):
                start = source.unit if source.unit in self._unit_a else START
                yield source.about.name, 1, start, source_limit(source)
            for side, beyond in self._doors(goal, place):
                yield side.number, side.sense, beyond, rating(side.device)

        flow = largest_flow(_GOAL, ways_in, most=room_a, starts=self._count)
        return self._cut(goal, end, flow)

    def _node(self, goal: Goal, zone: int, terminal: str) -> int:
        if zone in goal.whole or (zone == goal.zone and terminal in goal.terminals):
            return _GOAL
        return zone

    def _in(self, goal: Goal, node: int) -> Collection[int]:
        """The zones that a node stands for."""
        return (*goal.whole, goal.zone) if node == _GOAL else (node,)

    def _driving(self, goal: Goal, node: int) -> Iterator[Source]:
        for zone in self._in(goal, node):
            for source in self._sources.get(zone, ()):
                counts = source.about.name not in goal.left_out
                if counts and self._node(goal, zone, source.plus) == node:
                    yield source

    def _doors(self, goal: Goal, node: int) -> Iterator[tuple[_Side, int]]:
        """The devices between a node and what could feed it, and the node beyond each."""
        # Between the zones of a goal current may pass through what else can only take.
        sides = self._sides_of_many if len(goal.whole) > 1 else self._sides
        # Asked of all that meets at a bar for each wire there, so `_node` is not called for each.
        whole, divided, inner = goal.whole, goal.zone, goal.terminals
        for zone in self._in(goal, node):
            is_whole, is_divided = zone in whole, zone == divided
            for side in sides.get(zone, ()):
                is_goal = is_whole or (is_divided and side.here in inner)
                if (_GOAL if is_goal else zone) != node:
                    continue
                beyond = side.beyond
                if beyond in whole or (beyond == divided and side.there in inner):
                    beyond = _GOAL
                if beyond != node:
                    yield side, beyond

    def _cut(self, goal: Goal, end: str, flow: Flow) -> Inflow:
        """The narrowest cut, nearest to the goal, and where the current comes in."""
        # By identity: to hash a value takes all of its fields.
        by: dict[int, Device | Source] = {}
        at: dict[str, None] = {}
        maybe = False
        inside = frozenset(flow.inside)
        for node in (node for node in flow.inside if isinstance(node, int)):
            for source in self._driving(goal, node):
                maybe = maybe or isinstance(source.limit_a, Unknown)
                if source_limit(source) > 0.0:
                    by[id(source)] = source
                    if node == _GOAL:
                        at[source.plus] = None
            for side, beyond in self._doors(goal, node):
                device = side.device
                through_a = side.sense * flow.through.get(side.number, 0.0)
                if node == _GOAL and through_a > _TINY_A:
                    at[side.here] = None
                if beyond not in inside:
                    maybe = maybe or not isinstance(device.rating_a, float)
                    if rating(device) > 0.0:
                        by[id(device)] = device
        return Inflow(end, flow.amount, tuple(by.values()), tuple(at), maybe)


class ReachInTurn(Reach):
    """The same where switches make one of several ways: the most in any of their settings.

    A zone is what is joined with all of these ways made.
    """

    def __init__(self, rig: Rig, net: Net) -> None:
        super().__init__(rig, replace(net, turning=frozenset()))
        self._each = [Reach(rig, each) for each in nets_in_turn(rig)]

    def inflows(self, wire: Conductor) -> tuple[Inflow, Inflow]:
        """What can flow into both ends of a conductor at most, the conductor itself taken out."""
        one, two = zip(*(reach.inflows(wire) for reach in self._each), strict=True)
        return max(one, key=_current), max(two, key=_current)

    def into(self, terminals: Collection[str], left_out: frozenset[str] = frozenset()) -> Inflow:
        """What can flow into some terminals at most, some sources left out by name."""
        return max((one.into(terminals, left_out) for one in self._each), key=_current)

    def fence(
        self, end: str, wire: Conductor | None = None, by: Collection[Device] | None = None
    ) -> Fence:
        """What stands between an end of a conductor and each source, in any of the settings.

        The devices of a cut stand there in those in which nothing else comes in.
        """
        cut = {id(one) for one in by} if by is not None else None
        found: dict[str, tuple[Source, dict[str, Device]]] = {}
        for reach in self._each:
            if cut is not None and cut != reach.cut_at(end, wire):
                continue
            for source, devices in reach.fence(end, wire, by):
                known = found.setdefault(source.about.name, (source, {}))[1]
                known |= {device.about.name: device for device in devices}
        if cut is not None and not found:
            return super().fence(end, wire, by)
        return tuple((source, tuple(devices.values())) for source, devices in found.values())


def _current(inflow: Inflow) -> float:
    return inflow.current_a


def _reach(rig: Rig, net: Net) -> Reach:
    return ReachInTurn(rig, net) if net.turning else Reach(rig, net)


@once
def reach_of(study: Study) -> Reach:
    """What can flow into the ends of the conductors of a rig."""
    return _reach(study.rig, study.net)


@once
def reach_at(study: Study, share: float) -> Reach:
    """What can flow into conductors, breakers counted at a share of their rating."""
    if share == 1.0:
        return reach_of(study)
    devices = tuple(
        replace(device, rating_a=device.rating_a * share)
        if device.traits.column != USUAL_GUARD and isinstance(device.rating_a, float)
        else device
        for device in study.rig.devices
    )
    rig = replace(study.rig, devices=devices)
    return _reach(rig, net_of(rig) if study.net.turning else study.net)
