import pytest

from rigfolio.books.columns import Service
from rigfolio.books.loader import load_book
from rigfolio.units import awg_size

BOOK = load_book("vehicle")


def test_protector_chart(row):
    found = BOOK.largest_fuse_a(awg_size(row["gauge"]), Service(bundle=15, engine_space=True))
    assert (found.value, found.source.status) == (row["ampere"], row["status"])


def test_breaker_chart(row):
    size = awg_size(row["gauge"])
    found = BOOK.largest_fuse_a(size, Service(bundle=15, engine_space=True), "breaker")
    assert (found.value, found.source.status) == (row["ampere"], row["status"])


def test_cable_beyond_the_chart(row):
    size = awg_size(row["gauge"])
    found = BOOK.carries_a(size, Service(80.0))
    assert found.value == pytest.approx(row["ampere"], abs=row["tolerance"])
    assert "the protector chart ends at 1/0 AWG" in found.how
    assert BOOK.largest_fuse_a(size, Service(80.0), "breaker").value == found.value


def test_hotter_than_the_chart(row):
    found = BOOK.carries_a(awg_size(10), Service(80.0, row["ambient_c"]))
    assert found.value / 30.0 == pytest.approx(row["factor"], abs=row["tolerance"])


def test_allowable_drop(row):
    found = BOOK.drop_share(
        critical=False, intermittent=row["intermittent"], system_v=row["system_v"]
    )
    assert found.value * row["system_v"] == pytest.approx(row["volts"], abs=row["tolerance"])
    assert found.source.status == row["status"]


def test_limits(row):
    found = BOOK.limits[row["name"]]
    assert found.value == pytest.approx(row["value"])
    assert found.source.status == row["status"]


def test_no_breaker_printed_so_the_next_smaller_gauge_stands():
    found = BOOK.largest_fuse_a(awg_size(0), Service(), "breaker")
    assert found.value == 125.0
    assert "for 2 AWG (the next smaller copper to 1/0 AWG" in found.how


def test_poorer_insulation_than_the_chart_is_taken_for():
    # 57.2 to 75 °C where 57.2 to 80 °C are the chart's: sqrt(17.8 / 22.8) = 0.8836, by hand.
    hot = Service(insulation_c=75.0, ambient_c=57.0, bundle=25)
    assert BOOK.carries_a(awg_size(0), hot).value == pytest.approx(150.0 * 0.8836, rel=1e-4)


def test_insulation_that_the_heat_of_the_chart_would_spoil():
    assert BOOK.carries_a(awg_size(10), Service(insulation_c=50.0)) is None
