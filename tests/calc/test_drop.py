import pytest
from hypothesis import given, settings, strategies as st

from calc.textbook import area_for_drop_m2, circular_mil_m2, circular_mil_needed, hot_run_m
from rigfolio.calc.conductor import awg_area_m2, resistance_ohm

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


def _chart(gauge: int, ohm_per_ft: float) -> float:
    """By how much the wire of a chart resists more than plain copper of its gauge at 20 °C."""
    return ohm_per_ft / resistance_ohm(awg_area_m2(gauge), _FT_M, 20.0, 1.0)


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
    chart = _chart(_GAUGES[row["awg"]], row["ohm_per_ft"])
    # What is stranded and tinned resists more than plain copper of its gauge.
    assert 1.0 < chart < 1.3
    ohm = resistance_ohm(awg_area_m2(_GAUGES[row["awg"]]), row["run_ft"] * _FT_M, 20.0, chart)
    assert row["current_a"] * ohm == pytest.approx(row["printed_v"], rel=row["tolerance"])


def test_faa_gauge(row):
    needed = area_for_drop_m2(row["current_a"], row["run_ft"] * _FT_M, row["allowed_v"], 20.0, 1.02)
    assert _smallest(needed) == _GAUGES[row["awg"]]


def test_faa_gauge_with_ground(row):
    chart = _chart(10, row["ohm_per_ft_no_10"])
    needed = area_for_drop_m2(
        row["current_a"], row["run_ft"] * _FT_M, row["allowed_v"], 20.0, chart
    )
    assert _smallest(needed) == _GAUGES[row["awg"]]
    assert awg_area_m2(10) < needed


def test_faa_run(row):
    chart = _chart(10, row["ohm_per_ft"])
    run_m = row["run_ft"] * _FT_M
    needed = area_for_drop_m2(row["current_a"], run_m, row["allowed_v"], 20.0, chart)
    assert needed == pytest.approx(awg_area_m2(10), rel=row["tolerance"])
    lost_v = row["current_a"] * resistance_ohm(awg_area_m2(10), run_m, 20.0, chart)
    assert lost_v == pytest.approx(row["printed_v"], rel=0.005)


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


@_few
@given(st.floats(0.1, 200), st.floats(0.1, 60), st.floats(0.05, 5), st.floats(-20, 105))
def test_the_area_found_drops_just_what_is_allowed(current_a, run_m, allowed_v, temperature_c):
    area_m2 = area_for_drop_m2(current_a, run_m, allowed_v, temperature_c, 1.02)
    ohm = resistance_ohm(area_m2, run_m, temperature_c, 1.02)
    assert current_a * ohm == pytest.approx(allowed_v)
