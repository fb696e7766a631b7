"""What somebody typed in a blank of the test sheet, as a figure of the unit that it asks for.

The page in the browser reads by the same tables and the same steps; the rows of
`tests/page/typed.toml` are tried on both.
"""

import re
from collections.abc import Mapping
from functools import cache
from math import inf
from types import MappingProxyType

from rigfolio.record import record
from rigfolio.units import MEANT, METER_UNITS

OPEN = ("open", "ol", "o.l", "o.l.", "inf", "∞")
"""How a meter, or its reader, says that nothing leads through; in small letters."""
_KINDS = {"V": "voltage", "A": "current", "ohm": "resistance"}
BLANK_UNITS = tuple(_KINDS)
"""What the blanks of a test sheet ask for."""
_HASTY = {
    "v": "V", "a": "A", "mv": "mV", "ma": "mA", "Ohm": "ohm", "OHM": "ohm", "mOhm": "mohm",
    "k": "kohm", "K": "kohm", "kOhm": "kohm", "KOhm": "kohm", "KOHM": "kohm", "Kohm": "kohm",
    "KΩ": "kΩ", "M": "Mohm", "MOhm": "Mohm",
}  # fmt: skip
"""Symbols as they are typed in a hurry; of `MOHM` nobody knows whether it is small or large."""
_WORDS = MEANT | {
    "milliohm": "mohm", "milliohms": "mohm", "kohms": "kohm", "kilohm": "kohm", "kilohms": "kohm",
    "kiloohm": "kohm", "kiloohms": "kohm", "megohm": "Mohm", "megohms": "Mohm", "megaohm": "Mohm",
    "megaohms": "Mohm", "meg": "Mohm",
}  # fmt: skip
_FIGURE = re.compile(r"([+-]?)([0-9]*)([.,]?)([0-9]*)\s*(\S*)")
_THOUSANDS = 3
_SIGNS: dict[int, str] = str.maketrans({"−": "-", "–": "-"})


@record
class MeterFigure:
    """A reading: its value in the unit of its blank, infinite for `open`, and as it is kept.

    Where it was not understood there is no value, and `why` says what is wrong with it.
    """

    value: float | None
    written: str = ""
    why: str = ""


@record
class Spelling:
    """How a unit may be written: its symbol, and what it is in the unit of the blank [-].

    A word may have capitals or not; of symbols `mV` is no `MV`.
    """

    symbol: str
    factor: float
    is_word: bool = False


@cache
def spellings(unit: str) -> Mapping[str, Spelling]:
    """The ways to write a unit that fit a blank in V, A or ohm; words in small letters."""
    kind = _KINDS[unit]
    found = {s: Spelling(s, one.factor) for s, one in METER_UNITS.items() if one.kind == kind}
    for words, is_word in ((_HASTY, False), (_WORDS, True)):
        for written, symbol in words.items():
            if symbol in METER_UNITS and METER_UNITS[symbol].kind == kind:
                found[written] = Spelling(symbol, METER_UNITS[symbol].factor, is_word)
    return MappingProxyType(found)


def meter_unit(written: str) -> str:
    """The symbol that is meant by a unit of a reading; empty where it is none.

    Examples
    --------
    >>> meter_unit("Volts"), meter_unit("kOhm"), meter_unit("MV"), meter_unit("W")
    ('V', 'kohm', '', '')
    """
    for unit in BLANK_UNITS:
        spelling = _spelling(written, unit)
        if spelling is not None:
            return spelling.symbol
    return ""


def _spelling(written: str, unit: str) -> Spelling | None:
    """What is meant by a unit in a blank of a unit."""
    known = spellings(unit)
    word = known.get(written.casefold())
    return known.get(written) or (word if word is not None and word.is_word else None)


def tidied(text: str) -> str:
    """What was typed with one kind of minus and single blanks."""
    return " ".join(text.translate(_SIGNS).split())


def meter_figure(text: str, unit: str) -> MeterFigure:
    """What was typed in a blank of a unit.

    A comma parts the decimals as a point does, but for `1,234`, which may mean two things. A figure
    without a unit has that of the blank.

    Parameters
    ----------
    text : str
        What was typed: `12.4`, `0,3`, `40 mV`, `open`.
    unit : str
        What the blank asks for: `V`, `A` or `ohm`.
    """
    typed = tidied(text)
    if typed.casefold() in OPEN:
        if unit == "ohm":
            return MeterFigure(inf, "open")
        return MeterFigure(None, why=f"`{typed}` is said of ohms, and this is read in {unit}")
    found = _FIGURE.fullmatch(typed)
    if found is None or not (found[2] or found[4]) or (found[3] and not found[4]):
        return MeterFigure(None, why="no figure: write `12.4`, `40 mV` or `open`")
    sign, whole, point, rest, said = found.groups()
    if point == "," and len(rest) == _THOUSANDS and whole.lstrip("0") and whole[0] != "0":
        written = f"`{whole}.{rest}` or `{whole}{rest}`"
        return MeterFigure(None, why=f"`{whole},{rest}` may mean two things: write {written}")
    spelling = _spelling(said or unit, unit)
    if spelling is None:
        return MeterFigure(None, why=f"`{said}` found, and this is read in {unit}")
    figure = f"{'-' if sign == '-' else ''}{whole or '0'}{f'.{rest}' if rest else ''}"
    value = float(figure) * spelling.factor
    if unit == "ohm" and value < 0.0:
        return MeterFigure(None, why="ohms below zero: there is current in the part")
    return MeterFigure(value, f"{figure} {spelling.symbol}")
