"""Amounts as they are printed: loads never down, limits never up, no unequal pair alike.

What is required of the rounding is common practice: whoever reads a figure of a load or of a limit
must be on the safe side of it.
"""

import math
import re

import pytest
from hypothesis import assume, given, settings, strategies as st

from rigfolio.findings import UNKNOWN
from rigfolio.units import UNITS, from_si, show, show_against, show_limit, show_load

MANY = settings(max_examples=400, deadline=None, derandomize=True, database=None)
SAME = 1e-9
FIGURES = st.floats(1e-6, 1e7) | st.integers(1, 10**5).map(lambda n: n / 100.0)
SYMBOLS = st.sampled_from(["A", "V", "W", "%", "mV", "kA", "ft", "Ah", "mΩ", "mm"])
DIGITS = st.integers(1, 6)
WRITTEN = re.compile(r"-?[0-9]+(?:\.[0-9]*[1-9])? \S+")


def read(text: str) -> float:
    """The number of a printed amount, which is plain: no exponent, no needless zero."""
    assert WRITTEN.fullmatch(text), text
    return float(text.split(" ", maxsplit=1)[0])


@MANY
@given(FIGURES, SYMBOLS, DIGITS)
def test_a_load_is_never_less_than_it_is(value: float, symbol: str, digits: int) -> None:
    true = from_si(value, symbol)
    assert read(show_load(value, symbol, digits)) >= true * (1.0 - SAME)


@MANY
@given(FIGURES, SYMBOLS, DIGITS)
def test_a_limit_is_never_more_than_it_is(value: float, symbol: str, digits: int) -> None:
    true = from_si(value, symbol)
    assert read(show_limit(value, symbol, digits)) <= true * (1.0 + SAME)


@MANY
@given(FIGURES, SYMBOLS, DIGITS)
def test_a_printed_figure_is_right_to_its_digits(value: float, symbol: str, digits: int) -> None:
    true = from_si(value, symbol)
    step = min(10.0 ** (math.floor(math.log10(true)) + 1 - digits), 1.0)
    for printed in (show_load(value, symbol, digits), show_limit(value, symbol, digits)):
        assert abs(read(printed) - true) <= step * (1.0 + 1e-6)


@MANY
@given(st.integers(1, 99_999), st.integers(0, 4), st.sampled_from(["A", "V", "W"]))
def test_what_fits_is_printed_as_it_is(number: int, decimals: int, symbol: str) -> None:
    value = number / 10**decimals
    printed = {one(value, symbol, 5) for one in (show, show_load, show_limit)}
    assert {float(text.split(" ")[0]) for text in printed} == {value}
    assert len(printed) == 1


@MANY
@given(FIGURES, FIGURES | st.floats(-1e-6, 1e-6), SYMBOLS, st.integers(2, 4))
def test_unequal_figures_look_unequal(one: float, other: float, symbol: str, digits: int) -> None:
    limit = other if other > 1e-6 else one * (1.0 + other)
    assume(not math.isclose(one, limit, rel_tol=1e-8))
    load_text, limit_text = show_against(one, limit, symbol, digits)
    assert load_text != limit_text
    if one > limit:
        assert read(load_text) > read(limit_text)


@MANY
@given(FIGURES, FIGURES, SYMBOLS)
def test_a_load_over_its_limit_is_so_in_print(one: float, other: float, symbol: str) -> None:
    load, limit = max(one, other), min(one, other)
    assume(load > limit * (1.0 + 1e-8))
    # Even where the two are printed in different places, and know nothing of each other.
    assert read(show_load(load, symbol)) >= read(show_limit(limit, symbol))


@MANY
@given(st.floats(-1e7, 1e7), st.sampled_from(sorted(UNITS)), DIGITS)
def test_nothing_is_printed_with_an_exponent(value: float, symbol: str, digits: int) -> None:
    for way in (show, show_load, show_limit):
        assert re.fullmatch(r"-?[0-9]+(\.[0-9]+)? \S+", way(value, symbol, digits))


@pytest.mark.parametrize("way", [show, show_load, show_limit])
@pytest.mark.parametrize("value", [UNKNOWN, None])
def test_what_is_not_known_is_never_nothing(way, value) -> None:
    assert way(value, "A") == "? A"


@pytest.mark.parametrize(
    ("value", "symbol", "load", "limit"),
    [
        (15.04, "A", "15.1 A", "15 A"),
        (0.15, "%", "15 %", "15 %"),  # 15.000000000000002 inside
        (0.0, "A", "0 A", "0 A"),
        (149.9, "A", "150 A", "149 A"),
        (2711.2, "A", "2712 A", "2711 A"),
        (0.36049, "V", "0.361 V", "0.36 V"),
        (-0.5, "V", "-0.5 V", "-0.5 V"),
        (math.inf, "A", "inf A", "inf A"),
    ],
)
def test_cases(value: float, symbol: str, load: str, limit: str) -> None:
    assert (show_load(value, symbol), show_limit(value, symbol)) == (load, limit)


def test_a_fuse_and_what_its_wire_may_carry_are_told_apart() -> None:
    assert show_against(15.0, 15.04, "A") == ("15 A", "15.04 A")
    assert show_against(15.04, 15.0, "A") == ("15.04 A", "15 A")
    assert show_against(15.0, 15.0, "A") == ("15 A", "15 A")
    assert show_against(0.9987, 1.0, "%", 2) == ("99.9 %", "100 %")
    assert show_against(1.0027, 1.0, "%", 2) == ("101 %", "100 %")
