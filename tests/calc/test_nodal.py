import math
import random

import pytest
from hypothesis import example, given, settings, strategies as st

from rigfolio.calc import island, nodal
from rigfolio.calc.grid import Branch, Converter, Draw, Network, Supply
from rigfolio.calc.nodal import operating_point
from rigfolio.record import replace

_few = settings(derandomize=True, max_examples=100, deadline=None)
BATTERY = Supply(1, 0, 12.0, 0.01)


def test_bridge_by_hand():
    # A bridge out of balance, a textbook mesh: by its star the middle carries 10 V / 154 ohm x ...
    arms = (Branch(1, 2, 10.0), Branch(1, 3, 20.0), Branch(2, 0, 30.0), Branch(3, 0, 40.0),
            Branch(2, 3, 50.0))  # fmt: skip
    found = operating_point(Network(4, arms, (Supply(1, 0, 10.0, 1e-9),)))
    # Kirchhoff: (10 - u) / 10 = u / 30 + (u - w) / 50 and (10 - w) / 20 = w / 40 + (w - u) / 50,
    # so 23 u - 3 w = 150 and 19 w - 4 u = 100.
    u = (150 * 19 + 300) / (23 * 19 - 12)
    w = (100 + 4 * u) / 19
    assert found.volts[2] == pytest.approx(u)
    assert found.volts[3] == pytest.approx(w)
    assert found.branch_a[4] == pytest.approx((u - w) / 50.0)


OUTPUTS = tuple(Supply(end, 0, 14.4, 1e-6, 20.0, one_way=True, unit="C") for end in (1, 2))


def test_two_outputs_of_one_charger_give_its_limit_once():
    # 30 A on two banks of 12 V and 10 mohm that a relay joins, a charger of 20 A with an output on
    # each: the batteries give the 10 A that are left, 5 A each, at 12 V - 5 A x 10 mohm = 11.95 V.
    banks = (BATTERY, Supply(2, 0, 12.0, 0.01))
    net = Network(3, (Branch(1, 2, 0.0),), (*banks, *OUTPUTS), (Draw(1, 0, "current", 30.0),))
    found = operating_point(net)
    assert found.volts == pytest.approx((0.0, 11.95, 11.95))
    assert found.supply_a[:2] == pytest.approx((5.0, 5.0))
    assert sum(found.supply_a[2:]) == pytest.approx(20.0)
    assert found.at_limit == (2, 3)


def test_two_outputs_serve_the_lower_bank_first():
    # Not joined: 20 A for 30 A leave 10 A to the first battery, 12 V - 10 A x 10 mohm = 11.9 V,
    # while the other stands at 12 V, above which the charger would have to lift both.
    banks = (BATTERY, Supply(2, 0, 12.0, 0.01))
    found = operating_point(Network(3, (), (*banks, *OUTPUTS), (Draw(1, 0, "current", 30.0),)))
    assert found.volts == pytest.approx((0.0, 11.9, 12.0), abs=1e-4)
    assert found.supply_a == pytest.approx((10.0, 0.0, 20.0, 0.0), abs=1e-3)
    assert found.blocked == (3,)


def test_two_outputs_first_of_all_keep_the_datum():
    # 5 A from each end, nothing at its limit: both stand at 14.4 V against the minus.
    draws = (Draw(1, 0, "current", 5.0), Draw(2, 0, "current", 5.0))
    found = operating_point(Network(3, (), OUTPUTS, draws))
    assert found.volts == pytest.approx((0.0, 14.4, 14.4), abs=1e-4)
    assert found.supply_a == pytest.approx((5.0, 5.0))
    assert found.at_limit == ()


def test_two_outputs_do_not_serve_more_than_the_charger_is_made_for():
    # 15 A on each end of a charger of 20 A with no battery: nothing gives the last 10 A.
    draws = (Draw(1, 0, "current", 15.0), Draw(2, 0, "current", 15.0))
    found = operating_point(Network(3, (), OUTPUTS, draws))
    assert sum(found.supply_a) <= 20.0 + 1e-6
    assert found.collapsed


def test_parallel_batteries_share_by_their_resistance():
    pair = (BATTERY, Supply(1, 0, 12.0, 0.03))
    found = operating_point(Network(2, (), pair, (Draw(1, 0, "current", 40.0),)))
    assert found.supply_a == pytest.approx((30.0, 10.0))


