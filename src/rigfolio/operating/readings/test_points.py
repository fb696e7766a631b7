"""A reading to be taken: where the probes go, what is expected there, and how that is printed."""

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from math import ceil, floor, inf, log10
from typing import Literal

from rigfolio.model import Device, Rig
from rigfolio.record import once, record
from rigfolio.wording import circuits_in_order, typed

Unit = Literal["V", "A", "ohm"]


@record
class MeterPoint:
    """One reading to be taken.

    `words` say where, `a` and `b` are the terminals of the red and the black probe; a current has
    the part that it runs through in `a` and no `b`. `low` and `high` are the bounds of what is
    expected, in the unit; `high` is infinite where more is no fault. `entry` is what stands before
    the figure in the log, `taken` what stands behind its unit: what was on, how switches stood;
    `on` and `set_to` are the same as names of loads and as positions of switches; `starting` are
    those of them that are only just switched on, and draw what they start at.
    """

    words: str
    a: str
    b: str
    unit: Unit
    low: float
    high: float
    entry: str
    taken: str = ""
    on: frozenset[str] = frozenset()
    set_to: frozenset[tuple[str, str]] = frozenset()
    starting: frozenset[str] = frozenset()

    def written(self, value: str = "___") -> str:
        """The reading as it is written down and read back: `Pump = 11.9 V, with Pump on`."""
        return f"{self.entry}{value} {self.unit}{self.taken}"


@record
class StageStep:
    """Something to be done, and what is to be read then.

    `of` is the panel, source or bar that it belongs to, the place of a circuit that starts at
    none, or a load of no circuit; empty for the whole rig. `must_not` is what must not start,
    `circuit` the place of the one that is tried, `fits` the fuses and breakers that are put in or
    on for it. In one that `is_plain` the readings themselves tell all that there is to do.
    """

    do: str
    points: tuple[MeterPoint, ...]
    of: str = ""
    must_not: str = ""
    circuit: str = ""
    fits: tuple[Device, ...] = ()
    is_plain: bool = False


FEED_ALONE = "The feed alone"
"""The title of the stage in which nothing is on."""


@record
class Stage:
    """A stage of bringing a panel live; the next one waits until all of it is as expected."""

    title: str
    about: str
    steps: tuple[StageStep, ...]


def taken_words(
    rig: Rig, on: Collection[str], set_to: Iterable[tuple[str, str]] = (),
    starting: Collection[str] = (),
) -> str:  # fmt: skip
    """What was on and how switches stood, as the log reads it: `, with P1.1, P1.2 on, S1 open`.

    A circuit of which all is on goes by its place.
    """
    only = set(on) <= set(starting)
    names: list[str] = []
    turns, lone = _turns(rig)
    ordered = circuits_in_order(rig)
    for turn in sorted({turn for name in on for turn in turns.get(name, ())}):
        circuit = ordered[turn]
        here = [name for name in circuit.loads if name in on]
        names += [circuit.place] if len(here) == len(circuit.loads) else here
    names += [name for name in lone if name in on]
    words = f", with {', '.join(map(typed, names))} on" if names else ", with all off"
    if starting:
        start = f"{', '.join(typed(name) for name in sorted(starting))} starting"
        words = f", with {start}" if only else f"{words} and {start}"
    return words + "".join(f", {typed(name)} {position}" for name, position in set_to)


@once
def _turns(rig: Rig) -> tuple[Mapping[str, tuple[int, ...]], tuple[str, ...]]:
    """The turns of the circuits that each load is on, by its name; the loads of no circuit."""
    turns: dict[str, tuple[int, ...]] = {}
    for turn, circuit in enumerate(circuits_in_order(rig)):
        for name in circuit.loads:
            turns[name] = (*turns.get(name, ()), turn)
    return turns, tuple(load.about.name for load in rig.loads if not load.circuit)


def bounds_words(point: MeterPoint) -> str:
    """What is expected, as it is printed: `12.1 to 12.8 V`, `up to 50 mV`, `8 ohm or more`.

    Bounds are never printed narrower than they are: the least is not rounded up, the most not down.
    Volts without a least stand along a way, or hang on what nobody has read.
    """
    low, high = judged_bounds(point)
    if point.unit == "ohm":
        return f"{_ohms(low)} ohm or more" if high == inf else f"up to {_ohms(high)} ohm"
    if is_small(point):
        return f"up to {high * 1000.0:.0f} mV"
    digits = _digits(point)
    if point.unit == "V" and point.low == 0.0:
        return f"up to {high:.{digits}f} V"
    return f"{low:.{digits}f} to {high:.{digits}f} {point.unit}"


def is_small(point: MeterPoint) -> bool:
    """Whether it is printed in millivolts, with no sign: probes may be the other way round."""
    return point.unit == "V" and max(abs(point.low), abs(point.high)) < 1.0


def _digits(point: MeterPoint) -> int:
    """How many places behind the point volts and amperes are printed with."""
    if point.unit != "A":
        return 1
    return 2 if point.high < 10.0 else 1 if point.high < 100.0 else 0


def _ohms(value: float) -> str:
    return f"{value:.0f}" if value >= 9.5 else f"{value:.1g}"


def judged_bounds(point: MeterPoint) -> tuple[float, float]:
    """The least and the most that a reading may be and still be what is expected there.

    That is what is printed, and it holds all that was worked out: a reading that agrees with the
    paper is never called wrong, nor one wrong on paper that agrees with the network.
    """
    low, high = point.low, point.high
    if point.unit == "ohm":
        return _outward(low, _ohm_places(low), floor), _outward(high, _ohm_places(high), ceil)
    if is_small(point):
        most = _outward(max(abs(low), abs(high)), 3, ceil)
        return -most, most
    digits = _digits(point)
    return _outward(low, digits, floor), _outward(high, digits, ceil)


def _ohm_places(value: float) -> int:
    """How many places behind the point ohms have: one digit below ten, whole ohms from there on."""
    return 0 if value >= 1.0 or value <= 0.0 else -floor(log10(value))


def _outward(value: float, places: int, turn: Callable[[float], int]) -> float:
    """A bound to some places, turned away from what lies within; what is that figure stays it."""
    if value == inf:
        return value
    printed = round(turn(round(value * 10.0**places, 6)) / 10.0**places, places)
    return min(printed, value) if turn is floor else max(printed, value)


def numbered_points(found: Sequence[Stage]) -> Iterator[tuple[str, Stage, StageStep, MeterPoint]]:
    """Every point with its number: stage, and place in the stage."""
    for number, stage in enumerate(found, start=1):
        place = 0
        for step in stage.steps:
            for point in step.points:
                place += 1
                yield f"{number}.{place}", stage, step, point
