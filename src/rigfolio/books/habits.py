"""Habits of the trade: how banks are used, how a panel is made dead, what a figure is taken for."""

import re
import tomllib
from functools import cache
from pathlib import Path

from rigfolio.books.tables import (
    Limit,
    Table,
    limit,
    number,
    read,
    source_of,
    table,
    tables,
    text,
    texts,
)
from rigfolio.findings import Citation
from rigfolio.record import record

_FOLDER = Path(__file__).parent / "trade"
_HOUR_S = 3600.0


@record
class Keep:
    """Something that must keep its supply, the words it is known by, and why.

    `is_plain` is true where that it goes dead is a danger whatever the text says of it.
    """

    what: str
    words: tuple[str, ...]
    source: Citation
    is_plain: bool

    def is_named(self, words: str) -> bool:
        """Whether one of its words stands in some words, whole.

        Examples
        --------
        >>> keep = Keep("brakes", ("brakes",), Citation("a source", "common practice"), True)
        >>> keep.is_named("Trailer Brakes"), keep.is_named("Brake light")
        (True, False)
        """
        return any(re.search(rf"\b{re.escape(one)}\b", words, re.IGNORECASE) for one in self.words)


@cache
def _read(name: str) -> Table:
    return tomllib.loads((_FOLDER / f"{name}.toml").read_text(encoding="utf-8"))


def usable_share(chemistry: str) -> Limit | None:
    """Share of a bank's capacity that is used before it is charged [-]; None if not known.

    Examples
    --------
    >>> usable_share("flooded").value, usable_share("")
    (0.5, None)
    """
    return _of_bank("bank", chemistry)


def returned_share(chemistry: str) -> Limit | None:
    """Charge that has to be put back over the charge taken out [-]; None if not known."""
    return _of_bank("returned", chemistry)


def taken_per_hour(chemistry: str) -> Limit | None:
    """Charge that a bank takes in an hour over its capacity [1/h]; None if not known."""
    return _of_bank("takes", chemistry)


def tail_s(chemistry: str) -> Limit | None:
    """Time at the end of a charge in which the current falls off [s]; None if not known."""
    for row in tables(_read("energy"), "tail"):
        if text(row, "chemistry") == chemistry:
            return Limit(number(row, "hours") * _HOUR_S, source_of(row))
    return None


def bolted_families() -> frozenset[str]:
    """Families of fuses that are held by nuts."""
    rows = tables(_read("isolation"), "bolted")
    return frozenset(family for row in rows for family in texts(row, "families"))


def order_of_work() -> Citation:
    """Where the order comes from in which supplies are opened."""
    return source_of(table(_read("isolation"), "order"))


def proof_by_meter() -> Citation:
    """Where the way of proving a part dead comes from."""
    return source_of(table(_read("isolation"), "meter"))


@cache
def kept_on() -> tuple[Keep, ...]:
    """What must keep its supply."""
    return tuple(
        Keep(text(row, "what"), texts(row, "words"), source_of(row), row["plain"] is True)
        for row in tables(_read("isolation"), "keep")
    )


def starts_engine(words: str, *, is_motor: bool) -> bool:
    """Whether what runs a moment, by its name and label, turns an engine over.

    Of a motor whose words say nothing it is taken to, of anything else not.

    Examples
    --------
    >>> starts_engine("M1 Starter", is_motor=False), starts_engine("M1", is_motor=True)
    (True, True)
    >>> starts_engine("Anchor windlass", is_motor=True)
    False
    """
    if _has_word("starter", words):
        return True
    return is_motor and not _has_word("not_starter", words)


def is_limited(note: str) -> bool:
    """Whether a note tells that something holds an alternator's current back.

    Examples
    --------
    >>> is_limited("limited to 60 A by its regulator"), is_limited("new belt")
    (True, False)
    """
    return _has_word("limited", note)


def uneven_share() -> Limit:
    """What one of several batteries side by side may give over its even share [-]."""
    return limit(table(_read("wiring"), "uneven"))


def _has_word(key: str, words: str) -> bool:
    known = texts(table(_read("wiring"), key), "words")
    return any(re.search(rf"\b{re.escape(one)}s?\b", words, re.IGNORECASE) for one in known)


def _of_bank(key: str, chemistry: str) -> Limit | None:
    for row in tables(_read("energy"), key):
        if text(row, "chemistry") == chemistry:
            return limit(row)
    return None


def inverter_efficiency() -> Limit:
    """AC watts over DC watts of an inverter whose maker gives no figure [-]."""
    return limit(table(read("practice"), "inverter"))
