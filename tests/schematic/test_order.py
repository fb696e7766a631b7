"""Units and orders: nothing lost, planar graphs without crossings, the same result every time."""

import hashlib
import os
import subprocess
import sys

import pytest
from hypothesis import given, settings, strategies as st

from helpers.diagram_checks import is_planar
from helpers.diagram_rigs import KINDS, text_of
from helpers.home import environment
from helpers.label_rigs import job_of
from helpers.schematic_rigs import heron, tangle
from rigfolio.schematic.chains import graph_of
from rigfolio.schematic.chains.units import blocks_of, folded, opened
from rigfolio.schematic.composer import Composer, Room
from rigfolio.schematic.ordering.costs import Costs
from rigfolio.schematic.ordering.order import Search
from rigfolio.schematic.ordering.program import Program
from rigfolio.schematic.ordering.rows import grid_of
from rigfolio.sheets import schematic

FEW = settings(max_examples=25, deadline=None, derandomize=True)
WIDE = Room(5000.0, 5000.0)
SOME = [(kind, seed) for kind in KINDS for seed in range(5)]


def pieces_of(blocks):
    """Names of all that is drawn, in the order of their names."""
    found = []
    for block in blocks:
        for unit in block.units:
            for each in unit.laid:
                found += [id(piece.thing) for piece in each.rung.pieces]
    return sorted(found)


@FEW
@given(st.integers(0, 400))
def test_every_thing_stands_on_one_rung(seed):
    job = job_of(tangle(seed))
    graph = graph_of(job)
    rungs = sorted(id(piece.thing) for rung in graph.rungs for piece in rung.pieces)
    assert pieces_of(blocks_of(graph)) == rungs
    for rung in graph.rungs:
        assert rung.a in graph.bars
        assert not rung.b or rung.b in graph.bars
        assert sum(piece.is_symbol for piece in rung.pieces) <= 1
        assert rung.a != rung.b
    names = [p.thing.name for rung in graph.rungs for p in rung.pieces if hasattr(p.thing, "size")]
    assert sorted(names) == sorted(wire.name for wire in job.rig.conductors)


@FEW
@given(st.integers(0, 400))
def test_units_keep_their_ends_when_they_are_turned_opened_or_folded(seed):
    for block in blocks_of(graph_of(job_of(tangle(seed)))):
        for unit in block.units:
            assert unit.turned().turned() == unit
            assert {e.row for e in unit.laid} <= set(range(unit.rows))
            alone = type(block)((unit,), block.panel)
            for parts in (opened(alone), folded(alone, "A")):
                if parts:
                    assert pieces_of(parts) == pieces_of((alone,))


def test_slots_of_a_panel_are_one_block_in_ascending_order():
    (block,) = [b for b in blocks_of(graph_of(job_of(text_of("slots", 3)))) if b.panel]
    numbers = [unit.slot[1] for unit in block.units]
    assert numbers == sorted(numbers)
    assert len(set(numbers)) == len(numbers) >= 24


@pytest.mark.parametrize(("kind", "seed"), SOME)
def test_what_is_planar_is_drawn_without_a_crossing(kind, seed):
    job = job_of(text_of(kind, seed))
    graph = graph_of(job)
    blocks = blocks_of(graph)
    order, grid = Composer(job, graph, WIDE).grid(blocks)
    if is_planar(blocks):
        assert order.crossings == 0
    else:
        assert order.crossings >= 1
    assert {bar for seat in grid.seats for bar in seat.passed} == set() or order.crossings


@FEW
@given(st.sampled_from(KINDS), st.integers(100, 200))
def test_rows_of_an_order_lie_clear_of_each_other(kind, seed):
    job = job_of(text_of(kind, seed))
    graph = graph_of(job)
    order, _ = Composer(job, graph, WIDE).grid(blocks_of(graph))
    grid = grid_of(order, graph.bars)
    place = {name: n for n, name in enumerate(grid.bars)}
    taken = {}
    for number, seat in enumerate(grid.seats):
        left = place[seat.left] if seat.left else place[seat.right] - 1
        right = place[seat.right] if seat.right else left + 1
        for row in range(seat.row, seat.last + 1):
            for column in range(left, right):
                assert taken.setdefault((row, column), number) == number
    for block in order.blocks:
        rows = [seat.row for seat in grid.seats for unit in block.units
                if unit in (seat.unit, seat.unit.turned())]  # fmt: skip
        assert rows == sorted(rows)


@FEW
@given(st.lists(st.tuples(st.integers(0, 6), st.integers(1, 5)), min_size=1, max_size=12))
def test_places_are_never_nearer_than_they_may_be(gaps):
    program = Program()
    for number, (one, wide) in enumerate(gaps):
        program.apart(one, one + 1 + number % 3, float(wide))
        program.cost(one, 1.0)
    start = program.least()
    found = program.best(0.0, max(start))
    for (i, j), (fixed, _) in program.gaps.items():
        assert start[j] - start[i] >= fixed - 1e-6
        assert found[j] - found[i] >= fixed - 1e-6


def test_distances_that_contradict_each_other_have_no_places():
    program = Program()
    program.apart("a", "b", 2.0)
    program.apart("b", "a", 1.0)
    assert program.least() is None


def test_the_same_text_gives_the_same_marks_in_any_process():
    code = (
        "import hashlib\n"
        "from helpers.schematic_rigs import heron\n"
        "from rigfolio.sheets import schematic\n"
        "print(hashlib.sha256(repr(schematic.pages(heron())).encode()).hexdigest())\n"
    )
    # This process has a hash seed of its own, which is that of the other by no chance.
    seed = "77" if os.environ.get("PYTHONHASHSEED") == "1" else "1"
    other = subprocess.run(
        [sys.executable, "-c", code], env=environment(PYTHONHASHSEED=seed),
        capture_output=True, check=True, text=True,
    ).stdout  # fmt: skip
    here = hashlib.sha256(repr(schematic.pages(heron())).encode()).hexdigest()
    assert other.strip() == here


@pytest.mark.parametrize("budget", [2_000, 20_000])
def test_the_search_ends_after_a_number_of_steps_that_is_given(budget):
    # Steps and not seconds, so that a busy machine makes the same drawing.
    graph = graph_of(job_of(tangle(47)))
    blocks = blocks_of(graph)
    names = dict.fromkeys(bar for b in blocks for u in b.units for bar in (u.a, u.b) if bar)
    bars = [graph.bars[name] for name in names]
    widths = {id(unit): 50.0 for block in blocks for unit in block.units}
    search = Search(bars, blocks, Costs(bars, blocks, widths, 250.0))
    order = search.best([([*range(len(bars))], [*range(len(blocks))])], budget)
    sweep = len(search.costs.all) * (len(blocks) ** 2 + 2 * len(bars) ** 2 + len(bars))
    assert search.costs.steps <= budget + 4 * sweep * len(bars)
    assert sorted(order.bars) == sorted(names)
    assert len(order.blocks) == len(blocks)
