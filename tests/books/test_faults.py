import pytest

from rigfolio.books.faults import coldest_copper_c, fault_k, full_v, fuse_gates, internal_ohm


def test_gates(row):
    found = fuse_gates(row["family"], row["rating_a"])
    assert found is not None
    assert found.source.status == row["status"]
    gate = next(g for g in found.gates if g.share == pytest.approx(row["percent"] / 100.0))
    assert (gate.min_s, gate.max_s) == (row["min_s"], row["max_s"])


def test_tube(row):
    found = fuse_gates("tube", row["rating_a"])
    assert found is not None
    gate = next(g for g in found.gates if g.share == pytest.approx(row["percent"] / 100.0))
    assert gate.max_s == row["max_s"]


@pytest.mark.parametrize(("family", "rating_a"), [("", 10.0), ("class t", 150.0), ("tube", 80.0)])
def test_no_table_is_none(family, rating_a):
    assert fuse_gates(family, rating_a) is None


def test_k_as_printed(row):
    assert fault_k(row["rated_c"]).value == row["k"]


def test_k_worked_out(row):
    found = fault_k(row["rated_c"])
    assert found.value == pytest.approx(row["k"], abs=0.05)
    assert f"{row['final_c']:g} °C" in found.how


def test_no_k_above_all_insulation():
    assert fault_k(260.0) is None


def test_internal(row):
    least, most = internal_ohm(row["chemistry"], row["volts"], row["ampere_hours"] * 3600.0)
    assert least.value * 1e3 == pytest.approx(row["least_mohm"])
    assert most.value * 1e3 == pytest.approx(row["most_mohm"])


def test_full(row):
    assert full_v(row["chemistry"], row["volts"]).value == pytest.approx(row["full_v"])


def test_coldest_copper():
    assert coldest_copper_c().value == 20.0
