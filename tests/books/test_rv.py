import pytest

from rigfolio.books.columns import Service
from rigfolio.books.loader import load_book
from rigfolio.units import awg_size, metric_size

BOOK = load_book("rv")


def test_overcurrent_table(row):
    found = BOOK.carries_a(awg_size(row["gauge"]), Service())
    assert (found.value, found.source.status) == (row["ampere"], row["status"])
    assert BOOK.largest_fuse_a(awg_size(row["gauge"]), Service()) == found
    assert "largest device on that gauge" in found.how


def test_low_voltage_table_in_heat(row):
    service = Service(row["insulation_c"], row["ambient_c"], row["together"])
    found = BOOK.carries_a(awg_size(row["gauge"]), service)
    assert found.value == pytest.approx(row["ampere"], rel=row["tolerance"])
    assert BOOK.largest_fuse_a(awg_size(row["gauge"]), service) == found


def test_warm_insulation_of_small_wires(row):
    rows = {
        line.gauge: line.ampere
        for column in BOOK.columns
        if column.insulation_c == row["insulation_c"]
        for line in column.rows
    }
    assert rows[row["gauge"]] == pytest.approx(row["ampere"], rel=row["tolerance"])


def test_small_conductors(row):
    assert BOOK.carries_a(awg_size(row["gauge"]), Service()).value == row["ampere"]


def test_general_ampacity(row):
    service = Service(insulation_c=row["insulation_c"])
    found = BOOK.carries_a(awg_size(row["gauge"]), service)
    assert (found.value, found.source.status) == (row["ampere"], row["status"])
    assert BOOK.largest_fuse_a(awg_size(row["gauge"]), service) == found


def test_ambient(row):
    found = BOOK.carries_a(awg_size(6), Service(75.0, row["ambient_c"]))
    assert found.value / 65.0 == pytest.approx(row["factor"], abs=row["tolerance"])


def test_bundle_factors(row):
    found = BOOK.carries_a(awg_size(6), Service(75.0, bundle=row["together"]))
    assert found.value == pytest.approx(65.0 * row["factor"])


def test_metric_as_gauge(row):
    found = BOOK.carries_a(metric_size(row["mm2"]), Service())
    assert found.value == row["ampere"]
    assert f"for {row['gauge']} AWG (the next smaller copper to {row['mm2']:g} mm²" in found.how


def test_metric_sizes(row):
    found = BOOK.carries_a(metric_size(row["mm2"]), Service())
    assert (found.value, found.source.status) == (row["ampere"], row["status"])
    assert found.value <= row["printed"]
    assert BOOK.largest_fuse_a(metric_size(row["mm2"]), Service()) == found


def test_metric_corrected(row):
    service = Service(ambient_c=row["ambient_c"], bundle=row["together"])
    assert BOOK.carries_a(metric_size(1.5), service).value == pytest.approx(row["ampere"], rel=1e-3)


def test_a_gauge_is_not_read_by_metric_rows():
    """16 AWG, 1.31 mm², and 1.31 mm² are one; 1.4 mm² has no row of its own and is one of them."""
    for size in (awg_size(16), metric_size(1.31), metric_size(1.4)):
        assert BOOK.carries_a(size, Service()).value == 8.0


def test_leads_of_fixtures_are_fused_as_the_next_thinner_gauge_that_was_read():
    found = BOOK.largest_fuse_a(metric_size(0.75), Service())
    assert (found.value, found.source.status) == (5.0, "seen")


def test_metric_that_is_a_gauge(row):
    metric = BOOK.carries_a(metric_size(row["mm2"]), Service())
    gauge = BOOK.carries_a(awg_size(row["gauge"]), Service())
    assert (metric.value, metric.source) == (gauge.value, gauge.source)
    assert f"(the copper of {row['mm2']:g} mm²" in metric.how


def test_reach(row):
    found = BOOK.reach_m(sheathed=row["sheathed"], from_battery=row["from_battery"])
    assert found.value == pytest.approx(row["length_m"], abs=row["tolerance"])


def test_chassis_bond(row):
    found = BOOK.chassis_bond_m2()
    assert found.value * 1e6 == pytest.approx(row["area_mm2"], rel=row["tolerance"])
    assert found.how == "8 AWG"


def test_limits(row):
    found = BOOK.limits[row["name"]]
    assert found.value == pytest.approx(row["value"])
    assert found.source.status == row["status"]


def test_an_engine_space_is_a_hot_place():
    size = awg_size(6)
    hot = BOOK.carries_a(size, Service(ambient_c=50.0))
    assert BOOK.carries_a(size, Service(engine_space=True)).value == hot.value
    assert BOOK.carries_a(size, Service(ambient_c=60.0, engine_space=True)).value < hot.value


@pytest.mark.parametrize(
    ("size", "service"),
    [(awg_size(20), Service()), (metric_size(0.5), Service())],
)
def test_thinner_than_the_table(size, service):
    assert BOOK.carries_a(size, service) is None
    assert BOOK.largest_fuse_a(size, service) is None


def test_insulation_poorer_than_any_column_is_brought_down_from_the_poorest():
    # sqrt((50 - 30) / (60 - 30)) = 0.8165, by hand.
    for gauge, column_a in ((14, 15.0), (6, 55.0)):
        found = BOOK.carries_a(awg_size(gauge), Service(insulation_c=50.0))
        assert found.value == pytest.approx(0.8165 * column_a, rel=1e-4)


def test_how_it_was_worked_out():
    found = BOOK.carries_a(awg_size(6), Service(ambient_c=40.0, bundle=4))
    assert found.how == (
        "65 A for 6 AWG with 75 °C insulation x 0.88 at 40 °C x 0.80 for 4 together"
    )
    assert found.source.status == "computed"