def test_the_full_battery_charges_the_empty_one():
    pair = (BATTERY, Supply(1, 0, 12.8, 0.03))
    found = operating_point(Network(2, (), pair))
    assert found.supply_a == pytest.approx((-20.0, 20.0))


@_few
@given(st.floats(0.001, 10.0), st.floats(1.0, 60.0), st.floats(0.01, 1.5))
def test_constant_power_collapses_at_a_quarter_of_u_squared_over_r(ohm, emf_v, share):
    power_w = share * emf_v**2 / (4.0 * ohm)
    net = Network(2, (), (Supply(1, 0, emf_v, ohm),), (Draw(1, 0, "power", power_w),))
    found = operating_point(net)
    if share > 1.0 + 1e-6:
        assert found.collapsed == (0,)
        assert found.draw_a == (0.0,)
    elif share < 1.0 - 1e-6:
        assert found.collapsed == ()
        volts = emf_v / 2.0 * (1.0 + math.sqrt(1.0 - share))
        assert found.volts[1] == pytest.approx(volts, rel=1e-6)


def test_a_constant_current_that_needs_more_than_there_is():
    net = Network(3, (Branch(1, 2, 1.0),), (BATTERY,), (Draw(2, 0, "current", 13.0),))
    assert operating_point(net).collapsed == (0,)


def test_the_other_loads_stay():
    draws = (Draw(2, 0, "power", 100.0), Draw(1, 0, "power", 50.0))
    net = Network(3, (Branch(1, 2, 1.0),), (BATTERY,), draws)
    found = operating_point(net)
    assert found.collapsed == (0,)
    assert found.draw_a[1] == pytest.approx(50.0 / found.volts[1])


def test_hundreds_that_cannot_be_fed_end_soon():
    draws = tuple(Draw(1, 0, "power", 100.0) for _ in range(400))
    found = operating_point(Network(2, (), (Supply(1, 0, 12.0, 0.1),), draws))
    assert set(found.collapsed) == set(range(400))


def test_an_island_without_a_supply_is_dead():
    net = Network(5, (Branch(1, 2, 0.1), Branch(3, 4, 0.0)), (BATTERY,),
                  (Draw(3, 4, "current", 1.0), Draw(2, 3, "current", 1.0)))  # fmt: skip
    found = operating_point(net)
    assert found.volts[3] is None
    assert found.volts[4] is None
    assert found.unserved == (0, 1)
    assert found.branch_a[0] == pytest.approx(0.0)


def test_a_load_the_wrong_way_round_is_not_served():
    net = Network(2, (), (BATTERY,), (Draw(0, 1, "power", 10.0), Draw(0, 1, "resistance", 12.0)))
    found = operating_point(net)
    assert found.unserved == (0,)
    assert found.draw_a[1] == pytest.approx(-1.0, rel=2e-3)


def test_two_islands_have_a_datum_each():
    net = Network(4, (), (BATTERY, Supply(3, 2, 24.0, 0.01)))
    assert operating_point(net).volts == pytest.approx((0.0, 12.0, 0.0, 24.0))


def test_joins_carry_what_runs_through_them():
    # From the battery through a switch into two fuses side by side, one load behind both.
    joins = (Branch(1, 2, 0.0), Branch(2, 3, 0.0), Branch(2, 3, 0.0), Branch(3, 3, 0.0))
    net = Network(4, joins, (BATTERY,), (Draw(3, 0, "current", 8.0), Draw(2, 0, "current", 1.0)))
    assert operating_point(net).branch_a == pytest.approx((9.0, 4.0, 4.0, 0.0))


def charger(limit_a, emf_v=14.0):
    return Supply(1, 0, emf_v, 1e-4, limit_a, one_way=True)


@pytest.mark.parametrize(
    ("limit_a", "emf_v", "given_a", "at_limit", "blocked"),
    [
        (10.0, 14.0, 10.0, (1,), ()),
        (1000.0, 14.0, 2.0 / 0.0101 + 5.0 * 0.01 / 0.0101, (), ()),
        (10.0, 11.0, 0.0, (), (1,)),
    ],
)
def test_a_limited_supply_beside_a_battery(limit_a, emf_v, given_a, at_limit, blocked):
    net = Network(2, (), (BATTERY, charger(limit_a, emf_v)), (Draw(1, 0, "current", 5.0),))
    found = operating_point(net)
    assert found.supply_a[1] == pytest.approx(given_a, rel=1e-6)
    assert sum(found.supply_a) == pytest.approx(5.0)
    assert (found.at_limit, found.blocked) == (at_limit, blocked)


