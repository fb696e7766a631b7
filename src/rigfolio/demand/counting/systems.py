"""Sources that share no plus, and what they drive through a conductor that they share.

Sources of one system stand in for each other, and of them the worst counts. Those of two systems,
as of 24 V and 12 V with one minus bar, drive their loads at the same time: what runs the same way
adds up, what runs against each other is judged each for itself.
"""

import math
from collections.abc import Iterable, Iterator, Sequence

from rigfolio.demand.counting.tally import Tally
from rigfolio.network import Tree
from rigfolio.record import record


@record
class Driven:
    """What one source puts on an edge one way, and the most that it can [A].

    Of one that is `unread` nobody knows what it can; 0 is sure.
    """

    source: str
    tally: Tally
    bound_a: float
    unread: bool = False


@record
class Summed:
    """What loads put on an edge one way, the worst source of each system [A].

    `most_a` is what it may come to with loads of which nobody knows what they draw: no more than
    their sources give.
    """

    loads_a: float
    steady_a: float
    connected_a: float
    most_a: float
    unknown: tuple[str, ...]


_NOTHING = Summed(0.0, 0.0, 0.0, 0.0, ())


class Systems:
    """The systems of a rig: sources whose plus sides are joined belong to one."""

    def __init__(self, trees: Iterable[Tree]) -> None:
        self.of: dict[str, int] = {}
        """The number of the system of each source."""
        held = tuple(trees)
        for number, tree in enumerate(held):
            for other in held:
                if other.source.plus in tree.out:
                    self.of.setdefault(other.source.about.name, number)
        kin = list(self.of.values())
        self.lone = tuple(
            tree.source.about.name for tree in held
            if not tree.source.stores and kin.count(self.of[tree.source.about.name]) == 1
        )  # fmt: skip
        """The sources, batteries aside, that have no other one in their system."""
        self.are_several = len(set(self.of.values())) > 1

    def summed(self, driven: Iterable[Driven], share: float) -> Iterator[Summed]:
        """What is put on an edge one way and the other, all systems together."""
        held = tuple(driven)
        for sense in (1.0, -1.0) if self.are_several else (0.0,):
            yield self._summed([one for one in held if sense * one.tally.sense >= 0.0], share)

    def _summed(self, driven: Sequence[Driven], share: float) -> Summed:
        worst: dict[int, list[float]] = {}
        unknown: dict[str, None] = {}
        unread_a = 0.0
        for one in driven:
            tally, number = one.tally, self.of[one.source]
            own_a = most_a = min(tally.demand_a(share), one.bound_a)
            if tally.unknown:
                most_a = math.inf if one.unread else one.bound_a
                unknown |= dict.fromkeys(tally.unknown)
            figures = own_a, min(tally.continuous_a, one.bound_a), tally.connected_a, most_a
            held = worst.setdefault(number, [0.0] * 4)
            for place, value in enumerate(figures):
                if value > held[place]:
                    held[place] = value
        if not worst:
            return _NOTHING
        for one in driven:
            if one.unread and one.tally.demand_a(share) > worst[self.of[one.source]][0]:
                unknown[one.source], unread_a = None, math.inf
        loads_a, steady_a, connected_a, most_a = map(sum, zip(*worst.values(), strict=True))
        return Summed(loads_a, steady_a, connected_a, most_a + unread_a, tuple(unknown))

    def beside_a(self, source: str, own: Tally, driven: Iterable[Driven], share: float) -> float:
        """What other systems drive through an edge the same way as one source does [A]."""
        worst: dict[int, float] = {}
        for one in driven if self.are_several else ():
            number = self.of[one.source]
            if number != self.of[source] and one.tally.sense * own.sense > 0.0:
                own_a = min(one.tally.expected_a(share), one.bound_a)
                worst[number] = max(worst.get(number, 0.0), own_a)
        return sum(worst.values())
