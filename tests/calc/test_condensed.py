"""The reduced network against the whole one, and a ladder by hand."""

import random

import pytest
from hypothesis import given, settings, strategies as st

from rigfolio.calc.condensed import Condensed, Twigs
from rigfolio.calc.grid import Branch, Draw, Network, Supply
from rigfolio.calc.nodal import OperatingPoint, operating_point
from rigfolio.record import replace

_few = settings(derandomize=True, max_examples=150, deadline=None)


def _solved(
    small: Condensed, supply: Supply, draws: list[Draw], added: dict[int, float]
) -> OperatingPoint:
    number = small.number
    return operating_point(
        Network(
            len(number),
            small.branches(small.grown(added)),
            (replace(supply, plus=number[supply.plus], minus=number[supply.minus]),),
            tuple(replace(d, plus=number[d.plus], minus=number[d.minus]) for d in draws),
        )
    )


def test_a_lamp_behind_three_wires_by_hand():
    # 12 V behind 0.5 ohm; 0.1, 0.2 and 0.3 ohm out, 0.4 ohm back; 6 ohm of lamp; a spur of 5 ohm.
    wires = (Branch(1, 2, 0.1), Branch(3, 2, 0.2), Branch(3, 4, 0.3), Branch(5, 0, 0.4),
             Branch(3, 6, 5.0))  # fmt: skip
    small = Condensed(Twigs(wires), [1, 0, 4, 5])
    found = _solved(small, Supply(1, 0, 12.0, 0.5), [Draw(4, 5, "resistance", 6.0)], {1: 0.5})
    # 12 V / (0.5 + 0.1 + 0.7 + 0.3 + 0.4 + 6) ohm = 1.5 A.
    assert len(small.ways) == 2
    assert small.current_a(0, found) == pytest.approx(1.5)
    assert small.current_a(1, found) == pytest.approx(-1.5)
    assert small.current_a(4, found) == 0.0
    low = small.volt(0, found, {1: 0.5})
    assert small.volt(1, found, {1: 0.5}) - low == pytest.approx(12.0 - 1.5 * 0.5)
    assert small.volt(2, found, {1: 0.5}) - low == pytest.approx(11.25 - 1.5 * 0.1)
    assert small.volt(3, found, {1: 0.5}) - low == pytest.approx(11.1 - 1.5 * 0.7)
    assert small.volt(6, found, {1: 0.5}) == small.volt(3, found, {1: 0.5})


def test_a_dead_end_behind_an_open_joint_floats():
    small = Condensed(Twigs((Branch(0, 1, 1.0), Branch(1, 2, 0.1), Branch(2, 3, 0.1))), [0, 1])
    found = _solved(small, Supply(1, 0, 12.0, 0.5), [], {1: 1e6})
    assert small.volt(3, found, {1: 1e6}, open_ohm=1e6) is None
    assert small.volt(3, found, {1: 1e5}, open_ohm=1e6) == pytest.approx(small.volt(1, found, {}))


@_few
@given(st.integers(0, 10**6), st.integers(2, 30), st.integers(0, 6))
def test_all_volts_and_currents_are_those_of_the_whole(seed, size, extra):
    chance = random.Random(seed)
    tree = [(node, chance.randrange(max(0, node - 3), node)) for node in range(1, size)]
    loops = [tuple(chance.sample(range(size), 2)) for _ in range(extra)]
    wires = tuple(
        Branch(*(chance.sample(pair, 2)), chance.uniform(0.01, 1.0)) for pair in (*tree, *loops)
    )
    plus, minus = chance.sample(range(size), 2)
    supply = Supply(plus, minus, 12.0, 0.05)
    draws = [
        Draw(*chance.sample(range(size), 2), "resistance", chance.uniform(1.0, 20.0))
        for _ in range(chance.randrange(4))
    ]
    added = {
        place: chance.uniform(0.1, 5.0) for place in range(len(wires)) if chance.random() < 0.2
    }
    kept = [plus, minus, *(end for draw in draws for end in (draw.plus, draw.minus))]
    small = Condensed(Twigs(wires), kept)
    point = _solved(small, supply, draws, added)
    whole = operating_point(
        Network(
            size,
            tuple(replace(w, ohm=w.ohm + added.get(at, 0.0)) for at, w in enumerate(wires)),
            (supply,),
            tuple(draws),
        )
    )
    base_v, small_v = whole.volts[minus], small.volt(minus, point, added)
    for node in range(size):
        shown = small.volt(node, point, added) - small_v
        assert shown == pytest.approx(whole.volts[node] - base_v, abs=1e-8)
    for place in range(len(wires)):
        assert small.current_a(place, point) == pytest.approx(whole.branch_a[place], abs=1e-8)


@_few
@given(st.integers(0, 10**6), st.integers(2, 20), st.integers(0, 4))
def test_what_is_joined_to_a_network_once_changes_nothing_for_the_next(seed, size, extra):
    chance = random.Random(seed)
    tree = [(node, chance.randrange(node)) for node in range(1, size)]
    loops = [tuple(chance.sample(range(size), 2)) for _ in range(extra)]
    wires = tuple(Branch(*pair, chance.uniform(0.01, 1.0)) for pair in (*tree, *loops))
    shared = Twigs(wires)
    for _ in range(3):
        kept = chance.sample(range(size), chance.randrange(1, size + 1))
        one, other = Condensed(shared, kept), Condensed(Twigs(wires), kept)
        assert one.ways == other.ways
        assert one.number == other.number
        # No way goes through a place at which something is joined, and none ends at a loose end.
        ends = [end for way in one.ways for end in (way.nodes[0], way.nodes[-1])]
        assert not {node for way in one.ways for node in way.nodes[1:-1]} & set(kept)
        assert all(end in kept or ends.count(end) > 1 for end in ends)
