"""What a report holds before it is printed: words, amounts, places, yes and no, the unknown."""

from collections.abc import Mapping, Sequence
from math import isfinite
from typing import Literal, TypeAlias

from rigfolio.record import record
from rigfolio.units import show, show_limit, show_load, sum_digits

Side = Literal["plain", "load", "limit"]


@record
class Amount:
    """An amount in SI units and the unit that it is printed in; None is an unknown one."""

    value: float | None
    unit: str
    digits: int = 3
    side: Side = "plain"
    """Whether it is a load, never rounded down, or a limit, never rounded up."""
    beside: str = ""
    """What a person reads beside it, and in place of nothing at all."""


def added_up(current_a: float | None, moment_a: float = 0.0) -> Amount:
    """What is drawn [A], added up with others by whoever reads it, as the cell of a table.

    `moment_a` is what counts in no demand since it lasts for seconds [A].
    """
    beside = f"{show_load(moment_a, 'A')} for a moment" if moment_a else ""
    return Amount(current_a, "A", sum_digits(current_a, "A"), "load", beside)


@record
class PlaceName:
    """A part or a place: the name that a program is given, and what a person reads."""

    name: str
    words: str


@record
class Wording:
    """A text as a line on a terminal has it, and as the narrow column of a sheet does."""

    line: str
    sheet: str


Value: TypeAlias = (
    "str | bool | float | Amount | PlaceName | Wording | Sequence[Value] | Mapping[str, Value]"
    " | None"
)
"""What a report says; None is unknown."""
Plain: TypeAlias = "str | bool | float | Sequence[Plain] | Mapping[str, Plain] | None"
"""What JSON can say."""


def in_words(value: Value, *, on_sheet: bool = False) -> str:
    """A value as a person reads it.

    Examples
    --------
    >>> in_words(Amount(7.5, "A")), in_words(Amount(None, "A")), in_words(True), in_words(None)
    ('7.5 A', '? A', 'yes', '?')
    >>> in_words(added_up(0.0, 350.0)), in_words(added_up(7.5, 350.0))
    ('350 A for a moment', '7.5 A, 350 A for a moment')
    """
    match value:
        case str():
            return value
        case None:
            return "?"
        case bool():
            return "yes" if value else "no"
        case float() | int():
            return f"{value:g}"
        case Amount():
            return _amount(value)
        case PlaceName():
            return value.words
        case Wording():
            return value.sheet if on_sheet else value.line
        case Mapping():
            return ", ".join(f"{k} {in_words(v, on_sheet=on_sheet)}" for k, v in value.items())
        case _:
            return ", ".join(in_words(one, on_sheet=on_sheet) for one in value)


def _amount(one: Amount) -> str:
    written = {"plain": show, "load": show_load, "limit": show_limit}[one.side]
    if one.beside and not one.value:
        return one.beside
    words = written(one.value, one.unit, one.digits)
    return f"{words}, {one.beside}" if one.beside else words


def plain(value: Value) -> Plain:
    """A value as a program reads it: SI units, and null for what is unknown or has no end."""
    match value:
        case float():
            return value if isfinite(value) else None
        case str() | bool() | int() | None:
            return value
        case Amount():
            return plain(value.value)
        case PlaceName():
            return value.name
        case Wording():
            return value.line
        case Mapping():
            return {key: plain(one) for key, one in value.items()}
        case _:
            return [plain(one) for one in value]
