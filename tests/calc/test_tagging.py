import pytest
from hypothesis import given, settings, strategies as st

from rigfolio.calc.tagging import flag_length_m, self_laminating_length_m, wrap_length_m

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


@pytest.mark.parametrize("length_m", [wrap_length_m, self_laminating_length_m, flag_length_m])
def test_no_wire(length_m):
    with pytest.raises(ValueError, match="diameter"):
        length_m(0.0, 5e-3)


@_few
@given(st.floats(1e-3, 30e-3), st.floats(0, 10e-3))
def test_print_and_clear_tail_both_go_round(diameter_m, overlap_m):
    whole_m = self_laminating_length_m(diameter_m, overlap_m)
    assert whole_m == pytest.approx(2 * wrap_length_m(diameter_m, 0.0) + overlap_m)
