import pytest

from rigfolio.books.trade.faults import coldest_copper_c, fault_k, full_v, fuse_gates, internal_ohm


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


@pytest.mark.parametrize(
    ("family", "rating_a"), [("", 10.0), ("anl", 150.0), ("breaker", 20.0), ("tube", 80.0)]
)
def test_no_table_is_none(family, rating_a):
    assert fuse_gates(family, rating_a) is None


def test_gates_of_families_differ():
    # A maxi holds twice its rating for two seconds and up to a minute, a regular blade for five at
    # the most; class T by UL 248-1 has opened after eight minutes at 200 A (all from memory).
    maxi, regular, class_t = (
        next(g for g in fuse_gates(family, rating_a).gates if g.share == 2.0)
        for family, rating_a in (("maxi", 60.0), ("regular", 30.0), ("class t", 200.0))
    )
    assert (maxi.min_s, maxi.max_s) == (2.0, 60.0)
    assert regular.max_s == 5.0
    assert (class_t.min_s, class_t.max_s) == (0.0, 480.0)


def test_what_is_recalled_in_part_only_carries_no_verdict():
    assert not fuse_gates("maxi", 60.0).is_firm
    assert fuse_gates("class t", 200.0).is_firm


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
