"""What networks share that have the same ends, or the same ohms, changes nothing of any of them."""

from random import Random

import pytest

from rigfolio.calc import grid, topology
from rigfolio.calc.grid import Branch, Draw, Grid, Network, Supply
from rigfolio.calc.nodal import operating_point

KINDS = ("current", "power", "resistance")


def networks(seed):
    """Networks of the same ends; some of them differ in volts alone, some in one join or kind."""
    chance = Random(seed)
    nodes = chance.randint(4, 9)
    ends = [(node, chance.randrange(node)) for node in range(1, nodes)]
    ends += [tuple(chance.sample(range(nodes), 2)) for _ in range(3)]
    fed = [tuple(chance.sample(range(nodes), 2)) for _ in range(3)]
    drawn = [(*chance.sample(range(nodes), 2), chance.choice(KINDS)) for _ in range(4)]
    branches = supplies = draws = ()
    for number in range(12):
        if number % 3 == 0:
            branches = tuple(
                Branch(*pair, chance.choice((0.0, 0.002, 0.05, 3.0, 1e7))) for pair in ends
            )
            draws = tuple(Draw(*two, kind, chance.uniform(0.1, 9.0)) for *two, kind in drawn)
        supplies = tuple(
            Supply(*pair, chance.uniform(10.0, 15.0), 0.01 * (place + 1 + number // 3),
                   chance.choice((5.0, 30.0, float("inf"))), one_way=chance.random() < 0.5)
            for place, pair in enumerate(fed)
        )  # fmt: skip
        yield Network(nodes, branches, supplies, draws)


def forget():
    topology._kept.cache_clear()
    grid._kept.cache_clear()


@pytest.mark.parametrize("seed", range(60))
def test_what_others_have_left_behind_changes_no_point(seed):
    """To the last digit."""
    forget()
    after_others = [operating_point(net) for net in networks(seed)]
    for net, found in zip(networks(seed), after_others, strict=True):
        forget()
        assert operating_point(net) == found


def test_volts_alone_take_nothing_apart_anew():
    forget()
    for tenth in range(120, 145):
        net = Network(3, (Branch(1, 2, 0.1),), (Supply(1, 0, tenth / 10, 0.01),),
                      (Draw(2, 0, "current", 3.0),))  # fmt: skip
        operating_point(net)
    assert topology._kept.cache_info().misses == 1
    assert grid._kept.cache_info().misses == 1


def test_a_large_network_is_not_kept():
    forget()
    chain = tuple(Branch(node, node + 1, 0.01) for node in range(1, 400))
    Grid(Network(401, chain, (Supply(1, 0, 12.0, 0.01),))).matrix(0)
    assert topology._kept.cache_info().currsize == grid._kept.cache_info().currsize == 0


def test_no_more_sets_of_supplies_are_kept_than_are_worth_it():
    net = Network(2, (), tuple(Supply(1, 0, 12.0, 0.01) for _ in range(7)))
    matrix = Grid(net).matrix(0)
    for number in range(1, 100):
        held = tuple(place for place in range(7) if number >> place & 1)
        assert matrix.factor(held).solve([1.0]) == pytest.approx([0.01 / len(held)])
        assert len(matrix._held) <= grid._MOST_HELD
