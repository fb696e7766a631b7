"""Which of several switches that rest open may stay so while a place is fed."""

import networkx as nx
from hypothesis import given, strategies as st

from helpers.studies import study_from
from rigfolio.model import Conductor, Device
from rigfolio.network import edge_name, ends, ways_to_close

HEAD = """rig "Bench"
    system 12 V
battery B1 agm, 100 Ah
busbar N1 100 A
wire B1- to N1 35 mm2 black 1 m
"""


def _mesh(pairs: list[tuple[int, int, bool]]) -> tuple[list[Conductor | Device], frozenset[str]]:
    """Edges between posts 0 to 4, each a switch that rests open or a wire."""
    lines = [f"busbar D{post} 100 A" for post in range(5)]
    for number, (one, two, is_switch) in enumerate(pairs):
        if is_switch:
            lines += [f"switch S{number} 10 A, rests open"]
            lines += [f"wire D{one} to S{number}.line 2.5 mm2 red 1 m"]
            lines += [f"wire S{number}.load to D{two} 2.5 mm2 red 1 m"]
        else:
            lines += [f"wire D{one} to D{two} 2.5 mm2 red 1 m"]
    rig = study_from(HEAD + "\n".join(lines) + "\n").rig
    edges = [*rig.conductors, *rig.devices]
    return edges, frozenset(edge_name(one) for one in rig.devices)


def _joined(edges: list[Conductor | Device], left_open: frozenset[str]) -> bool:
    graph = nx.MultiGraph()
    graph.add_nodes_from(["D0", "D4"])
    graph.add_edges_from(ends(one) for one in edges if edge_name(one) not in left_open)
    return nx.has_path(graph, "D0", "D4")


POSTS = st.tuples(st.integers(0, 4), st.integers(0, 4), st.booleans()).filter(
    lambda one: one[0] != one[1]
)


@given(st.lists(POSTS, min_size=1, max_size=7))
def test_every_choice_feeds_and_needs_each_of_its_switches(pairs):
    edges, waits = _mesh(pairs)
    choices = ways_to_close(edges, "D0", "D4", waits)
    assert bool(choices) == _joined(edges, frozenset())
    if _joined(edges, waits):
        assert choices == (waits,)
        return
    for left_open in choices:
        assert _joined(edges, left_open)
    # A switch that feeds with no other closed is a choice by itself.
    for one in waits:
        if _joined(edges, waits - {one}):
            assert waits - {one} in choices
