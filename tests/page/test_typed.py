"""What is typed in a blank of the test sheet is read, judged and kept; a browser does the same."""

from math import inf

import pytest
from hypothesis import given, strategies as st

from helpers.read_off import is_expected
from helpers.studies import study_from
from helpers.typed import Typed, typed_rows
from rigfolio.lang.typed_reading import BLANK_UNITS, meter_figure
from rigfolio.operating.readings.test_points import MeterPoint, bounds_words, judged_bounds
from rigfolio.reading.logs.meter import read_log

RIG = study_from(
    'rig "A"\nbattery B1 100 Ah, delivers 1 kA\nbusbar N1\npanel P1 2 slots\n'
    "wire B1+ to P1 6 AWG red 3 ft, fuse 50 A at B1+\nwire N1 to B1- 6 AWG black 3 ft\n"
    'circuit P1.1 "Lamp" fuse 5 A\n    wire 16 AWG red 9 ft\n    load "Lamp" 8 W\n'
).rig


def named(typed: Typed) -> str:
    return f"{typed.text} in {typed.unit}"


PLACES = {"V": "P1.1", "A": "Lamp", "ohm": "P1.1 to N1"}


@pytest.mark.parametrize("typed", typed_rows(), ids=named)
def test_typed_rows_are_read_and_judged(typed: Typed) -> None:
    found = meter_figure(typed.text, typed.unit)
    assert found.written == typed.kept
    if typed.verdict == "unread":
        assert found.value is None
        assert found.why
        return
    assert found.value is not None
    assert found.why == ""
    assert (typed.low <= found.value <= typed.high) == (typed.verdict == "fits")


@pytest.mark.parametrize("typed", [one for one in typed_rows() if one.kept], ids=named)
def test_the_log_reads_back_the_value_that_was_judged(typed: Typed) -> None:
    log, problems = read_log(f"{PLACES[typed.unit]} = {typed.kept}, with all off", "log", RIG)
    assert problems == ()
    (reading,) = log.readings
    assert reading.value == meter_figure(typed.text, typed.unit).value


@given(st.text(max_size=12), st.sampled_from(BLANK_UNITS))
def test_whatever_is_typed_has_a_value_or_a_reason(text: str, unit: str) -> None:
    found = meter_figure(text, unit)
    assert (found.value is None) == bool(found.why) == (not found.written)


@given(st.floats(-100, 100), st.floats(-100, 100), st.sampled_from(BLANK_UNITS), st.booleans())
def test_what_agrees_with_the_paper_is_expected(
    one: float, two: float, unit: str, is_open: bool
) -> None:
    low, high = sorted((one, two))
    if unit == "ohm":
        low, high = sorted((max(abs(one), 0.001), max(abs(two), 0.001)))
        high = inf if is_open else high
    point = MeterPoint("", "a", "b", unit, low, high, "")
    words = bounds_words(point).removeprefix("up to ").removesuffix(" or more")
    least, most = judged_bounds(point)
    assert least <= low
    assert high <= most
    for printed in words.split(" to "):
        figure = meter_figure(printed, unit)
        assert figure.value is not None
        assert is_expected(point, figure.value), (point, printed)
