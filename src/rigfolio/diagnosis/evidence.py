"""How well a fault explains what was measured and seen."""

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import cached_property, partial

from rigfolio.books import figure
from rigfolio.diagnosis.behind import Behind
from rigfolio.diagnosis.places import MeterPlaces, at_rest
from rigfolio.diagnosis.scenes import Levels, Scenes, Standing, banks_off
from rigfolio.diagnosis.shows import MeterShows, compared
from rigfolio.diagnosis.spreads import Expected, Fit, GaveOut, Moves, Probe, Spreads
from rigfolio.diagnosis.suspects import Suspect
from rigfolio.diagnosis.symptoms import Symptoms, steady
from rigfolio.isolation import fed_in, source_reach
from rigfolio.model import Reading
from rigfolio.network import edge_name
from rigfolio.operating import NOTHING_WRONG, Rest, Scene, Shown, Wrong, drawn_at
from rigfolio.record import record, replace
from rigfolio.study import Study

# Steps by which the voltage of sources and what loads draw are moved, as parts of their spread [-].
_LEVEL_STEP, _LOAD_STEP = 0.4, 0.33
# From how many deviations on what a source stands at is looked at there and not in the middle [-].
_ELSEWHERE = 1.0
# How far sources are looked for at the most [-].
_FARTHEST = 2.0
# What a battery gives at the least for what it has inside to be seen [A].
_TRACE_A = 1e-3
# What a battery may have inside of which nothing is known, and a step by which that is tried.
_ANY_OHM, _INSIDE_STEP_OHM = 0.5, 0.01
# So many times as fine is that step where it makes something give way [-].
_FINER = 8.0


@record
class Onward:
    """The scene that the next reading is taken in, with nothing wrong, and how the rig stands."""

    place: int
    scene: Scene
    sound: Shown
    standing: Standing