def test_a_limited_supply_gives_a_resistance_what_it_can():
    found = operating_point(Network(2, (), (charger(10.0),), (Draw(1, 0, "resistance", 1.0),)))
    assert found.volts[1] == pytest.approx(10.0)
    assert found.at_limit == (0,)


def test_a_limited_supply_leaves_out_what_it_cannot_feed():
    draws = (Draw(1, 0, "power", 100.0), Draw(1, 0, "power", 120.0))
    found = operating_point(Network(2, (), (charger(10.0),), draws))
    assert found.collapsed == (1,)
    assert found.supply_a[0] == pytest.approx(100.0 / 14.0, rel=1e-4)


def test_many_limited_supplies_settle_in_order_of_their_voltage():
    supplies = (BATTERY, *(charger(4.0, 12.0 + 0.5 * step) for step in range(5)))
    found = operating_point(Network(2, (), supplies, (Draw(1, 0, "current", 10.0),)))
    # All but the lowest stand above the battery: 16 A, of which 6 A charge it to 12.06 V.
    assert found.at_limit == (2, 3, 4, 5)
    assert found.blocked == (1,)
    assert found.supply_a[0] == pytest.approx(-6.0)


@_few
@given(
    st.lists(st.tuples(st.floats(10.0, 15.0), st.floats(0.0, 30.0)), min_size=1, max_size=6),
    st.lists(st.floats(0.0, 60.0), max_size=4),
)
def test_every_supply_does_what_it_may(sources, watts):
    supplies = (BATTERY, *(charger(limit_a, emf_v) for emf_v, limit_a in sources))
    found = operating_point(
        Network(2, (), supplies, tuple(Draw(1, 0, "power", each) for each in watts))
    )
    assert sum(found.supply_a) == pytest.approx(sum(found.draw_a), abs=1e-5)
    for supply, given_a in zip(supplies[1:], found.supply_a[1:], strict=True):
        own_a = (supply.emf_v - found.volts[1]) / supply.ohm
        assert given_a == pytest.approx(min(max(own_a, 0.0), supply.limit_a), abs=1e-4)


def most_spare_a(sources, amperes, watts):
    """The most current that is left over at any voltage of one bar; below 0 nothing serves all."""

    def spare(volts):
        given = sum(min(max((emf_v - volts) / 1e-4, 0.0), limit_a) for emf_v, limit_a in sources)
        return given - sum(amperes) - sum(watts) / volts

    corners = [emf_v - 1e-4 * limit_a for emf_v, limit_a in sources]
    return max(map(spare, corners))


@_few
@given(
    st.lists(st.tuples(st.floats(10.0, 15.0), st.floats(0.1, 30.0)), min_size=1, max_size=6),
    st.lists(st.floats(0.1, 20.0), max_size=3),
    st.lists(st.floats(1.0, 200.0), max_size=3),
)
@example([(10.0, 1.0), (11.0, 1.0), (12.0, 5.0)], [], [66.0])
def test_limited_supplies_alone(sources, amperes, watts):
    supplies = tuple(charger(limit_a, emf_v) for emf_v, limit_a in sources)
    draws = [Draw(1, 0, "current", each) for each in amperes]
    draws += [Draw(1, 0, "power", each) for each in watts]
    found = operating_point(Network(2, (), supplies, tuple(draws)))
    spare_a = most_spare_a(sources, amperes, watts)
    if spare_a > 1e-3:
        assert found.collapsed == ()
    elif spare_a < -1e-3:
        assert found.collapsed != ()
    assert sum(found.supply_a) == pytest.approx(sum(found.draw_a), abs=1e-4)
    for supply, given_a in zip(supplies, found.supply_a, strict=True):
        own_a = (supply.emf_v - found.volts[1]) / supply.ohm
        assert given_a == pytest.approx(min(max(own_a, 0.0), supply.limit_a), abs=1e-4)


def test_the_lower_of_two_chargers_helps_out():
    draws = (Draw(1, 0, "current", 15.0),)
    found = operating_point(Network(2, (), (charger(10.0), charger(10.0, 12.0)), draws))
    assert found.supply_a == pytest.approx((10.0, 5.0))
    assert found.volts[1] == pytest.approx(12.0, rel=1e-3)


