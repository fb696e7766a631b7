"""Written quantity to SI float and back; the only door to pint.

The table below names every symbol that a rig file may use, the pint unit it stands for and the
factor to SI. Reading a file multiplies by the factor, so that a check starts fast; a test proves
each factor equal to pint's. Text from a file never reaches pint's parser.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from rigfolio.calc import awg_area_m2
from rigfolio.record import record

if TYPE_CHECKING:
    import pint

_IN_M = 0.0254
_AH_C = 3600.0


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


def show(value: float, symbol: str, digits: int = 3) -> str:
    """An SI float as it is printed: `7.5 A`, `0.36 V`; never with an exponent.

    Examples
    --------
    >>> show(7.5, "A"), show(0.3048, "ft"), show(1200.0, "W")
    ('7.5 A', '1 ft', '1200 W')
    """
    written = from_si(value, symbol)
    if abs(written) >= 10.0 ** (digits - 1):
        text = f"{written:.0f}"
    else:
        text = f"{written:.{digits}g}"
        if "e" in text:
            text = f"{written:.{digits + 3}f}"
        if "." in text:
            text = text.rstrip("0").rstrip(".")
    return f"{text or '0'} {symbol}"


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