class Evidence:
    """The readings of one day, ready to be held against faults.

    A reading that does not say which loads were on is taken with all loads on of the circuits that
    the readings name; `took_on` are their names. `scenes_of` may be shared by several searches.
    `running` is the state of readings that name none; left out, one is taken only for what is said
    not to charge, or to be dead where nothing tows.
    """

    def __init__(
        self, study: Study, readings: Sequence[Reading], scenes_of: Scenes | None = None,
        running: str = "",
    ) -> None:  # fmt: skip
        self.study, self.scenes_of = study, scenes_of or Scenes(study)
        self.seen = Symptoms(study)
        self.loads = self.seen.loads
        self.places = MeterPlaces(study)
        self.running = running or self._running(readings)
        self.took_on = frozenset(
            name for reading in readings for name in self.places.loads_on(reading)
            if reading.at_a is None
        )  # fmt: skip
        self.readings = tuple(readings)
        self.at_rest = frozenset(at_rest(readings))
        keys = dict.fromkeys(_key(self, reading) for reading in readings)
        self.uncharged = frozenset(_uncharged(study, readings))
        self.scenes = tuple(self.scene(stands, on, start) for stands, on, start, _ in keys)
        self.measured_a = tuple(at_a for *_, at_a in keys)
        read = zip(self.scenes, self.measured_a, strict=True)
        self.draws = tuple(_draw_share(self, scene, at_a) for scene, at_a in read)
        places = {key: place for place, key in enumerate(keys)}
        probes = [self._probe(reading, places[_key(self, reading)]) for reading in readings]
        self.numeric = tuple(one for one in probes if one.reading.measure != "symptom")
        self.symptoms = tuple(one for one in probes if one.reading.measure == "symptom")
        self.shows = MeterShows(study, self.scenes, self.numeric, self.places)
        self.observed = tuple(compared(one, one.reading.value) for one in self.numeric)
        self.spreads = Spreads(study, self.numeric, self.observed, self.sound)
        self.fit = Fit(self.spreads, len(self.symptoms))
        self.onward = _onward(self, [stands for stands, *_ in keys])

    def scene(
        self, standing: Standing, on: frozenset[str], starting: frozenset[str] = frozenset()
    ) -> Scene:
        """The rig as it stood, with some loads on or starting, and what was said of its banks."""
        return self.scenes_of.of(standing, on, starting, self.uncharged)

    def _running(self, readings: Sequence[Reading]) -> str:
        """The state in which something charges, where that it does not is all that was said."""
        read = tuple(_sources_at(self.study, readings))
        told = (
            self.scenes_of.running(one.part, read)
            for one in readings
            if one.kind == "source" and one.measure == "symptom"
            and (one.symptom == "uncharged" or not self.study.rig.by_name.sources[one.part].stores)
        )  # fmt: skip
        towed = (state for one in readings for state in _fed_in(self, one))
        return next((state for state in (*told, *towed) if state), "")

    @property
    def leaves_on_open(self) -> bool:
        """Whether some reading does not say which loads were on."""
        return any(one.reading.on is None for one in (*self.numeric, *self.symptoms))

    def solve(
        self, wrong: Wrong, rest: Sequence[Rest] = (), spreads: float = 0.0
    ) -> tuple[Shown, ...]:
        """All scenes with something wrong; what loads draw is off by so many spreads [-].

        Where no volts and no amperes were read nobody asks how they move: there all is as it is.
        """
        held = zip(self.scenes, self.draws, self.measured_a, rest or self._middle, strict=True)
        return tuple(
            scene.solve(wrong, rest=off, load=share * (1.0 + spreads * _load_spread(at_a)))
            if place in self.metered
            else scene.solve(wrong, load=share)
            for place, (scene, share, at_a, off) in enumerate(held)
        )

    @cached_property
    def _middle(self) -> tuple[Rest, ...]:
        """Where all sources stand in the middle, scene by scene."""
        return ((),) * len(self.scenes)

    @cached_property
    def levels(self) -> Levels:
        """What may stand higher or lower by itself in the scenes in which something was read."""
        return Levels([one if n in self.metered else None for n, one in enumerate(self.scenes)])

    @cached_property
    def metered(self) -> frozenset[int]:
        """The scenes in which volts or amperes were read."""
        live = (one for one in self.numeric if one.reading.measure != "resistance")
        return frozenset(probe.scene for probe in live)

    def expected(self, suspect: Suspect, wrong: Wrong, shown: Sequence[Shown]) -> Expected:
        """What all probes show with something wrong, and how that moves; the scenes are solved."""
        still = self.still(suspect, wrong, shown)
        by_load = _slope(
            self, suspect, wrong, still, (_LOAD_STEP, -_LOAD_STEP),
            lambda step: self.solve(wrong, spreads=step), is_load=True,
        )  # fmt: skip
        named = sum(
            math.log(self.behind[one.scene].chance(one.reading, suspect)) for one in self.symptoms
        )
        return replace(
            still, by_emf=_by_level(self, suspect, wrong, still), by_load=by_load,
            by_inside=tuple(_by_inside(self, suspect, wrong, still)), seen=still.seen + named,
        )  # fmt: skip

    def led(self, suspect: Suspect, wrong: Wrong, first: Expected) -> Expected:
        """What was expected, about where the readings say that the sources stand.

        What charges gives no more than it can, and a bank that is low takes all of it: far from the
        middle readings move otherwise. So it is looked at where they lead, and with all banks low
        and high. Where they lead away from there, that is no place at which all could stand.
        """
        at = self.fit.levels_at(first)
        if all(abs(one) < _ELSEWHERE for one in at):
            return first
        led = tuple([max(min(one, _FARTHEST), -_FARTHEST) for one in at])
        looked = (self._about(first, suspect, wrong, start) for start in (led, *self._banks_off))
        held = [one for one in looked if one is not None]
        return max(held, key=self.fit.log_likelihood, default=first)

    def _about(
        self, first: Expected, suspect: Suspect, wrong: Wrong, at: Sequence[float]
    ) -> Expected | None:
        """What is expected about some levels; None where the readings lead elsewhere."""
        shown = self.solve_at(wrong, at)
        there = self.shows.values(suspect, wrong, shown)
        here = replace(first, values=there, gave_out=_gave_out(shown))
        by_emf = _by_level(self, suspect, wrong, here, at)
        values = (
            value - sum(one * moved[n] for one, moved in zip(at, by_emf, strict=True))
            for n, value in enumerate(there)
        )
        made = replace(here, values=tuple(values), by_emf=by_emf)
        pairs = zip(self.fit.levels_at(made), at, strict=True)
        return made if all(abs(now - was) < _ELSEWHERE for now, was in pairs) else None

    @cached_property
    def _banks_off(self) -> tuple[tuple[float, ...], ...]:
        return banks_off(self.study, self.levels.under(NOTHING_WRONG))

    @cached_property
    def behind(self) -> tuple[Behind, ...]:
        """Which loads hang behind which part, scene by scene."""
        return tuple(Behind(self.study, scene) for scene in self.scenes)

    def still(self, suspect: Suspect, wrong: Wrong, shown: Sequence[Shown]) -> Expected:
        """What all probes show with something wrong, as if nothing moved it."""
        chances = [
            self.seen.chance(one.reading, suspect, wrong, shown[one.scene], self.sound[one.scene])
            for one in self.symptoms
        ]
        seen = sum(math.log(chance) for chance in chances)
        values = self.shows.values(suspect, wrong, shown)
        return Expected(values, (), (), seen, gave_out=_gave_out(shown))

    def solve_at(self, wrong: Wrong, levels: Sequence[float]) -> tuple[Shown, ...]:
        """All scenes with something wrong, where levels stand at so many deviations."""
        return self.solve(wrong, self.levels.rest(wrong, levels))

    @cached_property
    def sound(self) -> tuple[Shown, ...]:
        """All scenes with nothing wrong."""
        return self.solve(NOTHING_WRONG)

    @cached_property
    def carried(self) -> tuple[tuple[str, float], ...]:
        """Every fuse and breaker of known rating, with what it carries without opening [A].

        None of those that are said to open.
        """
        share, told = figure("holds", "share"), self._told_to_open
        return tuple(
            (edge_name(device), share * device.rating_a)
            for device in self.study.rig.devices
            if device.protects and isinstance(device.rating_a, float)
            and edge_name(device) not in told
        )  # fmt: skip

    @cached_property
    def _told_to_open(self) -> frozenset[str]:
        said = ((one.reading, self.seen.loads_at(one.reading)) for one in self.symptoms)
        return frozenset().union(*(self.seen.fuses.told_of(*each) for each in said))

    def _probe(self, reading: Reading, scene: int) -> Probe:
        b = reading.b
        if reading.measure == "voltage" and not b:
            b = self.minus_of(reading.a) or reading.a
        return Probe(reading, reading.a, b, scene)

    def minus_of(self, terminal: str) -> str | None:
        """Where the black probe goes for a reading at a terminal; None where there is no minus."""
        return self.places.minus_of(terminal)


