import math

import pytest
from hypothesis import given, settings, strategies as st

from rigfolio.calc.fusing import Gate, Window, opening_window

GATES = (
    Gate(1.1, 360000.0, math.inf), Gate(1.35, 0.75, 600.0), Gate(1.6, 0.25, 50.0),
    Gate(2.0, 0.15, 5.0), Gate(3.5, 0.04, 0.5), Gate(6.0, 0.02, 0.1),
)  # fmt: skip
_few = settings(derandomize=True, max_examples=100, deadline=None)


def test_blade(row):
    found = opening_window(row["share"] * row["rating_a"], row["rating_a"], GATES)
    assert found == Window(row["min_s"], row["max_s"])


def test_between(row):
    found = opening_window(row["current_a"], row["rating_a"], GATES)
    assert found is not None
    assert (found.min_s, found.max_s) == (
        pytest.approx(row["min_s"], rel=1e-5), pytest.approx(row["max_s"], rel=1e-5),
    )  # fmt: skip


def test_below_the_first_gate_nothing_is_set():
    assert opening_window(10.9, 10.0, GATES) is None
    assert opening_window(11.0, 10.0, GATES) == Window(360000.0, math.inf)


def test_below_the_first_time_it_need_not_open():
    found = opening_window(12.0, 10.0, GATES)
    assert found is not None
    assert math.isinf(found.max_s)
    assert 0.75 < found.min_s < 360000.0


def test_above_the_last_gate_only_the_later_time_is_sure():
    assert opening_window(1000.0, 10.0, GATES) == Window(0.0, 0.1)


def test_a_standard_without_a_least_time():
    gates = (Gate(1.0, math.inf, math.inf), Gate(1.35, 0.0, 3600.0), Gate(2.0, 0.0, 120.0))
    assert opening_window(12.0, 10.0, gates) == Window(0.0, math.inf)
    found = opening_window(16.0, 10.0, gates)
    assert found is not None
    assert found.min_s == 0.0
    assert 120.0 < found.max_s < 3600.0


@pytest.mark.parametrize(("rating_a", "gates"), [(0.0, GATES), (10.0, ())])
def test_no_rating_or_no_gates(rating_a, gates):
    with pytest.raises(ValueError, match="rating"):
        opening_window(10.0, rating_a, gates)


@_few
@given(st.floats(1.1, 20.0), st.floats(1.0, 2.0), st.floats(1.0, 100.0))
def test_more_current_never_opens_later(share, more, rating_a):
    one = opening_window(share * rating_a * 1.0001, rating_a, GATES)
    two = opening_window(share * rating_a * 1.0001 * more, rating_a, GATES)
    assert one is not None
    assert two is not None
    assert two.min_s <= one.min_s * (1 + 1e-9)
    assert two.max_s <= one.max_s * (1 + 1e-9)
    assert one.min_s <= one.max_s
