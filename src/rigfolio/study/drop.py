"""Voltage drop from a source to a load and back, with the demand of all loads on the way."""

from collections.abc import Callable

from rigfolio.books.loader import Limit, resistance_ohm_per_m
from rigfolio.calc.ampacity import conductor_temperature_c
from rigfolio.findings import Unknown
from rigfolio.model.graph import Conductor, Load
from rigfolio.record import record
from rigfolio.study.demand import Flows, Way
from rigfolio.study.net import Edge
from rigfolio.units import Size

SizeOf = Callable[[Conductor], Size | Unknown]


@record
class Drop:
    """The drop of one load [V] from one source; `worst` is the wire that loses most of it."""

    volts: float
    nominal_v: float
    way: Way
    worst: Conductor | None

    @property
    def share(self) -> float:
        """The drop as a share of the nominal voltage [-]."""
        return self.volts / self.nominal_v


class Drops:
    """Drops of a rig, for the sizes that it has or for others on trial."""

    def __init__(
        self,
        flows: Flows,
        carries: Callable[[Conductor], Limit | None],
        service: Callable[[Conductor], tuple[float, float]],
    ) -> None:
        self.flows = flows
        self.carries = carries
        self.service = service

    def ohm(self, wire: Conductor, current_a: float, size: Size) -> float | None:
        """Resistance of a conductor, hot from its current [Ω]; None where the length is unknown.

        Source
        ------
        FAA AC 43.13-1B 11-66d(6), estimate of conductor temperature (memory).
        """
        if isinstance(wire.length_m, Unknown):
            return None
        ambient_c, rated_c = self.service(wire)
        limit = self.carries(wire)
        hot_c = rated_c
        if limit is not None and limit.value > 0.0:
            share_a = min(current_a / wire.count, limit.value)
            hot_c = conductor_temperature_c(ambient_c, rated_c, share_a, limit.value)
        return resistance_ohm_per_m(size, hot_c) * wire.length_m / wire.count

    def of(self, load: Load, size_of: SizeOf = lambda wire: wire.size) -> Drop | None:
        """The drop of a load from the source that serves it best; None where it is not known."""
        own_a = self.flows.current_a(load)
        if isinstance(own_a, Unknown):
            return None
        drops = [
            drop
            for way in self.flows.ways.get(load.about.name, ())
            if way.source.kind in ("battery", "vehicle", "dc-dc")
            for drop in [self._along(way, load, own_a, size_of)]
            if drop is not None
        ]
        return min(drops, key=lambda drop: drop.share) if drops else None

    def _along(self, way: Way, load: Load, own_a: float, size_of: SizeOf) -> Drop | None:
        total = most = 0.0
        worst: Conductor | None = None
        edges: tuple[Edge, ...] = (*way.out, *way.back)
        for edge in edges:
            if not isinstance(edge, Conductor):
                continue
            size = size_of(edge)
            current_a = max(self.flows.from_source(way.source.about.name, edge.name), own_a)
            ohm = None if isinstance(size, Unknown) else self.ohm(edge, current_a, size)
            if ohm is None:
                return None
            lost = ohm * current_a
            total += lost
            if lost > most:
                most, worst = lost, edge
        nominal_v = self.flows.volts.get(load.plus, self.flows.rig.system_v)
        return Drop(total, nominal_v, way, worst)
