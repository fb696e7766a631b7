"""What charges, by direction: against the two sides that are left where a link is taken out.

Of a rig without loops every wire and device is a bridge. With it taken out, only sources on one
side can drive through it towards the batteries on the other; networkx finds the sides. Batteries
that wires join take it together, each by its way and its inside; numpy solves that.
"""

from itertools import pairwise

import networkx as nx
import numpy as np
import pytest
from hypothesis import given, settings, strategies as st

from helpers.studies import numbered_study
from rigfolio.demand.flows import flows_of


@pytest.fixture(scope="session")
def study_of():
    """Reads a text; its wires are called W1, W2, ... in their order."""
    return numbered_study


KINDS = {"charger": "C", "solar": "U", "alternator": "A"}


@st.composite
def banks(draw):
    """A tree of bars joined by fuses and combiners, with batteries and what charges on them."""
    count = draw(st.integers(2, 6))
    parents = [draw(st.integers(0, node - 1)) for node in range(1, count)]
    links = draw(st.lists(st.sampled_from(["wire", "combiner"]), min_size=count - 1,
                          max_size=count - 1))  # fmt: skip
    turned = draw(st.lists(st.booleans(), min_size=count - 1, max_size=count - 1))
    place = st.integers(0, count - 1)
    batteries = draw(st.lists(place, min_size=1, max_size=4))
    one = st.tuples(place, st.sampled_from(sorted(KINDS)), st.sampled_from([10, 20, 35, 80]))
    return parents, links, turned, batteries, draw(st.lists(one, max_size=5))


def written(rig):
    """The text of a rig; link n joins bar n + 1 to its parent."""
    parents, links, turned, batteries, chargers = rig
    lines = ['rig "Banks"', "    system 12 V", "    rules boat", "busbar N1"]
    lines += [f"busbar D{node}" for node in range(len(parents) + 1)]
    for number, (parent, link, turn) in enumerate(zip(parents, links, turned, strict=True)):
        one, two = (number + 1, parent) if turn else (parent, number + 1)
        if link == "wire":
            lines.append(f"wire D{one} to D{two} 2/0 AWG red 2 ft tag T{number}")
            continue
        lines += [f"combiner Q{number} 300 A",
                  f"wire D{one} to Q{number}.1 2/0 AWG red 1 ft tag T{number}",
                  f"wire Q{number}.2 to D{two} 2/0 AWG red 1 ft"]  # fmt: skip
    for number, node in enumerate(batteries):
        lines += [f"battery B{number} agm, 100 Ah", f"wire B{number}+ to D{node} 2/0 AWG red 1 ft",
                  f"wire B{number}- to N1 2/0 AWG black 1 ft tag M{number}"]  # fmt: skip
    for number, (node, kind, limit) in enumerate(chargers):
        name = f"{KINDS[kind]}{number}"
        lines += [f"{kind} {name} {limit} A", f"wire {name}+ to D{node} 2 AWG red 1 ft",
                  f"wire {name}- to N1 2 AWG black 1 ft"]  # fmt: skip
    return "\n".join(lines) + "\n"


def together(chargers):
    """Sun on top of the more of shore and engine [A]."""
    most = {kind: sum(a for _, own, a in chargers if own == kind) for kind in KINDS}
    return most["solar"] + max(most["charger"], most["alternator"])


# Milliohms of one foot of 2/0 AWG at 30 °C by its circular mils (133,100; copper of 10.371 ohm a
# circular mil-foot at 20 °C, from memory), and the least inside 100 Ah of AGM.
FOOT, INSIDE = 0.0810, 3.15


def taken(nodes, links, batteries, entry):
    """What 1 A into a bar puts on each link from its first bar on, and into each battery [-]."""
    # One more node is the minus bar.
    place = {node: number for number, node in enumerate(nodes)}
    branches = [(place[one], place[two], 2 * FOOT) for one, two in links]
    branches += [(place[node], len(place), INSIDE + 2 * FOOT) for node in batteries]
    laplacian = np.zeros((len(place) + 1, len(place) + 1))
    for one, two, ohm in branches:
        laplacian[[one, two], [one, two]] += 1.0 / ohm
        laplacian[[one, two], [two, one]] -= 1.0 / ohm
    right = np.zeros(len(place))
    right[place[entry]] = 1.0
    volts = np.append(np.linalg.solve(laplacian[:-1, :-1], right), 0.0)
    return [(volts[one] - volts[two]) / ohm for one, two, ohm in branches]


