"""How well a fault explains what was measured and seen."""

import math
from collections.abc import Sequence
from functools import cached_property
from typing import TypeAlias

from rigfolio.books import figure, meter_volt
from rigfolio.calc import log_densities, log_density, log_sum
from rigfolio.diagnosis.suspects import Suspect
from rigfolio.diagnosis.symptoms import Symptoms, edge_of
from rigfolio.isolation import Open, Unnamed, opened, states_of, turned, unnamed
from rigfolio.model import Reading
from rigfolio.operating import NOTHING_WRONG, Scene, Shown, Wrong
from rigfolio.record import record
from rigfolio.study import Study

# Steps by which the voltage of sources and what loads draw are moved to see what follows [-].
_EMF_STEP, _LOAD_STEP = 0.01, 0.05


Standing: TypeAlias = tuple[str, tuple[tuple[str, str], ...]]
"""How the rig stood: the name of a state, and what was set otherwise in it."""


@record
class Probe:
    """A reading with its terminals settled, and the number of the scene that it was taken in."""

    reading: Reading
    a: str
    b: str
    scene: int


@record
class Expected:
    """What a fault of some amount makes all probes show, and how that moves with what is open.

    `by_emf` and `by_load` are the changes for one standard deviation of the voltage of the sources
    and of what loads draw; `seen` is the logarithm of the chance of the symptoms [-]. Ohms stand as
    their natural logarithm.
    """

    values: tuple[float, ...]
    by_emf: tuple[float, ...]
    by_load: tuple[float, ...]
    seen: float


class Scenes:
    """The scenes of a rig, each made once; what they have solved serves every search."""

    def __init__(self, study: Study) -> None:
        self.study = study
        self._made: dict[tuple[Standing, frozenset[str]], Scene] = {}

    def of(self, standing: Standing, on: frozenset[str]) -> Scene:
        """The rig as it stands, in no state where none is named, with some loads on."""
        if (standing, on) not in self._made:
            state, set_to = standing
            opened_ = turned(self.study.rig, self._opened(state), set_to)
            self._made[standing, on] = Scene(self.study, opened_, on)
        return self._made[standing, on]

    @cached_property
    def unnamed(self) -> Unnamed:
        """How the rig stands where a reading names no state."""
        return unnamed(self.study)

    def _opened(self, state: str) -> Open:
        if not state:
            return self.unnamed.opened
        condition = next(one for one in states_of(self.study) if one.name == state)
        return opened(self.study.rig, condition)


