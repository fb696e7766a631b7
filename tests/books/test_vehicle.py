import pytest

from rigfolio.books.loader import Service, load_book
from rigfolio.units import awg_size

BOOK = load_book("vehicle")


def test_protector_chart(row):
    found = BOOK.largest_fuse_a(awg_size(row["gauge"]), Service(bundle=15, engine_space=True))
    assert (found.value, found.source.status) == (row["ampere"], row["status"])


def test_hotter_than_the_chart(row):
    found = BOOK.carries_a(awg_size(10), Service(80.0, row["ambient_c"]))
    assert found.value / 30.0 == pytest.approx(row["factor"], abs=row["tolerance"])


def test_above_the_chart_its_last_row_stands():
    found = BOOK.carries_a(awg_size(-3), Service())
    assert found.value == 150.0
    assert "for 1/0 AWG (the next smaller copper to 4/0 AWG" in found.how


def test_insulation_that_the_heat_of_the_chart_would_spoil():
    assert BOOK.carries_a(awg_size(10), Service(insulation_c=50.0)) is None
