"""The part of a rig that all faults share: what lies between sources, with its currents.

Wires that lead only to loads hang on that core like branches on a tree. A fault out on one of them
draws all its current along that one branch, so that the core has to be solved only once for each
pair of places where branches begin.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence

from rigfolio.books import Limit, cranking_short, full_v
from rigfolio.calc import Branch, Factor, Grid, Island, Matrix, Network, Supply, across, push
from rigfolio.isolation import Open
from rigfolio.model import Source
from rigfolio.network import Edge, Net, Step, dead_ends, edge_name, ends, net_among, path
from rigfolio.operating import source_ohm, usual_ohms
from rigfolio.record import record, replace
from rigfolio.study import Study, once
from rigfolio.units import show

OhmOf = Callable[[Edge], float]
# Stands in for what is not known where only an upper bound is wanted.
STIFF_OHM = 1e-5


class Core:
    """Terminals that are left when dead ends are taken away, and the step from each dead end."""

    def __init__(self, study: Study, opened: Open) -> None:
        rig, net = study.rig, study.net
        kept = {end for source in rig.sources for end in (source.plus, source.minus)}
        closed = {
            end: [step for step in steps if not opened.bars(step[0])]
            for end, steps in net.at.items()
        }
        self.out: dict[str, Step] = dead_ends(closed, kept)
        edges: tuple[Edge, ...] = (*rig.conductors, *rig.devices)
        self.edges = tuple(
            edge for edge in edges
            if not opened.bars(edge) and all(
                closed.get(end) and end not in self.out for end in ends(edge)
            )
        )  # fmt: skip
        self.names = tuple(edge_name(edge) for edge in self.edges)
        self.net = net_among(self.edges)
        terminals = [end for edge in self.edges for end in ends(edge)]
        terminals += [end for each in rig.sources for end in (each.plus, each.minus)]
        self.node = {end: place for place, end in enumerate(dict.fromkeys(terminals))}
        self._trees: dict[str, Mapping[str, Step | None]] = {}

    def branch(self, terminal: str) -> tuple[tuple[Edge, ...], str]:
        """The edges from a terminal to the core, and where they reach it."""
        way: list[Edge] = []
        while terminal in self.out:
            edge, terminal = self.out[terminal]
            way.append(edge)
        return tuple(way), terminal

    def way(self, start: str, terminal: str) -> tuple[Edge, ...] | None:
        """The edges within the core from a terminal back to a start; None where there is no way."""
        if start not in self._trees:
            self._trees[start] = self.net.walk([start])
        tree = self._trees[start]
        return tuple(path(tree, terminal)) if terminal in tree else None


@record
class Drive:
    """A source in a fault: `emf_v` behind `ohm`, or no more than `limit_a` where that is given."""

    source: Source
    emf_v: float
    ohm: float
    limit_a: float | None = None


def fault_ohm(source: Source) -> float | None:
    """What holds a source back in a short [ohm]; None where that is not known.

    Its maker's short-circuit current decides where it is given, whether that is more or less than
    its volts would drive through the resistance that it has in use.
    """
    if isinstance(source.short_a, float) and source.short_a > 0.0:
        return source.voltage_v / source.short_a
    return source_ohm(source)


def hardest(source: Source) -> Drive:
    """A source as hard as it can drive: a full battery that gives its maker's figure at its posts.

    Its resistance follows from the full voltage then, so that copper does not hold back too much.
    """
    emf_v, ohm = source.voltage_v, fault_ohm(source)
    limit_a = source.limit_a if isinstance(source.limit_a, float) else None
    if source.stores and limit_a is None:
        emf_v = full_v(source.chemistry, emf_v).value
        ohm = fault_ohm(replace(source, voltage_v=emf_v))
    return Drive(source, emf_v, ohm or STIFF_OHM, limit_a)


def cranked_a(source: Source) -> Limit | None:
    """What a battery drives into a short for sure, by its cold cranking amperes [A]; else None."""
    if source.cranking_a is None:
        return None
    times = cranking_short()
    how = f"{times.value:g} times its {show(source.cranking_a, 'A')} of cold cranking"
    return Limit(source.cranking_a * times.value, times.source, how)


def usual_ohm(source: Source) -> Limit | None:
    """The most that a battery has inside [ohm]; None for other sources.

    By its cold cranking amperes where it states them, else what one like it usually has.
    """
    sure = cranked_a(source) if source.stores else None
    if sure is not None:
        return replace(sure, value=source.voltage_v / sure.value)
    usual = usual_ohms(source) if source.stores else None
    return usual[1] if usual is not None else None


def weakest(sources: Sequence[Source], usual: Mapping[str, Limit], net: Net) -> tuple[Drive, ...]:
    """Batteries as weak as they may be, and what is limited where no battery is joined to it.

    Parameters
    ----------
    sources : sequence of Source
        Those that are on, batteries first.
    usual : mapping of str to Limit
        What stands in for a resistance that is not known, by name [ohm].
    net : Net
        The core of the fault.
    """
    drives: list[Drive] = []
    fed: set[str] = set()
    for source in sources:
        if source.stores:
            stands_in = usual.get(source.about.name)
            ohm = fault_ohm(source) or (stands_in.value if stands_in else STIFF_OHM)
            drives.append(Drive(source, source.voltage_v, ohm))
            fed |= net.walk([source.plus]).keys()
        elif isinstance(source.limit_a, float) and source.plus not in fed:
            drives.append(Drive(source, source.voltage_v, STIFF_OHM, source.limit_a))
    return tuple(drives)


@record
class FaultCurrent:
    """A fault: its current, and what flows in the edges of the core and out of each source [A]."""

    current_a: float
    edges: Mapping[str, float]
    sources: Mapping[str, float]


class _CoreIsland:
    """An island of the core, taken apart, and the voltages that its sources make."""

    def __init__(self, island: Island, matrix: Matrix, factor: Factor) -> None:
        self.island = island
        self.matrix = matrix
        self.factor = factor
        self.volts: list[float] = []
        self.current_a: list[float] = []
        self.supply_a: dict[int, float] = {}


@record
class _CorePair:
    """Two places of the core: open voltage, resistance, and the answer to a current of 1 A."""

    open_v: float
    ohm: float
    edges: tuple[float, ...]
    supplies: Mapping[int, float]


class Currents:
    """The core with its sources, in one case of copper and batteries."""

    def __init__(self, core: Core, drives: tuple[Drive, ...], ohm_of: OhmOf) -> None:
        self.core = core
        self.strong = tuple(drive for drive in drives if drive.limit_a is None)
        self.weak = tuple(drive for drive in drives if drive.limit_a is not None)
        self.emf_v = {drive.source.about.name: drive.emf_v for drive in self.strong}
        self.limited_a = tuple(drive.limit_a or 0.0 for drive in self.weak)
        node = core.node
        branches = []
        for edge in core.edges:
            one, two = ends(edge)
            branches.append(Branch(node[one], node[two], ohm_of(edge)))
        supplies = tuple(
            Supply(node[d.source.plus], node[d.source.minus], d.emf_v, d.ohm) for d in self.strong
        )
        self.grid = Grid(Network(len(node), tuple(branches), supplies))
        self.home = {spot: i for i, each in enumerate(self.grid.islands) for spot in each.spots}
        self._parts: dict[int, _CoreIsland] = {}
        self._pairs: dict[tuple[int, int], _CorePair | FaultCurrent | None] = {}

    def fault(self, plus: str, minus: str, more_ohm: float) -> FaultCurrent | None:
        """What flows when two places of the core are joined by some resistance.

        None where nothing drives a current from the one to the other.
        """
        one, two = self.core.node.get(plus), self.core.node.get(minus)
        if one is None or two is None:
            return None
        spots = self.grid.spot
        if self.home[spots[one]] != self.home[spots[two]]:
            return self._limited(one, two, more_ohm)
        if spots[one] == spots[two]:
            return None
        key = (one, two)
        if key not in self._pairs:
            self._pairs[key] = self._pair(one, two)
        pair = self._pairs[key]
        if not isinstance(pair, _CorePair) or pair.open_v <= 0.0:
            return None
        part = self._part(self.home[spots[one]])
        current_a = pair.open_v / (pair.ohm + more_ohm)
        edges = {
            name: before_a + current_a * unit
            for name, before_a, unit in zip(
                self.core.names, part.current_a, pair.edges, strict=True
            )
        }
        sources = {
            self.strong[place].source.about.name: part.supply_a[place] + current_a * unit
            for place, unit in pair.supplies.items()
        }
        sources |= {d.source.about.name: d.limit_a or 0.0 for d in self._weak_in(part.island)}
        return FaultCurrent(current_a, edges, sources)

    def _weak_in(self, island: Island) -> Iterator[Drive]:
        node, spot = self.core.node, self.grid.spot
        here = set(island.spots)
        for drive in self.weak:
            if {spot[node[drive.source.plus]], spot[node[drive.source.minus]]} <= here:
                yield drive

    def _part(self, number: int) -> _CoreIsland:
        if number not in self._parts:
            island = self.grid.islands[number]
            net, matrix = self.grid.network, self.grid.matrix(number)
            right = [0.0] * matrix.size
            for place, rows in island.supplies.items():
                supply = net.supplies[place]
                push(right, *rows, supply.emf_v / supply.ohm)
            part = _CoreIsland(island, matrix, matrix.factor(island.supplies))
            into_a = [0.0] * net.nodes
            for drive in self._weak_in(island) if island.supplies else ():
                plus, minus = (self.core.node[e] for e in (drive.source.plus, drive.source.minus))
                push(right, *self.grid.ends(plus, minus), drive.limit_a or 0.0)
                push(into_a, plus, minus, drive.limit_a or 0.0)
            part.volts = part.factor.solve(right)
            part.current_a, part.supply_a = self._currents(part, part.volts, into_a, 1.0)
            self._parts[number] = part
        return self._parts[number]

    def _currents(
        self, part: _CoreIsland, volts: list[float], into_a: list[float], share: float
    ) -> tuple[list[float], dict[int, float]]:
        """What flows in all branches and supplies; `share` of their voltages are at work."""
        net = self.grid.network
        current_a = [0.0] * len(net.branches)
        for place, rows in part.island.branches.items():
            ohm = net.branches[place].ohm
            if ohm:
                current_a[place] = across(volts, rows) / ohm
        supply_a = {}
        for place, rows in part.island.supplies.items():
            supply = net.supplies[place]
            lost_v = share * supply.emf_v - across(volts, rows)
            supply_a[place] = lost_v / supply.ohm
            push(into_a, supply.plus, supply.minus, supply_a[place])
        self.grid.join_currents(current_a, into_a)
        return current_a, supply_a

    def _pair(self, one: int, two: int) -> _CorePair | None:
        part = self._part(self.home[self.grid.spot[one]])
        if not part.island.supplies:
            return None
        right = [0.0] * part.matrix.size
        rows = self.grid.ends(one, two)
        push(right, *rows, -1.0)
        volts = part.factor.solve(right)
        into_a = [0.0] * self.grid.network.nodes
        push(into_a, one, two, -1.0)
        current_a, supply_a = self._currents(part, volts, into_a, 0.0)
        return _CorePair(across(part.volts, rows), -across(volts, rows), tuple(current_a), supply_a)

    def _limited(self, one: int, two: int, more_ohm: float) -> FaultCurrent | None:
        """A fault that only sources of limited current feed: each gives its limit.

        Where the resistance on the way is too large for that, all give the same share of it.
        """
        node, spot, home = self.core.node, self.grid.spot, self.home
        high, low = home[spot[one]], home[spot[two]]
        fed = [
            drive for drive in self.weak
            if home[spot[node[drive.source.plus]]] == high
            and home[spot[node[drive.source.minus]]] == low
        ]  # fmt: skip
        total_a = sum(drive.limit_a or 0.0 for drive in fed)
        if not total_a:
            return None
        into_a = [0.0] * self.grid.network.nodes
        push(into_a, one, two, -total_a)
        for drive in fed:
            ends_of = (node[drive.source.plus], node[drive.source.minus])
            push(into_a, *ends_of, drive.limit_a or 0.0)
        edges, spots = [0.0] * len(self.core.edges), [0.0] * self.grid.spots
        for number in (high, low):
            self._spread(self._part(number), into_a, edges, spots)
        self.grid.join_currents(edges, list(into_a))
        lost_v = spots[spot[two]] - spots[spot[one]] + total_a * more_ohm
        share = 1.0
        for drive in fed:
            plus, minus = spot[node[drive.source.plus]], spot[node[drive.source.minus]]
            needed_v = spots[plus] - spots[minus] + lost_v
            share = min(share, drive.emf_v / needed_v if needed_v > 0.0 else 1.0)
        return FaultCurrent(
            total_a * share,
            {name: own_a * share for name, own_a in zip(self.core.names, edges, strict=True)},
            {drive.source.about.name: (drive.limit_a or 0.0) * share for drive in fed},
        )

    def _spread(
        self, part: _CoreIsland, into_a: list[float], edges: list[float], spots: list[float]
    ) -> None:
        """Write what currents into nodes do to an island without a source of its own."""
        right = [0.0] * part.matrix.size
        row_of = {spot: row for row, spot in enumerate(part.island.spots[1:])}
        for node, current_a in enumerate(into_a):
            row = row_of.get(self.grid.spot[node])
            if current_a and row is not None:
                right[row] += current_a
        volts = part.factor.solve(right)
        for spot, found_v in zip(part.island.spots, (0.0, *volts), strict=True):
            spots[spot] = found_v
        for place, rows in part.island.branches.items():
            ohm = self.grid.network.branches[place].ohm
            if ohm:
                edges[place] = across(volts, rows) / ohm


def knows_shorts(study: Study) -> bool:
    """Whether any battery states what it drives into a short: without that none is judged."""
    return any(
        isinstance(source.short_a, float) or isinstance(source.internal_ohm, float)
        for source in study.rig.sources
        if source.stores
    )


@once
def as_cranked(study: Study) -> Study:
    """The rig with batteries as weak as their cold cranking amperes, where nothing else is known.

    What flows in it flows for sure: see `rigfolio.books.cranking_short`.
    """
    sources = tuple(
        replace(one, short_a=sure.value)
        if (sure := cranked_a(one)) is not None and fault_ohm(one) is None
        else one
        for one in study.rig.sources
    )
    return Study(replace(study.rig, sources=sources), study.book.name)
