"""What charges, by direction: against the two sides that are left where a link is taken out.

Of a rig without loops every wire and device is a bridge. With it taken out, only sources on one
side can drive through it towards the batteries on the other; networkx finds the sides.
"""

import networkx as nx
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


@settings(settings.get_profile("study"))
@given(rig=banks())
def test_through_a_link_flows_what_stands_on_one_side_of_it(study_of, rig):
    parents, links, _, batteries, chargers = rig
    flows = flows_of(study_of(written(rig)))
    tree = nx.Graph([(parent, number + 1) for number, parent in enumerate(parents)])
    for number, (parent, link) in enumerate(zip(parents, links, strict=True)):
        tree.remove_edge(parent, number + 1)
        sides = [nx.node_connected_component(tree, end) for end in (parent, number + 1)]
        tree.add_edge(parent, number + 1)
        by_hand = 0.0
        for here, there in (sides, sides[::-1]):
            if there.intersection(batteries):
                by_hand = max(by_hand, together([one for one in chargers if one[0] in here]))
        assert flows.charge_a(f"T{number}") == pytest.approx(by_hand)
        if link == "combiner":
            assert flows.demand(f"Q{number}").charge_a == pytest.approx(by_hand)
    for number in range(len(batteries)):
        # All of it may end in one battery.
        assert flows.charge_a(f"M{number}") == pytest.approx(together(chargers))


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
