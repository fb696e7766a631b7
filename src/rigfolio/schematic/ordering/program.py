"""Places in a line under least distances: the least that is feasible, and the best by cost."""

from collections.abc import Hashable, Sequence
from dataclasses import dataclass, field
from math import inf

_LOOSE = 1e-6
_STEPS = 1_000_000


@dataclass(slots=True)
class Program:
    """Variables by key, all at least 0, and least distances between them.

    A distance is `fixed + share·stretch`, so that one program serves many shares from 0 to 1.
    """

    keys: dict[Hashable, int] = field(default_factory=dict)
    gaps: dict[tuple[int, int], tuple[float, float]] = field(default_factory=dict)
    costs: list[float] = field(default_factory=list)

    def place(self, key: Hashable) -> int:
        """The number of a variable, made where it is new."""
        if key not in self.keys:
            self.keys[key] = len(self.costs)
            self.costs.append(0.0)
        return self.keys[key]

    def cost(self, key: Hashable, amount: float) -> None:
        """Add to the cost of a variable."""
        self.costs[self.place(key)] += amount

    def apart(self, one: Hashable, two: Hashable, fixed: float, stretch: float = 0.0) -> None:
        """Keep the second so far beyond the first at least; of two gaps the larger is kept."""
        pair = (self.place(one), self.place(two))
        old = self.gaps.get(pair)
        if old is None:
            self.gaps[pair] = (fixed, stretch)
        else:
            self.gaps[pair] = (max(old[0], fixed), max(old[1], stretch))

    def free(self, one: Hashable, two: Hashable) -> None:
        """Let go of a distance."""
        self.gaps.pop((self.place(one), self.place(two)), None)

    def least(self, share: float = 0.0) -> list[float] | None:
        """Each variable as small as can be; None where the distances contradict each other."""
        far = [0.0] * len(self.costs)
        arcs = [(i, j, fixed + share * more) for (i, j), (fixed, more) in self.gaps.items()]
        for _ in range(len(far) + 1):
            moved = False
            for i, j, gap in arcs:
                if far[i] + gap > far[j] + _LOOSE:
                    far[j] = far[i] + gap
                    moved = True
            if not moved:
                return far
        return None

    def tight(self, key: Hashable) -> frozenset[tuple[Hashable, Hashable]]:
        """The pairs on the ways that put a variable as far as it is at the least."""
        far = self.least() or []
        names = list(self.keys)
        into: dict[int, list[int]] = {}
        for (i, j), (gap, _) in self.gaps.items():
            if far and abs(far[i] + gap - far[j]) < 10 * _LOOSE:
                into.setdefault(j, []).append(i)
        queue, seen = [self.place(key)], {self.place(key)}
        found = set()
        for j in queue:
            for i in into.get(j, ()):
                found.add((names[i], names[j]))
                if i not in seen:
                    seen.add(i)
                    queue.append(i)
        return frozenset(found)

    def best(self, share: float, most: float) -> list[float] | None:
        """The places of least cost, none beyond `most`; good ones where no solver answers."""
        from rigfolio.calc import Bound, UnprovedError, least

        start = self.least(share)
        if start is None or max(start, default=0.0) > most + _LOOSE:
            return None
        bounds = [
            Bound(((j, 1.0), (i, -1.0)), fixed + share * more)
            for (i, j), (fixed, more) in self.gaps.items()
        ]
        count = len(self.costs)
        top = max(most, max(start, default=0.0))
        try:
            found = least(self.costs, [False] * count, [top] * count, bounds)
        except (ImportError, UnprovedError):
            found = None
        return list(found) if found is not None else self.settled(share, start, top)

    def settled(self, share: float, start: Sequence[float], top: float) -> list[float]:
        """Places from a start that are moved, with all that they push, while that costs less.

        Each step is as far as the next distance lets it, so that the places stay feasible. It may
        end where only moves of several groups at once would cost less; it needs no library.
        """
        slide = _Slide(self, share, start, top)
        while slide.swept():
            pass
        return slide.at


class _Slide:
    """Variables that are pushed along a line, within a number of steps that is given."""

    def __init__(self, program: Program, share: float, start: Sequence[float], top: float) -> None:
        self.at = list(start)
        self.costs = program.costs
        self.top = top
        self.steps = _STEPS
        self.after: list[list[tuple[int, float]]] = [[] for _ in start]
        self.before: list[list[tuple[int, float]]] = [[] for _ in start]
        for (i, j), (fixed, more) in program.gaps.items():
            gap = fixed + share * more
            self.after[i].append((j, gap))
            self.before[j].append((i, gap))

    def swept(self) -> bool:
        """Whether one pass over all variables has moved any; false where no steps are left."""
        moved = False
        for n in range(len(self.at)):
            for way in (1, -1):
                if self.steps > 0 and self._is_moved(n, way):
                    moved = True
        return moved and self.steps > 0

    def _is_moved(self, start: int, way: int) -> bool:
        """Whether it costs less to push a variable, and whatever it touches, to one side."""
        group, free = self._pushed(start, way)
        if way * sum(self.costs[n] for n in group) >= -_LOOSE or free <= _LOOSE:
            return False
        for n in group:
            self.at[n] += way * free
        return True

    def _pushed(self, start: int, way: int) -> tuple[list[int], float]:
        """All that moves with a variable, and how far it can go together."""
        arcs = self.after if way > 0 else self.before
        group, held = [start], {start}
        free = inf
        for n in group:
            free = min(free, self.top - self.at[n] if way > 0 else self.at[n])
            for other, gap in arcs[n]:
                self.steps -= 1
                room = way * (self.at[other] - self.at[n]) - gap
                if room <= _LOOSE and other not in held:
                    held.add(other)
                    group.append(other)
        for n in group:
            for other, gap in arcs[n]:
                if other not in held:
                    free = min(free, way * (self.at[other] - self.at[n]) - gap)
        return group, free
