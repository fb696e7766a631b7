"""What the duty of a load, and its nature, say of it."""

from collections.abc import Mapping
from typing import Literal

from rigfolio.record import record

Duty = Literal["continuous", "intermittent", "momentary", "cyclic"]


@record
class DutyKind:
    """A way in which a load runs.

    Parameters
    ----------
    for_hours : bool
        Whether it runs on for hours, steadily or by a thermostat: then it counts in what wires and
        fuses carry for hours, and is left on while volts are read.
    at_times : bool
        Whether it comes and goes: of several that do so the largest counts, or a share of the sum.
    is_moment : bool
        Whether it is over before anything settles: it counts in what wires carry at one time, and
        sets no volts that others are judged at.
    pauses : bool
        Whether it stands still between, so that a switch that starts it rests open.
    by_itself : bool
        Whether it starts and stops by itself, whoever has switched on or off what.
    """

    for_hours: bool = False
    at_times: bool = False
    is_moment: bool = False
    pauses: bool = True
    by_itself: bool = False


DUTIES: Mapping[Duty, DutyKind] = {
    "continuous": DutyKind(for_hours=True, pauses=False),
    "intermittent": DutyKind(at_times=True),
    "momentary": DutyKind(at_times=True, is_moment=True),
    "cyclic": DutyKind(for_hours=True, by_itself=True),
}
"""Every duty by its word."""

USUAL_DUTY: Duty = "continuous"
"""What is taken where the text says nothing."""

CAPACITIVE = {"inverter": True, "electronics": False}
"""Natures of loads with capacitors ahead of their switch, and whether these keep volts long."""