class Evidence:
    """The readings of one day, ready to be held against faults.

    A reading that does not say which loads were on is taken with all loads on of the circuits that
    the readings name; `took_on` are their names. `scenes_of` may be shared by several searches.
    """

    def __init__(
        self, study: Study, readings: Sequence[Reading], scenes_of: Scenes | None = None
    ) -> None:
        self.study, self.scenes_of = study, scenes_of or Scenes(study)
        self.seen = Symptoms(study)
        self.loads = self.seen.loads
        self.took_on = frozenset(name for reading in readings for name in self._of_circuit(reading))
        keys = dict.fromkeys(self._key(reading) for reading in readings)
        self.scenes = tuple(self.scenes_of.of(standing, on) for standing, on in keys)
        self.standing = next(iter(keys))[0]
        places = {key: place for place, key in enumerate(keys)}
        probes = [self._probe(reading, places[self._key(reading)]) for reading in readings]
        self.numeric = tuple(one for one in probes if one.reading.measure != "symptom")
        self.symptoms = tuple(one for one in probes if one.reading.measure == "symptom")
        self.observed = tuple(_value(one, one.reading.value) for one in self.numeric)

    @property
    def leaves_on_open(self) -> bool:
        """Whether some reading does not say which loads were on."""
        return any(one.reading.on is None for one in (*self.numeric, *self.symptoms))

    def solve(self, wrong: Wrong) -> tuple[Shown, ...]:
        """All scenes with something wrong."""
        return tuple(scene.solve(wrong) for scene in self.scenes)

    def expected(self, suspect: Suspect, wrong: Wrong, shown: Sequence[Shown]) -> Expected:
        """What all probes show with something wrong, the scenes being solved already."""
        values = self._shown(suspect, wrong, shown)
        # From half full to full is four in a hundred short of all banks that are sound.
        spread = 0.5 * max((scene.rest_share(s)[1] for scene in self.scenes for s in scene.sources),
                           default=figure("rest", "spread"))  # fmt: skip
        emf = [scene.solve(wrong, emf=1.0 + _EMF_STEP) for scene in self.scenes]
        load = [scene.solve(wrong, load=1.0 + _LOAD_STEP) for scene in self.scenes]
        by_emf = _moved(values, self._shown(suspect, wrong, emf), spread / _EMF_STEP)
        share = figure("spread", "load_share") / _LOAD_STEP
        by_load = _moved(values, self._shown(suspect, wrong, load), share)
        chances = [
            self.seen.chance(one.reading, suspect, wrong, shown[one.scene], self.sound[one.scene])
            for one in self.symptoms
        ]
        seen = sum(math.log(chance) for chance in chances)
        return Expected(values, by_emf, by_load, seen)

    def log_likelihood(self, expected: Expected) -> float:
        """Logarithm of the chance of all that was measured and seen [-].

        Any one reading may be a slip: taken at another place than the one that was written down.
        """
        off = [seen - want for seen, want in zip(self.observed, expected.values, strict=True)]
        spread = [self._spread(at, expected.values[at]) for at in range(len(off))]
        common = (expected.by_emf, expected.by_load)
        slip, volt = figure("slip", "share"), figure("slip", "volt")
        count = len(off)
        whole, without = log_densities(off, spread, common)
        ways = [whole + count * math.log1p(-slip)]
        if count > 1:
            lone = math.log(slip) - math.log(2.0 * volt) + (count - 1) * math.log1p(-slip)
            ways += [part + lone for part in without]
        return log_sum(ways) + expected.seen

    @cached_property
    def most_log(self) -> float:
        """More than the logarithm of the chance of any fault that fits all readings exactly [-]."""
        spreads = [self._spread(at, seen) for at, seen in enumerate(self.observed)]
        spreads = [0.8 * each for each in spreads]
        none = [0.0] * len(spreads)
        return log_density(none, spreads)

    def misfit(self, expected: Expected) -> float:
        """How far the readings are off, in spreads of each by itself, as a mean square [-]."""
        if not self.numeric:
            return 0.0
        total = 0.0
        for at, (seen, want) in enumerate(zip(self.observed, expected.values, strict=True)):
            wide = math.hypot(self._spread(at, want), expected.by_emf[at], expected.by_load[at])
            total += ((seen - want) / wide) ** 2
        return total / len(self.numeric)

    @cached_property
    def sound(self) -> tuple[Shown, ...]:
        """All scenes with nothing wrong."""
        return self.solve(NOTHING_WRONG)

    def _shown(self, suspect: Suspect, wrong: Wrong, shown: Sequence[Shown]) -> tuple[float, ...]:
        return tuple(self._one(probe, suspect, wrong, shown[probe.scene]) for probe in self.numeric)

    def _one(self, probe: Probe, suspect: Suspect, wrong: Wrong, shown: Shown) -> float:
        reading = probe.reading
        if reading.measure == "voltage":
            return shown.between_v(probe.a, probe.b)
        if reading.measure == "current":
            return self._current_a(reading, shown)
        dead = self.dead(suspect, wrong)
        return _value(probe, self.scenes[probe.scene].ohms(probe.a, probe.b, dead))

    def dead(self, suspect: Suspect, wrong: Wrong) -> Wrong:
        """What is wrong in the dead rig: there a short is a way, not a blown fuse."""
        device = self.study.device(suspect.name) if suspect.kind == "short" else None
        if device is None:
            return wrong
        circuit = next(c for c in self.study.rig.circuits if c.device == device.about.name)
        minus = self.minus_of(circuit.start)
        return Wrong(shunt_ohm=((device.load, minus, suspect.amounts[0]),)) if minus else wrong

    def _current_a(self, reading: Reading, shown: Shown) -> float:
        if reading.kind == "load":
            return shown.drawn_a(reading.part)
        if reading.kind == "source":
            return shown.given_a(reading.part) if reading.value < 0 else abs(
                shown.given_a(reading.part)
            )  # fmt: skip
        return shown.current_a(edge_of(self.study, reading))

    def _spread(self, at: int, want: float) -> float:
        """Standard deviation of a reading by itself: the meter's, and that of the text."""
        probe = self.numeric[at]
        measure = probe.reading.measure
        if measure == "resistance":
            return math.log(figure("spread", "ohm_factor"))
        if measure == "current":
            own = figure("meter", "share") * abs(want) + figure("meter", "ampere")
            return math.hypot(own, 0.01 * abs(want))
        own = meter_volt(want, fine=bool(probe.reading.b) and abs(self.observed[at]) < 1.0)
        sound = self.sound[probe.scene].between_v(probe.a, probe.b)
        lost = abs(sound) if self._is_drop(probe) else self._lost_v(probe, sound)
        return math.hypot(own, figure("spread", "drop_share") * lost)

    def _is_drop(self, probe: Probe) -> bool:
        side = self.study.side
        return side.get(probe.a) == side.get(probe.b)

    def _lost_v(self, probe: Probe, sound: float) -> float:
        """What sound copper loses on the way to a pair of terminals [V]."""
        volts = self.study.volts.get(probe.a, self.study.rig.system_v)
        return min(max(volts - abs(sound), 0.0), 0.1 * volts)

    def _of_circuit(self, reading: Reading) -> tuple[str, ...]:
        if reading.on is not None:
            return reading.on
        load = self.loads.get(reading.part)
        place = load.circuit if load is not None else reading.part
        wire = self.study.rig.by_name.conductors.get(reading.part)
        place = wire.circuit if wire is not None and wire.circuit else place
        circuit = self.study.circuit(place) or next(
            (c for c in self.study.rig.circuits if reading.a and reading.a == c.start), None
        )
        return circuit.loads if circuit is not None else ()

    def _key(self, reading: Reading) -> tuple[Standing, frozenset[str]]:
        on = self.took_on if reading.on is None else frozenset(reading.on)
        return (reading.state, reading.set_to), on

    def _probe(self, reading: Reading, scene: int) -> Probe:
        b = reading.b
        if reading.measure == "voltage" and not b:
            b = self.minus_of(reading.a) or reading.a
        return Probe(reading, reading.a, b, scene)

    def minus_of(self, terminal: str) -> str | None:
        """Where the black probe goes for a reading at a terminal; None where there is no minus.

        At a slot that is the end of its return at the panel, so that a lost return shows.
        """
        rig = self.study.rig
        for load in rig.loads:
            if terminal == load.plus:
                return load.minus
        for source in rig.sources:
            if terminal == source.plus:
                return source.minus
        circuit = next((c for c in rig.circuits if c.start == terminal), None)
        if circuit is not None and circuit.returns:
            last = rig.conductor(circuit.returns[-1])
            loads = {self.loads[name].minus for name in circuit.loads}
            return next((end for end in (last.b, last.a) if end not in loads), last.b)
        panel = next((p for p in rig.panels if terminal in (p.feed, p.bus)), None)
        if panel is not None and panel.negative:
            return panel.negative
        return next((s.minus for s in rig.sources if s.stores), None)


def _value(probe: Probe, value: float) -> float:
    """A reading as it is compared: ohms by their logarithm, none above an open line."""
    if probe.reading.measure != "resistance":
        return value
    return math.log(min(max(value, 0.02), figure("joint", "open_ohm") / 10.0))


def _moved(before: Sequence[float], after: Sequence[float], factor: float) -> tuple[float, ...]:
    return tuple((now - was) * factor for was, now in zip(before, after, strict=True))
