"""Voltage drop from a source to a load and back, with the demand of all loads on the way."""

from collections.abc import Callable, Iterable

from rigfolio.books.loader import Limit, resistance_ohm_per_m
from rigfolio.calc.ampacity import conductor_temperature_c
from rigfolio.findings import Unknown
from rigfolio.model.graph import Conductor, Load, Panel
from rigfolio.record import record
from rigfolio.study.demand import Flows, Way
from rigfolio.study.net import Edge
from rigfolio.units import Size

SizeOf = Callable[[Conductor], Size | Unknown]
_STANDING = frozenset({"battery", "vehicle", "dc-dc"})


def as_stated(wire: Conductor) -> Size | Unknown:
    """The size that the text gives."""
    return wire.size


@record
class Drop:
    """The drop on one way [V]; `worst` is the wire that loses most of it."""

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
        carries: Callable[[Conductor, Size], Limit | None],
        service: Callable[[Conductor], tuple[float, float]],
        is_judged: Callable[[Conductor], bool],
    ) -> None:
        self.flows = flows
        self.carries = carries
        self.service = service
        self.is_judged = is_judged
        self._ohms: dict[tuple[str, float, str], float | None] = {}

    def ohm(self, wire: Conductor, current_a: float, size: Size) -> float | None:
        """Resistance of a conductor, hot from its current [Ω]; None where the length is unknown.

        Source
        ------
        FAA AC 43.13-1B 11-66d(6), estimate of conductor temperature (memory).
        """
        if isinstance(wire.length_m, Unknown):
            return None
        ambient_c, rated_c = self.service(wire)
        limit = self.carries(wire, size)
        hot_c = rated_c
        if limit is not None and limit.value > 0.0:
            share_a = min(current_a / wire.count, limit.value)
            hot_c = conductor_temperature_c(ambient_c, rated_c, share_a, limit.value)
        return resistance_ohm_per_m(size, hot_c) * wire.length_m / wire.count

    def of(self, load: Load, size_of: SizeOf = as_stated) -> Drop | None:
        """The drop of a load from the source that serves it best; None where it is not known."""
        own_a = self.flows.current_a(load)
        if isinstance(own_a, Unknown):
            return None
        nominal_v = self.flows.volts.get(load.plus, self.flows.rig.system_v)
        return self._best(self.flows.ways.get(load.about.name, ()), own_a, nominal_v, size_of)

    def feeder(self, panel: Panel) -> Drop | None:
        """The drop between a source and a panel, out and back, with the panel's demand on it."""
        nominal_v = self.flows.volts.get(panel.feed, self.flows.rig.system_v)
        return self._best(self.flows.feeders(panel), 0.0, nominal_v, as_stated)

    def _best(
        self, ways: Iterable[Way], own_a: float, nominal_v: float, size_of: SizeOf
    ) -> Drop | None:
        """The least drop; a source that comes and goes counts only where there is no other."""
        every = tuple(ways)
        standing = tuple(way for way in every if way.source.kind in _STANDING)
        drops = [self._along(way, own_a, nominal_v, size_of) for way in standing or every]
        known = [drop for drop in drops if drop is not None]
        return min(known, key=lambda drop: drop.volts) if known else None

    def _along(self, way: Way, own_a: float, nominal_v: float, size_of: SizeOf) -> Drop | None:
        total_v = most_v = 0.0
        worst: Conductor | None = None
        edges: tuple[Edge, ...] = (*way.out, *way.back)
        for edge in edges:
            if not isinstance(edge, Conductor):
                continue
            size = size_of(edge)
            if isinstance(size, Unknown):
                if self.is_judged(edge):
                    return None
                continue
            current_a = max(self.flows.from_source(way.source.about.name, edge.name), own_a)
            key = (edge.name, current_a, size.text)
            if key not in self._ohms:
                self._ohms[key] = self.ohm(edge, current_a, size)
            ohm = self._ohms[key]
            if ohm is None:
                return None
            lost_v = ohm * current_a
            total_v += lost_v
            if lost_v > most_v:
                most_v, worst = lost_v, edge
        return Drop(total_v, nominal_v, way, worst)
