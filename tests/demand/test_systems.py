"""Two systems on one minus: what they drive the same way adds up, against sums on a tree."""

import networkx as nx
import pytest
from hypothesis import given, strategies as st

from helpers.studies import study_from
from rigfolio.demand.flows import flows_of
from rigfolio.operating.point import operating

_VOLTS = {1: 12, 2: 24}


@st.composite
def _shared(draw):
    """Minus bars in a tree, two batteries of unlike volts and loads of both, each at some bar."""
    count = draw(st.integers(2, 5))
    above = {bar: draw(st.integers(1, bar - 1)) for bar in range(2, count + 1)}
    home = {number: draw(st.integers(1, count)) for number in _VOLTS}
    loads = draw(
        st.lists(
            st.tuples(st.sampled_from([1, 2]), st.integers(1, count), st.integers(1, 9)),
            min_size=1, max_size=5,
        )
    )  # fmt: skip
    lines = ['rig "Case"', "    system 12 V", "    rules rv"]
    lines += [f"busbar N{bar}" for bar in range(1, count + 1)]
    lines += [f"wire N{bar} to N{up} 2 AWG black 1 ft" for bar, up in above.items()]
    for number, volts in _VOLTS.items():
        lines.append(f"battery B{number} flooded, {volts} V, 100 Ah, internal 5 mohm")
        lines.append(f"wire B{number}- to N{home[number]} 2 AWG black 1 ft")
    for place, (number, bar, amps) in enumerate(loads, 1):
        lines.append(f"load M{place} {amps} A")
        lines.append(f"wire B{number}+ to M{place}+ 2 AWG red 1 ft")
        lines.append(f"wire M{place}- to N{bar} 2 AWG black 1 ft")
    return "\n".join(lines) + "\n", above, home, loads


@given(_shared())
def test_the_sum_on_a_tree(made):
    text, above, home, loads = made
    study = study_from(text)
    tree = nx.Graph(list(above.items()))
    wires = {frozenset((wire.a, wire.b)): wire.name for wire in study.rig.conductors}
    signed = {edge: {1: 0, 2: 0} for edge in above.items()}
    for number, bar, amps in loads:
        for one, two in nx.utils.pairwise(nx.shortest_path(tree, bar, home[number])):
            edge, way = ((one, two), 1) if (one, two) in signed else ((two, one), -1)
            signed[edge][number] += way * amps
    point = operating(study)
    for (low, high), by in signed.items():
        name = wires[frozenset((f"N{low}", f"N{high}"))]
        same = by[1] * by[2] >= 0
        expected = abs(by[1]) + abs(by[2]) if same else max(abs(by[1]), abs(by[2]))
        assert flows_of(study).demand(name).loads_a == pytest.approx(expected)
        # Loads of amperes: what both drive at once is the signed sum, and never more than is told.
        assert abs(point.current_a(name)) == pytest.approx(abs(by[1] + by[2]), abs=1e-6)
        assert flows_of(study).from_source(f"B{1 if by[1] else 2}", name) == pytest.approx(
            expected if same else abs(by[1])
        )
