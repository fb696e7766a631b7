"""The normal density against numpy, and by hand."""

import math

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st

from rigfolio.calc.gaussian import log_densities, log_density, log_sum

_few = settings(derandomize=True, max_examples=60, deadline=None)
_numbers = st.floats(-5.0, 5.0)


def _drawn(
    n: int, m: int, data: st.DataObject
) -> tuple[list[float], list[float], list[list[float]]]:
    """What n readings are off, their spreads, and m causes that they have in common."""
    off = data.draw(st.lists(_numbers, min_size=n, max_size=n))
    spread = data.draw(st.lists(st.floats(0.01, 3.0), min_size=n, max_size=n))
    common = data.draw(st.lists(st.lists(_numbers, min_size=n, max_size=n), min_size=m, max_size=m))
    return off, spread, common


def test_two_readings_by_hand() -> None:
    # exp(-(0.5² + 1²) / 2) / (2 pi · 0.1 · 0.2), each off by so many of its own spread.
    by_hand = math.exp(-(0.5**2 + 1.0**2) / 2.0) / (2.0 * math.pi * 0.1 * 0.2)
    assert log_density([0.05, 0.2], [0.1, 0.2]) == pytest.approx(math.log(by_hand))


@_few
@given(st.integers(1, 6), st.integers(0, 3), st.data())
def test_the_density_is_that_of_numpy(n: int, m: int, data: st.DataObject) -> None:
    off, spread, common = _drawn(n, m, data)
    causes = np.array(common).reshape(m, n)
    covariance = np.diag(np.square(spread)) + causes.T @ causes
    _, log_det = np.linalg.slogdet(covariance)
    squares = np.array(off) @ np.linalg.solve(covariance, np.array(off))
    expected = -0.5 * (squares + log_det + n * math.log(2.0 * math.pi))
    assert log_density(off, spread, common) == pytest.approx(expected, rel=1e-6, abs=1e-6)


def test_a_spread_of_nothing_is_refused() -> None:
    with pytest.raises(ValueError, match=r"spread 0\.0, expected above 0"):
        log_density([0.0], [0.0])
    # Of several the one is told that cannot be.
    for density in (log_density, log_densities):
        with pytest.raises(ValueError, match=r"spread -2\.0, expected above 0"):
            density([0.0, 0.0, 0.0], [1.0, -2.0, 3.0])


@_few
@given(st.lists(st.floats(-700.0, 700.0), min_size=1, max_size=8))
def test_a_sum_of_logarithms_is_that_of_numpy(values: list[float]) -> None:
    assert log_sum(values) == pytest.approx(float(np.logaddexp.reduce(values)), rel=1e-9, abs=1e-9)


def test_a_sum_of_nothing_is_nothing() -> None:
    assert log_sum([]) == -math.inf
    assert log_sum([-math.inf, -math.inf]) == -math.inf


@_few
@given(st.integers(2, 6), st.integers(0, 3), st.data())
def test_leaving_one_out_is_the_density_of_the_others(n: int, m: int, data: st.DataObject) -> None:
    off, spread, common = _drawn(n, m, data)
    whole, without = log_densities(off, spread, common)
    assert whole == pytest.approx(log_density(off, spread, common))
    for out in range(n):
        rest = [at for at in range(n) if at != out]
        alone = log_density(
            [off[at] for at in rest],
            [spread[at] for at in rest],
            [[row[at] for at in rest] for row in common],
        )
        assert without[out] == pytest.approx(alone, rel=1e-6, abs=1e-6)
