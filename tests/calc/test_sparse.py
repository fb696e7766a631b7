import random

import numpy
import pytest
from hypothesis import given, settings, strategies as st

from rigfolio.calc.sparse import factor

_few = settings(derandomize=True, max_examples=100, deadline=None)


def laplacian(size, pairs):
    """A network of conductances, every node with a little of its own to the datum."""
    rows = [{node: 1e-3} for node in range(size)]
    for one, two, siemens in pairs:
        if one != two:
            rows[one][one] += siemens
            rows[two][two] += siemens
            rows[one][two] = rows[one].get(two, 0.0) - siemens
            rows[two][one] = rows[two].get(one, 0.0) - siemens
    return rows


def dense(rows):
    matrix = numpy.zeros((len(rows), len(rows)))
    for place, row in enumerate(rows):
        for other, value in row.items():
            matrix[place, other] = value
    return matrix


networks = st.integers(1, 25).flatmap(
    lambda size: st.tuples(
        st.just(size),
        st.lists(
            st.tuples(st.integers(0, size - 1), st.integers(0, size - 1), st.floats(0.01, 100.0)),
            max_size=60,
        ),
        st.lists(st.floats(-10.0, 10.0), min_size=size, max_size=size),
    )
)


@_few
@given(networks)
def test_as_numpy_solves_it(network):
    size, pairs, right = network
    rows = laplacian(size, pairs)
    found = factor(rows).solve(right)
    expected = numpy.linalg.solve(dense(rows), numpy.array(right))
    scale = max(1.0, float(numpy.abs(expected).max()))
    assert numpy.allclose(found, expected, rtol=1e-8, atol=1e-8 * scale)


@_few
@given(networks)
def test_one_factor_serves_many_right_hand_sides(network):
    size, pairs, right = network
    ready = factor(laplacian(size, pairs))
    one, two = ready.solve(right), ready.solve([2.0 * value for value in right])
    assert two == pytest.approx([2.0 * value for value in one], rel=1e-12, abs=1e-12)


def test_rows_stay_as_they_were():
    rows = [{0: 4.0, 1: 2.0}, {0: 2.0, 1: 3.0}]
    factor(rows)
    assert rows == [{0: 4.0, 1: 2.0}, {0: 2.0, 1: 3.0}]


def test_nothing_to_solve():
    assert factor([]).solve([]) == []


@pytest.mark.parametrize(
    ("rows", "named"),
    [
        ([{0: 1.0}, {}], 1),
        ([{0: 1.0, 1: -1.0}, {0: -1.0, 1: 1.0}], 1),
        ([{0: -1.0}], 0),
        ([{0: 1.0, 1: 2.0}, {0: 2.0, 1: 1.0}], 1),
    ],
)
def test_singular_or_indefinite_names_the_row(rows, named):
    with pytest.raises(ValueError, match=f"row {named}") as raised:
        factor(rows)
    assert raised.value.args[1] == named


def test_right_hand_side_of_another_length():
    with pytest.raises(ValueError, match="2 values for 1 rows"):
        factor([{0: 1.0}]).solve([1.0, 2.0])


@pytest.mark.parametrize("size", [1000, 4000])
def test_a_tree_fills_nothing_in(size):
    any_ = random.Random(size)
    pairs = [(node, any_.choice([0, node - 1, node // 2]), 1.0) for node in range(1, size)]
    ready = factor(laplacian(size, pairs))
    assert sum(len(column) for column in ready._columns) == size - 1


def test_a_grid_stays_sparse():
    side = 30
    pairs = [(a * side + b, a * side + b + 1, 1.0) for a in range(side) for b in range(side - 1)]
    pairs += [(a * side + b, a * side + b + side, 1.0) for a in range(side - 1)
              for b in range(side)]  # fmt: skip
    rows = laplacian(side * side, pairs)
    ready = factor(rows)
    # Row by row from one edge would fill a band of 30 in each of 900 rows: 27000 entries.
    assert sum(len(column) for column in ready._columns) < 15000
    right = [1.0] * (side * side)
    assert ready.solve(right) == pytest.approx(
        list(numpy.linalg.solve(dense(rows), numpy.array(right))), rel=1e-9
    )
