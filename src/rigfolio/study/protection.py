"""Conductors that some source can overload, each with what lets it and how far that runs."""

import math
from collections.abc import Iterator

from rigfolio.books.loader import Limit
from rigfolio.findings import Unknown
from rigfolio.model.graph import Conductor, Device, Source
from rigfolio.record import record
from rigfolio.study.reach import Inflow, guards
from rigfolio.study.study import Study


@record
class Exposure:
    """A conductor into whose `end` more can flow than it may carry.

    `run_m` is the way along wires from where the supply connects to the device that protects the
    conductor further on, `reach` how far that may be; `run_m` is infinite where no device does.
    """

    wire: Conductor
    limit: Limit
    end: str
    current_a: float
    devices: tuple[Device, ...]
    sources: tuple[Source, ...]
    run_m: float
    reach: Limit

    @property
    def is_bare(self) -> bool:
        """Whether a source drives into it with nothing between that would open."""
        return math.isinf(self.current_a) or not self.devices

    @property
    def is_within_reach(self) -> bool:
        """Whether a device further on protects it near enough."""
        return self.run_m <= self.reach.value * (1.0 + 1e-9)


def exposures(study: Study) -> Iterator[Exposure]:
    """All conductors of the plus side that are not protected from some source, near ones left out.

    A conductor short enough before the device that protects it is allowed to be unprotected, as
    long as nothing but that device hangs on it.
    """
    open_ends = dict(_open_ends(study))
    for name, (wire, limit, inflows) in open_ends.items():
        for inflow in inflows:
            exposure = _exposure(study, wire, limit, inflow, frozenset(open_ends) - {name})
            if not exposure.is_within_reach:
                yield exposure
                break


def _open_ends(
    study: Study,
) -> Iterator[tuple[str, tuple[Conductor, Limit, tuple[Inflow, ...]]]]:
    for wire in study.rig.conductors:
        if wire.cranking or study.side.get(wire.a) != "+" or not study.is_judged_lead(wire):
            continue
        limit = study.limit(wire)
        if limit is None or study.reach.at_most_a(wire) <= limit.value:
            continue
        above = limit.value * (1.0 + 1e-9)
        inflows = tuple(i for i in study.reach.inflows(wire) if i.current_a > above)
        if inflows:
            yield wire.name, (wire, limit, inflows)


def _exposure(
    study: Study, wire: Conductor, limit: Limit, inflow: Inflow, exposed: frozenset[str]
) -> Exposure:
    far = wire.b if inflow.end == wire.a else wire.a
    loads = frozenset(load.plus for load in study.rig.loads)
    devices, onward_m = guards(study.net, wire, far, limit.value, loads)
    before_m, from_battery = _before(study, wire, inflow.end, exposed)
    length = wire.length_m
    run_m = math.inf
    if devices and not isinstance(length, Unknown):
        run_m = before_m + length + onward_m
    return Exposure(
        wire=wire,
        limit=limit,
        end=inflow.end,
        current_a=inflow.current_a,
        devices=tuple(one for one in inflow.by if isinstance(one, Device)),
        sources=tuple(one for one in inflow.by if isinstance(one, Source)),
        run_m=run_m,
        reach=study.book.reach_m(sheathed=wire.sheathed, from_battery=from_battery),
    )


def _before(study: Study, wire: Conductor, end: str, exposed: frozenset[str]) -> tuple[float, bool]:
    """The way along unprotected wires up to an end [m], and whether it starts at a battery."""
    posts = {source.plus for source in study.rig.sources if source.kind == "battery"}
    way = {end: 0.0}
    waiting = [end]
    while waiting:
        here = waiting.pop()
        if here in posts:
            return way[here], True
        for edge, there in study.net.steps(here):
            if edge is wire or there in way:
                continue
            if isinstance(edge, Conductor):
                if edge.name in exposed and isinstance(edge.length_m, float):
                    way[there] = way[here] + edge.length_m
                    waiting.append(there)
            elif not edge.protects:
                way[there] = way[here]
                waiting.append(there)
    return max(way.values()), False
