"""Resistance of conductors as it is in use: hot from the current that they carry."""

from collections.abc import Callable

from rigfolio.books import Limit, resistance_ohm_per_m
from rigfolio.calc import conductor_temperature_c
from rigfolio.findings import Unknown
from rigfolio.model import Conductor
from rigfolio.record import record
from rigfolio.units import Size

SizeOf = Callable[[Conductor], Size | Unknown]


def as_stated(wire: Conductor) -> Size | Unknown:
    """The size that the text gives."""
    return wire.size


@record
class Copper:
    """Resistance of conductors, hot from their current."""

    carries: Callable[[Conductor, Size], Limit | None]
    service: Callable[[Conductor], tuple[float, float]]
    is_judged: Callable[[Conductor], bool]

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

    def counted_ohm(self, wire: Conductor, current_a: float, size: Size | Unknown) -> float | None:
        """As `ohm`; a short lead of unknown size, left to its maker, counts as none."""
        if isinstance(size, Unknown):
            return None if self.is_judged(wire) else 0.0
        return self.ohm(wire, current_a, size)
