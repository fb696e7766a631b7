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
from rigfolio.units import MEANT, UNITS

OPEN = ("open", "ol", "o.l", "o.l.", "inf", "∞")
"""How a meter, or its reader, says that nothing leads through; in small letters."""
_KINDS = {"V": "voltage", "A": "current", "ohm": "resistance"}
BLANK_UNITS = tuple(_KINDS)
"""What the blanks of a test sheet ask for."""
SMALL = {"v": "V", "a": "A", "mv": "mV", "ma": "mA"}
"""Symbols as they are typed in a hurry."""
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
    found = {s: Spelling(s, one.factor) for s, one in UNITS.items() if one.kind == kind}
    for words, is_word in ((SMALL, False), (MEANT, True)):
        for written, symbol in words.items():
            if symbol in UNITS and UNITS[symbol].kind == kind:
                found[written] = Spelling(symbol, UNITS[symbol].factor, is_word)
    return MappingProxyType(found)


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
    known = spellings(unit)
    word = known.get(said.casefold())
    spelling = known.get(said or unit) or (word if word is not None and word.is_word else None)
    if spelling is None:
        return MeterFigure(None, why=f"`{said}` found, and this is read in {unit}")
    figure = f"{'-' if sign == '-' else ''}{whole or '0'}{f'.{rest}' if rest else ''}"
    value = float(figure) * spelling.factor
    if unit == "ohm" and value < 0.0:
        return MeterFigure(None, why="ohms below zero: there is current in the part")
    return MeterFigure(value, f"{figure} {spelling.symbol}")
