"""What can flow into a conductor, against every possible cut of small random networks.

The largest flow equals the narrowest cut (Ford and Fulkerson, 1956; from memory). Here every set of
nodes around the end is tried, which needs no search for a flow at all.
"""

import math
from itertools import combinations

import pytest
from hypothesis import given, settings, strategies as st

from helpers.studies import study_from
from rigfolio.protection.inflow import reach_of

NODES = 6
PAIRS = list(combinations(range(NODES), 2))


@st.composite
def networks(draw):
    """Bars joined by wires and fuses, with batteries and chargers on some of them.

    A panel that only keeps a battery full gives half an ampere; an instrument has a fuse as small.
    """
    pairs = draw(st.lists(st.sampled_from(PAIRS), min_size=3, max_size=9))
    fuses = draw(st.lists(st.sampled_from([0, 0, 0.5, 5, 10, 15, 20, 40]), min_size=len(pairs),
                          max_size=len(pairs)))  # fmt: skip
    places = st.integers(0, NODES - 1)
    batteries = draw(st.lists(places, max_size=2, unique=True))
    chargers = draw(st.lists(st.tuples(places, st.sampled_from([0.6, 8, 20, 30])), max_size=2))
    return list(zip(pairs, fuses, strict=True)), batteries, chargers


def written(network):
    """The text of a network; every bar has a number."""
    edges, batteries, chargers = network
    lines = ['rig "Net"', "    rules rv", "busbar N1"]
    lines += [f"splice Z{node}" for node in range(NODES)]
    for number, ((one, two), fuse) in enumerate(edges):
        ends = f"Z{one} to Z{two} 10 AWG red 1 ft tag T{number}"
        lines.append(f"wire {ends}" + (f", fuse {fuse} A at Z{one}" if fuse else ""))
    for number, node in enumerate(batteries):
        lines += [f"battery B{number} 100 Ah", f"wire B{number}+ to Z{node} 10 AWG red 1 ft",
                  f"wire B{number}- to N1 10 AWG white 1 ft"]  # fmt: skip
    for number, (node, limit) in enumerate(chargers):
        lines += [f"charger C{number} {limit} A", f"wire C{number}+ to Z{node} 10 AWG red 1 ft",
                  f"wire C{number}- to N1 10 AWG white 1 ft"]  # fmt: skip
    return "\n".join(lines) + "\n"


def narrowest(network, without, end):
    """The narrowest cut around a bar with one edge taken out, by trying every set of bars."""
    edges, batteries, chargers = network
    kept = [edge for number, edge in enumerate(edges) if number != without]
    others = [node for node in range(NODES) if node != end]
    least = math.inf
    for size in range(len(others) + 1):
        for more in combinations(others, size):
            inside = {end, *more}
            if inside.intersection(batteries):
                continue
            crossing = [fuse for (one, two), fuse in kept if (one in inside) != (two in inside)]
            if 0 in crossing:
                continue
            width = sum(crossing) + sum(limit for node, limit in chargers if node in inside)
            least = min(least, width)
    return least


@settings(settings.get_profile("study"))
@given(network=networks())
def test_inflow_is_the_narrowest_cut(study_of, network):
    edges, _, _ = network
    study = study_of(written(network))
    wires = {wire.name: wire for wire in study.rig.conductors}
    for number, ((one, two), fuse) in enumerate(edges):
        if fuse:
            continue
        near, far = reach_of(study).inflows(wires[f"T{number}"])
        assert near.current_a == pytest.approx(narrowest(network, number, one))
        assert far.current_a == pytest.approx(narrowest(network, number, two))


@settings(settings.get_profile("study"))
@given(network=networks())
def test_what_is_named_adds_up_to_what_flows(study_of, network):
    edges, _, _ = network
    study = study_of(written(network))
    wires = {wire.name: wire for wire in study.rig.conductors}
    for number, (_, fuse) in enumerate(edges):
        for inflow in () if fuse else reach_of(study).inflows(wires[f"T{number}"]):
            amounts = [getattr(one, "rating_a", getattr(one, "limit_a", None)) for one in inflow.by]
            if math.isinf(inflow.current_a):
                assert amounts
                assert set(amounts) == {None}
            else:
                assert sum(amounts) == pytest.approx(inflow.current_a)


def test_of_equal_cuts_the_nearest_is_named(study_of):
    study = study_of("""rig "Row"
    rules rv
battery B1 100 Ah
fuse F1 20 A
fuse F2 20 A
splice Z1
wire B1+ to F1 10 AWG red 1 ft
wire F1 to F2 10 AWG red 1 ft
wire F2 to Z1 10 AWG red 1 ft
""")
    wire = next(wire for wire in study.rig.conductors if wire.b == "Z1")
    inflow = reach_of(study).inflows(wire)[0]
    assert inflow.current_a == 20.0
    assert [one.about.name for one in inflow.by] == ["F2"]


