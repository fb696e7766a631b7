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
    service = Service(row["insulation_c"])
    found = BOOK.carries_a(awg_size(row["gauge"]), service)
    assert (found.value, found.source.status) == (row["ampere"], row["status"])
    assert "the protector chart ends at 1/0 AWG" in found.how
    assert BOOK.largest_fuse_a(awg_size(row["gauge"]), service, "breaker").value == row["ampere"]


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


def test_thick_cable_in_a_hot_bundle_carries_no_less_than_the_chart_gives_a_thinner_one():
    hot = Service(insulation_c=75.0, ambient_c=57.0, bundle=25)
    assert BOOK.carries_a(awg_size(0), hot).value == 150.0
    found = BOOK.carries_a(awg_size(-3), hot)
    assert found.value == 150.0
    assert "for 1/0 AWG (the next smaller copper to 4/0 AWG" in found.how


def test_insulation_that_the_heat_of_the_chart_would_spoil():
    assert BOOK.carries_a(awg_size(10), Service(insulation_c=50.0)) is None
