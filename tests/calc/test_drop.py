import pytest
from hypothesis import given, settings, strategies as st

from rigfolio.calc.conductor import awg_area_m2, circular_mil_m2, resistance_ohm
from rigfolio.calc.drop import (
    area_for_drop_m2,
    circular_mil_needed,
    drop_v,
    hot_run_m,
    longest_run_m,
)

_FT_M = 0.3048
_few = settings(derandomize=True, max_examples=50, deadline=None)
_GAUGES = {
    "18": 18, "16": 16, "14": 14, "12": 12, "10": 10, "8": 8, "6": 6, "4": 4, "2": 2, "1": 1,
    "0": 0, "1/0": 0, "2/0": -1, "3/0": -2, "4/0": -3,
}  # fmt: skip


def _smallest(area_m2: float) -> int | None:
    return next((each for each in _GAUGES.values() if awg_area_m2(each) >= area_m2), None)


def _step(gauge: int | None) -> int:
    return list(dict.fromkeys(_GAUGES.values())).index(gauge)


def test_handbook_table(row):
    steps = []
    for run_ft, gauges in row["gauges"].items():
        for current_a, printed in zip(row["current"]["ampere"], gauges, strict=True):
            if not printed:
                continue
            needed = circular_mil_needed(row["k"], current_a, float(run_ft), row["drop_v"])
            steps.append(_step(_GAUGES[printed]) - _step(_smallest(circular_mil_m2(needed))))
    counts = [steps.count(0), sum(step > 0 for step in steps), sum(step < 0 for step in steps)]
    assert counts == [row["agree"], row["more"], row["less"]]
    assert max(map(abs, steps)) == 1


def test_bilge_pump(row):
    run_ft = row["out_ft"] + row["back_ft"]
    needed = circular_mil_needed(row["k"], row["current_a"], run_ft, row["drop_v"])
    assert row["sae_thinner_circular_mil"] < needed <= row["sae_circular_mil"]
    hot = area_for_drop_m2(row["current_a"], run_ft * _FT_M, row["drop_v"], 50.0, 1.02)
    assert _smallest(hot) == _GAUGES[row["awg"]]


def test_faa_drop(row):
    found = drop_v(row["current_a"], row["ohm_per_ft"] * row["run_ft"])
    assert found == pytest.approx(row["printed_v"], rel=row["tolerance"])


def test_faa_gauge(row):
    needed = area_for_drop_m2(row["current_a"], row["run_ft"] * _FT_M, row["allowed_v"], 20.0, 1.02)
    assert _smallest(needed) == _GAUGES[row["awg"]]


def test_faa_gauge_with_ground(row):
    # The wire of the chart resists more than plain copper of its gauge: 0.00126 ohm/ft at No. 10.
    plain_ohm_per_ft = resistance_ohm(awg_area_m2(10), _FT_M, 20.0, 1.0)
    chart = row["ohm_per_ft_no_10"] / plain_ohm_per_ft
    needed = area_for_drop_m2(
        row["current_a"], row["run_ft"] * _FT_M, row["allowed_v"], 20.0, chart
    )
    assert _smallest(needed) == _GAUGES[row["awg"]]
    assert awg_area_m2(10) < needed


def test_faa_run(row):
    run_m = longest_run_m(row["current_a"], row["ohm_per_ft"] / _FT_M, row["allowed_v"])
    assert run_m / _FT_M == pytest.approx(row["run_ft"], rel=row["tolerance"])
    checked_v = drop_v(row["current_a"], row["ohm_per_ft"] * row["run_ft"])
    assert checked_v == pytest.approx(row["printed_v"], rel=0.005)


def test_hot_run(row):
    by_hand = row["a"] * row["cool_ft"] / (row["b"] + row["temperature_c"])
    assert hot_run_m(row["cool_ft"] * _FT_M, row["temperature_c"]) / _FT_M == pytest.approx(
        by_hand, rel=row["tolerance"]
    )


def test_k_of_electricians(row):
    foot_of_a_mil_ohm = resistance_ohm(
        circular_mil_m2(1.0), _FT_M, row["temperature_c"], row["stranding"]
    )
    assert foot_of_a_mil_ohm == pytest.approx(row["k"], rel=row["tolerance"])


@pytest.mark.parametrize("allowed_v", [0.0, -0.1])
def test_no_drop_allowed(allowed_v):
    with pytest.raises(ValueError, match="drop"):
        area_for_drop_m2(1.0, 1.0, allowed_v, 20.0, 1.0)
    with pytest.raises(ValueError, match="drop"):
        circular_mil_needed(10.75, 1.0, 1.0, allowed_v)


@pytest.mark.parametrize(("current_a", "ohm_per_m"), [(0.0, 0.01), (1.0, 0.0)])
def test_run_without_end(current_a, ohm_per_m):
    with pytest.raises(ValueError, match="above 0"):
        longest_run_m(current_a, ohm_per_m, 1.0)


@_few
@given(st.floats(0.1, 200), st.floats(0.1, 60), st.floats(0.05, 5), st.floats(-20, 105))
def test_the_area_found_drops_just_what_is_allowed(current_a, run_m, allowed_v, temperature_c):
    area_m2 = area_for_drop_m2(current_a, run_m, allowed_v, temperature_c, 1.02)
    ohm = resistance_ohm(area_m2, run_m, temperature_c, 1.02)
    assert drop_v(current_a, ohm) == pytest.approx(allowed_v)
    assert longest_run_m(current_a, ohm / run_m, allowed_v) == pytest.approx(run_m)


@_few
@given(st.floats(0.1, 200), st.floats(0.1, 60), st.floats(0.05, 5), st.floats(1.0, 3.0))
def test_a_longer_run_never_needs_less(current_a, run_m, allowed_v, times):
    short = area_for_drop_m2(current_a, run_m, allowed_v, 40.0, 1.02)
    assert area_for_drop_m2(current_a, run_m * times, allowed_v, 40.0, 1.02) >= short
