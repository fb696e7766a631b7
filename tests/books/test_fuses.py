import pytest
from hypothesis import given, settings, strategies as st

from rigfolio.books.fuses import (
    continuous_share,
    fuse_colour,
    fuse_families,
    fuse_series,
    interrupt_a,
    next_down,
    next_up,
)
from rigfolio.books.loader import load_book

_few = settings(derandomize=True, max_examples=50, deadline=None)


def test_blade_colours(row):
    assert fuse_colour(row["ampere"]) == row["colour"]
    # The mini body ends at 30 A: ISO 8820-3 type F (from memory).
    if row["ampere"] <= 30.0:
        assert fuse_colour(row["ampere"], "mini") == row["colour"]


def test_maxi_colours(row):
    assert fuse_colour(row["ampere"], "maxi") == row["colour"]


def test_interrupts(row):
    found = interrupt_a(row["family"], row["nominal_v"])
    assert (found.value, found.source.status) == (row["ampere"], row["status"])


def test_standard_ratings(row):
    assert row["ampere"] in fuse_series("breaker")


@pytest.mark.parametrize(("family", "nominal_v"), [("breaker", 12.0), ("regular", 48.0)])
def test_interrupt_rating_not_known(family, nominal_v):
    assert interrupt_a(family, nominal_v) is None


def test_no_colour():
    assert (fuse_colour(6.0), fuse_colour(30.0, "midi")) == (None, None)


def test_no_such_family():
    with pytest.raises(KeyError, match="glass"):
        fuse_series("glass")


def test_continuous_share_is_the_habit_and_says_so():
    found = continuous_share()
    assert (found.value, found.source.status) == (0.80, "common practice")
    assert load_book("rv").continuous_share() is found


@pytest.mark.parametrize("family", fuse_families())
def test_series_rises(family):
    series = fuse_series(family)
    assert series
    assert list(series) == sorted(set(series))


@_few
@given(st.floats(0.1, 600), st.sampled_from(fuse_families()))
def test_neighbours_of_a_current(current_a, family):
    below, above = next_down(current_a, family), next_up(current_a, family)
    assert below is not None or above is not None
    if below is not None:
        assert below <= current_a * (1 + 1e-9)
    if above is not None:
        assert above >= current_a * (1 - 1e-9)
    if below is not None and above is not None:
        between = [each for each in fuse_series(family) if below < each < above]
        assert between == []


def test_a_rating_is_its_own_neighbour():
    assert next_down(7.5) == next_up(7.5) == 7.5


def test_small_ratings_of_strong_kinds_are_in_stock():
    # Standard ratings of NFPA 70-2023 Table 240.6(A), seen; class T in them from memory.
    assert next_up(50.0, "class t") == 50.0
    assert next_down(109.0, "class t") == 100.0
    assert fuse_series("mini")[-1] == 30.0
    assert next_up(7.0, "breaker") == 7.5