def test_an_unknown_rating_is_marked(study_of):
    study = study_of("""rig "Row"
    rules rv
battery B1 100 Ah
splice Z1
splice Z2
wire B1+ to Z1 10 AWG red 1 ft, fuse ? A at B1+
wire Z1 to Z2 10 AWG red 1 ft
""")
    wire = next(wire for wire in study.rig.conductors if wire.b == "Z2")
    inflow = reach_of(study).inflows(wire)[0]
    assert inflow.current_a == 0.0
    assert inflow.maybe


def test_it_comes_in_only_where_something_drives(study_of):
    # F1 brings 30 A to one end of the bar, and what a fuse lets through that nobody has
    # read is not counted.
    study = study_of("""rig "Bar"
    rules rv
battery B1 100 Ah
battery B2 100 Ah
fuse F1 30 A on B1+
fuse F2 ? A on B2+
splice Z1
splice Z2
wire F1.load to Z1 10 AWG red 1 ft
wire F2.load to Z1 10 AWG red 1 ft
wire Z1 to Z2 10 AWG red 1 ft
""")
    wire = next(wire for wire in study.rig.conductors if {wire.a, wire.b} == {"Z1", "Z2"})
    inflow = reach_of(study).inflows(wire)[0]
    assert (inflow.current_a, inflow.at) == (30.0, ("F1.load",))
    assert [one.about.name for one in inflow.by] == ["F1"]


TWO_OUTPUTS = """rig "Two"
    rules rv
charger C1 20 A, two outputs
charger C2 8 A
splice Z1
splice Z2
busbar N1
load L1 "Lamp" 1 A
wire C1.1 to Z1 10 AWG red 1 ft tag W1
wire C1.2 to Z1 10 AWG red 1 ft tag W2
wire C2+ to Z1 10 AWG red 1 ft tag W3
wire Z1 to Z2 10 AWG red 1 ft tag W4
wire Z2 to L1+ 10 AWG red 1 ft tag W5
wire L1- to N1 10 AWG white 1 ft
wire C1- to N1 10 AWG white 1 ft
wire C2- to N1 10 AWG white 1 ft
"""


def test_two_outputs_of_one_charger_drive_its_output_once():
    # 20 A by either output or both, and 8 A of the other charger: 28 A, never 48 A.
    study = study_from(TWO_OUTPUTS)
    into = {
        name: [one.current_a for one in reach_of(study).inflows(study.rig.conductor(name))]
        for name in ("W1", "W4")
    }
    assert into == {"W1": [20.0, 28.0], "W4": [28.0, 0.0]}


ROW = """rig "Row"
    rules rv
battery B1 100 Ah
fuse F1 100 A on B1+
fuse F2 {} A
splice Z1
splice Z2
load M1 "Lamp" 1 A
wire F1.load to Z1 10 AWG red 1 ft
wire Z1 to Z2 10 AWG red 1 ft tag T1
"""


def test_a_fuse_that_only_leads_to_a_load_lets_nothing_in_whatever_its_rating():
    # F2 has not been read, and nothing drives from behind it: all is known of what comes in.
    lamp = "wire Z2 to F2.line 10 AWG red 1 ft\nwire F2.load to M1+ 10 AWG red 1 ft\n"
    study = study_from(ROW.format("?") + lamp)
    near, far = reach_of(study).inflows(study.rig.conductor("T1"))
    assert (near.current_a, near.maybe, far.current_a, far.maybe) == (100.0, False, 0.0, False)


def test_a_fuse_beside_a_wire_feeds_the_far_end_of_it_with_no_more_than_its_rating():
    # 100 A come to Z1. With the wire taken out what comes to Z2 comes by F2.
    beside = "wire Z1 to F2.line 10 AWG red 1 ft\nwire F2.load to Z2 10 AWG red 1 ft\n"
    lamp = "wire Z2 to M1+ 10 AWG red 1 ft tag T2\n"
    study = study_from(ROW.format(30) + beside + lamp)
    near, far = reach_of(study).inflows(study.rig.conductor("T1"))
    assert (near.current_a, far.current_a) == (100.0, 30.0)
    assert [one.about.name for one in far.by] == ["F2"]
    assert reach_of(study).inflows(study.rig.conductor("T2"))[0].current_a == 100.0
