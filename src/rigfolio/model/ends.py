"""Which end of a series device a wire lands on, where the text leaves it open."""

from collections import deque
from collections.abc import Iterable, Mapping, Sequence

from rigfolio.findings import Span
from rigfolio.kinds import DeviceKind
from rigfolio.model.asides import Problem
from rigfolio.model.graph import Source
from rigfolio.model.names import Bare
from rigfolio.record import record

Landing = str | Bare | None


@record
class Run:
    """A wire between two landings, and the place that wrote it."""

    a: Landing
    b: Landing
    span: Span


@record
class Pair:
    """The two ends of a series device; `held` where the line end sits on something."""

    traits: DeviceKind
    line: str
    load: str
    held: bool = False


@record
class _LandingWire:
    """A wire that lands on a device: run, end (0 is `a`), direction, and what its far end is."""

    run: int
    end: int
    onward: bool
    other: str


def settle(
    runs: Sequence[Run],
    pairs: Mapping[str, Pair],
    sources: Iterable[Source],
    links: Iterable[tuple[str, str]] = (),
) -> tuple[dict[tuple[int, int], str], list[Problem]]:
    """The terminal of every bare landing, by run and end (0 is `a`, 1 is `b`).

    The side that is fed when the device is taken out is the line side; for a disconnect, the side
    of the battery. Where both or none are fed, a wire written towards the device lands on its line
    end and one written away from it on its load end; where all are written the same way, the one
    nearer to a source lands on the line end. An end that a wire names in full is left to it by
    others that are all written the same way.
    """
    map_ = _Map(pairs, runs, links)
    map_.start(sources)
    ways: dict[str, list[_LandingWire]] = {}
    taken: set[str] = set()
    for number, run in enumerate(runs):
        for end, landing in enumerate((run.a, run.b)):
            if isinstance(landing, Bare):
                other = map_.node(run.a if end else run.b)
                ways.setdefault(landing.key, []).append(
                    _LandingWire(number, end, landing.onward, other)
                )
            elif landing is not None:
                taken.add(landing)
    settled: dict[tuple[int, int], str] = {}
    problems: list[Problem] = []
    for key, found in ways.items():
        pair = pairs[key]
        on_line = _choose(found, pair, taken & {pair.line, pair.load}, key, map_)
        if on_line is None:
            near = f"{pair.line}, {pair.load}"
            problems.append(Problem("end-not-plain", runs[found[0].run].span, key, near=near))
            continue
        for way, is_line in zip(found, on_line, strict=True):
            settled[(way.run, way.end)] = pair.line if is_line else pair.load
    return settled, problems


class _Map:
    """What is wired to what, devices taken as one point each."""

    def __init__(
        self,
        pairs: Mapping[str, Pair],
        runs: Sequence[Run],
        links: Iterable[tuple[str, str]],
    ) -> None:
        self.pairs = pairs
        self.runs = runs
        self.links = links
        self.next_to: dict[str, list[str]] = {}
        self.feeds: dict[str, int] = {}
        self.far: dict[str, int] = {}

    def start(self, sources: Iterable[Source]) -> None:
        """Join everything, and mark the posts of batteries (2) and of other sources (1)."""
        joints = [(self.node(run.a), self.node(run.b)) for run in self.runs]
        joints += [(key, self.node(p.line)) for key, p in self.pairs.items() if p.held]
        joints += [(self.node(one), self.node(two)) for one, two in self.links]
        for one, two in joints:
            self.next_to.setdefault(one, []).append(two)
            self.next_to.setdefault(two, []).append(one)
        for source in sources:
            weight = 2 if source.stores else 1
            for post in (source.plus, source.minus):
                self.feeds[post] = max(weight, self.feeds.get(post, 0))
        self.far = self._steps(list(self.feeds))

    def node(self, landing: Landing) -> str:
        """The point that stands for a landing: its device, or the terminal itself."""
        if landing is None:
            return ""
        if isinstance(landing, Bare):
            return landing.key
        stem = landing.rsplit(".", 1)[0]
        return stem if stem in self.pairs else landing

    def _steps(self, starts: Sequence[str], without: str = "") -> dict[str, int]:
        far = dict.fromkeys((start for start in starts if start), 0)
        waiting = deque(far)
        while waiting:
            here = waiting.popleft()
            for there in self.next_to.get(here, ()):
                if there and there != without and there not in far:
                    far[there] = far[here] + 1
                    waiting.append(there)
        return far

    def fed(self, start: str, without: str) -> int:
        """2 where a battery is reached without passing a device, 1 where another source is."""
        return max((self.feeds.get(node, 0) for node in self._steps([start], without)), default=0)


def _choose(
    ways: Sequence[_LandingWire], pair: Pair, taken: set[str], key: str, map_: _Map
) -> list[bool] | None:
    """Whether each wire lands on the line end; None where that is not plain."""
    if pair.held:
        return [False] * len(ways)
    if len(ways) == 1 and len(taken) == 1:
        return [pair.line not in taken]
    fed = [map_.fed(way.other, key) for way in ways]
    if not pair.traits.line_to_battery:
        fed = [min(one, 1) for one in fed]
    if len(taken) < 2 and (min(fed) < max(fed) or (len(fed) == 1 and fed[0])):
        return [one == max(fed) for one in fed]
    if len(taken) < 2 and len({way.onward for way in ways}) == 2:
        return [not way.onward for way in ways]
    if taken:
        return [pair.line not in taken] * len(ways) if len(taken) == 1 else None
    if len(ways) == 1:
        return [not way.onward for way in ways]
    return _by_distance(ways, pair, map_) if len(ways) == 2 else None


def _by_distance(ways: Sequence[_LandingWire], pair: Pair, map_: _Map) -> list[bool] | None:
    one, two = (map_.far.get(way.other) for way in ways)
    if one is not None and two is not None and one != two:
        return [one < two, two < one]
    if pair.traits.alike and ways[0].other != ways[1].other:
        return [way.other == min(w.other for w in ways) for way in ways]
    return None
