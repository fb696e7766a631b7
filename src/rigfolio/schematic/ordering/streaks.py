"""Runs of units between the same two bars, which the search moves as one."""

from collections.abc import Mapping, Sequence

from rigfolio.model import Device
from rigfolio.record import record
from rigfolio.schematic.chains import Bar, Ladder, Stack

_BEHIND_BUS = 12.0
_MINUS_FIRST = 2.0
_PORT = 1.5
_FIRST_OF_PAIR = frozenset({"in"})


@record
class Streak:
    """Units of a block that follow each other between the same bars, by number of bar.

    `lands` are the first and the last row on each of both bars; `b` is -1 at a free end.
    """

    a: int
    b: int
    count: int
    rows: int
    lands: tuple[int, int, int, int]
    pair: float
    """What it costs where `b` lies left of `a`, less what it costs the other way round."""
    width_mm: float


class Cutter:
    """Cuts blocks into streaks, by the numbers of bars and the widths of units."""

    def __init__(self, bars: Sequence[Bar], widths: Mapping[int, float]) -> None:
        self.bars = bars
        self.widths = widths
        self.number = {bar.name: n for n, bar in enumerate(bars)}

    def streaks(self, block: Stack) -> list[Streak]:
        """The streaks of a block from top to bottom."""
        made: list[Streak] = []
        for unit in block.units:
            a, b = self.number[unit.a], self.number.get(unit.b, -1)
            lands_a, lands_b = unit.lands(unit.a), unit.lands(unit.b) if unit.b else (0,)
            width = self.widths[id(unit)]
            last = made[-1] if made else None
            if last and (last.a, last.b) == (a, b):
                lands = (last.lands[0], last.rows + max(lands_a),
                         last.lands[2], last.rows + max(lands_b))  # fmt: skip
                pair = last.pair + self._pair(unit)
                made[-1] = Streak(a, b, last.count + 1, last.rows + unit.rows, lands, pair,
                                 max(width, last.width_mm))  # fmt: skip
            else:
                lands = (min(lands_a), max(lands_a), min(lands_b), max(lands_b))
                made.append(Streak(a, b, 1, unit.rows, lands, self._pair(unit), width))
        return made

    def _pair(self, unit: Ladder) -> float:
        """What a unit costs more with its second bar at the left of its first."""
        if not unit.b:
            return 0.0
        a, b = self.bars[self.number[unit.a]], self.bars[self.number[unit.b]]
        cost = _BEHIND_BUS if unit.slot else 0.0
        if a.sign == "+" and b.sign == "-":
            cost += _MINUS_FIRST
        elif a.sign == "-" and b.sign == "+":
            cost -= _MINUS_FIRST
        elif a.sign == b.sign == "+" or a.is_box or b.is_box:
            cost += (a.depth < b.depth) - (b.depth < a.depth)
        for bar, is_first in ((a, True), (b, False)):
            if bar.is_box:
                for each in unit.laid:
                    left = each.left == bar.name
                    if bar.name in (each.left, each.right):
                        port = each.rung.ports[0 if left != each.is_turned else 1]
                        side = port_side(port)
                        cost += side * (-_PORT if is_first else _PORT)
                        cost += 0.0 if side < 1 else (-1.0 if is_first else 1.0)
        return cost


def plug_names(block: Stack) -> frozenset[str]:
    """Connectors that a block has pins of."""
    return frozenset(
        piece.thing.about.name
        for unit in block.units
        for each in unit.laid
        for piece in each.rung.pieces
        if isinstance(piece.thing, Device) and piece.thing.traits.is_plug
    )


def port_side(terminal: str) -> int:
    """-1 where a terminal of a box belongs at its left, 1 at its right, 0 where either is good."""
    name = terminal.rpartition(".")[2]
    if name in _FIRST_OF_PAIR or name.isdigit():
        return 1
    return -1 if name in ("out", "common") else 0
