import math

import pytest
from hypothesis import given, settings, strategies as st

from calc.textbook import circular_mil_m2
from rigfolio.calc.conductor import (
    awg_area_m2,
    awg_diameter_m,
    resistance_ohm,
    resistivity_ohm_m,
)

_KFT_M = 304.8
_few = settings(derandomize=True, max_examples=50, deadline=None)


def test_awg_table(row):
    near = {"rel": row["tolerance"]}
    assert awg_diameter_m(row["gauge"]) * 1e3 == pytest.approx(row["diameter_mm"], **near)
    assert awg_area_m2(row["gauge"]) * 1e6 == pytest.approx(row["area_mm2"], **near)
    assert circular_mil_m2(row["circular_mil"]) == pytest.approx(
        awg_area_m2(row["gauge"]), rel=0.0012
    )


def test_awg_example(row):
    assert awg_diameter_m(row["gauge"]) * 1e3 == pytest.approx(
        row["diameter_mm"], rel=row["tolerance"]
    )


def test_nec_solid(row):
    found = resistance_ohm(awg_area_m2(row["gauge"]), _KFT_M, 75.0, stranding=1.0)
    assert found == pytest.approx(row["ohm_per_kft"], abs=row["half_digit"] + 5e-4)


def test_nec_stranded(row):
    found = resistance_ohm(awg_area_m2(row["gauge"]), _KFT_M, 75.0, stranding=row["stranding"])
    assert found == pytest.approx(row["ohm_per_kft"], rel=row["tolerance"])


def test_drop_per_ampere(row):
    found = resistance_ohm(awg_area_m2(row["gauge"]), 20 * 0.3048, 20.0, stranding=1.0)
    assert found == pytest.approx(row["volt_per_ampere"], abs=row["half_digit"])


def test_iec_temperature(row):
    found = resistivity_ohm_m(20.0) / resistivity_ohm_m(row["temperature_c"])
    assert found == pytest.approx(row["kt"], rel=row["tolerance"])


def test_nec_temperature(row):
    found = resistivity_ohm_m(row["temperature_c"]) / resistivity_ohm_m(20.0)
    by_hand = 1.0 + row["coefficient_20c"] * (row["temperature_c"] - 20.0)
    assert found == pytest.approx(by_hand, rel=row["tolerance"])


def test_three_gauges_thinner_is_about_half_the_copper():
    assert awg_area_m2(13) / awg_area_m2(10) == pytest.approx(0.5, rel=0.003)


@pytest.mark.parametrize("gauge", [-4, 41])
def test_no_such_gauge(gauge):
    with pytest.raises(ValueError, match=str(gauge)):
        awg_area_m2(gauge)


@pytest.mark.parametrize("area_m2", [0.0, -1e-6])
def test_no_copper(area_m2):
    with pytest.raises(ValueError, match="area"):
        resistance_ohm(area_m2, 1.0, 20.0, 1.0)


def test_colder_than_the_line_of_copper():
    with pytest.raises(ValueError, match="outside"):
        resistivity_ohm_m(-234.5)


@_few
@given(st.integers(-3, 39), st.floats(-40, 200), st.floats(0.01, 100))
def test_thicker_never_resists_more(gauge, temperature_c, length_m):
    thick = resistance_ohm(awg_area_m2(gauge), length_m, temperature_c, 1.02)
    thin = resistance_ohm(awg_area_m2(gauge + 1), length_m, temperature_c, 1.02)
    assert thick < thin


@_few
@given(st.floats(1e-7, 1e-4), st.floats(-40, 200), st.floats(0, 100))
def test_hotter_never_resists_less(area_m2, temperature_c, rise_k):
    cool = resistance_ohm(area_m2, 1.0, temperature_c, 1.0)
    assert resistance_ohm(area_m2, 1.0, temperature_c + rise_k, 1.0) >= cool


@_few
@given(st.floats(1e-7, 1e-4), st.floats(0.01, 50), st.floats(0.01, 50))
def test_lengths_in_a_row_add_up(area_m2, first_m, then_m):
    parts = [resistance_ohm(area_m2, each, 40.0, 1.02) for each in (first_m, then_m)]
    assert math.isclose(sum(parts), resistance_ohm(area_m2, first_m + then_m, 40.0, 1.02))
