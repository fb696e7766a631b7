"""A reading to be taken: where the probes go, what is expected there, and how that is printed."""

from collections.abc import Iterator, Sequence
from math import inf
from typing import Literal

from rigfolio.record import record

Unit = Literal["V", "A", "ohm"]


@record
class MeterPoint:
    """One reading to be taken.

    `words` say where, `a` and `b` are the terminals of the red and the black probe; a current has
    the part that it runs through in `a` and no `b`. `low` and `high` are the bounds of what is
    expected, in the unit; `high` is infinite where more is no fault. `entry` is how the reading is
    written down for the log.
    """

    words: str
    a: str
    b: str
    unit: Unit
    low: float
    high: float
    entry: str


@record
class StageStep:
    """Something to be done, and what is to be read then.

    `of` is the panel that it belongs to, or the place of a circuit that starts at none; empty for
    the whole rig. `must_not` is what must not start.
    """

    do: str
    points: tuple[MeterPoint, ...]
    of: str = ""
    must_not: str = ""


@record
class Stage:
    """A stage of bringing a panel live; the next one waits until all of it is as expected."""

    title: str
    about: str
    steps: tuple[StageStep, ...]


def bounds_words(point: MeterPoint) -> str:
    """What is expected, as it is printed: `12.1 to 12.8 V`, `up to 50 mV`, `8 ohm or more`."""
    if point.unit == "ohm":
        if point.high == inf:
            return f"{_figure(point.low)} ohm or more"
        return f"up to {_figure(point.high)} ohm"
    if point.unit == "V" and max(abs(point.low), abs(point.high)) < 1.0:
        return f"up to {max(abs(point.low), abs(point.high)) * 1000.0:.0f} mV"
    digits = 2 if point.unit == "A" and point.high < 10.0 else 1
    return f"{point.low:.{digits}f} to {point.high:.{digits}f} {point.unit}"


def _figure(value: float) -> str:
    return f"{value:.0f}" if value >= 10.0 else f"{value:.1g}"


def is_expected(point: MeterPoint, value: float) -> bool:
    """Whether a reading lies within its bounds, both in the unit of the point."""
    return point.low <= value <= point.high


def numbered_points(found: Sequence[Stage]) -> Iterator[tuple[str, Stage, StageStep, MeterPoint]]:
    """Every point with its number: stage, and place in the stage."""
    for number, stage in enumerate(found, start=1):
        place = 0
        for step in stage.steps:
            for point in step.points:
                place += 1
                yield f"{number}.{place}", stage, step, point
