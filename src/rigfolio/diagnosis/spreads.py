"""How far readings may be off: the meter, the digits, the text; how well they are explained."""

import math
from collections.abc import Sequence
from functools import cached_property
from typing import TypeAlias

from rigfolio.books import figure, meter_volt
from rigfolio.calc import likeliest, log_densities, log_density, log_sum
from rigfolio.diagnosis.places import written_step
from rigfolio.model import Reading
from rigfolio.operating import Shown
from rigfolio.record import record, replace
from rigfolio.study import Study

_FAR = 5.0
"""From how many spreads on a reading is not explained [-]."""
_FARTHEST = 2.5
"""How far a source stands from the middle at the most where nothing is wrong with it [-]."""
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


GaveOut: TypeAlias = tuple[frozenset[str], tuple[int, ...]]
Moves: TypeAlias = tuple[float, ...]
"""By how much each probe shows more for one deviation of something."""


@record
class Expected:
    """What a fault of some amount makes all probes show, and how that moves with what is open.

    `by_emf` and `by_load` are the changes for one standard deviation of the voltage of sources that
    stand alike, of each of them, and of what loads draw, `by_amount` those for one of each amount
    within its step, `by_inside` for what each battery may have inside that does not say it; `seen`
    is the logarithm of the chance of the symptoms [-]. Ohms stand as their natural logarithm.
    `gave_out` is what has dropped out or given way in each scene.
    """

    values: tuple[float, ...]
    by_emf: tuple[Moves, ...]
    by_load: Moves
    seen: float
    by_amount: tuple[Moves, ...] = ()
    by_inside: tuple[Moves, ...] = ()
    gave_out: tuple[GaveOut, ...] = ()

    @property
    def common(self) -> tuple[Moves, ...]:
        """What moves all readings of a day together, but for the gain of the meter."""
        return *self.by_emf, self.by_load, *self.by_inside, *self.by_amount

    def within(self, steps: float) -> "Expected":
        """The same where amounts lie in steps that are so many times as wide."""
        wider = (tuple(steps * each for each in moved) for moved in self.by_amount)
        return replace(self, by_amount=tuple(wider))


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


class Fit:
    """How well what was expected explains what was read; beside it stand so many symptoms."""

    def __init__(self, spreads: Spreads, symptoms: int) -> None:
        self.spreads, self.symptoms = spreads, symptoms

    def log_likelihood(self, expected: Expected) -> float:
        """Logarithm of the chance of all that was measured and seen [-].

        Any one reading may be a slip: taken at another place than the one that was written down.
        """
        count = len(self.spreads.observed)
        whole, without = log_densities(*self._open(expected))
        log_slip, log_true = self._slips
        ways = [whole + count * log_true]
        if count > 1:
            lone = log_slip + (count - 1) * log_true
            ways += [part + lone for part in without]
        return log_sum(ways) + expected.seen

    def stand_at(self, expected: Expected) -> tuple[float, ...]:
        """Where each level stands while the next reading is taken, if just that was expected [-].

        In the middle, where these readings put one further off than it may be: they are wrong, or
        something else is.
        """
        at = self.levels_at(expected)
        return at if all(abs(one) <= _FARTHEST for one in at) else (0.0,) * len(at)

    def levels_at(self, expected: Expected) -> tuple[float, ...]:
        """Where each level stands, after all readings, if just that was expected [-]."""
        return likeliest(*self._open(expected))[: len(expected.by_emf)]

    def _open(self, expected: Expected) -> tuple[list[float], list[float], tuple[Moves, ...]]:
        """How far all readings are off, by how much each may be by itself, and all together."""
        values = expected.values
        off = [seen - want for seen, want in zip(self.spreads.observed, values, strict=True)]
        spread = [self.spreads.of(at, want) for at, want in enumerate(values)]
        return off, spread, (*expected.common, self._by_gain(values))

    @cached_property
    def _slips(self) -> tuple[float, float]:
        """Logarithm of the chance of a slip, anywhere in its volts, and of that of none [-]."""
        slip, volt = figure("slip", "share"), figure("slip", "volt")
        return math.log(slip) - math.log(2.0 * volt), math.log1p(-slip)

    @cached_property
    def any_log(self) -> float:
        """Logarithm of the chance of all readings where they might be anything [-]."""
        each = -math.log(2.0 * figure("slip", "volt"))
        return each * len(self.spreads.numeric) + self.symptoms * math.log(figure("seen", "chance"))

    @cached_property
    def most_log(self) -> float:
        """More than the logarithm of the chance of any fault that fits all readings exactly [-]."""
        spreads = [0.8 * self.spreads.of(at, seen) for at, seen in enumerate(self.spreads.observed)]
        return log_density([0.0] * len(spreads), spreads)

    def misfit(self, expected: Expected) -> float:
        """How far the readings are off, in spreads of each by itself, as a mean square [-]."""
        if not self.spreads.numeric:
            return 0.0
        squares = (self._off(expected, at) ** 2 for at in range(len(self.spreads.numeric)))
        return sum(squares) / len(self.spreads.numeric)

    def unexplained(self, expected: Expected) -> tuple[Reading, ...]:
        """The readings that are far from what is expected, by themselves and beside the others."""
        far = (abs(self._off(expected, at)) > _FAR for at in range(len(self.spreads.numeric)))
        return tuple(
            o.reading for o, is_far in zip(self.spreads.numeric, far, strict=True) if is_far
        )

    def _off(self, expected: Expected, at: int) -> float:
        """How many spreads a reading is off [-]."""
        want = expected.values[at]
        gain = self._by_gain(expected.values)[at]
        wide = math.hypot(
            self.spreads.of(at, want), gain, *(moved[at] for moved in expected.common)
        )
        return (self.spreads.observed[at] - want) / wide

    def _by_gain(self, values: Sequence[float]) -> tuple[float, ...]:
        """How far the gain of the meter moves what it shows: all of one day together."""
        return tuple([g * v if g else 0.0 for g, v in zip(self._gains, values, strict=True)])

    @cached_property
    def _gains(self) -> tuple[float, ...]:
        """By which share the gain of the meter moves each reading; ohms stand as they are [-]."""
        share = 0.5 * figure("meter", "share")
        return tuple(
            0.0 if one.reading.measure == "resistance" else share for one in self.spreads.numeric
        )
