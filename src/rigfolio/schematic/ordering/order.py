"""The order of bars from left to right and of blocks from top to bottom, with few crossings."""

from collections.abc import Sequence

from rigfolio.record import record
from rigfolio.schematic.chains import Bar, Stack
from rigfolio.schematic.ordering.costs import CROSSING, Costs

_KICKS, _KICKS_CROSSED, _IN_VAIN = 8, 60, 30
MOST_STEPS = 4_000_000
"""How many steps one search takes at the most, whatever it has been given to begin with."""


@record
class Order:
    """Bars from left to right, blocks from top to bottom, what it costs, and what crosses."""

    bars: tuple[str, ...]
    blocks: tuple[Stack, ...]
    cost: float
    crossings: int


class Search:
    """Looks for a good order from several starts, in a number of steps that is given."""

    def __init__(self, bars: Sequence[Bar], blocks: Sequence[Stack], costs: Costs) -> None:
        self.bars = bars
        self.blocks = blocks
        self.costs = costs
        self.most = MOST_STEPS
        self.seed = 12345

    def best(
        self, starts: Sequence[tuple[list[int], list[int]]], budget: int, most: int = MOST_STEPS
    ) -> Order:
        """The best order found from some starts (bars, blocks).

        Nothing new is begun after `budget` steps, and what was begun is left off after `most`.
        """
        self.most = most
        found = min((self._descended(*start, budget) for start in starts), key=lambda f: f[0])
        kick = vain = 0
        while self.costs.steps < budget and self.costs.effort < self.most:
            kicks = _KICKS_CROSSED if found[0] >= CROSSING else _KICKS
            if kick >= kicks or vain >= _IN_VAIN:
                break
            kick += 1
            tried = self._descended(*self._kicked(found[1], found[2]), budget)
            if tried[0] < found[0] - 1e-9:
                found, vain = tried, 0
            else:
                vain += 1
        cost, bars, blocks = found[0], found[1], self._by_text(found[2])
        return Order(tuple(self.bars[n].name for n in bars), tuple(self.blocks[n] for n in blocks),
                     cost, self.costs.crossings(bars, blocks))  # fmt: skip

    def _by_text(self, blocks: list[int]) -> list[int]:
        """Blocks that may stand for each other in the order of the text; nothing else changes."""
        alike: dict[tuple[object, ...], list[int]] = {}
        for place, block in enumerate(blocks):
            strips = self.costs.strips[block]
            if len(strips) == 1 and not self.costs.plugs[block]:
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
        cost = self.costs.across(bars) + self.costs.down(bars, blocks)
        while self.costs.steps < budget and self.costs.effort < self.most:
            before = cost
            if len(blocks) > 1:
                cost = self._sift_blocks(bars, blocks)
            if len(bars) > 1:
                cost = self._sift_bars(bars, blocks)
            if cost >= before - 1e-9:
                break
        return cost, bars, blocks

    def _sift_blocks(self, bars: list[int], blocks: list[int]) -> float:
        between = self.costs.between(bars)
        fixed = self.costs.across(bars)
        least = self.costs.height(blocks, between)
        for block in list(blocks):
            if self.costs.effort >= self.most:
                break
            place = blocks.index(block)
            rest = blocks[:place] + blocks[place + 1 :]
            best = place
            for other in range(len(blocks)):
                if other != place:
                    tried = [*rest[:other], block, *rest[other:]]
                    cost = self.costs.height(tried, between, least)
                    if cost < least - 1e-9:
                        least, best = cost, other
            if best != place:
                blocks[:] = [*rest[:best], block, *rest[best:]]
        return fixed + least

    def _sift_bars(self, bars: list[int], blocks: list[int]) -> float:
        passing, fixed = self.costs.passing(blocks)
        least = self.costs.across(bars) + self.costs.passed(bars, passing)
        for bar in list(bars):
            if self.costs.effort >= self.most:
                break
            place = bars.index(bar)
            rest = bars[:place] + bars[place + 1 :]
            best = place
            for other in range(len(bars)):
                if other != place:
                    tried = [*rest[:other], bar, *rest[other:]]
                    cost = self.costs.passed(tried, passing)
                    if cost < least:
                        cost += self.costs.across(tried, least - cost)
                    if cost < least - 1e-9:
                        least, best = cost, other
            if best != place:
                bars[:] = [*rest[:best], bar, *rest[best:]]
        return least + fixed