def test_two_chargers_with_nothing_to_do():
    found = operating_point(Network(2, (), (charger(10.0), charger(10.0, 12.0))))
    assert found.supply_a == pytest.approx((0.0, 0.0), abs=1e-6)
    assert found.volts[1] == pytest.approx(14.0)


@pytest.mark.parametrize("emf_v", [12.0, 113e3, 1e5 / 3.0, 7e8])
def test_a_charger_with_nothing_on_it_stands_at_its_own_voltage(emf_v):
    found = operating_point(Network(2, (), (Supply(1, 0, emf_v, 1e-5, 45.0, one_way=True),)))
    assert found.volts == pytest.approx((0.0, emf_v))
    assert found.blocked == ()


def test_chargers_in_series_beside_a_higher_one_stay_held():
    # Both of 12 V would take; without both of them nothing would hold the middle.
    low = [Supply(plus, minus, 12.0, 1e-5, 45.0, one_way=True) for plus, minus in ((1, 0), (2, 1))]
    found = operating_point(Network(3, (), (*low, Supply(2, 0, 48.0, 1e-5, 45.0, one_way=True))))
    assert found.volts[2] == pytest.approx(48.0)
    assert found.volts[1] in (pytest.approx(12.0), pytest.approx(36.0))
    assert len(found.blocked) == 1
    assert found.supply_a == pytest.approx((0.0, 0.0, 0.0), abs=1e-6)


