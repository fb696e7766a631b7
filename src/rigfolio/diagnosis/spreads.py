"""How far a reading may be off by itself: the meter, the digits written down, the text."""

import math
from collections.abc import Sequence
from functools import cached_property

from rigfolio.books import figure, meter_volt
from rigfolio.diagnosis.places import written_step
from rigfolio.model import Reading
from rigfolio.operating import Shown
from rigfolio.record import record
from rigfolio.study import Study

# A rounded figure lies anywhere in its step: the standard deviation of that is a step by this [-].
_EVEN = math.sqrt(12.0)
DEVIATIONS = 2.0
"""Standard deviations between no volts and those that a sound joint takes, or stray ones [-]."""


@record
class Probe:
    """A reading with its terminals settled, and the number of the scene that it was taken in."""

    reading: Reading
    a: str
    b: str
    scene: int


class Spreads:
    """The standard deviations of the readings that are numbers."""

    def __init__(
        self, study: Study, numeric: Sequence[Probe], observed: Sequence[float],
        sound: Sequence[Shown],
    ) -> None:  # fmt: skip
        self.study, self.numeric, self.observed, self.sound = study, numeric, observed, sound

    def of(self, at: int, want: float) -> float:
        """Standard deviation of a reading by itself: the meter's, and that of the text."""
        if at not in self._amperes:
            own = self._fixed_spreads[at]
            is_dead = at in self._against_minus and abs(want) <= figure("stray", "volt")
            return math.hypot(own, figure("stray", "volt") / DEVIATIONS) if is_dead else own
        own = figure("meter", "ampere") + figure("meter", "share") * abs(want)
        return math.hypot(own, 0.01 * want, self._fixed_spreads[at])

    @cached_property
    def _amperes(self) -> frozenset[int]:
        every = enumerate(self.numeric)
        return frozenset(at for at, one in every if one.reading.measure == "current")

    @cached_property
    def _against_minus(self) -> frozenset[int]:
        """The volts that are those of a source, or nothing but what an open line picks up."""
        volts = ((at, o) for at, o in enumerate(self.numeric) if o.reading.measure == "voltage")
        return frozenset(at for at, one in volts if not self._is_drop(one))

    @cached_property
    def _fixed_spreads(self) -> tuple[float, ...]:
        return tuple(self._fixed_spread(at, probe) for at, probe in enumerate(self.numeric))

    def _fixed_spread(self, at: int, probe: Probe) -> float:
        """As much of the spread of a reading as does not hang on what was expected."""
        if probe.reading.measure == "resistance":
            return math.log(figure("spread", "ohm_factor"))
        if probe.reading.measure == "current":
            return written_step(probe.reading) / _EVEN
        is_drop = self._is_drop(probe)
        # The last digits alone: the gain of a meter moves all its readings together. Who looks for
        # the volts of a battery and finds none has not changed to the range of millivolts.
        own = meter_volt(0.0, fine=is_drop and abs(self.observed[at]) < 1.0)
        own = math.hypot(own, written_step(probe.reading) / _EVEN)
        sound = self.sound[probe.scene].between_v(probe.a, probe.b)
        if is_drop and probe.reading.on != ():
            # What the test sheet lets pass at a joint under load is no sign of a bad one.
            own = math.hypot(own, figure("sound", "joint_volt") / DEVIATIONS)
        lost = abs(sound) if is_drop else self._lost_v(probe, sound)
        return math.hypot(own, figure("spread", "drop_share") * lost)

    def _is_drop(self, probe: Probe) -> bool:
        side = self.study.side
        return side.get(probe.a) == side.get(probe.b)

    def _lost_v(self, probe: Probe, sound: float) -> float:
        """What sound copper loses on the way to a pair of terminals [V]."""
        volts = self.study.nominal_v(probe.a)
        return min(max(volts - abs(sound), 0.0), 0.1 * volts)
