import math

import pytest
from hypothesis import given, settings, strategies as st

from calc.textbook import circular_mil_m2, melting_current_a, withstand_area_m2
from rigfolio.calc.adiabatic import copper_k, withstand_s

_few = settings(derandomize=True, max_examples=50, deadline=None)


def test_k_table(row):
    assert copper_k(row["initial_c"], row["final_c"]) == pytest.approx(
        row["k"], abs=row["tolerance"]
    )


def test_withstand(row):
    area_m2 = row["area_mm2"] * 1e-6
    assert withstand_s(area_m2, row["current_a"], row["k"]) == pytest.approx(row["time_s"])
    assert withstand_area_m2(row["current_a"], row["time_s"], row["k"]) == pytest.approx(area_m2)


def test_onderdonk(row):
    area_m2 = circular_mil_m2(row["circular_mil"])
    found = melting_current_a(area_m2, row["time_s"], row["ambient_c"])
    assert found == pytest.approx(row["current_a"], abs=row["tolerance"])
    # The adiabatic k, up to the melting point, says nearly the same of the same wire.
    k = copper_k(row["ambient_c"], 1083.0)
    assert withstand_s(area_m2, found, k) == pytest.approx(row["time_s"], rel=0.02)


def test_icea(row):
    share = math.log10((row["final_c"] + row["line_c"]) / (row["initial_c"] + row["line_c"]))
    one_second_a = row["circular_mil"] * math.sqrt(row["factor"] * share)
    k = copper_k(row["initial_c"], row["final_c"])
    found_s = withstand_s(circular_mil_m2(row["circular_mil"]), one_second_a, k)
    assert found_s == pytest.approx(1.0, rel=2 * row["tolerance"])


@pytest.mark.parametrize(("initial_c", "final_c"), [(70.0, 70.0), (-300.0, 20.0)])
def test_no_k(initial_c, final_c):
    with pytest.raises(ValueError, match="°C"):
        copper_k(initial_c, final_c)


def test_no_time_without_a_current():
    with pytest.raises(ValueError, match="current"):
        withstand_s(1e-6, 0.0, 115.0)


@_few
@given(st.floats(0.1, 100.0), st.floats(1.0, 1e4), st.floats(20.0, 90.0), st.floats(100.0, 300.0))
def test_double_the_current_takes_a_quarter_of_the_time(area_mm2, current_a, initial_c, final_c):
    k = copper_k(initial_c, final_c)
    once = withstand_s(area_mm2 * 1e-6, current_a, k)
    assert withstand_s(area_mm2 * 1e-6, 2.0 * current_a, k) == pytest.approx(once / 4.0)
    assert copper_k(initial_c - 10.0, final_c) > k
