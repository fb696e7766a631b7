import pytest

from rigfolio.books.columns import Service
from rigfolio.books.loader import load_book
from rigfolio.units import awg_size

BOOK = load_book("boat")
_INCH_M = 0.0254


def test_table_5(row):
    service = Service(insulation_c=row["insulation_c"])
    found = BOOK.carries_a(awg_size(row["gauge"]), service)
    assert (found.value, found.source.status) == (row["ampere"], row["status"])
    device = BOOK.largest_fuse_a(awg_size(row["gauge"]), service)
    assert device.value == pytest.approx(1.5 * row["ampere"])


def test_engine_space(row):
    found = BOOK.carries_a(awg_size(row["gauge"]), Service(105.0, engine_space=True))
    assert found.value == pytest.approx(row["ampere"], abs=row["tolerance"])


def test_three_together(row):
    found = BOOK.carries_a(awg_size(row["gauge"]), Service(105.0, bundle=3))
    assert found.value == pytest.approx(row["ampere"], abs=row["tolerance"])


def test_bundle_factors(row):
    found = BOOK.carries_a(awg_size(10), Service(105.0, bundle=row["together"]))
    assert found.value == pytest.approx(60.0 * row["factor"])


def test_engine_factors(row):
    cool = BOOK.carries_a(awg_size(8), Service(row["insulation_c"]))
    hot = BOOK.carries_a(awg_size(8), Service(row["insulation_c"], engine_space=True))
    assert hot.value / cool.value == pytest.approx(row["factor"])


def test_reach(row):
    found = BOOK.reach_m(sheathed=row["sheathed"], from_battery=row["from_battery"])
    assert found.value == pytest.approx(row["length_in"] * _INCH_M, rel=row["tolerance"])
    assert found.source.status == row["status"]


def test_limits(row):
    found = BOOK.limits[row["name"]]
    assert found.value == pytest.approx(row["value"])
    assert found.source.status == row["status"]


def test_device_from_50_volts(row):
    size, service = awg_size(row["gauge"]), Service(row["insulation_c"], system_v=row["system_v"])
    assert BOOK.largest_fuse_a(size, service).value == pytest.approx(row["ampere"])


def test_interrupting_capacity(row):
    main = BOOK.interrupts_a(row["cranking_a"], main=True)
    branch = BOOK.interrupts_a(row["cranking_a"], main=False)
    assert (main.value, branch.value) == (row["main_a"], row["branch_a"])
    assert main.source.status == row["status"]


def test_single_limits(row):
    found = {
        "panel": BOOK.panel_share(),
        "alternator": BOOK.alternator_share(),
    }[row["name"]]
    assert (found.value, found.source.status) == (row["value"], row["status"])


def test_least_gauge(row):
    found = BOOK.least_size_m2(sheathed=row["sheathed"])
    assert (found.how, found.source.status) == (f"{row['gauge']} AWG", row["status"])
    assert found.value == pytest.approx(awg_size(row["gauge"]).area_m2)


def test_a_battery_beyond_the_interrupting_table():
    assert BOOK.interrupts_a(2300.0, main=True) is None


def test_a_bundle_is_law_from_50_volts_and_practice_below():
    size = awg_size(10)
    low = BOOK.carries_a(size, Service(105.0, bundle=3, system_v=12.0))
    high = BOOK.carries_a(size, Service(105.0, bundle=3, system_v=50.0))
    assert low.value == high.value == pytest.approx(42.0)
    assert "marine practice under 50 V" in low.source.title
    assert "note 2" in high.source.title
    assert "practice" not in high.source.title


def test_the_device_before_a_feeder_has_no_half_more():
    size = awg_size(8)
    assert BOOK.largest_fuse_a(size, Service(105.0)).value == pytest.approx(120.0)
    assert BOOK.largest_fuse_a(size, Service(105.0, feeder=True)).value == 80.0


def test_an_engine_space_hotter_than_the_law_thinks():
    size = awg_size(8)
    at_50 = BOOK.carries_a(size, Service(105.0, 50.0, engine_space=True))
    at_70 = BOOK.carries_a(size, Service(105.0, 70.0, engine_space=True))
    assert at_50.value == pytest.approx(80.0 * 0.85)
    assert at_70.value == pytest.approx(80.0 * ((105 - 70) / (105 - 30)) ** 0.5)


def test_the_weakest_status_is_told():
    recalled = BOOK.carries_a(awg_size(8), Service(75.0, engine_space=True))
    assert recalled.source.status == "memory"
    assert recalled.source.title == "33 CFR 183.425 Table 5; 33 CFR 183.425 Table 5 note 1"


def test_twenty_ampere_on_14_awg():
    assert BOOK.largest_fuse_a(awg_size(14), Service(insulation_c=105.0)).value >= 20.0
    assert load_book("rv").largest_fuse_a(awg_size(14), Service()).value < 20.0


def test_too_thin_or_too_weak():
    assert BOOK.carries_a(awg_size(20), Service()) is None
    weak = BOOK.carries_a(awg_size(14), Service(insulation_c=50.0))
    # sqrt((50 - 30) / (60 - 30)) of 20 A, by hand.
    assert weak.value == pytest.approx(16.33, abs=0.01)


def test_no_chassis_bond_in_the_book():
    assert BOOK.chassis_bond_m2() is None