def shared(rig):
    """The most on each link one way and the other, and into each battery, as lists of chargers."""
    parents, links, _, batteries, chargers = rig
    pairs = [(parent, number + 1) for number, parent in enumerate(parents)]
    tree, wired = nx.Graph(pairs), nx.empty_graph(len(parents) + 1)
    wired.add_edges_from(pair for pair, link in zip(pairs, links, strict=True) if link == "wire")
    ahead = [[0.0] * len(chargers) for _ in pairs]
    against = [[0.0] * len(chargers) for _ in pairs]
    into = [[0.0] * len(chargers) for _ in batteries]
    for group in nx.connected_components(wired):
        own = [number for number, node in enumerate(batteries) if node in group]
        inner = [n for n, pair in enumerate(pairs) if wired.has_edge(*pair) and pair[0] in group]
        for place, (node, _, limit) in enumerate(chargers) if own else ():
            way = nx.shortest_path(tree, node, min(group))
            entry = next(step for step in way if step in group)
            parts = taken(
                sorted(group), [pairs[n] for n in inner], [batteries[n] for n in own], entry
            )
            for number, part in zip(inner, parts, strict=False):
                ahead[number][place] = max(ahead[number][place], part * limit)
                against[number][place] = max(against[number][place], -part * limit)
            for number, part in zip(own, parts[len(inner) :], strict=True):
                into[number][place] = part * limit
            for one, two in pairwise(way[: way.index(entry) + 1]):
                side = ahead if (one, two) in pairs else against
                number = pairs.index((one, two) if (one, two) in pairs else (two, one))
                side[number][place] = limit
    return ahead, against, into


@settings(settings.get_profile("study"))
@given(rig=banks())
def test_through_a_link_flows_what_stands_on_one_side_of_it(study_of, rig):
    _, links, _, batteries, chargers = rig
    flows = flows_of(study_of(written(rig)))

    def most(amounts):
        held = [(0, kind, a) for (_, kind, _), a in zip(chargers, amounts, strict=True)]
        return together(held)

    def close(amount):
        return pytest.approx(amount, rel=0.01, abs=0.01)

    ahead, against, into = shared(rig)
    for number, link in enumerate(links):
        by_hand = max(most(ahead[number]), most(against[number]))
        assert flows.charge_a(f"T{number}") == close(by_hand)
        if link == "combiner":
            assert flows.demand(f"Q{number}").charge_a == close(by_hand)
    for number in range(len(batteries)):
        assert flows.charge_a(f"M{number}") == close(most(into[number]))


PAIR = """rig "Pair"
    system 24 V
    rules boat
battery B1 agm, 100 Ah
battery B2 agm, 100 Ah
battery B3 agm, 300 Ah
alternator A1 80 A
alternator A2 80 A
combiner K1 160 A
combiner K2 160 A
busbar N1
wire A1+ to B1+ 2 AWG red 2 ft
wire A2+ to B2+ 2 AWG red 2 ft
wire A1- to N1 2 AWG black 2 ft
wire A2- to N1 2 AWG black 2 ft
wire B1+ to K1 2 AWG red 2 ft
wire K1 to B3+ 2 AWG red 2 ft
wire B2+ to K2 2 AWG red 2 ft
wire K2 to B3+ 2 AWG red 2 ft
wire B1- to N1 1/0 AWG black 2 ft
wire B2- to N1 1/0 AWG black 2 ft
wire B3- to N1 1/0 AWG black 2 ft
"""
ACROSS = """switch X1 400 A
wire B1+ to X1 2/0 AWG red 2 ft
wire X1 to B2+ 2/0 AWG red 2 ft
"""


def test_both_reach_the_battery_between_them_by_a_link_each(study_of):
    flows = flows_of(study_of(PAIR))
    assert flows.demand("K1").charge_a == pytest.approx(80.0)
    assert flows.charges["K1"].sources in (("A1",), ("A2",))
    assert flows.charge_a("W9") == pytest.approx(160.0)


def test_by_a_switch_across_both_may_come_by_one_link(study_of):
    # With K2 open A1 and A2 reach B3 by K1 alone.
    assert flows_of(study_of(PAIR + ACROSS)).demand("K1").charge_a == pytest.approx(160.0)


def test_a_switch_that_no_state_closes_is_not_charged_through(study_of):
    open_both = "state sea X1 open, A1 on\nstate moored X1 open, A1 off\n"
    assert flows_of(study_of(PAIR + ACROSS + open_both)).demand("K1").charge_a == 80.0
    # A text that names nothing but storage does not tell what is closed in use.
    stored = "state stored X1 open, A1 off, A2 off\n"
    assert flows_of(study_of(PAIR + ACROSS + stored)).demand("K1").charge_a == pytest.approx(160.0)


def test_a_converter_of_half_the_volts_charges_nothing(study_of):
    # Bridged onto 24 V by mistake: its 20 A are not on top of what the alternators drive.
    more = "dc-dc D1 20 A, from 24 V to 12 V\nwire D1.out to B1+ 10 AWG red 2 ft\n"
    more += "wire D1.in to B3+ 10 AWG red 2 ft\nwire D1- to N1 10 AWG black 2 ft\n"
    flows = flows_of(study_of(PAIR + more))
    assert flows.demand("K1").charge_a == pytest.approx(80.0)
    assert flows.charge_a("W15") == 0.0
