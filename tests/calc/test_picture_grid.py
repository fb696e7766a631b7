"""Fields of a picture: twenty by twenty, each of nine parts, worked out by hand."""

import pytest

from rigfolio.calc import grid_field


@pytest.mark.parametrize(
    ("text", "left", "top", "size"),
    [
        # A twentieth is 0.05, a third of that 0.01667.
        ("A1", 0.0, 0.0, 0.05),
        ("B3", 0.05, 0.1, 0.05),
        ("t20", 0.95, 0.95, 0.05),
        ("A1.1", 0.0, 0.0, 0.05 / 3),
        ("B3.3", 0.05 + 0.1 / 3, 0.1, 0.05 / 3),
        ("B3.4", 0.05, 0.1 + 0.05 / 3, 0.05 / 3),
        ("B3.6", 0.05 + 0.1 / 3, 0.1 + 0.05 / 3, 0.05 / 3),
        ("B3.9", 0.05 + 0.1 / 3, 0.1 + 0.1 / 3, 0.05 / 3),
    ],
)
def test_where_a_field_lies(text, left, top, size):
    field = grid_field(text)
    assert field is not None
    assert field.middle == pytest.approx((left + size / 2, top + size / 2))


@pytest.mark.parametrize("text", ["U1", "A0", "A21", "A1.0", "A", "1", "AA1", ""])
def test_what_is_no_field(text):
    assert grid_field(text) is None
