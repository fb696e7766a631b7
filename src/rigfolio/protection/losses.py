"""Where volts are lost, in words."""

from rigfolio.model import Conductor
from rigfolio.protection.ways_out import name_of
from rigfolio.units import is_over, show


def lost_words(wire: Conductor, wire_v: float, whole_v: float) -> str:
    """Which wire loses the largest share of some volts; most of them only if more than half."""
    if is_over(wire_v, whole_v / 2.0):
        return f"most of it is lost in {name_of(wire)}"
    return f"{name_of(wire)} loses more than any other wire, {show(wire_v, 'V')} of it"
