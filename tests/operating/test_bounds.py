"""From where to where a reading may lie, worked out by hand.

Lead of 12 V stands at 1.035 of that, 2.5 % up or down; loads draw 15 % more or less than the text
says; a meter is off by 0.5 % and two digits, 0.02 V or 0.02 A (`trade/diagnosis.toml`).
"""

import math

import pytest

from rigfolio.isolation import CLOSED
from rigfolio.judgement.result import understood
from rigfolio.operating.readings.bounds import Bounds, LiveBounds
from rigfolio.operating.readings.probes import Probes
from rigfolio.study import Study

BENCH = """rig "Bench"
    system 12 V
    rules rv
battery B1 agm, 100 Ah, internal 100 mohm
load M1 "Heater" 10 A
fuse F1 20 A on B1+
wire F1.load to M1+ 10 AWG red 10 ft
wire M1- to B1- 10 AWG black 1 in
"""


def bench() -> Study:
    study = understood("bench.rig", text=BENCH).study
    assert study is not None
    return study


def test_volts_of_a_battery_at_rest():
    low_v, high_v = 12.42 * 0.975, 12.42 * 1.025
    wide_v = 0.005 * high_v + 0.02
    found = Bounds(bench(), frozenset(), [CLOSED]).volts("B1+", "B1-")
    assert found == pytest.approx((low_v - wide_v, high_v + wide_v))


def test_volts_and_amperes_under_a_load():
    """Full and little drawn, or half full and much drawn, through 0.1 ohm."""
    found = Bounds(bench(), frozenset({"M1"}), [CLOSED])
    low_v, high_v = 12.42 * 0.975 - 0.1 * 11.5, 12.42 * 1.025 - 0.1 * 8.5
    wide_v = 0.005 * high_v + 0.02
    assert found.volts("B1+", "B1-") == pytest.approx((low_v - wide_v, high_v + wide_v))
    wide_a = math.hypot(0.005 * 11.5, 0.02)
    assert found.amps("F1") == pytest.approx((8.5 - wide_a, 11.5 + wide_a))
    assert found.drawn("M1") == pytest.approx((8.5 - wide_a, 11.5 + wide_a))


def test_a_heater_draws_more_or_less_by_its_ohms() -> None:
    """What draws 15 % more of the same volts has 1 / 1.15 of the ohms."""
    text = BENCH.replace("10 A\nfuse", "1.2 ohm\nfuse")
    study = understood("bench.rig", text=text).study
    assert study is not None
    found = Bounds(study, frozenset({"M1"}), [CLOSED])
    # 10 ft of 10 AWG are some 11 mohm, the battery has 100 mohm.
    least_a = 12.42 * 0.975 / (1.2 / 0.85 + 0.111)
    most_a = 12.42 * 1.025 / (1.2 / 1.15 + 0.111)
    assert found.amps("F1") == pytest.approx((least_a, most_a), rel=0.01)


def test_a_current_is_never_bounded_below_nothing():
    assert Bounds(bench(), frozenset(), [CLOSED]).amps("F1") == pytest.approx((0.0, 0.02))


def test_less_lost_than_the_copper_loses_is_no_fault():
    """10 ft of 10 AWG lose a tenth of a volt; a meter on too good a wire shows nothing."""
    study = bench()
    bounds = Bounds(study, frozenset({"M1"}), [CLOSED])
    along = Probes(study).drop(bounds, "F1.load", "M1+")
    assert bounds.volts("F1.load", "M1+")[0] > 0.05
    assert along.low == 0.0
    assert along.high == pytest.approx(bounds.volts("F1.load", "M1+")[1])


@pytest.mark.parametrize(("feet", "range_v"), [(60, 0.002), (72, 0.002), (78, 0.02), (95, 0.02)])
def test_a_drop_of_less_than_a_volt_is_read_on_the_finest_range(feet: int, range_v: float) -> None:
    """8.5 to 11.5 A along 10 AWG: a volt at 74 ft, below which two digits are 2 mV."""
    study = understood("bench.rig", text=BENCH.replace("10 ft", f"{feet} ft")).study
    assert study is not None
    low_v, high_v = Bounds(study, frozenset({"M1"}), [CLOSED]).volts("F1.load", "M1+")
    most_v = (high_v + low_v) / (1.0 + 8.5 / 11.5)
    assert (most_v < 1.0) is (range_v < 0.01)
    assert 0.76 < most_v < 1.3
    assert high_v - most_v == pytest.approx(0.005 * most_v + range_v, abs=1e-5)


ONE_BANK = """rig "Bench"
    system 12 V
    rules rv
battery B1 agm, 100 Ah
battery B2 agm, 100 Ah
selector X1 100 A
busbar D1 100 A
busbar D2 100 A
busbar N1 100 A
wire B1+ to X1.1 6 AWG red 1 ft
wire D2 to X1.2 6 AWG red 1 ft
wire X1.common to D1 6 AWG red 1 ft
wire B1- to N1 6 AWG black 1 ft
wire B2- to N1 6 AWG black 1 ft
"""


@pytest.mark.parametrize(
    ("more", "live_ends"),
    [("", ["D1"]), ("wire B2+ to D2 6 AWG red 1 ft\n", ["D1", "D2"])],
)
def test_a_place_is_read_in_the_positions_in_which_it_is_live(
    more: str, live_ends: list[str]
) -> None:
    # Without the wire only bank 1 has a battery: on 2 the bars are dead, and D1 is not read there.
    # D2 is dead in both, and shows nothing in either.
    study = understood("bench.rig", text=ONE_BANK + more).study
    assert study is not None
    live = LiveBounds(study)
    for end in ("D1", "D2"):
        low_v, high_v = live.bounds(frozenset(), end).volts(end, "N1")
        assert (low_v > 11.9) is (end in live_ends), end
        assert (high_v > 12.0) is (end in live_ends), end
