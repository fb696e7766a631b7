import pytest
from hypothesis import given, settings, strategies as st

from rigfolio.calc.ampacity import (
    ambient_factor,
    conductor_temperature_c,
    insulation_factor,
    warmed_share,
    warming_s,
)

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


def test_poorer_insulation_by_the_table_of_better(row):
    found = insulation_factor(
        row["insulation_c"], row["made_for_c"], row["base_c"], row["ambient_c"]
    )
    assert found == pytest.approx(row["factor"], abs=row["tolerance"])


@pytest.mark.parametrize(("insulation_c", "made_for_c", "base_c"), [(60, 30, 30), (90, 75, 30)])
def test_a_table_that_tells_nothing_of_an_insulation(insulation_c, made_for_c, base_c):
    with pytest.raises(ValueError, match="insulation"):
        insulation_factor(insulation_c, made_for_c, base_c, 30.0)


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


def test_a_conductor_warms_by_the_heat_that_its_copper_takes():
    """Euler's steps of the same heat balance, worked here: 2.08 mm², 25 A of 15 A, 3 minutes."""
    area_m2, ohm_per_m, rise_k, limit_a = 2.08e-6, 0.00943, 25.3, 15.0
    heat_j, given_off_w = 3.45e6 * area_m2, ohm_per_m * limit_a**2 / rise_k
    warm_k, step_s = 0.0, 0.01
    for _ in range(18_000):
        warm_k += (ohm_per_m * 25.0**2 - given_off_w * warm_k) / heat_j * step_s
    constant_s = warming_s(area_m2, ohm_per_m, rise_k, limit_a)
    share = warmed_share(0.0, (25.0 / limit_a) ** 2, 180.0, constant_s)
    assert constant_s == pytest.approx(85.6, rel=2e-3)
    assert share * rise_k == pytest.approx(warm_k, rel=1e-3)


def test_no_time_keeps_the_warmth_and_endless_time_gives_that_of_the_current():
    assert warmed_share(0.4, 2.0, 0.0, 60.0) == pytest.approx(0.4)
    assert warmed_share(0.4, 2.0, 1e6, 60.0) == pytest.approx(2.0)


def test_short_of_all_heat_given_off_it_is_the_adiabatic_rise():
    """In a second of 100 A on 2.5 mm²: rho I² t / (A² c), IEC 60364-5-54 with one resistance."""
    constant_s = warming_s(2.5e-6, 0.00690, 45.0, 20.0)
    rise_k = 45.0 * warmed_share(0.0, (100.0 / 20.0) ** 2, 1.0, constant_s)
    assert rise_k == pytest.approx(0.00690 * 100.0**2 / (3.45e6 * 2.5e-6), rel=0.01)


@pytest.mark.parametrize("limit_a", [0.0, -1.0])
def test_no_limit_has_no_time_constant(limit_a):
    with pytest.raises(ValueError, match="limit"):
        warming_s(2e-6, 0.01, 45.0, limit_a)


@pytest.mark.parametrize(("time_s", "constant_s"), [(-1.0, 60.0), (1.0, 0.0)])
def test_no_time_before_the_start(time_s, constant_s):
    with pytest.raises(ValueError, match="time constant"):
        warmed_share(0.0, 1.0, time_s, constant_s)
