"""What a meter shows against what is expected at a point of the test sheet."""

from rigfolio.operating.readings.test_points import MeterPoint, judged_bounds


def is_expected(point: MeterPoint, value: float) -> bool:
    """Whether a reading is what is expected there, both in the unit of the point."""
    low, high = judged_bounds(point)
    return low <= value <= high
