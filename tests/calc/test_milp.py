"""Linear programs with whole numbers, against scipy-free exhaustion and a textbook problem."""

from itertools import permutations, product
from math import inf

import pytest
from hypothesis import given, settings, strategies as st

from rigfolio.calc import milp
from rigfolio.calc.milp import Bound, UnprovedError, least

_few = settings(derandomize=True, max_examples=40, deadline=None)


def test_a_knapsack_by_exhaustion() -> None:
    worth, weight = (10.0, 13.0, 7.0, 8.0), (3.0, 4.0, 2.0, 3.0)
    found = least(
        [-each for each in worth], [True] * 4, [1.0] * 4,
        [Bound(tuple(enumerate(weight)), -inf, 7.0)],
    )  # fmt: skip
    assert found is not None
    best = max(
        sum(w for w, taken in zip(worth, choice, strict=True) if taken)
        for choice in product((0, 1), repeat=4)
        if sum(w for w, taken in zip(weight, choice, strict=True) if taken) <= 7.0
    )
    assert sum(w * taken for w, taken in zip(worth, found, strict=True)) == pytest.approx(best)


@_few
@given(st.integers(1, 5).flatmap(
    lambda n: st.lists(st.lists(st.integers(0, 20), min_size=n, max_size=n), min_size=n, max_size=n)
))  # fmt: skip
def test_an_assignment_by_exhaustion(costs: list[list[int]]) -> None:
    n = len(costs)
    flat = [float(cost) for row in costs for cost in row]
    bounds = [Bound(tuple((i * n + j, 1.0) for j in range(n)), 1.0, 1.0) for i in range(n)]
    bounds += [Bound(tuple((i * n + j, 1.0) for i in range(n)), 1.0, 1.0) for j in range(n)]
    found = least(flat, [True] * (n * n), [1.0] * (n * n), bounds)
    assert found is not None
    best = min(sum(costs[i][j] for i, j in enumerate(order)) for order in permutations(range(n)))
    assert sum(c * x for c, x in zip(flat, found, strict=True)) == pytest.approx(best)


def test_what_cannot_be_is_none() -> None:
    assert least([1.0], [True], [1.0], [Bound(((0, 1.0),), 2.0)]) is None


def test_a_search_ends_by_its_steps_and_never_by_the_clock(monkeypatch: pytest.MonkeyPatch) -> None:
    options = {name for name, _ in _options(milp._solver())}
    assert "time_limit" in options
    assert dict(_options(milp._solver()))["time_limit"] == inf
    monkeypatch.setattr(milp, "_ITERATIONS", 0)
    bounds = [Bound(((0, 1.0), (1, 2.0), (2, 1.5)), 3.0), Bound(((0, 2.0), (1, 1.0)), 2.5)]
    with pytest.raises(UnprovedError, match="no proof of the optimum within 20000 steps"):
        least([3.0, 2.0, 4.0], [False] * 3, [9.0] * 3, bounds)


def _options(solver: object) -> list[tuple[str, object]]:
    names = ("time_limit", "mip_max_nodes", "simplex_iteration_limit")
    return [(name, solver.getOptionValue(name)[1]) for name in names]  # type: ignore[attr-defined]


def test_it_says_nothing(capfd: pytest.CaptureFixture[str]) -> None:
    assert least([1.0], [False], [1.0], [Bound(((0, 1.0),), 0.5)]) == (0.5,)
    assert capfd.readouterr().out == ""
