"""What loads draw beside all that can be expected to run with them, each at its own volts.

Currents make the volts and volts the currents: round by round each load draws what it draws under
what all lose. That starts from what it draws with its own circuit alone and rises, so that a load
is found to collapse only where nothing holds it.
"""

from collections.abc import Iterator

from rigfolio.demand.counting.counts import Counts, counted_a
from rigfolio.demand.counting.tally import Tally
from rigfolio.findings import Unknown
from rigfolio.model import Conductor, Load
from rigfolio.network import Way
from rigfolio.operating import STIFF_OHM, Drawn, Hot, SizeOf, drawn_behind, source_ohm

_ROUNDS = 200
_SETTLED = 1e-7


class Carrying:
    """A wire on a way, with what it carries [A] and its resistance under that [Ω]."""

    __slots__ = ("current_a", "hot", "ohm", "tally")

    def __init__(self, tally: Tally, hot: Hot) -> None:
        self.tally, self.hot = tally, hot
        self.current_a = self.ohm = 0.0

    def take(self, current_a: float) -> None:
        """Carry a current."""
        self.current_a, self.ohm = current_a, self.hot.ohm(current_a)


class LoadRun:
    """A load on one way of it, as far as the resistance of that way is known."""

    def __init__(self, counts: Counts, load: Load, way: Way, size_of: SizeOf) -> None:
        self.counts, self.load, self.way, self.size_of = counts, load, way, size_of
        self.line: list[Carrying] = []
        self.passes = load.traits.is_moment
        self.source_ohm = source_ohm(way.source) or STIFF_OHM

    def wires(self) -> Iterator[tuple[str, Conductor]]:
        """The wires outside meshes, each by what names it and the source."""
        way = self.way
        for edge in (*way.out, *way.back):
            if isinstance(edge, Conductor) and not (way.stretches and way.is_meshed(edge.name)):
                yield edge.name, edge

    def lost(self, own_a: float, given_a: float) -> tuple[float, float]:
        """What is lost before the load [V], and the resistance that its own current meets [Ω].

        Every wire carries what it is taken to, and the load's own current at the least; the source
        gives `given_a`, and what runs a moment besides.
        """
        part = self.counts.part(self.way)
        own_ohm = self.source_ohm * part
        part_a = part * own_a
        lost_v = self.source_ohm * (given_a + part_a if self.passes else max(given_a, part_a))
        for wire in self.line:
            ohm, current_a = wire.ohm, wire.current_a
            if own_a > current_a:
                current_a, ohm = own_a, wire.hot.ohm(own_a)
            own_ohm += ohm
            lost_v += ohm * current_a
        for stretch in self.way.stretches:
            fed = self.counts.fed(self.way.source.about.name, stretch)
            settled = fed.settled(self.size_of)
            if settled is not None:
                own_ohm += fed.ohm(settled, stretch.exits)
                lost_v += fed.volts(settled, stretch.exits)
        return lost_v, own_ohm

    def drawn(self, own_a: float, given_a: float) -> Drawn:
        """What the load draws when what it drew before is `own_a` [A]."""
        lost_v, own_ohm = self.lost(own_a, given_a)
        others_v = max(lost_v - own_ohm * own_a, 0.0)
        return drawn_behind(self.load, self.way.source.voltage_v, others_v, own_ohm)


class ExpectedDraws:
    """The loads of a rig whose current follows their volts, on the way to agree with them."""

    def __init__(self, counts: Counts) -> None:
        self.counts = counts
        self.carrying: dict[tuple[str, str], Carrying] = {}
        self.runs = [
            self._run(load, way)
            for load, way in counts.homes.values()
            if load.kind != "current" and isinstance(load.value, float)
        ]

    def _run(self, load: Load, way: Way) -> LoadRun:
        counts = self.counts
        run = LoadRun(counts, load, way, counts.size_of)
        for name, edge in run.wires():
            key = (way.source.about.name, name)
            carrying = self.carrying.get(key)
            if carrying is None:
                size = counts.size_of(edge)
                hot = None if isinstance(size, Unknown) else counts.copper.hot(edge, size)
                if hot is None:
                    continue
                carrying = self.carrying[key] = Carrying(counts.tallies[key], hot)
            run.line.append(carrying)
        return run

    def settle(self) -> None:
        """Find the currents that agree with their volts, and put them into the counts."""
        for _ in range(_ROUNDS if self.runs else 0):
            if self._step() <= _SETTLED:
                return

    def _step(self) -> float:
        counts, most = self.counts, 0.0
        for carrying in self.carrying.values():
            carrying.take(carrying.tally.expected_a(counts.share))
        changed: dict[str, Drawn] = {}
        for run in self.runs:
            name = run.load.about.name
            before = counts.expected[name]
            if before.collapses:
                continue
            after = run.drawn(before.known_a, counts.given_a(run.way.source.about.name))
            changed[name] = after
            most = max(most, abs(after.known_a - before.known_a) / max(before.known_a, 1e-12))
        counts.expected |= changed
        counts.fill()
        return most


def lost_at_once(counts: Counts, load: Load) -> float:
    """The share of its source's volts that a load lacks with all on at once [-].

    Currents as they are when not all are on, so that it is more than their volts would bear out.
    """
    home = counts.homes.get(load.about.name)
    if home is None:
        return 0.0
    way = home[1]
    run, source = LoadRun(counts, load, way, counts.size_of), way.source.about.name
    for name, edge in run.wires():
        size = counts.size_of(edge)
        hot = None if isinstance(size, Unknown) else counts.copper.hot(edge, size)
        if hot is not None:
            carrying = Carrying(counts.tallies[(source, name)], hot)
            carrying.take(carrying.tally.connected_a)
            run.line.append(carrying)
    lost_v, _ = run.lost(0.0, counts.connected_a(source))
    return lost_v / way.source.voltage_v


def on_trial(counts: Counts, load: Load, way: Way, size_of: SizeOf) -> Drawn:
    """What a load draws with wires of other sizes, all else as it is [A]."""
    run = LoadRun(counts, load, way, size_of)
    source, old_a = way.source.about.name, counted_a(counts, load)
    for name, edge in run.wires():
        size = size_of(edge)
        hot = None if isinstance(size, Unknown) else counts.copper.hot(edge, size)
        if hot is not None:
            run.line.append(Carrying(counts.tallies[(source, name)], hot))
    found = drawn_behind(load, way.source.voltage_v, 0.0, 0.0)
    for _ in range(_ROUNDS):
        before = found
        for carrying in run.line:
            tally, share = carrying.tally, counts.share
            carrying.take(tally.expected_with(load, old_a, before.known_a, share))
        more_a = 0.0 if run.passes else before.known_a - old_a
        given_a = counts.given_a(source) + counts.part(way) * more_a
        found = run.drawn(before.known_a, given_a)
        moved_a = abs(found.known_a - before.known_a)
        if found.collapses or moved_a <= _SETTLED * before.known_a:
            break
    return found
