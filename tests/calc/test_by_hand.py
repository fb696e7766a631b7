"""Points of small networks worked out by hand: a minus that is lifted, and which draw gives way."""

import math

import pytest

from rigfolio.calc.grid import Branch, Converter, Draw, Network, Supply
from rigfolio.calc.nodal import operating_point


def test_a_converter_whose_minus_is_lifted_draws_by_its_own_volts():
    # 24 V over 24 ohm are 24 W, and 30 W at the input with 80 %. The way back of the input has
    # 0.1 ohm: I (12 V - 0.1 ohm I) = 30 W, so I = (12 - sqrt(144 - 12)) / 0.2 A = 2.554 A, and the
    # minus of both stands at 0.2554 V.
    battery = Supply(1, 0, 12.0, 1e-6)
    output = Supply(3, 2, 24.0, 1e-6, 5.0, one_way=True)
    net = Network(
        4, (Branch(2, 0, 0.1),), (battery, output),
        (Draw(1, 2, "power", 0.0), Draw(3, 2, "resistance", 24.0)), (Converter(0, 1, 0.8),),
    )  # fmt: skip
    found = operating_point(net)
    into_a = (12.0 - math.sqrt(132.0)) / 0.2
    assert found.draw_a[0] == pytest.approx(into_a, rel=1e-5)
    assert found.draw_a[1] == pytest.approx(1.0, rel=1e-5)
    assert found.volts[2] - found.volts[0] == pytest.approx(0.1 * into_a, rel=1e-5)


@pytest.mark.parametrize(
    ("draws", "left_out"),
    [
        # Behind 0.6 ohm each of both can be fed by itself, both together cannot: beside 5 A there
        # are 9 V left, and no more than 81 / 2.4 = 33.75 W. 5 A take 60 W of 12 V, more than 50 W.
        ((Draw(1, 0, "power", 50.0), Draw(1, 0, "current", 5.0)), 1),
        ((Draw(1, 0, "current", 5.0), Draw(1, 0, "power", 50.0)), 0),
        # 4 A take 48 W of 12 V, less than 55 W; beside 4 A are 9.6 V and no more than 38.4 W.
        ((Draw(1, 0, "power", 55.0), Draw(1, 0, "current", 4.0)), 0),
        ((Draw(1, 0, "power", 45.0), Draw(1, 0, "power", 40.0)), 0),
    ],
)
def test_of_two_that_cannot_be_fed_together_the_heavier_is_left_out(draws, left_out):
    found = operating_point(Network(2, (), (Supply(1, 0, 12.0, 0.6),), draws))
    assert found.collapsed == (left_out,)
    stays = draws[1 - left_out]
    if stays.kind == "current":
        assert found.draw_a[1 - left_out] == pytest.approx(stays.value)
    else:
        # U (12 V - U) = P x 0.6 ohm, the upper root.
        volts = 6.0 + math.sqrt(36.0 - 0.6 * stays.value)
        assert found.volts[1] - found.volts[0] == pytest.approx(volts, rel=1e-6)
