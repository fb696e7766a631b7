"""Habits of the trade: how banks are used, how a panel is made dead, what a figure is taken for."""

import re
from functools import cache, lru_cache
from pathlib import Path

from rigfolio.books.kept import read_toml
from rigfolio.books.tables import (
    Limit,
    Table,
    gauge,
    limit,
    number,
    numbers,
    read,
    source_of,
    table,
    tables,
    text,
    texts,
)
from rigfolio.findings import Citation
from rigfolio.record import record
from rigfolio.units import awg_size, is_over

_FOLDER = Path(__file__).parent
_HOUR_S = 3600.0
_BLOCK_V = 12.0
_MEASURED_C = 25.0
"""How warm a module is when what stands on its label is measured."""
_NAMES_KEPT = 4_096


@record
class Keep:
    """Something that must keep its supply, the words it is known by, and why.

    `is_plain` is true where that it goes dead is a danger whatever the text says of it; `waits`
    where it stands still until a switch of its own starts it, and is to be fed up to that.
    """

    what: str
    words: tuple[str, ...]
    source: Citation
    is_plain: bool
    waits: bool = False

    def name_in(self, words: str) -> str | None:
        """What is left of some words without the one by which it is known, which stands whole.

        Examples
        --------
        >>> keep = Keep("brakes", ("brakes",), Citation("a source", "common practice"), True)
        >>> keep.name_in("Trailer brakes, lamp"), keep.name_in("Brake light")
        ('Trailer , lamp', None)
        """
        for one in self.words:
            left, count = re.subn(rf"\b{re.escape(one)}\b", "", words, flags=re.IGNORECASE)
            if count:
                return left
        return None


@record
class KeptName:
    """What must keep its supply by a name; `is_plain` where the name says nothing else beside."""

    keep: Keep
    is_plain: bool


@record
class ChargeVolts:
    """What a bank may be charged with [V]: for hours, and now and then to condition it."""

    usual_v: float
    highest_v: float
    source: Citation


@cache
def _read(name: str) -> Table:
    return read_toml(_FOLDER / f"{name}.toml")


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


def charge_volts(chemistry: str, nominal_v: float) -> ChargeVolts | None:
    """What a bank of some nominal voltage may be charged with; None if not known.

    Examples
    --------
    >>> found = charge_volts("gel", 48.0)
    >>> found.usual_v, found.highest_v
    (57.6, 57.6)
    """
    blocks = max(round(nominal_v / _BLOCK_V), 1)
    for row in tables(_read("batteries"), "charge"):
        if text(row, "chemistry") == chemistry:
            usual_v, highest_v = number(row, "usual_v"), number(row, "highest_v")
            return ChargeVolts(usual_v * blocks, highest_v * blocks, source_of(row))
    return None


def charging_from_v(chemistry: str, nominal_v: float) -> Limit:
    """Volts from which a bank is charged [V]; the least of all if its chemistry is not known.

    Examples
    --------
    >>> charging_from_v("gel", 24.0).value, charging_from_v("", 12.0).value
    (26.8, 13.2)
    """
    rows = tables(_read("batteries"), "held")
    own = [row for row in rows if text(row, "chemistry") == chemistry] or rows
    least = min(own, key=lambda row: number(row, "least_v"))
    return Limit(number(least, "least_v") * max(round(nominal_v / _BLOCK_V), 1), source_of(least))


def cut_off_v(chemistry: str, nominal_v: float) -> Limit:
    """Volts under load at which a bank counts as empty [V].

    Examples
    --------
    >>> cut_off_v("flooded", 24.0).value
    21.0
    """
    blocks = max(round(nominal_v / _BLOCK_V), 1)
    rows = tables(_read("batteries"), "cut_off")
    row = next((one for one in rows if chemistry in texts(one, "chemistry")), rows[0])
    return Limit(number(row, "volt") * blocks, source_of(row))


def charge_least_c(chemistry: str) -> Limit | None:
    """The temperature below which a charge harms a bank [°C]; None where none is told.

    Examples
    --------
    >>> charge_least_c("lithium").value, charge_least_c("flooded")
    (0.0, None)
    """
    for row in tables(_read("batteries"), "cold"):
        if text(row, "chemistry") == chemistry:
            return Limit(number(row, "least_c"), source_of(row))
    return None


def joined_again_v(chemistry: str, voltage_v: float) -> Limit | None:
    """How far apart batteries may be that are joined side by side [V]; None where none is told.

    Parameters
    ----------
    chemistry : str
        What they are made of.
    voltage_v : float
        The volts of each [V]: above those of one block it is a string of several.

    Examples
    --------
    >>> joined_again_v("lithium", 12.8).value, joined_again_v("lithium", 51.2).value
    (0.05, 0.2)
    >>> joined_again_v("flooded", 12.0)
    """
    is_string = voltage_v > _BLOCK_V * one_system().value
    for row in tables(_read("batteries"), "rejoined"):
        if text(row, "chemistry") == chemistry:
            value = number(row, "string_v" if is_string else "battery_v")
            return Limit(value, source_of(row))
    return None


@cache
def one_system() -> Limit:
    """Ratio of two volts from which they belong to two systems [-]."""
    row = table(_read("batteries"), "one_system")
    return Limit(number(row, "ratio"), source_of(row))


def are_one_system(one_v: float, two_v: float) -> bool:
    """Whether two volts belong to one system."""
    return max(one_v, two_v) <= one_system().value * min(one_v, two_v)


def sun_figure(key: str, figure: str) -> Limit:
    """A figure for what lies between solar modules and their controller.

    Examples
    --------
    >>> sun_figure("bright", "factor").value
    1.25
    """
    row = table(_read("sun"), key)
    return Limit(number(row, figure), source_of(row))


