"""Fuses and panel breakers: colours, ratings in stock, what they may interrupt."""

import math
from functools import cache, lru_cache

from rigfolio.books.tables import (
    Limit,
    Table,
    limit,
    number,
    number_or_none,
    numbers,
    read,
    source_of,
    table,
    tables,
    texts,
)
from rigfolio.findings import Citation
from rigfolio.record import record


@cache
def fuse_families() -> tuple[str, ...]:
    """The families that have a series of ratings, in the order of the table."""
    return tuple(
        family for row in tables(read("fuses"), "series") for family in texts(row, "families")
    )


@cache
def family_words(family: str) -> str:
    """A family as it is printed: `class T`, `ANL`, `regular`."""
    row = table(read("fuses"), "written")
    written = dict(zip(texts(row, "families"), texts(row, "words"), strict=True))
    return written.get(family, family)


@cache
def fuse_series(family: str = "regular") -> tuple[float, ...]:
    """The ratings of a family that are in stock, smallest first [A].

    Raises
    ------
    KeyError
        The family is not in `fuse_families`.

    Examples
    --------
    >>> fuse_series("regular")[5:8]
    (7.5, 10.0, 15.0)
    """
    rows = _rows("series", family)
    if not rows:
        raise KeyError(family)
    return tuple(rating_a for row in rows for rating_a in numbers(row, "ampere"))


@cache
def series_source(family: str = "regular") -> Citation:
    """Where the ratings of a family come from."""
    return source_of(_rows("series", family)[0])


@lru_cache(maxsize=1024)
def fuse_colour(rating_a: float, family: str = "regular") -> str | None:
    """The colour word of a fuse; None if that family or rating has none.

    A colour never tells a rating across families: clear is 25 A regular and 80 A maxi.

    Examples
    --------
    >>> fuse_colour(7.5), fuse_colour(80, "maxi"), fuse_colour(6)
    ('brown', 'clear', None)
    """
    for row in _rows("colours", family):
        for ampere, word in zip(numbers(row, "ampere"), texts(row, "colour"), strict=True):
            if math.isclose(ampere, rating_a):
                return word
    return None


def next_down(rating_a: float, family: str = "regular") -> float | None:
    """The largest rating in stock that is not above a current; None if all are [A].

    Raises
    ------
    KeyError
        The family is not in `fuse_families`.

    Examples
    --------
    >>> next_down(8.0), next_down(0.5)
    (7.5, None)
    """
    fitting = [each for each in fuse_series(family) if each <= rating_a * (1.0 + 1e-9)]
    return fitting[-1] if fitting else None


def next_up(rating_a: float, family: str = "regular") -> float | None:
    """The smallest rating in stock that is not below a current; None if all are [A].

    Raises
    ------
    KeyError
        The family is not in `fuse_families`.

    Examples
    --------
    >>> next_up(8.0), next_up(41.0)
    (10.0, None)
    """
    fitting = [each for each in fuse_series(family) if each >= rating_a * (1.0 - 1e-9)]
    return fitting[0] if fitting else None


def interrupt_a(family: str, nominal_v: float = 12.0) -> Limit | None:
    """Largest fault current that a family usually interrupts on a system of a nominal voltage [A].

    None if no figure is known; the figure of the actual part goes before this one.

    Examples
    --------
    >>> interrupt_a("terminal cube").value, interrupt_a("terminal cube", 24.0).value
    (10000.0, 5000.0)
    """
    fitting = [row for row in _rows("interrupts", family) if nominal_v <= number(row, "up_to_v")]
    if not fitting:
        return None
    row = min(fitting, key=lambda each: number(each, "up_to_v"))
    return Limit(number(row, "ampere"), source_of(row), f"up to {number(row, 'up_to_v'):g} V")


@cache
def most_any_breaks() -> Limit:
    """What no vehicle fuse of the usual standards has to break more than [A]."""
    row = table(read("fuses"), "most_of_any")
    return Limit(number(row, "ampere"), source_of(row))


@record
class RatedVolts:
    """The volts that a family is made for [V], and those of a version of it; None if there is none.

    `is_firm` is whether a verdict may rest on them.
    """

    rated_v: float
    also_v: float | None
    source: Citation
    is_firm: bool


def rated_volts(family: str) -> RatedVolts | None:
    """The volts that a family is usually made for; None where that is not known.

    Examples
    --------
    >>> rated_volts("regular").rated_v, rated_volts("terminal cube").rated_v
    (32.0, 58.0)
    """
    for row in _rows("rated_volts", family):
        is_firm = row.get("confidence", "high") == "high"
        also_v = number_or_none(row, "also_v")
        return RatedVolts(number(row, "rated_v"), also_v, source_of(row), is_firm)
    return None


@cache
def continuous_share() -> Limit:
    """Share of its rating that a fuse may carry for hours [-]."""
    return limit(table(read("fuses"), "continuous"))


@cache
def _rows(key: str, family: str) -> tuple[Table, ...]:
    return tuple(row for row in tables(read("fuses"), key) if family in texts(row, "families"))
