"""The order of bars from left to right and of blocks from top to bottom, with few crossings."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf
from operator import mul, sub

from rigfolio.model import Device
from rigfolio.schematic.graph import Bar
from rigfolio.schematic.units import Ladder, Stack

CROSSING = 40.0
_BOX = 3.0
_SPAN = 0.30
_SPAN_BOX = 2.0
_BEHIND_BUS = 12.0
_MINUS_FIRST = 2.0
_PORT = 1.5
_PLUG = 0.4
_EMPTY = 0.012
_WIDTH = 0.01
_TOO_WIDE, _EXCESS = 5.0, 0.15
_KICKS, _KICKS_CROSSED, _IN_VAIN = 8, 60, 30
_FIRST_OF_PAIR = frozenset({"in"})


@dataclass(frozen=True, slots=True)
class Order:
    """Bars from left to right, blocks from top to bottom, what it costs, and what crosses."""

    bars: tuple[str, ...]
    blocks: tuple[Stack, ...]
    cost: float
    crossings: int


@dataclass(frozen=True, slots=True)
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


class Search:
    """Looks for a good order from several starts, in a number of steps that is given."""

    def __init__(
        self, bars: Sequence[Bar], blocks: Sequence[Stack], widths: dict[int, float], room_mm: float
    ) -> None:
        self.bars = bars
        self.blocks = blocks
        self.room_mm = room_mm
        self.number = {bar.name: n for n, bar in enumerate(bars)}
        self.weights = [_BOX if bar.is_box else 1.0 for bar in bars]
        self.spans = [_SPAN * (_SPAN_BOX if bar.is_box else 1.0) for bar in bars]
        self.strips = [self._strips(block, widths) for block in blocks]
        self.heights = [block.rows for block in blocks]
        self.plugs = [plug_names(block) for block in blocks]
        self.has_plugs = any(self.plugs)
        self.minus = [n for n, bar in enumerate(bars) if bar.sign == "-"]
        self.plus = [n for n, bar in enumerate(bars) if bar.sign == "+"]
        self.all = [strip for strips in self.strips for strip in strips]
        self.steps = 0
        self.seed = 12345

    def _strips(self, block: Stack, widths: dict[int, float]) -> list[Streak]:
        made: list[Streak] = []
        for unit in block.units:
            a, b = self.number[unit.a], self.number.get(unit.b, -1)
            lands_a, lands_b = unit.lands(unit.a), unit.lands(unit.b) if unit.b else (0,)
            width = widths[id(unit)]
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

    def best(self, starts: Sequence[tuple[list[int], list[int]]], budget: int) -> Order:
        """The best order found from some starts (bars, blocks) within so many steps."""
        self.steps = 0
        found = min((self._descended(*start, budget) for start in starts), key=lambda f: f[0])
        kick = vain = 0
        while self.steps < budget:
            most = _KICKS_CROSSED if found[0] >= CROSSING else _KICKS
            if kick >= most or vain >= _IN_VAIN:
                break
            kick += 1
            tried = self._descended(*self._kicked(found[1], found[2]), budget)
            if tried[0] < found[0] - 1e-9:
                found, vain = tried, 0
            else:
                vain += 1
        cost, bars, blocks = found[0], found[1], self._by_text(found[2])
        return Order(tuple(self.bars[n].name for n in bars), tuple(self.blocks[n] for n in blocks),
                     cost, self.crossings(bars, blocks))  # fmt: skip

    def _by_text(self, blocks: list[int]) -> list[int]:
        """Blocks that may stand for each other in the order of the text; nothing else changes."""
        alike: dict[tuple[object, ...], list[int]] = {}
        for place, block in enumerate(blocks):
            strips = self.strips[block]
            if len(strips) == 1 and not self.plugs[block]:
                strip = strips[0]
                key = (strip.a, strip.b, strip.count, strip.rows, strip.lands)
                alike.setdefault(key, []).append(place)
        ordered = blocks[:]
        for places in alike.values():
            for place, block in zip(places, sorted(blocks[n] for n in places), strict=True):
                ordered[place] = block
        return ordered

    def _chance(self, below: int) -> int:
        """A number below another, the same in every run."""
        self.seed = (self.seed * 1103515245 + 12345) % 2**31
        return (self.seed >> 8) % below

    def _kicked(self, bars: list[int], blocks: list[int]) -> tuple[list[int], list[int]]:
        bars, blocks = bars[:], blocks[:]
        if len(bars) > 1:
            bar = bars.pop(self._chance(len(bars)))
            bars.insert(self._chance(len(bars) + 1), bar)
        if len(blocks) > 2:
            first = self._chance(len(blocks))
            last = min(len(blocks), first + 2 + self._chance(4))
            part = blocks[first:last]
            del blocks[first:last]
            if self._chance(2):
                part.reverse()
            place = self._chance(len(blocks) + 1)
            blocks[place:place] = part
        return bars, blocks

    def _descended(
        self, bars: list[int], blocks: list[int], budget: int
    ) -> tuple[float, list[int], list[int]]:
        """Each block, then each bar at its best place, until nothing gets better."""
        bars, blocks = bars[:], blocks[:]
        cost = self.across(bars) + self.down(bars, blocks)
        while self.steps < budget:
            before = cost
            if len(blocks) > 1:
                cost = self._sift_blocks(bars, blocks)
            if len(bars) > 1:
                cost = self._sift_bars(bars, blocks)
            if cost >= before - 1e-9:
                break
        return cost, bars, blocks

    def _sift_blocks(self, bars: list[int], blocks: list[int]) -> float:
        between = self.between(bars)
        fixed = self.across(bars)
        least = self._height(blocks, between)
        for block in list(blocks):
            place = blocks.index(block)
            rest = blocks[:place] + blocks[place + 1 :]
            best = place
            for other in range(len(blocks)):
                if other != place:
                    tried = [*rest[:other], block, *rest[other:]]
                    cost = self._height(tried, between, least)
                    if cost < least - 1e-9:
                        least, best = cost, other
            if best != place:
                blocks[:] = [*rest[:best], block, *rest[best:]]
        return fixed + least

    def _sift_bars(self, bars: list[int], blocks: list[int]) -> float:
        passing, fixed = self._passing(blocks)
        least = self.across(bars) + self._passed(bars, passing)
        for bar in list(bars):
            place = bars.index(bar)
            rest = bars[:place] + bars[place + 1 :]
            best = place
            for other in range(len(bars)):
                if other != place:
                    tried = [*rest[:other], bar, *rest[other:]]
                    cost = self._passed(tried, passing)
                    if cost < least:
                        cost += self.across(tried)
                    if cost < least - 1e-9:
                        least, best = cost, other
            if best != place:
                bars[:] = [*rest[:best], bar, *rest[best:]]
        return least + fixed

    def across(self, bars: Sequence[int]) -> float:
        """What the order of the bars costs by itself."""
        self.steps += len(self.all)
        pos = _places(bars)
        cost = 0.0
        out: list[list[Streak]] = [[] for _ in bars]
        for strip in self.all:
            if strip.b < 0:
                continue
            a, b = pos[strip.a], pos[strip.b]
            if a > b:
                cost += strip.pair
                a, b = b, a
            out[a].append(strip)
        for minus in self.minus:
            cost += sum(pos[minus] < pos[plus] for plus in self.plus)
        return cost + self._path(out, pos)

    def _path(self, out: list[list[Streak]], pos: Sequence[int]) -> float:
        """What the widest way from left to right costs."""
        far = [0.0] * len(out)
        for place, strips in enumerate(out):
            for strip in strips:
                end = max(pos[strip.a], pos[strip.b])
                reach = far[place] + strip.width_mm
                if reach > far[end]:
                    far[end] = reach
        empty = 0.0
        for place, strips in enumerate(out):
            for strip in strips:
                end = max(pos[strip.a], pos[strip.b])
                empty += strip.count * (far[end] - far[place] - strip.width_mm)
        widest = max(far, default=0.0)
        excess = widest - self.room_mm
        return (
            _EMPTY * empty + _WIDTH * widest + (_TOO_WIDE + _EXCESS * excess if excess > 0 else 0.0)
        )

    def between(self, bars: Sequence[int]) -> list[list[tuple[int, float, list[int]]]]:
        """By block: its strips that pass over bars, with their row, what a crossing costs, bars."""
        pos = _places(bars)
        found = []
        for strips in self.strips:
            here, below = [], 0
            for strip in strips:
                if strip.b >= 0:
                    one, two = pos[strip.a], pos[strip.b]
                    passed = list(bars[min(one, two) + 1 : max(one, two)])
                    if passed:
                        here.append((below, CROSSING * strip.count, passed))
                below += strip.rows
            found.append(here)
        return found

    def down(self, bars: Sequence[int], blocks: Sequence[int]) -> float:
        """What the order of the blocks costs under an order of the bars."""
        return self._height(blocks, self.between(bars))

    def _reach(self, blocks: Sequence[int]) -> tuple[list[int], list[int]]:
        """First and last row of each bar."""
        self.steps += len(self.all)
        first, last = [10**6] * len(self.bars), [-1] * len(self.bars)
        y = 0
        for block in blocks:
            for strip in self.strips[block]:
                a, b, lands = strip.a, strip.b, strip.lands
                if y + lands[0] < first[a]:
                    first[a] = y + lands[0]
                if y + lands[1] > last[a]:
                    last[a] = y + lands[1]
                if b >= 0:
                    if y + lands[2] < first[b]:
                        first[b] = y + lands[2]
                    if y + lands[3] > last[b]:
                        last[b] = y + lands[3]
                y += strip.rows
        return first, last

    def _height(
        self, blocks: Sequence[int], between: list[list[tuple[int, float, list[int]]]],
        most: float = inf,
    ) -> float:  # fmt: skip
        """What an order of the blocks costs; anything above `most` where it is no less."""
        first, last = self._reach(blocks)
        cost = self._spans(first, last) + self._plug_cost(blocks)
        if cost >= most:
            return cost
        y = 0
        for block in blocks:
            for below, weight, passed in between[block]:
                row = y + below
                for bar in passed:
                    if first[bar] < row < last[bar]:
                        cost += weight * self.weights[bar]
            y += self.heights[block]
        return cost

    def _spans(self, first: list[int], last: list[int]) -> float:
        return float(sum(map(mul, self.spans, map(sub, last, first))))

    def _passing(self, blocks: Sequence[int]) -> tuple[list[tuple[int, int, int, int]], float]:
        """Strips beside which a bar runs on (bar, first end, second end, rungs); other costs."""
        first, last = self._reach(blocks)
        found = []
        y = 0
        for block in blocks:
            for strip in self.strips[block]:
                if strip.b >= 0:
                    for bar, low in enumerate(last):
                        if first[bar] < y < low and bar != strip.a and bar != strip.b:
                            found.append((bar, strip.a, strip.b, strip.count))
                y += strip.rows
        return found, self._spans(first, last) + self._plug_cost(blocks)

    def _passed(self, bars: Sequence[int], passing: list[tuple[int, int, int, int]]) -> float:
        self.steps += len(passing)
        pos = _places(bars)
        cost = 0.0
        for bar, a, b, count in passing:
            if (pos[a] < pos[bar]) != (pos[b] < pos[bar]):
                cost += CROSSING * count * self.weights[bar]
        return cost

    def crossings(self, bars: Sequence[int], blocks: Sequence[int]) -> int:
        """How many rungs pass a bar that is not their own."""
        passing, _ = self._passing(blocks)
        pos = _places(bars)
        return sum(
            count for bar, a, b, count in passing if (pos[a] < pos[bar]) != (pos[b] < pos[bar])
        )

    def _plug_cost(self, blocks: Sequence[int]) -> float:
        if not self.has_plugs:
            return 0.0
        cost = 0.0
        seen: dict[str, int] = {}
        for place, block in enumerate(blocks):
            for plug in self.plugs[block]:
                if plug in seen:
                    cost += _PLUG * (place - seen[plug] - 1)
                seen[plug] = place
        return cost


def _places(order: Sequence[int]) -> list[int]:
    places = [0] * len(order)
    for place, number in enumerate(order):
        places[number] = place
    return places


def plug_names(block: Stack) -> frozenset[str]:
    """Connectors that a block has pins of."""
    return frozenset(
        piece.thing.about.name
        for unit in block.units
        for each in unit.laid
        for piece in each.rung.pieces
        if isinstance(piece.thing, Device) and piece.thing.kind == "connector"
    )


def port_side(terminal: str) -> int:
    """-1 where a terminal of a box belongs at its left, 1 at its right, 0 where either is good."""
    name = terminal.rpartition(".")[2]
    if name in _FIRST_OF_PAIR or name.isdigit():
        return 1
    return -1 if name in ("out", "common") else 0
