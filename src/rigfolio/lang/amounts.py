"""Numbers with their units: what they measure, how much it is, and why some do not exist."""

from collections.abc import Sequence

from rigfolio.lang.lines import Token
from rigfolio.units import UNITS, Size, awg_size, metric_size, to_si

SIZE_UNITS = ("AWG", "mm2", "mm²")
_SPELT = {symbol.casefold(): symbol for symbol in (*SIZE_UNITS, *UNITS)}
_BOUNDS = {"share": (0.0, 1.0), "duty": (0.0, 1.0), "temperature": (-60.0, 300.0)}
_MAY_BE_ZERO = frozenset({"length", "duty", "temperature", "time"})


_IN_PARTS = frozenset({"in", "ft"})
"""Units that people write fractions of."""


def spelt(unit: str) -> str:
    """A unit as the table of units has it, however it is capitalised; any other word as it is.

    Examples
    --------
    >>> spelt("awg"), spelt("FT"), spelt("AH"), spelt("Slots")
    ('AWG', 'ft', 'Ah', 'Slots')
    """
    # Milli and mega would be told apart by capitals alone, and no rig needs mega.
    return unit if unit in UNITS else _SPELT.get(unit.casefold(), unit)


def measured(unit: str) -> str:
    """What is measured in a unit; empty for any other word."""
    if unit in SIZE_UNITS:
        return "size"
    return UNITS[unit].kind if unit in UNITS else ""


def measures(item: Token) -> str:
    """What a quantity measures; empty where there is no such quantity."""
    kind = measured(item.unit)
    if kind == "size":
        return kind if size_of(item) is not None else ""
    return kind if kind and amount(item) is not None else ""


def amount(item: Token) -> float | None:
    """The SI float of a quantity; None where there is no such quantity."""
    number = _number(item)
    if number is None:
        return None
    kind, value = UNITS[item.unit].kind, to_si(number, item.unit)
    low, high = _BOUNDS.get(kind, (0.0, float("inf")))
    if not low <= value <= high or (value == 0.0 and kind not in _MAY_BE_ZERO):
        return None
    return value


def _number(item: Token) -> float | None:
    if "/" not in item.text:
        return float(item.text)
    top, bottom = item.text.split("/")
    return int(top) / int(bottom) if item.unit in _IN_PARTS and int(bottom) else None


def size_of(item: Token) -> Size | None:
    """The conductor size of a quantity; None where there is no such size."""
    if item.unit == "AWG":
        gauge = _gauge(item.text)
        return None if gauge is None else awg_size(gauge)
    if "/" in item.text or not 0.0 < float(item.text) <= 1000.0:
        return None
    return metric_size(float(item.text))


def _gauge(text: str) -> int | None:
    if "/" in text:
        top, bottom = text.split("/")
        return 1 - int(top) if bottom == "0" and 1 <= int(top) <= 4 else None
    return int(text) if text.isdigit() and text[0] != "0" and int(text) <= 40 else None


def measure(kind: str, items: Sequence[Token], at: int) -> tuple[float, int] | None:
    """A quantity of some kind that starts at an item, and where it ends.

    `2 ft 6 in`, `2 1/2 in` and `3 1/2 ft` are one length each.
    """
    item = items[at]
    nearby = items[at + 1] if at + 1 < len(items) and _close(item, items[at + 1]) else None
    if item.kind == "number":
        # A minus is for temperatures, which have no parts.
        if item.text[0] == "-" or kind != "length" or nearby is None:
            return None
        if "/" not in nearby.text or nearby.unit not in _IN_PARTS:
            return None
        part = amount(nearby)
        return None if part is None else (to_si(float(item.text), nearby.unit) + part, at + 2)
    if item.kind != "quantity" or item.unit not in UNITS or UNITS[item.unit].kind != kind:
        return None
    value = amount(item)
    if value is None:
        return None
    if item.unit == "ft" and nearby is not None:
        inches = measure("length", items, at + 1)
        if inches is not None and inches[0] < to_si(1.0, "ft") and _is_inches(items, at + 1):
            return value + inches[0], inches[1]
    return value, at + 1


def _close(one: Token, two: Token) -> bool:
    return two.span.start - one.span.end <= 2


def _is_inches(items: Sequence[Token], at: int) -> bool:
    return items[at].unit == "in" or (
        items[at].kind == "number" and at + 1 < len(items) and items[at + 1].unit == "in"
    )


def why_not(item: Token) -> tuple[str, str]:
    """Why there is no such quantity, and a way out."""
    text, unit = item.text, item.unit
    if unit == "AWG":
        zeros = len(text) if set(text) == {"0"} else 0
        fix = f"`{zeros}/0 AWG`" if 1 <= zeros <= 4 else "read the print on the insulation again"
        return "gauge numbers run from 40 to 1, then 1/0 to 4/0", fix
    if "/" in text:
        return "fractions are read of inches and feet only", "write it with a decimal point"
    kind = UNITS[unit].kind if unit in UNITS else ""
    if text.startswith("-") and kind != "temperature":
        return "only a temperature may be below zero", "write it without the `-`"
    if kind in _BOUNDS and float(text) > 0.0:
        low, high = (_shown(bound, unit) for bound in _BOUNDS[kind])
        return f"a {kind} lies between {low} and {high}", "write the figure again"
    if kind == "area" and float(text) > 0.0:
        return "conductors are read up to 1000 mm²", "write the figure again"
    return "nothing measures zero", "`?` where it is not known"


def _shown(bound: float, unit: str) -> str:
    return f"{bound / UNITS[unit].factor - UNITS[unit].offset:g} {unit}"
