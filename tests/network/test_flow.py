"""The largest flow and the peel of dead ends, against networkx on graphs made up."""

import math
import random

import networkx as nx
import pytest
from hypothesis import given, settings, strategies as st

from rigfolio.network import START, dead_ends, largest_flow

FEW = settings(max_examples=150, derandomize=True, deadline=None, database=None)


class Graph:
    """Joints with a rating in both senses, sources with a limit, one goal, all made up."""

    def __init__(self, seed: int) -> None:
        self.any = random.Random(seed)
        self.nodes = range(self.any.randint(2, 9))
        count = self.any.randint(1, 16)
        self.joints = [
            (number, *self.any.sample(self.nodes, 2), float(self.any.randint(0, 12)))
            for number in range(count)
        ]
        self.sources = [
            (f"s{number}", self.any.choice(self.nodes), float(self.any.randint(0, 20)))
            for number in range(self.any.randint(1, 4))
        ]
        self.goal = 0

    def ways_in(self, node):
        for name, at, limit in self.sources:
            if at == node:
                yield name, 1, START, limit
        for number, one, two, rating in self.joints:
            if two == node:
                yield number, 1, one, rating
            if one == node:
                yield number, -1, two, rating

    def oracle(self) -> float:
        graph = nx.DiGraph()
        graph.add_nodes_from([*self.nodes, START])
        for one, two, rating in (
            *((one, two, r) for _, one, two, r in self.joints),
            *((two, one, r) for _, one, two, r in self.joints),
            *((START, at, limit) for _, at, limit in self.sources),
        ):
            known = graph.get_edge_data(one, two, {"capacity": 0.0})["capacity"]
            graph.add_edge(one, two, capacity=known + rating)
        return nx.maximum_flow_value(graph, START, self.goal)


@FEW
@given(st.integers(0, 10**6))
def test_the_largest_flow_is_what_networkx_finds(seed: int) -> None:
    graph = Graph(seed)
    whole = sum(limit for _, _, limit in graph.sources)
    for hints in ({}, {"most": whole, "starts": len(graph.sources)}):
        flow = largest_flow(graph.goal, graph.ways_in, **hints)
        assert flow.amount == pytest.approx(graph.oracle(), abs=1e-9)


@FEW
@given(st.integers(0, 10**6))
def test_the_cut_lets_through_what_flows_and_is_the_nearest(seed: int) -> None:
    graph = Graph(seed)
    flow = largest_flow(graph.goal, graph.ways_in)
    inside = set(flow.inside)
    assert graph.goal in inside
    crossing = 0.0
    for node in inside:
        for name, sense, tail, most in graph.ways_in(node):
            assert abs(flow.through.get(name, 0.0)) <= most + 1e-9
            if tail not in inside:
                crossing += most
                assert sense * flow.through.get(name, 0.0) == pytest.approx(most, abs=1e-9)
    assert crossing == pytest.approx(flow.amount, abs=1e-9)
    # Of all equal cuts it is the nearest: from each node of it more could still come to the goal.
    for node in inside - {graph.goal}:
        graph.sources.append(("more", node, 1.0))
        assert graph.oracle() > flow.amount + 1e-9
        graph.sources.pop()


@FEW
@given(st.integers(0, 10**6))
def test_what_runs_through_adds_up_at_every_node(seed: int) -> None:
    graph = Graph(seed)
    flow = largest_flow(graph.goal, graph.ways_in)
    for node in graph.nodes:
        into = sum(
            sense * flow.through.get(name, 0.0) for name, sense, _, _ in graph.ways_in(node)
        )  # fmt: skip
        assert into == pytest.approx(flow.amount if node == graph.goal else 0.0, abs=1e-9)


def test_a_way_without_limit_is_told_as_such() -> None:
    flow = largest_flow("goal", lambda node: [("b", 1, START, math.inf)] if node == "goal" else [])
    assert math.isinf(flow.amount)


@FEW
@given(st.integers(0, 10**6))
def test_what_is_left_when_dead_ends_are_off_is_the_two_core(seed: int) -> None:
    graph = Graph(seed)
    steps: dict[int, list[tuple[int, int]]] = {node: [] for node in graph.nodes}
    for number, one, two, _ in graph.joints:
        steps[one].append((number, two))
        steps[two].append((number, one))
    off = dead_ends(steps)
    # A node between two edges of one pair is no dead end, which a simple graph cannot tell: so
    # each edge is halved by a node of its own.
    halved = nx.Graph()
    halved.add_nodes_from(graph.nodes)
    for number, one, two, _ in graph.joints:
        halved.add_edges_from([(one, f"h{number}"), (f"h{number}", two)])
    core = set(nx.k_core(halved, 2).nodes)
    left = {node for node in graph.nodes if node not in off and any(
        there not in off for _, there in steps[node])}  # fmt: skip
    assert left == {node for node in graph.nodes if node in core}
    for node, (number, there) in off.items():
        assert (number, there) in steps[node]


@FEW
@given(st.integers(0, 10**6), st.integers(0, 8))
def test_a_place_that_is_kept_stays_and_all_behind_it(seed: int, kept: int) -> None:
    graph = Graph(seed)
    steps: dict[int, list[tuple[int, int]]] = {node: [] for node in graph.nodes}
    for number, one, two, _ in graph.joints:
        steps[one].append((number, two))
        steps[two].append((number, one))
    off = dead_ends(steps, [kept])
    assert kept not in off
    for node in off:
        # The steps of what was taken off never lead round.
        seen, here = set(), node
        while here in off:
            assert here not in seen
            seen.add(here)
            here = off[here][1]


@pytest.mark.parametrize("count", [10, 1000])
def test_as_many_ways_side_by_side_as_there_are_take_no_more_walks(count):
    # A bar feeds many panels, each by a fuse and a pair of slots, and all of them are the goal.
    asked = 0

    def ways_in(node):
        nonlocal asked
        asked += 1
        if node == "goal":
            return [(("slot", panel, slot), 1, panel, 20.0) for panel in range(count)
                    for slot in range(2)]  # fmt: skip
        if node == "bar":
            return [("battery", 1, START, 1e9)]
        return [(("feed", node), 1, "bar", 30.0)]

    flow = largest_flow("goal", ways_in)
    assert flow.amount == 30.0 * count
    assert set(flow.inside) == {"goal", *range(count)}
    assert asked <= 3 * (count + 2)