def _fed_in(evidence: Evidence, reading: Reading) -> Iterator[str]:
    """Where what is said of a load can be seen, if nothing feeds it as the rig stands unnamed."""
    if reading.measure == "symptom" and reading.kind == "load" and not reading.state:
        load, study = evidence.loads[reading.part], evidence.study
        lit = source_reach(study).alive(evidence.scenes_of.unnamed.opened)
        if load.plus not in lit:
            yield from fed_in(study, load)[:1]


def _draw_share(evidence: Evidence, scene: Scene, at_a: float | None) -> float:
    """What the loads of a scene draw in all, as a share of what the text says [-]."""
    whole = 0.0
    for name in scene.on:
        load = evidence.loads[name]
        running_a = drawn_at(load, evidence.study.nominal_v(load.plus))
        whole += running_a * scene.starting.get(name, 1.0)
    return at_a / whole if at_a is not None and whole > 0.0 else 1.0


def _key(
    evidence: Evidence, reading: Reading
) -> tuple[Standing, frozenset[str], frozenset[str], float | None]:
    is_said = reading.on is not None
    places = evidence.places
    on = (
        frozenset(places.loads_on(reading))
        if is_said
        else places.taken_on(reading, evidence.took_on)
    )
    if reading in evidence.at_rest:
        on = frozenset()
    elif reading.on is None and reading.at_a is not None:
        on = frozenset(evidence.places.loads_on(reading) or steady(evidence.study.rig.loads))
    starting = frozenset(reading.starting)
    return (reading.state or evidence.running, reading.set_to), on, starting, reading.at_a


def _onward(evidence: Evidence, stands: Sequence[Standing]) -> Onward:
    """Where a reading is furthest from a sound rig, whichever was taken first; else the first."""
    nothing = Suspect("nothing", "", "", 1.0, (0.0,))
    want = evidence.shows.values(nothing, NOTHING_WRONG, evidence.sound)
    off = [
        abs(seen - want[at]) / evidence.spreads.of(at, want[at])
        for at, seen in enumerate(evidence.observed)
    ]
    place = evidence.numeric[off.index(max(off))].scene if off else 0
    return Onward(place, evidence.scenes[place], evidence.sound[place], stands[place])


