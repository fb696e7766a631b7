"""Figures as the text states them, with all their digits: alike on every paper."""

from rigfolio.model import Load
from rigfolio.units import Figure, show

DIGITS = 6
"""More than anybody reads off a plate."""
DRAWN_IN = {"current": "A", "power": "W", "resistance": "Ω"}
"""The unit of what a load draws, by how the text says it."""


def stated(value: Figure, symbol: str) -> str:
    """A figure as the text has it: `12.84 V`, `? A`; rounded it would be less of a load.

    Examples
    --------
    >>> stated(12.84, "V"), stated(15.04, "A")
    ('12.84 V', '15.04 A')
    """
    return show(value, symbol, DIGITS)


def draw_words(load: Load) -> str:
    """What a load draws: `8 W`, `15.04 A`, `? A`; an inverter by the AC power that it gives."""
    if load.nature != "inverter" or load.kind != "power":
        return stated(load.value, DRAWN_IN[load.kind])
    if load.stated_w is not None:
        return f"{stated(load.stated_w, 'W')} AC"
    return f"{stated(load.value, 'W')} DC"