def cold_factor(temperature_c: float) -> Limit:
    """Open-circuit volts of a module in the cold over those at 25 °C, its own figure unknown [-].

    Above the warmest figure of the table there is none to add; below its coldest one that counts.

    Examples
    --------
    >>> [cold_factor(one).value for one in (25.0, 20.0, -10.0, -12.0, -60.0)]
    [1.0, 1.02, 1.14, 1.16, 1.25]
    """
    row = table(_read("sun"), "cold")
    if temperature_c >= _MEASURED_C:
        return Limit(1.0, source_of(row))
    factors = numbers(row, "factor")
    steps = zip(numbers(row, "down_to_c"), factors, strict=True)
    reached = (factor for down_to_c, factor in steps if temperature_c >= down_to_c)
    return Limit(min(reached, default=factors[-1]), source_of(row))


def bond_m2(rating_a: float) -> Limit | None:
    """Copper that a bond needs beside a device before the wires [m²]; None above the largest row.

    Examples
    --------
    >>> [bond_m2(one).how for one in (15.0, 50.0, 150.0)]
    ['14 AWG', '10 AWG', '6 AWG']
    """
    row = table(_read("wiring"), "bond")
    for most_a, name in zip(numbers(row, "device_a"), texts(row, "awg"), strict=True):
        if not is_over(rating_a, most_a):
            size = awg_size(gauge(name))
            return Limit(size.area_m2, source_of(row), size.text)
    return None


def mixed_batteries() -> Citation:
    """Why unlike batteries do not stand side by side."""
    return source_of(table(_read("batteries"), "mixed"))


def bolted_families() -> frozenset[str]:
    """Families of fuses that are held by nuts."""
    rows = tables(_read("isolation"), "bolted")
    return frozenset(family for row in rows for family in texts(row, "families"))


def order_of_work() -> Citation:
    """Where the order comes from in which supplies are opened."""
    return source_of(table(_read("isolation"), "order"))


def closed_by_lamp() -> Citation:
    """Where the way of closing a part again comes from: through a lamp, never a small fuse."""
    return source_of(table(_read("isolation"), "lamp"))


def proof_by_meter() -> Citation:
    """Where the way of proving a part dead comes from."""
    return source_of(table(_read("isolation"), "meter"))


@cache
def kept_on() -> tuple[Keep, ...]:
    """What must keep its supply."""
    return tuple(
        Keep(
            text(row, "what"),
            texts(row, "words"),
            source_of(row),
            row["plain"] is True,
            row.get("waits") is True,
        )
        for row in tables(_read("isolation"), "keep")
    )


@lru_cache(maxsize=_NAMES_KEPT)
def kept_by_name(label: str, circuit: str = "") -> KeptName | None:
    """What a load must keep its supply for, by its label, else by that of its circuit.

    A charger, a lamp or a spare for a detector is no detector, and what has a name of its own does
    not get another one from its circuit.

    Examples
    --------
    >>> [kept_by_name(one).is_plain for one in ("CO detector", "CO detector lamp")]
    [True, False]
    >>> kept_by_name("Lamp", "Gas detector"), kept_by_name("Magnets", "Breakaway").is_plain
    (None, True)
    """
    for words in (label, circuit):
        found = [
            KeptName(keep, keep.is_plain and not _has_word("isolation", "no_keep", left))
            for keep in kept_on()
            if (left := keep.name_in(words)) is not None
        ]
        if found:
            return max(found, key=lambda one: one.is_plain)
        if _has_word("isolation", "no_keep", words):
            return None
    return None


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
    if _has_word("wiring", "starter", words):
        return True
    return is_motor and not _has_word("wiring", "not_starter", words)


def is_limited(note: str) -> bool:
    """Whether a note tells that something holds an alternator's current back.

    Examples
    --------
    >>> is_limited("limited to 60 A by its regulator"), is_limited("new belt")
    (True, False)
    """
    return _has_word("wiring", "limited", note)


def uneven_share() -> Limit:
    """What one of several batteries side by side may give over its even share [-]."""
    return limit(table(_read("wiring"), "uneven"))


def _has_word(file: str, key: str, words: str) -> bool:
    return _known(file, key).search(words) is not None


@cache
def _known(file: str, key: str) -> re.Pattern[str]:
    """Any of the words of a table, by itself, one or several."""
    known = map(re.escape, texts(table(_read(file), key), "words"))
    return re.compile(rf"\b(?:{'|'.join(known)})s?\b", re.IGNORECASE)


def _of_bank(key: str, chemistry: str) -> Limit | None:
    for row in tables(_read("energy"), key):
        if text(row, "chemistry") == chemistry:
            return limit(row)
    return None


def inverter_efficiency() -> Limit:
    """AC watts over DC watts of an inverter whose maker gives no figure [-]."""
    return limit(table(read("practice"), "inverter"))


def called_alike(words: str) -> str:
    """Words for a part with those that stand for the same put alike; in small letters.

    Examples
    --------
    >>> called_alike("front lights"), called_alike("lamp, front"), called_alike("lighter")
    ('front lamp', 'lamp, front', 'lighter')
    """
    pattern, first = _alike()
    return pattern.sub(lambda found: first[found["word"]], words.casefold())


@cache
def _alike() -> tuple[re.Pattern[str], dict[str, str]]:
    """Any word of the rows, one or many of it, the longest first; and the first of its row."""
    rows = [texts(row, "words") for row in tables(read_toml(_FOLDER / "called.toml"), "alike")]
    first = {word: row[0] for row in rows for word in row}
    words = "|".join(re.escape(word) for word in sorted(first, key=len, reverse=True))
    return re.compile(rf"(?<!\w)(?P<word>{words})s?(?!\w)"), first
