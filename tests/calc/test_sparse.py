import random
from fractions import Fraction

import numpy
import pytest
from hypothesis import given, settings, strategies as st

from helpers.ladder import stiff_ladder
from rigfolio.calc.sparse import DATUM, factor, stamp

_few = settings(derandomize=True, max_examples=100, deadline=None)


def joined(size, pairs, own=1e-3):
    """A network of conductances, every node with a little of its own to the datum."""
    rows = [{DATUM: own} for _ in range(size)]
    for one, two, siemens in pairs:
        stamp(rows, one, two, siemens)
    return rows


def dense(rows):
    matrix = numpy.zeros((len(rows), len(rows)))
    for place, row in enumerate(rows):
        for other, value in row.items():
            matrix[place, place] += value
            if other != DATUM:
                matrix[place, other] -= value
    return matrix


def exact(rows, right):
    """The same by Gauss in fractions, where nothing is rounded."""
    size = len(rows)
    table = [[Fraction(0)] * size + [Fraction(value)] for value in right]
    for place, row in enumerate(rows):
        for other, value in row.items():
            table[place][place] += Fraction(value)
            if other != DATUM:
                table[place][other] -= Fraction(value)
    for place in range(size):
        own = table[place]
        for below in table[place + 1 :]:
            if below[place]:
                share = below[place] / own[place]
                below[place:] = [
                    one - share * two for one, two in zip(below[place:], own[place:], strict=True)
                ]
    found = [Fraction(0)] * size
    for place in reversed(range(size)):
        rest = sum(table[place][other] * found[other] for other in range(place + 1, size))
        found[place] = (table[place][-1] - rest) / table[place][place]
    return found


def networks_of(siemens, right):
    return st.integers(1, 25).flatmap(
        lambda size: st.tuples(
            st.just(size),
            st.lists(
                st.tuples(st.integers(0, size - 1), st.integers(0, size - 1), siemens), max_size=60
            ),
            st.lists(right, min_size=size, max_size=size),
        )
    )


networks = networks_of(st.floats(0.01, 100.0), st.floats(-10.0, 10.0))
# An open joint is 10 megohm, a regulated source 10 microohm.
stiff = networks_of(st.floats(-7.0, 5.0).map(lambda power: 10.0**power), st.floats(0.0, 100.0))


@_few
@given(networks)
def test_as_numpy_solves_it(network):
    size, pairs, right = network
    rows = joined(size, pairs)
    found = factor(rows).solve(right)
    expected = numpy.linalg.solve(dense(rows), numpy.array(right))
    scale = max(1.0, float(numpy.abs(expected).max()))
    assert numpy.allclose(found, expected, rtol=1e-8, atol=1e-8 * scale)


@_few
@given(stiff)
def test_every_voltage_is_right_to_its_last_digits_however_far_apart_the_conductances(network):
    size, pairs, right = network
    rows = joined(size, pairs, own=1e-7)
    found = factor(rows).solve(right)
    for own, true in zip(found, exact(rows, right), strict=True):
        assert own == pytest.approx(float(true), rel=1e-13)


@pytest.mark.parametrize("seed", range(4))
def test_a_ladder_of_ten_thousand_nodes_by_hand_in_sixty_digits(seed):
    rows, right, volts = stiff_ladder(10_000, seed)
    found = factor(rows).solve(right)
    for own, true in zip(found, volts, strict=True):
        assert own == pytest.approx(true, rel=1e-11, abs=0.0)


@_few
@given(networks)
def test_one_factor_serves_many_right_hand_sides(network):
    size, pairs, right = network
    ready = factor(joined(size, pairs))
    one, two = ready.solve(right), ready.solve([2.0 * value for value in right])
    assert two == pytest.approx([2.0 * value for value in one], rel=1e-12, abs=1e-12)


def test_rows_stay_as_they_were():
    rows = [{1: 2.0, DATUM: 2.0}, {0: 2.0, DATUM: 1.0}]
    factor(rows)
    assert rows == [{1: 2.0, DATUM: 2.0}, {0: 2.0, DATUM: 1.0}]


def test_nothing_to_solve():
    assert factor([]).solve([]) == []


@pytest.mark.parametrize(
    ("rows", "named"),
    [
        ([{DATUM: 1.0}, {}], 1),
        ([{1: 1.0}, {0: 1.0}], 1),
        ([{DATUM: -1.0}], 0),
        ([{1: 2.0, DATUM: -1.0}, {0: 2.0, DATUM: -1.0}], 1),
        ([{1: 0.1, DATUM: 0.2}, {0: 0.1, DATUM: -0.2 / 3.0}], 1),
    ],
)
def test_what_hangs_in_the_air_or_takes_more_than_it_is_given_names_the_row(rows, named):
    with pytest.raises(ValueError, match=f"row {named}") as raised:
        factor(rows)
    assert raised.value.args[1] == named


def test_right_hand_side_of_another_length():
    with pytest.raises(ValueError, match="2 values for 1 rows"):
        factor([{DATUM: 1.0}]).solve([1.0, 2.0])


@pytest.mark.parametrize("size", [1000, 4000])
def test_a_tree_fills_nothing_in(size):
    any_ = random.Random(size)
    pairs = [(node, any_.choice([0, node - 1, node // 2]), 1.0) for node in range(1, size)]
    ready = factor(joined(size, pairs))
    assert sum(len(column) for column in ready._columns) == size - 1


def test_a_grid_stays_sparse():
    side = 30
    pairs = [(a * side + b, a * side + b + 1, 1.0) for a in range(side) for b in range(side - 1)]
    pairs += [(a * side + b, a * side + b + side, 1.0) for a in range(side - 1)
              for b in range(side)]  # fmt: skip
    rows = joined(side * side, pairs)
    ready = factor(rows)
    # Row by row from one edge would fill a band of 30 in each of 900 rows: 27000 entries.
    assert sum(len(column) for column in ready._columns) < 15000
    right = [1.0] * (side * side)
    assert ready.solve(right) == pytest.approx(
        list(numpy.linalg.solve(dense(rows), numpy.array(right))), rel=1e-9
    )
