"""Colour differences against published pairs."""

import pytest
from hypothesis import given, settings, strategies as st

from rigfolio.calc.shade import difference, lab_of, linear

# Pairs of Sharma, Wu and Dalal, Color Research and Application 30 (2005), table 1 (from memory).
PAIRS = [
    ((50.0, 2.6772, -79.7751), (50.0, 0.0, -82.7485), 2.0425),
    ((50.0, 3.1571, -77.2803), (50.0, 0.0, -82.7485), 2.8615),
    ((50.0, 2.8361, -74.0200), (50.0, 0.0, -82.7485), 3.4412),
    ((50.0, -1.3802, -84.2814), (50.0, 0.0, -82.7485), 1.0),
    ((50.0, -1.1848, -84.8006), (50.0, 0.0, -82.7485), 1.0),
    ((50.0, 0.0, 0.0), (50.0, -1.0, 2.0), 2.3669),
    # Hues nearly opposite each other: which way round their mean lies turns on the last figure.
    ((50.0, 2.49, -0.001), (50.0, -2.49, 0.0009), 7.1792),
    ((50.0, 2.49, -0.001), (50.0, -2.49, 0.0011), 7.2195),
    ((50.0, -0.001, 2.49), (50.0, 0.0009, -2.49), 4.8045),
    ((50.0, -0.001, 2.49), (50.0, 0.0011, -2.49), 4.7461),
    ((50.0, 2.5, 0.0), (50.0, 0.0, -2.5), 4.3065),
    ((50.0, 2.5, 0.0), (73.0, 25.0, -18.0), 27.1492),
    ((60.2574, -34.0099, 36.2677), (60.4626, -34.1751, 39.4387), 1.2644),
    ((2.0776, 0.0795, -1.1350), (0.9033, -0.0636, -0.5514), 0.9082),
]
_lab = st.tuples(st.floats(0, 100), st.floats(-90, 90), st.floats(-90, 90))


@pytest.mark.parametrize(("one", "two", "expected"), PAIRS)
def test_published_pairs(one, two, expected):
    assert difference(one, two) == pytest.approx(expected, abs=1e-4)
    assert difference(two, one) == pytest.approx(expected, abs=1e-4)


def test_known_colours_by_hand():
    # sRGB red is L* 53.24, a* 80.09, b* 67.20 under D65 (from memory).
    red = lab_of(linear(255.0), 0.0, 0.0)
    assert red == pytest.approx((53.24, 80.09, 67.20), abs=0.02)
    # Green and blue alike (from memory); white is L* 100 without a tint.
    green = lab_of(0.0, linear(255.0), 0.0)
    assert green == pytest.approx((87.73, -86.18, 83.18), abs=0.02)
    blue = lab_of(0.0, 0.0, linear(255.0))
    assert blue == pytest.approx((32.30, 79.19, -107.86), abs=0.02)
    assert lab_of(1.0, 1.0, 1.0) == pytest.approx((100.0, 0.0, 0.0), abs=0.02)
    assert lab_of(0.0, 0.0, 0.0) == pytest.approx((0.0, 0.0, 0.0), abs=1e-9)


def test_near_black_lightness_is_a_line():
    # L* = 903.3 Y below 0.008856 (CIE 15, from memory): a grey of 1 / 255 has Y = 0.0003035.
    grey = linear(1.0)
    assert grey == pytest.approx(0.0003035, rel=2e-4)
    assert lab_of(grey, grey, grey)[0] == pytest.approx(903.3 * 0.0003035, rel=1e-3)


@pytest.mark.parametrize(("part", "share"), [(10.0, 0.0030353), (11.0, 0.0033465)])
def test_dark_shades_are_a_line_up_to_ten_and_a_power_from_eleven(part, share):
    # 10 / 255 = 0.0392 and 11 / 255 = 0.0431 lie to both sides of 0.04045 (IEC 61966-2-1, from
    # memory): 0.0392 / 12.92, and ((0.0431 + 0.055) / 1.055) ** 2.4.
    assert linear(part) == pytest.approx(share, rel=2e-5)


@settings(derandomize=True, max_examples=100, deadline=None)
@given(_lab, _lab)
def test_a_difference_is_no_less_than_nothing_and_the_same_both_ways(one, two):
    assert difference(one, two) >= 0.0
    assert difference(one, one) == pytest.approx(0.0, abs=1e-9)
    assert difference(one, two) == pytest.approx(difference(two, one), rel=1e-6, abs=1e-6)
