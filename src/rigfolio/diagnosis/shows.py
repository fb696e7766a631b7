"""What the meter shows at each probe with something wrong."""

import math
from collections.abc import Sequence

from rigfolio.books import figure
from rigfolio.diagnosis.places import MeterPlaces
from rigfolio.diagnosis.spreads import Probe
from rigfolio.diagnosis.suspects import Suspect
from rigfolio.diagnosis.symptoms import edge_of
from rigfolio.model import Reading
from rigfolio.operating import Scene, Shown, Wrong
from rigfolio.record import record
from rigfolio.study import Study


@record
class MeterShows:
    """The probes of a day with the scenes that they were read in."""

    study: Study
    scenes: tuple[Scene, ...]
    numeric: tuple[Probe, ...]
    places: MeterPlaces

    def values(
        self, suspect: Suspect, wrong: Wrong, shown: Sequence[Shown], spreads: float = 0.0
    ) -> tuple[float, ...]:
        """What each probe shows; ohms by their logarithm. A drain is off by so many spreads."""
        return tuple(
            self._one(probe, suspect, wrong, shown[probe.scene])
            + spreads * figure("drain", "spread") * self._drain_a(probe, suspect)
            for probe in self.numeric
        )

    def _drain_a(self, probe: Probe, suspect: Suspect) -> float:
        is_seen = probe.reading.measure == "current" and probe.reading.part == suspect.bank
        return drain_a(suspect, self.scenes[probe.scene]) if is_seen else 0.0

    def _one(self, probe: Probe, suspect: Suspect, wrong: Wrong, shown: Shown) -> float:
        reading = probe.reading
        if reading.measure == "voltage":
            return shown.between_v(probe.a, probe.b)
        if reading.measure == "current":
            return self._current_a(reading, shown) + self._drain_a(probe, suspect)
        dead = self.dead(suspect, wrong)
        return compared(probe, self.scenes[probe.scene].ohms(probe.a, probe.b, dead))

    def dead(self, suspect: Suspect, wrong: Wrong) -> Wrong:
        """What is wrong in the dead rig: there a short is a way, not a blown fuse."""
        device = self.study.device(suspect.name) if suspect.kind == "short" else None
        if device is None:
            return wrong
        minus = self.places.minus_of(device.load)
        return Wrong(shunt_ohm=((device.load, minus, suspect.amounts[0]),)) if minus else wrong

    def _current_a(self, reading: Reading, shown: Shown) -> float:
        if reading.kind == "load":
            return shown.drawn_a(reading.part)
        if reading.kind == "source":
            return shown.given_a(reading.part) if reading.value < 0 else abs(
                shown.given_a(reading.part)
            )  # fmt: skip
        return shown.current_a(edge_of(self.study, reading))


def drain_a(suspect: Suspect, scene: Scene) -> float:
    """What a drain takes from its battery beside all that is known to be on [A]."""
    return 0.0 if suspect.name in scene.on else suspect.drain_a


def compared(probe: Probe, value: float) -> float:
    """A reading as it is compared: ohms by their logarithm, none above an open line."""
    if probe.reading.measure != "resistance":
        return value
    return math.log(min(max(value, 0.02), figure("joint", "open_ohm") / 10.0))
