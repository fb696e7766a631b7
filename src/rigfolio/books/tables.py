"""Reads the limit tables: TOML to typed values, each with its source."""

from collections.abc import Mapping
from functools import cache
from pathlib import Path

from rigfolio.books.kept import read_toml
from rigfolio.findings import Citation
from rigfolio.record import record
from rigfolio.units import is_over, is_same

Table = Mapping[str, object]

_FACTORS = {"share": 1.0, "temperature_c": 1.0, "length_in": 0.0254, "length_mm": 1e-3}
_WEAKEST_LAST = ("seen", "computed", "common practice", "memory")


@record
class Limit:
    """A number in SI units, where it comes from, and how it was worked out.

    `rise_k` is how far a conductor warms above its ambient at a current that is its limit [K],
    where the table of currents has a basis that tells.
    """

    value: float
    source: Citation
    how: str = ""
    rise_k: float | None = None
    is_bound: bool = False
    """Whether it is only known to be less than that."""
    of_device: bool = False
    """Whether it is what a device before a conductor may be, where that is more than it carries."""

    def is_broken_by(self, figure: float) -> bool:
        """Whether a figure is above it, by more than its last bits.

        What is at a limit is within it; but what is only known to be less is broken there already.

        Examples
        --------
        >>> row = Citation("a row", "seen")
        >>> Limit(5.0, row, is_bound=True).is_broken_by(5.0), Limit(5.0, row).is_broken_by(5.0)
        (True, False)
        """
        return is_over(figure, self.value) or (self.is_bound and is_same(figure, self.value))


@cache
def read(name: str) -> Table:
    """The tables of `<name>.toml` in this folder."""
    return read_toml(Path(__file__).with_name(f"{name}.toml"))


def table(parent: Table, key: str) -> Table:
    """The table under a key.

    Raises
    ------
    KeyError
        There is none.
    TypeError
        Something else stands there.
    """
    found = parent[key]
    if not isinstance(found, dict):
        raise TypeError(f"{key} is no table: {found!r}")
    return found


def tables(parent: Table, key: str) -> tuple[Table, ...]:
    """The array of tables under a key; empty if there is none.

    Raises
    ------
    TypeError
        Something else stands there.
    """
    found = parent.get(key, [])
    if not isinstance(found, list) or not all(isinstance(each, dict) for each in found):
        raise TypeError(f"{key} is no array of tables: {found!r}")
    return tuple(found)


def number(row: Table, key: str) -> float:
    """The number under a key.

    Raises
    ------
    KeyError
        There is none.
    TypeError
        Something else stands there.
    """
    found = row[key]
    if isinstance(found, bool) or not isinstance(found, int | float):
        raise TypeError(f"{key} is no number: {found!r}")
    return float(found)


def number_or_none(row: Table, key: str) -> float | None:
    """The number under a key, None if there is none."""
    return number(row, key) if key in row else None


def numbers(row: Table, key: str) -> tuple[float, ...]:
    """The numbers under a key."""
    return tuple(number({key: each}, key) for each in _items(row, key))


def text(row: Table, key: str) -> str:
    """The text under a key.

    Raises
    ------
    KeyError
        There is none.
    TypeError
        Something else stands there.
    """
    found = row[key]
    if not isinstance(found, str):
        raise TypeError(f"{key} is no text: {found!r}")
    return found


def texts(row: Table, key: str) -> tuple[str, ...]:
    """The texts under a key; empty if there is none."""
    return tuple(text({key: each}, key) for each in _items(row, key))


def source_of(row: Table) -> Citation:
    """Where a row comes from."""
    return Citation(text(row, "source"), text(row, "status"))


def joined(sources: tuple[Citation, ...]) -> Citation:
    """One source for a number made from several, with the weakest of their states.

    Examples
    --------
    >>> str(joined((Citation("Table 5", "seen"), Citation("Table 5 note 1", "memory"))))
    'Table 5; Table 5 note 1 (memory)'
    """
    titles = dict.fromkeys(source.title for source in sources)
    status = max((source.status for source in sources), key=_WEAKEST_LAST.index)
    return Citation("; ".join(titles), status)


def limit(row: Table) -> Limit:
    """The one number of a row, in SI units; its key names the unit that the row is written in.

    Raises
    ------
    KeyError
        The row has no key of a known unit.
    """
    for key, factor in _FACTORS.items():
        if key in row:
            return Limit(number(row, key) * factor, source_of(row))
    raise KeyError(f"no number of a known unit in {row!r}")


def gauge(name: str) -> int:
    """The gauge number of a name: 16 is 16, 1/0 is 0, 4/0 is -3.

    Examples
    --------
    >>> gauge("16"), gauge("1/0"), gauge("4/0")
    (16, 0, -3)
    """
    aught = name.removesuffix("/0")
    return 1 - int(aught) if aught != name else int(name)


def _items(row: Table, key: str) -> list[object]:
    found = row.get(key, [])
    if not isinstance(found, list):
        raise TypeError(f"{key} is no list: {found!r}")
    return found
