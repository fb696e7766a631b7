"""What is expected of a reading as it is printed, and what still agrees with the paper.

The figures are rounded by hand, the least of a reading down and the most of it up.
"""

import math

import pytest

from helpers.read_off import is_expected
from rigfolio.operating import Stage, StageStep, bounds_words, judged_bounds
from rigfolio.operating.readings.test_points import MeterPoint, Unit, numbered_points


def point(unit: Unit, low: float, high: float) -> MeterPoint:
    return MeterPoint("at the bar", "B1+", "B1-", unit, low, high, "B1 = ")


@pytest.mark.parametrize(
    ("one", "words"),
    [
        (point("V", 12.14, 12.76), "12.1 to 12.8 V"),
        # From a volt on in volts, below it in millivolts, the larger of both ways round.
        (point("V", 0.0, 1.0), "up to 1.0 V"),
        (point("V", 0.0, 0.9994), "up to 1000 mV"),
        (point("V", -0.062, 0.041), "up to 62 mV"),
        # A clamp shows three figures.
        (point("A", 1.234, 9.994), "1.23 to 10.00 A"),
        (point("A", 1.234, 10.0), "1.2 to 10.0 A"),
        (point("A", 12.34, 99.94), "12.3 to 100.0 A"),
        (point("A", 12.34, 100.0), "12 to 100 A"),
        (point("ohm", 8.2, math.inf), "8 ohm or more"),
        (point("ohm", 0.0, 0.52), "up to 0.6 ohm"),
        (point("ohm", 0.0, 9.4), "up to 10 ohm"),
        (point("ohm", 0.0, 9.5), "up to 10 ohm"),
        (point("ohm", 0.0, 34.4), "up to 35 ohm"),
    ],
)
def test_what_is_printed_of_what_is_expected(one: MeterPoint, words: str) -> None:
    assert bounds_words(one) == words


@pytest.mark.parametrize(
    ("one", "low", "high"),
    [
        # What is printed, which is no narrower than what was worked out.
        (point("V", 12.14, 12.76), 12.1, 12.8),
        (point("V", 12.16, 12.74), 12.1, 12.8),
        (point("V", 36.16, 50.624), 36.1, 50.7),
        (point("V", 12.1, 12.8), 12.1, 12.8),
        (point("A", 1.234, 9.994), 1.23, 10.0),
        (point("A", 12.34, 100.6), 12.0, 101.0),
        (point("A", 12.36, 50.0), 12.3, 50.0),
        # Millivolts carry no sign: probes may be the other way round.
        (point("V", 0.0, 0.0406), -0.041, 0.041),
        (point("V", -0.0616, 0.041), -0.062, 0.062),
        (point("ohm", 8.2, math.inf), 8.0, math.inf),
        (point("ohm", 0.0, 0.48), 0.0, 0.5),
        (point("ohm", 0.0, 0.52), 0.0, 0.6),
        (point("ohm", 0.96, math.inf), 0.9, math.inf),
    ],
)
def test_a_reading_that_agrees_with_the_paper_is_never_called_wrong(
    one: MeterPoint, low: float, high: float
) -> None:
    assert judged_bounds(one) == pytest.approx((low, high), rel=1e-12)
    assert is_expected(one, low)
    assert is_expected(one, high)
    assert not is_expected(one, low - 1e-6)
    assert high == math.inf or not is_expected(one, high + 1e-6)


def test_points_are_numbered_by_stage_and_through_the_steps_of_it() -> None:
    one, two, three = (point("V", low, 13.0) for low in (10.0, 11.0, 12.0))
    first = Stage("dead", "", (StageStep("open S1", (one,)), StageStep("look", (two,))))
    second = Stage("live", "", (StageStep("close S1", (three,)),))
    told = [(number, stage.title, step.do, found.low)
            for number, stage, step, found in numbered_points((first, second))]  # fmt: skip
    assert told == [
        ("1.1", "dead", "open S1", 10.0), ("1.2", "dead", "look", 11.0),
        ("2.1", "live", "close S1", 12.0),
    ]  # fmt: skip
