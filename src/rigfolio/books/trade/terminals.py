"""Crimp terminals by insulation colour, what fits on a stud, sleeves, spares and slack."""

from functools import cache
from pathlib import Path

from rigfolio.books.kept import read_toml
from rigfolio.books.tables import Limit, Table, number, numbers, source_of, table, tables, text
from rigfolio.findings import Citation

_FILE = Path(__file__).parent / "terminals.toml"
_MM2 = 1e-6


@cache
def _data() -> Table:
    return read_toml(_FILE)


def barrel_colour(area_m2: float) -> str:
    """The insulation colour of a crimp terminal for a size; empty where it has none.

    Where two ranges meet the smaller barrel is taken: it holds the strands tighter.

    Examples
    --------
    >>> barrel_colour(1.31e-6), barrel_colour(2.08e-6), barrel_colour(13.3e-6)
    ('red', 'blue', '')
    """
    for row in tables(_data(), "barrel"):
        least, most = numbers(row, "area_mm2")
        if least * _MM2 <= area_m2 <= most * _MM2 * (1.0 + 1e-9):
            return text(row, "colour")
    return ""


def barrel_gauges(colour: str) -> str:
    """The gauges that stand on the packet of a crimp terminal; empty for an unknown colour.

    Examples
    --------
    >>> barrel_gauges("yellow"), barrel_gauges("")
    ('12 to 10 AWG', '')
    """
    for row in tables(_data(), "barrel"):
        if text(row, "colour") == colour:
            return " to ".join(f"{gauge:g}" for gauge in numbers(row, "awg")) + " AWG"
    return ""


def most_on_stud() -> Limit:
    """How many terminals may sit on one stud [-]."""
    row = table(_data(), "stack")
    return Limit(number(row, "most"), source_of(row))


def bought_m(run_m: float, ends: int) -> float:
    """Length to be bought for a run [m], with the slack of so many ends.

    Examples
    --------
    >>> round(bought_m(5.0, 1), 3), round(bought_m(1.0, 1), 3)
    (5.5, 1.3)
    """
    row = table(_data(), "slack")
    return run_m + max(run_m * number(row, "share"), ends * number(row, "end_mm") / 1000.0)


def spare_fuses() -> int:
    """How many fuses of each rating are bought besides those that are fitted [-]."""
    return int(number(table(_data(), "spares"), "fuses"))


def with_waste(count: int) -> int:
    """Terminals to be bought for so many ends [-].

    Examples
    --------
    >>> with_waste(3), with_waste(20)
    (4, 22)
    """
    share = number(table(_data(), "terminals"), "share")
    return count + max(1, round(count * share)) if count else 0


def sleeve_m(outside_m: float) -> float | None:
    """Diameter of the heat-shrink tube for a wire of some outside diameter [m]; None if none fits.

    Examples
    --------
    >>> sleeve_m(0.0025), sleeve_m(0.05)
    (0.0032, None)
    """
    row = table(_data(), "shrink")
    for diameter_mm in numbers(row, "diameter_mm"):
        diameter_m = diameter_mm / 1000.0
        if outside_m <= diameter_m * number(row, "slips_on"):
            return diameter_m
    return None


def sleeve_length_m() -> float:
    """Length of one sleeve [m]."""
    return number(table(_data(), "shrink"), "length_mm") / 1000.0


def terminal_source(group: str) -> Citation:
    """Where the figures of a group come from: `stack`, `slack`, `spares`, `terminals`, `shrink`.

    Raises
    ------
    KeyError
        There is no such group.
    """
    return source_of(table(_data(), group))
