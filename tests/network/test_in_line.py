"""A way is followed as far as nothing else is joined to it, and a ring once round."""

import pytest
from hypothesis import given, strategies as st

from helpers.studies import study_from
from rigfolio.network import in_line

HEAD = 'rig "T"\n    system 12 V\n    rules rv\nbattery B1 100 Ah\nload L1 "Lamp" 1 A\n'


def names(text: str, start: str) -> list[list[str]]:
    net = study_from(HEAD + text).net
    return [[edge.name for edge, _ in in_line(net, step)] for step in net.steps(start)]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        # By hand: with a finger from B1+, stopping where a third wire lands.
        ("splice Z1\nwire W1 B1+ to Z1 6 AWG 1 ft\nwire W2 Z1 to L1+ 6 AWG 1 ft\n", ["W1", "W2"]),
        (
            "splice Z1\nwire W1 B1+ to Z1 6 AWG 1 ft\nwire W2 Z1 to L1+ 6 AWG 1 ft\n"
            "busbar D1\nwire W3 Z1 to D1 6 AWG 1 ft\n",
            ["W1"],
        ),
    ],
)
def test_as_far_as_nothing_else_is_joined(text: str, expected: list[str]) -> None:
    assert names(text, "B1+") == [expected]


def test_a_ring_is_gone_round_once() -> None:
    text = (
        "splice Z1\nsplice Z2\nwire W1 B1+ to Z1 6 AWG 1 ft\nwire W2 Z1 to Z2 6 AWG 1 ft\n"
        "wire W3 Z2 to B1+ 6 AWG 1 ft\n"
    )
    assert names(text, "B1+") == [["W1", "W2", "W3"], ["W3", "W2", "W1"]]


@given(st.lists(st.tuples(st.integers(0, 4), st.integers(0, 4)), min_size=1, max_size=8))
def test_it_ends_in_any_tangle(pairs: list[tuple[int, int]]) -> None:
    bars = "".join(f"splice Z{n}\n" for n in range(5))
    wires = "".join(f"wire Z{a} to Z{b} 6 AWG 1 ft\n" for a, b in pairs if a != b)
    net = study_from(f"{HEAD}{bars}{wires}wire B1+ to Z0 6 AWG 1 ft\n").net
    for start in net.at:
        for step in net.steps(start):
            assert len(list(in_line(net, step))) <= 2 * len(pairs) + 2
