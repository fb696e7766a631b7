"""The router: every wire in a lane of its own, crossings only straight, the same path each time."""

from itertools import combinations, pairwise

import pytest
from hypothesis import given, settings, strategies as st

from rigfolio.draw.router import EAST, NORTH, SOUTH, WEST, Grid, Net, NoWayError, route

FEW = settings(max_examples=20, deadline=None, derandomize=True)


def cells_of(path):
    """Cells of a path, each with the axes along which it is used."""
    used = {}
    for (x1, y1), (x2, y2) in pairwise(path):
        assert x1 == x2 or y1 == y2, "a path runs askew"
        axis = "level" if y1 == y2 else "upright"
        for x in range(min(x1, x2), max(x1, x2) + 1):
            for y in range(min(y1, y2), max(y1, y2) + 1):
                used.setdefault((x, y), set()).add(axis)
    return used


def assert_apart(paths):
    """No two paths in one lane, no bend on a crossing."""
    all_cells = {name: cells_of(path) for name, path in paths.items()}
    for one, two in combinations(sorted(all_cells), 2):
        for cell in set(all_cells[one]) & set(all_cells[two]):
            both = (all_cells[one][cell], all_cells[two][cell])
            assert both[0] | both[1] == {"level", "upright"}, (one, two, cell)
            assert not both[0] & both[1], (one, two, cell)


def test_a_free_wire_runs_straight():
    net = Net("W1", (0, 3), EAST, (9, 3), EAST)
    assert route(Grid(10, 7), [net]) == {"W1": ((0, 3), (9, 3))}


def test_a_step_takes_two_bends():
    (path,) = route(Grid(10, 10), [Net("W1", (0, 2), EAST, (9, 7), EAST)]).values()
    assert len(path) == 4
    assert path[0] == (0, 2)
    assert path[-1] == (9, 7)


def test_an_obstacle_is_passed_by():
    grid = Grid(20, 12)
    grid.block(8, 2, 11, 8)
    (path,) = route(grid, [Net("W1", (0, 5), EAST, (19, 5), EAST)]).values()
    assert not {cell for cell in cells_of(path) if 8 <= cell[0] <= 11 and 2 <= cell[1] <= 8}


def test_wires_leave_and_enter_as_asked():
    (path,) = route(Grid(12, 12), [Net("W1", (5, 5), WEST, (8, 5), NORTH)]).values()
    assert path[1][0] < 5
    assert path[-2][0] == 8
    assert path[-2][1] > 5


def test_wires_that_must_cross_cross_straight():
    nets = [Net("across", (0, 5), EAST, (10, 5), EAST), Net("down", (5, 0), SOUTH, (5, 10), SOUTH)]
    assert route(Grid(11, 11), nets) == {"across": ((0, 5), (10, 5)), "down": ((5, 0), (5, 10))}


def test_a_wire_gives_way_where_another_has_no_other_way():
    # The only gap in the wall is one cell high, and the short wire would run along it upright.
    grid = Grid(13, 9)
    grid.block(6, 0, 6, 3)
    grid.block(6, 5, 6, 8)
    nets = [Net("through", (0, 4), EAST, (12, 4), EAST), Net("short", (5, 2), SOUTH, (5, 7), SOUTH)]
    assert_apart(route(grid, nets))


def test_a_walled_in_wire_is_named():
    grid = Grid(12, 12)
    grid.block(5, 0, 5, 11)
    with pytest.raises(NoWayError, match="W7"):
        route(grid, [Net("W7", (0, 5), EAST, (11, 5), EAST)])


@pytest.mark.parametrize("end", [(12, 5), (5, -1), (0, 5)])
def test_an_end_outside_or_taken_is_refused(end):
    nets = [Net("W1", (0, 5), EAST, (6, 5), EAST), Net("W2", (2, 2), EAST, end, EAST)]
    with pytest.raises(ValueError, match="W2"):
        route(Grid(12, 12), nets)


def test_shunned_cells_are_used_only_for_a_great_detour():
    shun = (2, 0, 17, 6)
    near = Net("W1", (0, 5), EAST, (19, 5), EAST, shun)
    (path,) = route(Grid(20, 12), [near]).values()
    assert max(y for _, y in path) >= 7


@FEW
@given(
    st.lists(st.tuples(st.integers(1, 18), st.integers(1, 18)), min_size=1, max_size=7,
             unique_by=(lambda pair: pair[0], lambda pair: pair[1])),
)  # fmt: skip
def test_any_order_of_ends_is_led_apart(pairs):
    nets = [
        Net(f"W{number}", (0, 2 * one), EAST, (39, 2 * two), EAST)
        for number, (one, two) in enumerate(pairs)
    ]
    paths = route(Grid(40, 40), nets)
    assert_apart(paths)
    for net in nets:
        assert (paths[net.name][0], paths[net.name][-1]) == (net.start, net.end)
    assert paths == route(Grid(40, 40), nets)
