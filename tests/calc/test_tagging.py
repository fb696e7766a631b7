import math

import pytest
from hypothesis import given, settings, strategies as st

from calc.textbook import self_laminating_length_m
from rigfolio.calc.tagging import flag_length_m, sleeve_flat_m, wrap_length_m

_few = settings(derandomize=True, max_examples=50, deadline=None)


def test_round_and_laminating(row):
    diameter_m, overlap_m = row["od_mm"] * 1e-3, row["overlap_mm"] * 1e-3
    near = {"abs": row["tolerance"]}
    assert wrap_length_m(diameter_m, 0.0) * 1e3 == pytest.approx(row["round_mm"], **near)
    assert wrap_length_m(diameter_m, overlap_m) * 1e3 == pytest.approx(
        row["round_mm"] + row["overlap_mm"], **near
    )
    assert self_laminating_length_m(diameter_m, overlap_m) * 1e3 == pytest.approx(
        row["self_laminating_mm"], **near
    )
    assert flag_length_m(diameter_m, 20e-3) * 1e3 == pytest.approx(40 + row["round_mm"], **near)


@pytest.mark.parametrize("length_m", [wrap_length_m, flag_length_m])
def test_no_wire(length_m):
    with pytest.raises(ValueError, match="diameter"):
        length_m(0.0, 5e-3)


@pytest.mark.parametrize("bore_m", [0.0, -1e-3, math.nan])
def test_no_sleeve(bore_m):
    with pytest.raises(ValueError, match="diameter"):
        sleeve_flat_m(bore_m)


@_few
@given(st.floats(1e-3, 30e-3), st.floats(0, 10e-3))
def test_a_wrap_and_a_flag_go_round_once(diameter_m, more_m):
    once_m = 2.0 * sleeve_flat_m(diameter_m)
    assert wrap_length_m(diameter_m, more_m) == pytest.approx(once_m + more_m)
    assert flag_length_m(diameter_m, more_m) == pytest.approx(once_m + 2.0 * more_m)
