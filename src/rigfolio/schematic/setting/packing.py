"""Where the symbols and wires of one rung stand between two bars."""

from collections.abc import Iterator, Sequence

from rigfolio.model import Conductor
from rigfolio.record import record
from rigfolio.schematic.setting.ruler import Set

LONG_MM, _LONGER_MM = 62.0, 100.0
"""How long a wire is drawn at the most, and one of a circuit [mm]."""


@record
class Extent:
    """A set where it stands: from one place to another [mm]."""

    each: Set
    left_mm: float
    right_mm: float
    is_right: bool = False


def packed(
    sets: Sequence[Set], left: float, right: float, *, is_right: bool = False
) -> Iterator[Extent]:
    """Sets from left to right; wires take what is left over, up to a length that is good to see."""
    slack = max(0.0, right - left - sum(each.width_mm for each in sets))
    wires = [each for each in sets if isinstance(each.piece.thing, Conductor)]
    more: dict[int, float] = {}
    for rank, each in enumerate(sorted(wires, key=_most_more)):
        share = slack / (len(wires) - rank)
        more[id(each)] = min(share, _most_more(each))
        slack -= more[id(each)]
    x = left + (slack if is_right else 0.0)
    for each in sets:
        wide = each.width_mm + more.get(id(each), 0.0)
        yield Extent(each, x, x + wide, is_right)
        x += wide


def _most_more(each: Set) -> float:
    """How much longer than its least a wire may get."""
    wire = each.piece.thing
    if not isinstance(wire, Conductor) or wire.assumed:
        return 1e6
    return max(0.0, (_LONGER_MM if wire.circuit else LONG_MM) - each.width_mm)
