"""What an order of bars and blocks costs: crossings, long bars, long ways, minus before plus."""

from collections.abc import Mapping, Sequence
from math import inf
from operator import mul, sub

from rigfolio.schematic.chains import Bar, Stack
from rigfolio.schematic.ordering.streaks import Cutter, plug_names

CROSSING = 40.0
_BOX = 3.0
_SPAN = 0.30
_SPAN_BOX = 2.0
_PLUG = 0.4
_EMPTY = 0.012
_WIDTH = 0.01
_TOO_WIDE, _EXCESS = 5.0, 0.15

Passing = list[tuple[int, int, int, int]]
"""Strips beside which a bar runs on: bar, first end, second end, rungs."""
Between = list[list[tuple[int, float, list[int]]]]
"""By block its strips that pass over bars: row, what a crossing costs, the bars."""


class Costs:
    """Weighs orders of some bars and blocks, and counts the steps that this takes."""

    def __init__(
        self,
        bars: Sequence[Bar],
        blocks: Sequence[Stack],
        widths: Mapping[int, float],
        room_mm: float,
    ) -> None:
        self.room_mm = room_mm
        self.weights = [_BOX if bar.is_box else 1.0 for bar in bars]
        self.spans = [_SPAN * (_SPAN_BOX if bar.is_box else 1.0) for bar in bars]
        cutter = Cutter(bars, widths)
        self.strips = [cutter.streaks(block) for block in blocks]
        self.heights = [block.rows for block in blocks]
        self.plugs = [plug_names(block) for block in blocks]
        self.has_plugs = any(self.plugs)
        self.signs = [bar.sign for bar in bars]
        self.all = [strip for strips in self.strips for strip in strips]
        # Plain tuples, for each is gone through with every order that is tried.
        self._between_bars = [
            (one.a, one.b, one.pair, one.width_mm, one.count) for one in self.all if one.b >= 0
        ]
        self._has_loops = any(one.a == one.b for one in self.all)
        self._landings = [
            [(one.a, *one.lands[:2], one.b, *one.lands[2:], one.rows) for one in strips]
            for strips in self.strips
        ]
        self.steps = 0
        self._looks = 0

    @property
    def effort(self) -> int:
        """The steps taken, and a quarter of the looks at bars beside rungs, which are lighter."""
        return self.steps + self._looks // 4

    def across(self, bars: Sequence[int], most: float = inf) -> float:
        """What the order of the bars costs by itself; anything from `most` on where it is more."""
        self.steps += len(self.all)
        pos = places_of(bars)
        cost = 0.0
        out: list[list[tuple[int, float, int]]] = [[] for _ in bars]
        for one, two, pair, width_mm, count in self._between_bars:
            a, b = pos[one], pos[two]
            if a > b:
                cost += pair
                a, b = b, a
            out[a].append((b, width_mm, count))
        cost += self._minus_first(bars)
        # No way costs less than nothing, but where a strip ends at the bar that it begins at.
        if cost >= most and not self._has_loops:
            return cost
        return cost + self._path(out)

    def _minus_first(self, bars: Sequence[int]) -> int:
        """How many pairs of bars stand minus before plus."""
        seen = pairs = 0
        for bar in bars:
            if self.signs[bar] == "-":
                seen += 1
            elif self.signs[bar] == "+":
                pairs += seen
        return pairs

    def _path(self, out: Sequence[Sequence[tuple[int, float, int]]]) -> float:
        """What the widest way from left to right costs.

        By the place of each bar the strips that begin there: where they end, how wide they are, how
        many rungs they have.
        """
        far = [0.0] * len(out)
        for place, strips in enumerate(out):
            for end, width_mm, _ in strips:
                reach = far[place] + width_mm
                if reach > far[end]:
                    far[end] = reach
        empty = 0.0
        for place, strips in enumerate(out):
            here = far[place]
            for end, width_mm, count in strips:
                empty += count * (far[end] - here - width_mm)
        widest = max(far, default=0.0)
        excess = widest - self.room_mm
        return (
            _EMPTY * empty + _WIDTH * widest + (_TOO_WIDE + _EXCESS * excess if excess > 0 else 0.0)
        )

    def between(self, bars: Sequence[int]) -> Between:
        """By block: its strips that pass over bars, with their row, what a crossing costs, bars."""
        pos = places_of(bars)
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
        return self.height(blocks, self.between(bars))

    def _reach(self, blocks: Sequence[int]) -> tuple[list[int], list[int]]:
        """First and last row of each bar."""
        self.steps += len(self.all)
        first, last = [10**6] * len(self.weights), [-1] * len(self.weights)
        y = 0
        for block in blocks:
            for a, top, low, b, other_top, other_low, rows in self._landings[block]:
                if y + top < first[a]:
                    first[a] = y + top
                if y + low > last[a]:
                    last[a] = y + low
                if b >= 0:
                    if y + other_top < first[b]:
                        first[b] = y + other_top
                    if y + other_low > last[b]:
                        last[b] = y + other_low
                y += rows
        return first, last

    def height(
        self, blocks: Sequence[int], between: Between,
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
                self._looks += len(passed)
                for bar in passed:
                    if first[bar] < row < last[bar]:
                        cost += weight * self.weights[bar]
            if cost >= most:
                break
            y += self.heights[block]
        return cost

    def _spans(self, first: list[int], last: list[int]) -> float:
        return float(sum(map(mul, self.spans, map(sub, last, first))))

    def passing(self, blocks: Sequence[int]) -> tuple[Passing, float]:
        """Strips beside which a bar runs on (bar, first end, second end, rungs); other costs."""
        first, last = self._reach(blocks)
        self._looks += len(self.all) * len(last)
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

    def passed(self, bars: Sequence[int], passing: Passing) -> float:
        """What the crossings of an order of the bars cost."""
        self.steps += len(passing)
        pos = places_of(bars)
        cost = 0.0
        for bar, a, b, count in passing:
            if (pos[a] < pos[bar]) != (pos[b] < pos[bar]):
                cost += CROSSING * count * self.weights[bar]
        return cost

    def crossings(self, bars: Sequence[int], blocks: Sequence[int]) -> int:
        """How many rungs pass a bar that is not their own."""
        passing, _ = self.passing(blocks)
        pos = places_of(bars)
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


def places_of(order: Sequence[int]) -> list[int]:
    """The place of each number in an order."""
    places = [0] * len(order)
    for place, number in enumerate(order):
        places[number] = place
    return places
