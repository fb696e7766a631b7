import pytest
from hypothesis import given, settings, strategies as st

from rigfolio.calc.ampacity import ambient_factor, conductor_temperature_c

_few = settings(derandomize=True, max_examples=50, deadline=None)


def test_ambient_table(row):
    found = ambient_factor(row["insulation_c"], row["base_c"], row["ambient_c"])
    assert found == pytest.approx(row["factor"], abs=row["tolerance"])


def test_as_hot_as_the_insulation(row):
    assert ambient_factor(row["insulation_c"], 30.0, row["ambient_c"]) == 0.0


def test_temperature_estimate(row):
    found = conductor_temperature_c(
        row["ambient_c"], row["rated_c"], row["current_a"], row["limit_a"]
    )
    assert found == pytest.approx(row["temperature_c"])


def test_insulation_below_the_base():
    with pytest.raises(ValueError, match="insulation"):
        ambient_factor(30.0, 30.0, 20.0)


@pytest.mark.parametrize(("current_a", "limit_a"), [(-1.0, 10.0), (1.0, 0.0)])
def test_no_temperature(current_a, limit_a):
    with pytest.raises(ValueError, match="current"):
        conductor_temperature_c(20.0, 105.0, current_a, limit_a)


@_few
@given(st.floats(60, 200), st.floats(-20, 120), st.floats(0, 60))
def test_hotter_never_carries_more(insulation_c, ambient_c, rise_k):
    cool = ambient_factor(insulation_c, 30.0, ambient_c)
    assert 0.0 <= ambient_factor(insulation_c, 30.0, ambient_c + rise_k) <= cool


@_few
@given(st.floats(20, 60), st.floats(0, 100), st.floats(0.5, 100))
def test_more_current_is_never_cooler(ambient_c, current_a, limit_a):
    one = conductor_temperature_c(ambient_c, 105.0, current_a, limit_a)
    assert ambient_c <= one <= conductor_temperature_c(ambient_c, 105.0, current_a + 1, limit_a)
