"""What to say of a number without a unit: the units that it may have, and no more than that."""

from collections.abc import Sequence
from fractions import Fraction

from rigfolio.findings import Finding
from rigfolio.lang.fact import EXAMPLES, Fact
from rigfolio.lang.lines import Token, error
from rigfolio.units import show

_UNITS_OF = {
    "<length>": ("ft", "in", "m"),
    "<size>": ("AWG", "mm2"),
    "<resistance>": ("mohm", "ohm"),
    "<temperature>": ("degC", "degF"),
    "<time>": ("h", "min", "s"),
}
"""Units among which nothing but the one who measured can tell."""


def unitless(item: Token, parts: Sequence[str]) -> Finding:
    """An error about a number without a unit, with each that one of some values could have."""
    ways = [way for part in parts if _is_counted(part) for way in _with_units(item.text, part)]
    return error(
        "bare-number", item.span, f"`{item.text}` has no unit",
        here="the unit says what a number is",
        fix=" or ".join(dict.fromkeys(ways)) or "take it out, or write its unit behind it",
    )  # fmt: skip


def _with_units(text: str, part: str) -> list[str]:
    """A bare number with each unit that it may have; a share of less than one is that share."""
    if part == "<share>":
        value = float(Fraction(text))
        if value > 100.0:
            return []
        return [f"`{show(value, '%', 10)}`" if value <= 1.0 else f"`{text} %`"]
    units = _UNITS_OF.get(part) or (Fact("", (part,)).example().split()[-1],)
    return [f"`{text} {unit}`" for unit in units]


def _is_counted(part: str) -> bool:
    """Whether a value is a number with a unit or a noun."""
    name = part[1:-1]
    if not part.startswith("<") or name in ("date", "stud", "place", "thing", "tag"):
        return part.startswith("<n ")
    return name.startswith("n ") or EXAMPLES[name][0].isdigit()
