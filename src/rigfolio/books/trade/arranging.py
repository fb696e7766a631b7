"""What decides where a circuit goes in a panel: service loop, cost of a move, balance of rails."""

from functools import cache
from pathlib import Path

from rigfolio.books.kept import read_toml
from rigfolio.books.tables import Limit, Table, number, source_of, table

_FILE = Path(__file__).parent / "arranging.toml"


@cache
def _data() -> Table:
    return read_toml(_FILE)


def service_loop_m() -> Limit:
    """Length that a wire needs beyond the straight way to its slot [m]."""
    row = table(_data(), "loop")
    return Limit(number(row, "length_mm") / 1000.0, source_of(row))


def move_cost_am() -> Limit:
    """What one circuit that changes its slot costs [A m]."""
    row = table(_data(), "move")
    return Limit(number(row, "ampere_metre"), source_of(row))


def balance_cost_m() -> Limit:
    """What an ampere costs that one column carries more than another [m]."""
    row = table(_data(), "balance")
    return Limit(number(row, "metre"), source_of(row))
