"""How well a fault explains what was measured and seen."""

import math
import re
from collections.abc import Iterator, Sequence
from functools import cached_property
from typing import TypeAlias

from rigfolio.books import figure, meter_volt
from rigfolio.calc import log_densities, log_density, log_sum
from rigfolio.diagnosis.suspects import Suspect
from rigfolio.diagnosis.symptoms import Symptoms, edge_of, steady
from rigfolio.isolation import Open, Unnamed, opened, states_of, turned, unnamed
from rigfolio.model import Load, Reading
from rigfolio.network import edge_name
from rigfolio.operating import NOTHING_WRONG, Scene, Shown, Wrong, drawn_at
from rigfolio.record import record, replace
from rigfolio.study import Study

_FAR = 5.0
"""From how many spreads on a reading is not explained [-]."""
# A rounded figure lies anywhere in its step: the standard deviation of that is a step by this [-].
_EVEN = math.sqrt(12.0)
_WRITTEN = re.compile(r"=\s*[+-]?(?P<number>\d+(?:\.\d+)?)\s*(?P<unit>\w*)")
# Steps by which the voltage of sources [-] and what loads draw [spreads] are moved.
_EMF_STEP, _LOAD_STEP = 0.01, 0.33


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
    and of what loads draw, `by_amount` those for one of each amount within its step; `seen` is the
    logarithm of the chance of the symptoms [-]. Ohms stand as their natural logarithm.
    """

    values: tuple[float, ...]
    by_emf: tuple[float, ...]
    by_load: tuple[float, ...]
    seen: float
    by_amount: tuple[tuple[float, ...], ...] = ()

    @property
    def common(self) -> tuple[tuple[float, ...], ...]:
        """What moves all readings of a day together, but for the gain of the meter."""
        return self.by_emf, self.by_load, *self.by_amount

    def within(self, steps: float) -> "Expected":
        """The same where amounts lie in steps that are so many times as wide."""
        wider = (tuple(steps * each for each in moved) for moved in self.by_amount)
        return replace(self, by_amount=tuple(wider))


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
        self.took_on = frozenset(
            name for reading in readings for name in self._of_circuit(reading)
            if reading.at_a is None
        )  # fmt: skip
        self.readings = tuple(readings)
        self.at_rest = frozenset(_at_rest(readings))
        keys = dict.fromkeys(self._key(reading) for reading in readings)
        self.scenes = tuple(self.scenes_of.of(standing, on) for standing, on, _ in keys)
        self.measured_a = tuple(at_a for _, _, at_a in keys)
        self.draws = tuple(map(self._draw_share, self.scenes, self.measured_a))
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
        return self._solve(wrong)

    def _solve(self, wrong: Wrong, emf: float = 1.0, spreads: float = 0.0) -> tuple[Shown, ...]:
        """All scenes, what loads draw being off by a part of its spread [-]."""
        return tuple(
            scene.solve(wrong, emf=emf, load=share * (1.0 + spreads * self._load_spread(at_a)))
            for scene, share, at_a in zip(self.scenes, self.draws, self.measured_a, strict=True)
        )

    def _load_spread(self, at_a: float | None) -> float:
        """How far what loads draw may be off: little where it was measured [-]."""
        return figure("spread", "load_share" if at_a is None else "measured_share")

    def _draw_share(self, scene: Scene, at_a: float | None) -> float:
        """What the loads of a scene draw in all, as a share of what the text says [-]."""
        volts, system_v = self.study.volts, self.study.rig.system_v
        on = (self.loads[name] for name in scene.on)
        whole = sum(drawn_at(load, volts.get(load.plus, system_v)) for load in on)
        return at_a / whole if at_a is not None and whole > 0.0 else 1.0

    def expected(self, suspect: Suspect, wrong: Wrong, shown: Sequence[Shown]) -> Expected:
        """What all probes show with something wrong, the scenes being solved already."""
        values = self._shown(suspect, wrong, shown)
        # From half full to full is four in a hundred short of all banks that are sound.
        spread = 0.5 * max((scene.rest_share(s)[1] for scene in self.scenes for s in scene.sources),
                           default=figure("rest", "spread"))  # fmt: skip
        emf = self._solve(wrong, emf=1.0 + _EMF_STEP)
        load = self._solve(wrong, spreads=_LOAD_STEP)
        by_emf = _moved(values, self._shown(suspect, wrong, emf), spread / _EMF_STEP)
        by_load = _moved(values, self._shown(suspect, wrong, load), 1.0 / _LOAD_STEP)
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
        common = (*expected.common, self._by_gain(expected.values))
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
        for at in range(len(self.numeric)):
            total += self._off(expected, at) ** 2
        return total / len(self.numeric)

    def unexplained(self, expected: Expected) -> tuple[Reading, ...]:
        """The readings that are far from what is expected, by themselves and beside the others."""
        return tuple(
            probe.reading
            for at, probe in enumerate(self.numeric)
            if abs(self._off(expected, at)) > _FAR
        )

    def _off(self, expected: Expected, at: int) -> float:
        """How many spreads a reading is off [-]."""
        want = expected.values[at]
        gain = self._by_gain(expected.values)[at]
        wide = math.hypot(self._spread(at, want), gain, *(moved[at] for moved in expected.common))
        return (self.observed[at] - want) / wide

    def _by_gain(self, values: Sequence[float]) -> tuple[float, ...]:
        """How far the gain of the meter moves what it shows: all of one day together."""
        share = 0.5 * figure("meter", "share")
        return tuple(
            0.0 if probe.reading.measure == "resistance" else share * value
            for probe, value in zip(self.numeric, values, strict=True)
        )

    @cached_property
    def sound(self) -> tuple[Shown, ...]:
        """All scenes with nothing wrong."""
        return self.solve(NOTHING_WRONG)

    @cached_property
    def carried(self) -> tuple[tuple[str, float], ...]:
        """Every fuse and breaker of known rating, with what it carries without opening [A]."""
        share = figure("holds", "share")
        return tuple(
            (edge_name(device), share * device.rating_a)
            for device in self.study.rig.devices
            if device.protects and isinstance(device.rating_a, float)
        )

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
        if self.numeric[at].reading.measure != "current":
            return self._fixed_spreads[at]
        own = figure("meter", "ampere") + figure("meter", "share") * abs(want)
        return math.hypot(own, 0.01 * want, self._fixed_spreads[at])

    @cached_property
    def _fixed_spreads(self) -> tuple[float, ...]:
        return tuple(self._fixed_spread(at, probe) for at, probe in enumerate(self.numeric))

    def _fixed_spread(self, at: int, probe: Probe) -> float:
        """As much of the spread of a reading as does not hang on what was expected."""
        if probe.reading.measure == "resistance":
            return math.log(figure("spread", "ohm_factor"))
        if probe.reading.measure == "current":
            return written_step(probe.reading) / _EVEN
        # The last digits alone: the gain of a meter moves all its readings together.
        own = meter_volt(0.0, fine=bool(probe.reading.b) and abs(self.observed[at]) < 1.0)
        own = math.hypot(own, written_step(probe.reading) / _EVEN)
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
        load = self._load_at(reading)
        if load is not None and not load.circuit:
            return (load.about.name,)
        loads = self.study.rig.loads
        if reading.kind == "rig":
            return steady(loads)
        if reading.kind in ("panel", "source") and reading.measure == "symptom":
            place = reading.part if reading.kind == "panel" else ""
            held = {c.place for c in self.study.rig.circuits if place in ("", c.panel)}
            return steady(one for one in loads if one.circuit in held)
        place = load.circuit if load is not None else reading.part
        wire = self.study.rig.by_name.conductors.get(reading.part)
        place = wire.circuit if wire is not None and wire.circuit else place
        circuit = self.study.circuit(place) or next(
            (c for c in self.study.rig.circuits if reading.a and reading.a == c.start), None
        )
        return circuit.loads if circuit is not None else ()

    def _load_at(self, reading: Reading) -> Load | None:
        """The load that a reading is of: by its name, or alone at one of the terminals."""
        if reading.part in self.loads:
            return self.loads[reading.part]
        ends = {reading.a, reading.b} - {""}
        at = [one for one in self.study.rig.loads if one.plus in ends or one.minus in ends]
        return at[0] if len(at) == 1 else None

    def _key(self, reading: Reading) -> tuple[Standing, frozenset[str], float | None]:
        on = self.took_on if reading.on is None else frozenset(reading.on)
        if reading in self.at_rest:
            on = frozenset()
        elif reading.on is None and reading.at_a is not None:
            on = frozenset(self._of_circuit(reading) or steady(self.study.rig.loads))
        return (reading.state, reading.set_to), on, reading.at_a

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


def _at_rest(readings: Sequence[Reading]) -> Iterator[Reading]:
    """Readings that name no load, beside one at the same place that says what was on.

    Whoever writes `B1 = 12.3 V` and then `B1 = 11.8 V, with Pump on` has switched the pump on in
    between.
    """
    loaded = {(one.a, one.b) for one in readings if one.on or one.at_a}
    for one in readings:
        is_bare = one.on is None and one.at_a is None
        if one.measure == "voltage" and is_bare and (one.a, one.b) in loaded:
            yield one


def written_step(reading: Reading) -> float:
    """One step of the last digit that was written down [V, A]; nought was not rounded."""
    if reading.value == 0.0:
        return 0.0
    found = _WRITTEN.search(reading.text)
    text = found["number"] if found else f"{reading.value:.6f}".rstrip("0").rstrip(".")
    step = 10.0 ** -len(text.partition(".")[2])
    return step / 1000.0 if found and found["unit"].startswith("m") else step


def _moved(before: Sequence[float], after: Sequence[float], factor: float) -> tuple[float, ...]:
    return tuple((now - was) * factor for was, now in zip(before, after, strict=True))