def _stiff(chance, nodes):
    """A tree from an open joint's resistance to a bar's, some rings in it, sources of all kinds."""

    def ohm():
        return 10.0 ** chance.uniform(-5.0, 7.0)

    pairs = [(node, chance.choice([node - 1, chance.randrange(node)])) for node in range(1, nodes)]
    pairs += [(chance.randrange(nodes), chance.randrange(nodes)) for _ in range(nodes // 20)]
    branches = tuple(Branch(one, two, ohm()) for one, two in pairs)
    supplies = tuple(
        Supply(*chance.sample(range(nodes), 2), chance.choice([12.6, 25.2, 50.4, 1e5]),
               chance.choice([1e-5, 0.01, 1.0]), chance.choice([math.inf, 45.0]),
               one_way=chance.random() < 0.7)
        for _ in range(chance.randrange(1, 5))
    )  # fmt: skip
    draws = tuple(
        Draw(*chance.sample(range(nodes), 2), chance.choice(["current", "power", "resistance"]),
             10.0 ** chance.uniform(-3.0, 3.0))
        for _ in range(chance.randrange(4))
    )  # fmt: skip
    return Network(nodes, branches, supplies, draws)


def _unbalanced_a(net, found):
    """The largest sum of currents at a node [A], and the largest current that has a part in it."""
    into, share = [0.0] * net.nodes, [0.0] * net.nodes
    flows = [(b.b, b.a, a) for b, a in zip(net.branches, found.branch_a, strict=True)]
    flows += [(s.plus, s.minus, a) for s, a in zip(net.supplies, found.supply_a, strict=True)]
    flows += [(d.minus, d.plus, a) for d, a in zip(net.draws, found.draw_a, strict=True)]
    for to, back, current_a in flows:
        into[to] += current_a
        into[back] -= current_a
        share[to] = max(share[to], abs(current_a))
        share[back] = max(share[back], abs(current_a))
    return max(map(abs, into)), max(share)


@_few
@given(st.randoms(use_true_random=False), st.integers(2, 40))
def test_stiff_networks_are_solved_and_keep_the_books(chance, nodes):
    net = _stiff(chance, nodes)
    found = operating_point(net)
    off_a, most_a = _unbalanced_a(net, found)
    # A current is a difference of voltages over a resistance: their last digit over the least one.
    assert off_a <= 1e-6 * most_a + 1e-15 * nodes * 1e5 / 1e-5


def test_ten_thousand_stiff_nodes_are_solved():
    net = _stiff(random.Random(0), 10_000)
    found = operating_point(net)
    off_a, most_a = _unbalanced_a(net, found)
    assert all(math.isfinite(volts) for volts in found.volts if volts is not None)
    assert off_a <= 1e-6 * most_a + 1e-15 * 1e5 / 1e-5


def test_a_converter_keeps_the_books():
    net = Network(
        4, (Branch(1, 2, 0.1),), (BATTERY, Supply(3, 0, 24.0, 1e-5, 5.0, one_way=True)),
        (Draw(2, 0, "power", 0.0), Draw(3, 0, "current", 3.0)), (Converter(0, 1, 0.9),),
    )  # fmt: skip
    found = operating_point(net)
    assert found.volts[2] * found.draw_a[0] * 0.9 == pytest.approx(3.0 * found.volts[3])


def test_a_chain_of_converters_wakes_up_one_after_the_other():
    net = Network(
        4, (), (Supply(2, 0, 24.0, 1e-5, one_way=True), BATTERY,
                Supply(3, 0, 5.0, 1e-5, one_way=True)),
        (Draw(2, 0, "power", 0.0), Draw(1, 0, "power", 0.0), Draw(3, 0, "current", 2.0)),
        (Converter(0, 2, 0.8), Converter(1, 0, 0.9)),
    )  # fmt: skip
    found = operating_point(net)
    assert found.volts[3] == pytest.approx(5.0, rel=1e-4)
    watts = found.volts[1] * found.draw_a[1]
    assert watts == pytest.approx(10.0 / 0.8 / 0.9, rel=1e-4)


def test_a_converter_whose_input_gives_way_gives_nothing():
    net = Network(
        4, (Branch(1, 2, 1.0),), (BATTERY, Supply(3, 0, 24.0, 1e-5, one_way=True)),
        (Draw(2, 0, "power", 0.0), Draw(3, 0, "power", 100.0)), (Converter(0, 1, 0.9),),
    )  # fmt: skip
    found = operating_point(net)
    assert found.supply_a[1] == 0.0
    assert found.volts[3] is None
    assert found.draw_a == (0.0, 0.0)
    assert found.collapsed == (0,)
    assert 1 in found.unserved


@_few
@given(st.floats(3.0, 8.0))
def test_a_converter_that_gives_next_to_nothing_settles(decade):
    # From 52.736 V to 14.464 V with one minus for both; a load behind a joint that is open.
    ohm = 10.0**decade
    wires = (Branch(0, 1, 1e-3), Branch(2, 3, 1e-3), Branch(4, 5, ohm), Branch(6, 3, 4e-3))
    supplies = (Supply(0, 2, 52.736, 0.017), Supply(4, 3, 14.464, 1e-5, 30.0, one_way=True))
    draws = (Draw(1, 3, "current", 8.5), Draw(5, 6, "resistance", 13.65))
    found = operating_point(Network(7, wires, supplies, draws, (Converter(0, 1, 0.88),)))
    assert found.collapsed == ()
    assert found.volts[4] - found.volts[3] == pytest.approx(14.464)
    assert found.draw_a[1] == pytest.approx(14.464 / (ohm + 13.65), rel=1e-3)


def test_two_converters_that_feed_each_other_and_do_not_settle_are_left_out():
    """No exception: both are named, and the rest is as it is without them."""
    loop = Network(
        3, (),
        (Supply(1, 0, 12.0, 0.1), Supply(2, 0, 10.5, 0.01, 20.0, one_way=True),
         Supply(1, 0, 12.8, 0.1, 34.0, one_way=True)),
        (Draw(1, 0, "power", 0.0), Draw(2, 0, "power", 0.0), Draw(2, 0, "resistance", 36.0),
         Draw(1, 0, "power", 60.0)),
        (Converter(0, 1, 1.0), Converter(1, 2, 0.9)),
    )  # fmt: skip
    found = operating_point(loop)
    assert found.collapsed == (0, 1)
    assert found.supply_a[1:] == (0.0, 0.0)
    alone = operating_point(
        Network(2, (), (Supply(1, 0, 12.0, 0.1),), (Draw(1, 0, "power", 60.0),))
    )
    assert found.volts[1] == pytest.approx(alone.volts[1])
    assert found.draw_a[3] == pytest.approx(alone.draw_a[0])


@_few
@given(seed=st.integers(0, 10**6))
def test_converters_in_a_loop_always_end(seed):
    """Either both keep the books, or they are named; a network is never left without an answer."""
    pick = random.Random(seed)
    supplies = (
        Supply(1, 0, 12.0, pick.choice([0.01, 0.1, 0.5])),
        Supply(2, 0, pick.uniform(10.0, 30.0), 0.01, pick.uniform(1.0, 50.0), one_way=True),
        Supply(1, 0, pick.uniform(10.0, 15.0), 0.1, pick.uniform(1.0, 50.0), one_way=True),
    )
    kinds = ["power", "current", "resistance"]
    draws = (
        Draw(1, 0, "power", 0.0), Draw(2, 0, "power", 0.0),
        Draw(2, 0, pick.choice(kinds), pick.uniform(1.0, 200.0)),
        Draw(1, 0, pick.choice(kinds), pick.uniform(1.0, 200.0)),
    )  # fmt: skip
    pair = (Converter(0, 1, 0.9), Converter(1, 2, pick.choice([1.0, 0.5])))
    found = operating_point(Network(3, (), supplies, draws, pair))
    for one in pair:
        supply = supplies[one.supply]
        given_w = (found.volts[supply.plus] or 0.0) * found.supply_a[one.supply]
        drawn_w = (found.volts[draws[one.draw].plus] or 0.0) * found.draw_a[one.draw]
        assert drawn_w * one.efficiency == pytest.approx(given_w, rel=1e-6, abs=1e-6)
        assert one.draw not in found.collapsed or given_w == 0.0


def test_where_no_state_of_the_supplies_settles_the_point_is_that_without_load(monkeypatch):
    """The last resort of a search that gives up: every load is named as left out."""
    monkeypatch.setattr(island.Solver, "_newton", lambda *_: False)
    found = operating_point(Network(2, (), (BATTERY,), (Draw(1, 0, "current", 3.0),)))
    assert found.collapsed == (0,)
    assert found.volts == (0.0, 12.0)


def test_two_batteries_with_the_middle_as_datum():
    pair = (Supply(1, 0, 12.0, 0.1), Supply(0, 2, 12.0, 0.3))
    found = operating_point(Network(3, (), pair, (Draw(1, 2, "resistance", 23.6),)))
    # 24 V behind 0.4 ohm into 23.6 ohm: 1 A.
    assert found.supply_a == pytest.approx((1.0, 1.0))
    assert found.volts == pytest.approx((0.0, 11.9, -11.7))


def test_a_resistance_that_is_bridged_carries_nothing():
    bridged = (Branch(1, 2, 0.0), Branch(1, 2, 5.0))
    found = operating_point(Network(3, bridged, (BATTERY,), (Draw(2, 0, "current", 4.0),)))
    assert found.branch_a == pytest.approx((4.0, 0.0))


@pytest.mark.parametrize(
    "net",
    [
        Network(2, (), (Supply(1, 0, 12.0, 0.0),)),
        Network(2, (), (BATTERY,), (Draw(1, 0, "resistance", 0.0),)),
    ],
)
def test_no_resistance_is_not_taken(net):
    with pytest.raises(ValueError, match="not above 0"):
        operating_point(net)


def _loaded(chance):
    """A tree with rings, sources of all kinds at its nodes, loads between these and one minus."""
    nodes = chance.randint(3, 14)
    pairs = [(node, chance.randrange(node)) for node in range(1, nodes)]
    pairs += [(chance.randrange(nodes), chance.randrange(nodes)) for _ in range(2)]
    branches = tuple(Branch(a, b, 10.0 ** chance.uniform(-3.0, -1.0)) for a, b in pairs)
    supplies = tuple(
        Supply(chance.randrange(1, nodes), 0, chance.choice([12.2, 12.6, 13.2, 14.4]),
               chance.choice([0.005, 0.02, 0.1]), chance.choice([math.inf, 10.0, 30.0, 70.0]),
               one_way=chance.random() < 0.5)
        for _ in range(chance.randint(1, 4))
    )  # fmt: skip
    draws = tuple(
        Draw(chance.randrange(1, nodes), 0, chance.choice(["power", "power", "current"]),
             10.0 ** chance.uniform(-1.0, 2.3))
        for _ in range(chance.randint(1, 5))
    )  # fmt: skip
    return Network(nodes, branches, supplies, draws)


@_few
@given(st.randoms(use_true_random=False))
def test_a_network_solved_again_for_other_watts_is_as_if_solved_for_these_alone(chance):
    net = _loaded(chance)
    whole = nodal._Whole(net, frozenset())
    for _ in range(3):
        draws = tuple(
            replace(one, value=one.value * chance.choice([0.0, 0.3, 0.8, 1.0, 1.05, 1.5]))
            if one.kind == "power" else one
            for one in net.draws
        )  # fmt: skip
        again, alone = whole.point(draws), operating_point(replace(net, draws=draws))
        assert (again.collapsed, again.unserved) == (alone.collapsed, alone.unserved)
        assert again.volts == pytest.approx(alone.volts, rel=1e-7)