def _uncharged(study: Study, readings: Sequence[Reading]) -> Iterator[str]:
    """The banks that are said not to charge."""
    banks = {one.about.name for one in study.rig.sources if one.stores}
    return (one.part for one in readings if one.symptom == "uncharged" and one.part in banks)


def _load_spread(at_a: float | None) -> float:
    """How far what loads draw may be off: little where it was measured [-]."""
    return figure("spread", "load_share" if at_a is None else "measured_share")


def _sources_at(study: Study, readings: Sequence[Reading]) -> Iterator[str]:
    """What charges and was read or spoken of: it was on then."""
    places = {end for one in readings for end in (one.part, one.a, one.b) if end}
    for source in study.rig.sources:
        ends = {source.about.name, source.plus, source.inlet or source.plus}
        if not source.stores and places & (ends | {source.minus}):
            yield source.about.name


def _moved(before: Sequence[float], after: Sequence[float], factor: float) -> tuple[float, ...]:
    return tuple((now - was) * factor for was, now in zip(before, after, strict=True))


def untold_inside(evidence: Evidence) -> Mapping[str, float | None]:
    """The batteries that give current and do not say what is inside, with the most usual [ohm]."""
    pairs = zip(evidence.scenes, evidence.sound, strict=True)
    return {name: ohm for scene, shown in pairs for name, ohm in scene.untold.items()
            if scene.on and abs(shown.given_a(name)) > _TRACE_A}  # fmt: skip


def _gave_out(shown: Sequence[Shown]) -> tuple[GaveOut, ...]:
    return tuple([one.gave_out for one in shown])


def _slope(
    evidence: Evidence, suspect: Suspect, wrong: Wrong, base: Expected, steps: Sequence[float],
    moved: Callable[[float], tuple[Shown, ...]], *, is_load: bool = False,
) -> Moves:  # fmt: skip
    """How readings move with something, by the first step in which nothing more drops out.

    What drops out or gives way makes all jump: that is no slope.
    """
    taken, shown = steps[0], moved(steps[0])
    for step in steps[1:]:
        if _gave_out(shown) == base.gave_out:
            break
        other = moved(step)
        if _gave_out(other) == base.gave_out:
            taken, shown = step, other
    now = evidence.shows.values(suspect, wrong, shown, taken if is_load else 0.0)
    return _moved(base.values, now, 1.0 / taken)


def _by_level(
    evidence: Evidence, suspect: Suspect, wrong: Wrong, base: Expected, at: Sequence[float] = ()
) -> tuple[Moves, ...]:
    """How readings move with each level, where levels stand at so many deviations."""
    off = list(at or [0.0] * len(evidence.levels.under(wrong)))

    def moved(n: int, step: float) -> tuple[Shown, ...]:
        return evidence.solve_at(wrong, [*off[:n], off[n] + step, *off[n + 1 :]])

    steps = _LEVEL_STEP, -_LEVEL_STEP
    return tuple(
        _slope(evidence, suspect, wrong, base, steps, partial(moved, n)) for n in range(len(off))
    )


def _by_inside(
    evidence: Evidence, suspect: Suspect, wrong: Wrong, base: Expected
) -> Iterator[Moves]:
    """How readings move with what a battery has inside, of each that does not say it.

    From none to the most that is usual are two deviations. Where nothing is usual it may be so
    much that volts under load tell nothing of the battery.
    """

    def moved(name: str, step_ohm: float) -> tuple[Shown, ...]:
        return evidence.solve(wrong.plus(Wrong(inner_ohm=((name, step_ohm),))))

    for name, most_ohm in untold_inside(evidence).items():
        wide_ohm = _ANY_OHM if most_ohm is None else most_ohm / 2.0
        step_ohm = min(wide_ohm, _INSIDE_STEP_OHM)
        if not evidence.metered:
            yield (0.0,) * len(base.values)
            continue
        steps = step_ohm, step_ohm / _FINER
        slope = _slope(evidence, suspect, wrong, base, steps, partial(moved, name))
        yield tuple(wide_ohm * each for each in slope)


def charging(evidence: Evidence) -> Evidence | None:
    """The same readings in the state in which what charges runs at which they were taken.

    None where a state is known, or no reading was taken at such a thing.
    """
    if evidence.running or all(one.state for one in evidence.readings):
        return None
    read = tuple(_sources_at(evidence.study, evidence.readings))
    states = (evidence.scenes_of.running(name, read) for name in read)
    state = next((one for one in states if one), "")
    return Evidence(evidence.study, evidence.readings, evidence.scenes_of, state) if state else None
