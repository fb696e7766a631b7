"""The largest flow into a place and the narrowest cut before it, whatever flows.

The network is asked for as it is walked, from the goal outwards: large parts that can only take are
never looked at. Ford and Fulkerson: as long as some way has room, more is let in along it; Dinitz:
of one walk all ways are used that have the fewest arcs. The nodes that can still reach the goal in
the end lie inside the narrowest cut that is nearest to it.
"""

import math
from collections import deque
from collections.abc import Callable, Hashable, Iterable, Mapping
from typing import TypeVar

from rigfolio.record import record

Node = Hashable
Arc = tuple[Hashable, int, Node, float]
"""A way into a node: its name, +1 or -1 for the sense in which it is walked, the node that it
comes from, and the most that can come by it in that sense. One name may be walked in both."""
START: Node = "start of all flow"
_Step = tuple[Node, list[Arc]]
_TINY = 1e-9

Place = TypeVar("Place", bound=Hashable)
Item = TypeVar("Item")


@record
class Flow:
    """The largest flow.

    `amount` is infinite where one way has no limit. `inside` are the nodes within the narrowest cut
    that is nearest to the goal, the goal first; every way into them from elsewhere is full.
    `through` is what runs by each name, in the sense of +1.
    """

    amount: float
    inside: tuple[Node, ...]
    through: Mapping[Hashable, float]


class _Raised:
    """A flow on its way up."""

    def __init__(self) -> None:
        self.through: dict[Hashable, float] = {}
        self.start_walk()

    def start_walk(self) -> None:
        """Forget by what ways the goal was reached."""
        self.come: dict[Node, _Step] = {}
        """For each node the next one on the way to the goal, and the arcs side by side to it."""
        self._level: dict[Node, int] = {}
        self._others: dict[Node, deque[_Step]] = {}
        """More such steps that lead on by no more arcs."""
        self._full: set[Node] = set()

    def reach(self, node: Node, arc: Arc) -> bool:
        """Note that a node leads on by an arc to another one; gives whether it is a new one."""
        tail, level = arc[2], self._level.get(node, 0)
        if tail not in self.come:
            self.come[tail] = node, [arc]
            self._level[tail] = level + 1
            return True
        if self.come[tail][0] == node:
            self.come[tail][1].append(arc)
        elif self._level[tail] == level + 1:
            others = self._others.setdefault(tail, deque())
            if others and others[-1][0] == node:
                others[-1][1].append(arc)
            else:
                others.append((node, [arc]))
        return False

    def room(self, arc: Arc) -> float:
        """What more can come by an arc."""
        name, sense, _, most = arc
        return most - sense * self.through.get(name, 0)

    def raise_by(self, goal: Node, node: Node, first: Arc) -> float:
        """Let as much more as there is room for run in by an arc from the start."""
        total: float = 0
        while True:
            more = self._raise_once(goal, node, first)
            total += more
            if more <= _TINY or math.isinf(more) or not self._leads_on(goal, node):
                return total

    def _raise_once(self, goal: Node, node: Node, first: Arc) -> float:
        """The same by the one way that every node knows now."""
        more = self.room(first)
        steps = [[first]]
        while node != goal and more > _TINY:
            node, arcs = self.come[node]
            steps.append(arcs)
            more = min(more, sum(self.room(arc) for arc in arcs))
        if more <= _TINY or math.isinf(more):
            return max(more, 0)
        for arcs in steps:
            left = more
            for arc in arcs:
                part = min(left, self.room(arc))
                self.through[arc[0]] = self.through.get(arc[0], 0) + arc[1] * part
                left -= part
        return more

    def _leads_on(self, goal: Node, node: Node) -> bool:
        """Whether a node has a way left to the goal; nodes turn to others where theirs is full."""
        trail = [node]
        while trail:
            here = trail[-1]
            if here == goal:
                return True
            nearer, arcs = self.come[here]
            if nearer not in self._full and sum(self.room(arc) for arc in arcs) > _TINY:
                trail.append(nearer)
            elif others := self._others.get(here):
                self.come[here] = others.popleft()
            else:
                self._full.add(here)
                trail.pop()
        return False


def largest_flow(
    goal: Node,
    ways_in: Callable[[Node], Iterable[Arc]],
    *,
    most: float = math.inf,
    starts: int = -1,
) -> Flow:
    """The largest flow from the start into a goal.

    Parameters
    ----------
    goal : Node
        Where it flows to.
    ways_in : Callable[[Node], Iterable[Arc]]
        The arcs into a node, those from `START` among them.
    most : float
        A bound that is known from elsewhere; it saves looking further once it is reached.
    starts : int
        How many arcs there are from the start, where that is known.

    Returns
    -------
    Flow
        Amounts have the unit of the arcs, whole numbers stay whole.
    """
    flow = _Raised()
    total: float = 0
    while True:
        more = _pass(goal, ways_in, flow, most - total, starts)
        total += more
        if more <= _TINY or math.isinf(more):
            return Flow(total, (goal, *flow.come), flow.through)


def _pass(
    goal: Node,
    ways_in: Callable[[Node], Iterable[Arc]],
    flow: _Raised,
    room: float,
    starts: int,
) -> float:
    """Walk out from the goal once, fewest arcs first, and raise the flow from each start met."""
    flow.start_walk()
    waiting = deque([goal])
    total: float = 0
    while waiting:
        node = waiting.popleft()
        for arc in ways_in(node):
            tail = arc[2]
            if tail == START:
                total += flow.raise_by(goal, node, arc)
                starts -= 1
                if total > _TINY and (not starts or total >= room - _TINY or math.isinf(total)):
                    return total
            elif tail == goal or flow.room(arc) <= _TINY:
                continue
            elif flow.reach(node, arc):
                waiting.append(tail)
    return total


def dead_ends(
    steps: Mapping[Place, Iterable[tuple[Item, Place]]],
    kept: Iterable[Place] = (),
    *,
    further: bool = True,
) -> dict[Place, tuple[Item, Place]]:
    """The places that hang on all else by one step, taken off again and again, outermost first.

    Parameters
    ----------
    steps : Mapping
        For each place the steps from it, each with the place where it leads; every step both ways.
    kept : iterable
        Places that are never taken off.
    further : bool
        Whether to go on with the places that hang on by one step only then.

    Returns
    -------
    dict
        Each place taken off, with the one step that is left to it.
    """
    stays = frozenset(kept)
    held = {place: tuple(found) for place, found in steps.items()}
    left = {place: len(found) for place, found in held.items()}
    off: dict[Place, tuple[Item, Place]] = {}
    waiting = [place for place, count in left.items() if count == 1 and place not in stays]
    while waiting:
        here = waiting.pop()
        if left[here] != 1:
            continue
        left[here] = 0
        item, there = next(step for step in held[here] if left[step[1]])
        off[here] = item, there
        left[there] -= 1
        if further and left[there] == 1 and there not in stays:
            waiting.append(there)
    return off
