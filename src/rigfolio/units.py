"""Written quantity to SI float and back; the only door to pint.

The table below names every symbol that a rig file may use, the pint unit it stands for and the
factor to SI. Reading a file multiplies by the factor, so that a check starts fast; a test proves
each factor equal to pint's. Text from a file never reaches pint's parser.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import lru_cache
from typing import TYPE_CHECKING

from rigfolio.calc import awg_area_m2
from rigfolio.findings import Unknown
from rigfolio.record import record

if TYPE_CHECKING:
    import pint

_IN_M = 0.0254
_AH_C = 3600.0
_MINUTE_S = 60.0


@record
class Unit:
    """A unit symbol: the kind of quantity it measures, its name in pint, its factor to SI."""

    symbol: str
    kind: str
    pint_name: str
    factor: float
    offset: float = 0.0


def _table() -> dict[str, Unit]:
    rows = (
        ("length", (("m", "meter", 1.0), ("cm", "centimeter", 0.01), ("mm", "millimeter", 0.001),
                    ("ft", "foot", 0.3048), ("in", "inch", _IN_M))),
        ("current", (("A", "ampere", 1.0), ("mA", "milliampere", 0.001),
                     ("kA", "kiloampere", 1000.0))),
        ("voltage", (("V", "volt", 1.0), ("mV", "millivolt", 0.001))),
        ("power", (("W", "watt", 1.0), ("mW", "milliwatt", 0.001), ("kW", "kilowatt", 1000.0))),
        ("resistance", (("ohm", "ohm", 1.0), ("mohm", "milliohm", 0.001), ("Ω", "ohm", 1.0),
                        ("Ω", "ohm", 1.0), ("mΩ", "milliohm", 0.001), ("mΩ", "milliohm", 0.001))),
        ("charge", (("Ah", "ampere_hour", _AH_C),)),
        ("energy", (("Wh", "watt_hour", 3600.0), ("kWh", "kilowatt_hour", 3.6e6))),
        ("area", (("mm2", "millimeter ** 2", 1e-6), ("mm²", "millimeter ** 2", 1e-6))),
        ("share", (("%", "percent", 0.01),)),
        ("time", (("s", "second", 1.0), ("min", "minute", 60.0), ("h", "hour", 3600.0))),
        ("duty", (("h/day", "hour / day", 3600.0 / 86400.0),
                  ("min/day", "minute / day", 60.0 / 86400.0))),
        ("torque", (("Nm", "newton * meter", 1.0),)),
    )  # fmt: skip
    table = {
        symbol: Unit(symbol, kind, name, factor)
        for kind, symbols in rows
        for symbol, name, factor in symbols
    }
    for symbol, name, factor, offset in (
        ("degC", "degree_Celsius", 1.0, 0.0),
        ("°C", "degree_Celsius", 1.0, 0.0),
        ("degF", "degree_Fahrenheit", 5.0 / 9.0, -32.0),
        ("°F", "degree_Fahrenheit", 5.0 / 9.0, -32.0),
    ):
        # Temperatures stay in degrees Celsius: every table of the trade is written in them.
        table[symbol] = Unit(symbol, "temperature", name, factor, offset)
    return table


UNITS = _table()
"""Every unit symbol of the language."""

METER_UNITS = UNITS | {
    symbol: Unit(symbol, "resistance", name, factor)
    for symbol, name, factor in (
        ("kohm", "kiloohm", 1e3), ("kΩ", "kiloohm", 1e3), ("kΩ", "kiloohm", 1e3),
        ("Mohm", "megaohm", 1e6), ("MΩ", "megaohm", 1e6), ("MΩ", "megaohm", 1e6),
    )
}  # fmt: skip
"""What a meter shows: nothing that a rig is made of has so many ohms that a text would say so."""


MEANT = {
    "amp": "A", "amps": "A", "ampere": "A", "amperes": "A", "volt": "V", "volts": "V",
    "vdc": "V", "watt": "W", "watts": "W", "foot": "ft", "feet": "ft", "inch": "in",
    "inches": "in", "meter": "m", "metre": "m", "meters": "m", "metres": "m", "ohms": "ohm",
    "ga": "AWG", "gauge": "AWG", "sqmm": "mm2", "qmm": "mm2", "hr": "h", "hrs": "h",
    "hour": "h", "hours": "h", "minute": "min", "minutes": "min", "sec": "s", "c": "degC",
    "f": "degF", "deg": "degC", "celsius": "degC", "fahrenheit": "degF", "degree": "degC",
    "degrees": "degC", "h/d": "h/day", "percent": "%",
}  # fmt: skip
"""Other ways to write a unit, in small letters, and the symbol that is meant."""


def to_si(value: float, symbol: str) -> float:
    """A written number in SI units (temperatures in °C, duty as a share of the day).

    Raises
    ------
    KeyError
        The symbol is not in `UNITS`.
    """
    unit = UNITS[symbol]
    return (value + unit.offset) * unit.factor


def from_si(value: float, symbol: str) -> float:
    """An SI float in the unit of a symbol; the inverse of `to_si`."""
    unit = UNITS[symbol]
    return value / unit.factor - unit.offset


Figure = float | Unknown | None
"""A figure that may not be known, or not be stated."""


def show(value: Figure, symbol: str, digits: int = 3) -> str:
    """A plain figure as it is printed, to the nearest: `7.5 A`, `0.36 V`; never with an exponent.

    What loads draw is written by `show_load`, what may be carried by `show_limit`. A figure that
    is not known is `? A`, never zero.

    Examples
    --------
    >>> show(7.5, "A"), show(0.3048, "ft"), show(1200.0, "W"), show(None, "A")
    ('7.5 A', '1 ft', '1200 W', '? A')
    """
    if value is None or isinstance(value, Unknown):
        return f"? {symbol}"
    written = from_si(value, symbol)
    if abs(written) >= 10.0 ** (digits - 1):
        text = f"{written:.0f}"
    else:
        text = f"{written:.{digits}g}"
        if "e" in text:
            text = f"{written:.{digits + 3}f}"
    return f"{_short(text)} {symbol}"


def show_load(value: Figure, symbol: str, digits: int = 3) -> str:
    """What is drawn, needed, lost or flows, as it is printed: never rounded down.

    Examples
    --------
    >>> show_load(15.04, "A"), show_load(15.0, "A"), show_load(1200.2, "W"), show_load(None, "A")
    ('15.1 A', '15 A', '1201 W', '? A')
    """
    return _directed(value, symbol, digits, math.ceil)


def sum_digits(value: Figure, symbol: str) -> int:
    """How many digits print what is added up with others: to two places at least.

    Examples
    --------
    >>> [show_load(one, "A", sum_digits(one, "A")) for one in (113.144, 11.21, 0.6307)]
    ['113.15 A', '11.21 A', '0.631 A']
    """
    if value is None or isinstance(value, Unknown):
        return _DIGITS
    written = abs(from_si(value, symbol))
    before = math.floor(math.log10(written)) + 1 if 0.0 < written < math.inf else 1
    return max(_DIGITS, before + _PLACES)


def show_added(value: Figure, symbol: str) -> str:
    """What is drawn and added up with others, as it is printed: as `show_load`, to `sum_digits`.

    So the amperes and ampere-hours of loads, wires, devices and sources read in every command, on
    every sheet and in editors. Volts, watts, shares and what a short drives are never added up by
    a reader: `show_load`.

    Examples
    --------
    >>> show_added(113.144, "A"), show_added(None, "Ah")
    ('113.15 A', '? Ah')
    """
    return show_load(value, symbol, sum_digits(value, symbol))


def show_limit(value: Figure, symbol: str, digits: int = 3) -> str:
    """What may be drawn, carried, fitted or lost, as it is printed: never rounded up.

    Examples
    --------
    >>> show_limit(8.196, "A"), show_limit(15.0, "A"), show_limit(149.9, "A")
    ('8.19 A', '15 A', '149 A')
    """
    return _directed(value, symbol, digits, math.floor)


def show_between(low: float, high: float, symbol: str, digits: int = 3) -> str:
    """From where to where something is expected, never narrower than it is.

    Examples
    --------
    >>> show_between(36.16, 50.624, "V")
    '36.1 V to 50.7 V'
    """
    return f"{show_limit(low, symbol, digits)} to {show_load(high, symbol, digits)}"


def show_against(
    load: float, limit: float, symbol: str, digits: int | None = None
) -> tuple[str, str]:
    """A load and the limit it is held against, with as many digits as tell them apart.

    Where `digits` does not say from how many on, what is added up has those of `show_added`.

    Examples
    --------
    >>> show_against(15.04, 15.0, "A"), show_against(15.0, 15.04, "A"), show_against(9.0, 9.0, "A")
    (('15.04 A', '15 A'), ('15 A', '15.04 A'), ('9 A', '9 A'))
    """
    least = sum_digits(load, symbol) if digits is None and symbol in _ADDED_UP else 0
    for more in range(digits or _DIGITS, _MOST_DIGITS + 1):
        pair = show_load(load, symbol, max(least, more)), show_limit(limit, symbol, more)
        if pair[0] != pair[1] or is_same(load, limit):
            break
    return pair


def apart(value: float, beside: float, unit: str, digits: int | None = None) -> str:
    """A load with as many digits as it takes to tell it from the limit that it is held against.

    Examples
    --------
    >>> apart(41.0, 30.0, "A"), apart(30.04, 30.0, "A"), apart(0.0304, 0.03, "%", 2)
    ('41 A', '30.04 A', '3.1 %')
    """
    return show_against(value, beside, unit, digits)[0]


def show_unequal(one: float, other: float, symbol: str, digits: int = 3) -> tuple[str, str]:
    """Two plain figures, with as many digits as tell them apart.

    Examples
    --------
    >>> show_unequal(15.04, 15.0, "A"), show_unequal(20.0, 15.0, "A")
    (('15.04 A', '15 A'), ('20 A', '15 A'))
    """
    for more in range(digits, _MOST_DIGITS + 1):
        pair = show(one, symbol, more), show(other, symbol, more)
        if pair[0] != pair[1] or is_same(one, other):
            break
    return pair


_MOST_DIGITS = 10
_DIGITS = 3
# Places behind the point of what is added up.
_PLACES = 2
_ADDED_UP = ("A", "Ah")
_MOST_DECIMALS = 24
_SAME = 1e-9
"""Figures that differ by less of themselves are one figure, here as in every check."""


def time_words(seconds: float) -> str:
    """A time as a person says it.

    Examples
    --------
    >>> time_words(180.0), time_words(45.0), time_words(0.1), time_words(5400.0)
    ('3 min', '45 s', '0.1 s', '90 min')
    """
    return show(seconds, "min") if seconds >= _MINUTE_S else f"{seconds:.3g} s"


def brief_words(seconds: float) -> str:
    """How long a fuse takes to open, or copper to burn.

    Examples
    --------
    >>> brief_words(0.0123), brief_words(3.21)
    ('12 ms', '3.2 s')
    """
    return f"{seconds * 1000.0:.0f} ms" if seconds < 1.0 else show(seconds, "s", 2)


def is_same(one: float, two: float) -> bool:
    """Whether two figures are one but for the last bits of them.

    Examples
    --------
    >>> is_same(0.1 + 0.2, 0.3), is_same(0.3, 0.300001)
    (True, False)
    """
    return math.isclose(one, two, rel_tol=_SAME)


def is_over(figure: float, limit: float) -> bool:
    """Whether a figure is above its limit, by more than the last bits of it.

    What is at its limit is within it: a fuse of 15 A on a wire that may carry 15 A.

    Examples
    --------
    >>> is_over(15.01, 15.0), is_over(15.0, 15.0), is_over(0.1 + 0.2, 0.3), is_over(14.0, 15.0)
    (True, False, False, False)
    """
    return figure > limit and not is_same(figure, limit)


@lru_cache(maxsize=8192)
def _directed(value: Figure, symbol: str, digits: int, whole: Callable[[float], int]) -> str:
    if value is None or isinstance(value, Unknown):
        return f"? {symbol}"
    written = from_si(value, symbol)
    if written == 0.0 or not math.isfinite(written):
        return f"{written + 0.0:.0f} {symbol}"
    size = math.floor(math.log10(abs(written)))
    decimals = min(max(digits - 1 - size, 0), _MOST_DECIMALS)
    scaled = written * 10.0**decimals
    # 0.15 of 1 is 15.000000000000002 %: what is whole but for the last bits is whole.
    near = round(scaled)
    number = near if is_same(scaled, near) else whole(scaled)
    figures = str(abs(number)).rjust(decimals + 1, "0")
    text = f"{figures[:-decimals]}.{figures[-decimals:]}" if decimals else figures
    return f"{'-' if number < 0 else ''}{_short(text)} {symbol}"


def _short(text: str) -> str:
    return text.rstrip("0").rstrip(".") if "." in text else text


def quantity(value: float, symbol: str) -> pint.Quantity[float]:
    """A written number as a pint quantity, for scripts that go on computing with it."""
    import pint

    quantity: pint.Quantity[float] = pint.Quantity(value, UNITS[symbol].pint_name)
    return quantity


@record
class Size:
    """A conductor size: as written, its copper area [m²], and its gauge number if AWG.

    Gauge 1/0 is 0, 2/0 is -1, 3/0 is -2, 4/0 is -3.
    """

    text: str
    area_m2: float
    awg: int | None = None


def awg_name(gauge: int) -> str:
    """`16`, `1/0`, `4/0`: a gauge number as it is written."""
    return str(gauge) if gauge > 0 else f"{1 - gauge}/0"


def awg_size(gauge: int) -> Size:
    """The size of a gauge number (1/0 is 0, 4/0 is -3)."""
    return Size(f"{awg_name(gauge)} AWG", awg_area_m2(gauge), gauge)


def metric_size(mm2: float) -> Size:
    """The size of a metric cross-section [mm²]."""
    return Size(f"{mm2:g} mm²", mm2 * 1e-6)
