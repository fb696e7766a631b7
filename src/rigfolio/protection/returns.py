"""Returns: the most that can come back through each conductor of the minus side.

No fuse watches a return. What comes back through it is what can flow out to the loads and batteries
on its one side, from the sources on its other side; that is the same largest flow which decides
for conductors of the plus side. A charger that has failed takes current as well: what the others
drive into its plus comes back by its minus. One fails at a time, so that is added to nothing.

Where there is more than one way back, of 1 A from one terminal to another a share runs through the
conductor, by Kirchhoff's laws. So every terminal has a level, and what comes in at one and leaves
at another puts the difference of their levels on the conductor. Level by level, what can flow from
the sources above to what takes it below is a largest flow again; their sum over all levels is the
bound, and nothing that the fuses let through exceeds it.
"""

from collections.abc import Collection, Iterable, Iterator, Mapping
from itertools import pairwise, product

from rigfolio.demand import LevelDemand, flows_of
from rigfolio.model import Conductor, Device, Load, Source
from rigfolio.network import Edge, Mesh, Net, Split, edge_name, edges_of_device, ends, meshes_of
from rigfolio.operating import copper_of, starters_of, starting_a
from rigfolio.protection.inflow import reach_of, source_limit
from rigfolio.protection.starting import is_cranking, whole_starts
from rigfolio.record import record
from rigfolio.study import Study, once


@record
class ReturnCurrent:
    """The most that can come back through a conductor [A], and what lets it.

    `current_a` is infinite where a battery drives with nothing between; `circuits` are those whose
    loads come back here. `maybe` is true where it turns on a resistance that is not known: what is
    sure is 0 then.
    """

    current_a: float
    by: tuple[Device | Source, ...]
    circuits: tuple[str, ...]
    maybe: bool = False


_NOTHING = ReturnCurrent(0.0, (), ())


@once
def returns_of(study: Study) -> dict[str, ReturnCurrent]:
    """What can come back, by conductor; assumed returns are twins of their wires and left out.

    The seconds of an engine's start are left aside.
    """
    parts = _Parts(study)
    rings = {name: ring for ring in _rings(parts) for name in ring.mesh.names}
    return {
        wire.name: rings[wire.name].back(wire) if wire.name in rings else parts.back(wire)
        for wire in study.rig.conductors
        if study.side.get(wire.a) == "-" and not wire.assumed
    }


class _Parts:
    """Loads and batteries by their minus terminal, and what can flow into them."""

    def __init__(self, study: Study) -> None:
        self.study = study
        self.sources = tuple(s for s in study.rig.sources if study.side.get(s.minus) == "-")
        self.names = frozenset(s.about.name for s in study.rig.sources)
        self.takes: dict[str, list[tuple[str, str]]] = {}
        """Plus terminal and circuit of what comes back at each terminal of the minus side."""
        self._near: dict[frozenset[str], Collection[str]] = {}
        self.starters = starters_of(study)
        for load in study.rig.loads:
            if load.about.name in self.starters:
                continue
            if study.side.get(load.plus) == "+" and study.side.get(load.minus) == "-":
                name = load.circuit or load.about.name
                self.takes.setdefault(load.minus, []).append((load.plus, name))
        for source in self.sources:
            if source.stores:
                self.takes.setdefault(source.minus, []).append((source.plus, ""))
        for plus, minus in (one.lit for one in study.rig.sources if one.lit):
            if study.side.get(plus) == "+" and study.side.get(minus) == "-":
                self.takes.setdefault(minus, []).append((plus, ""))

    def back(self, wire: Conductor) -> ReturnCurrent:
        """What can come back through the one way between two parts of the minus side."""
        near = _smaller_side(self.study.net, wire)
        inside = {s.about.name for s in self.sources if s.minus in near}
        outside = {s.about.name for s in self.sources if s.minus not in near}
        found = [self.flow(outside, [end for end in near if end in self.takes])]
        if inside:
            found.append(self.flow(inside, [end for end in self.takes if end not in near]))
        found += [
            self._into([one.plus], outside if one.minus in near else inside)
            for one in self.sources
            if one.traits.only_gives
        ]
        return max(found, key=lambda one: one.current_a)

    def flow(self, driving: set[str], there: list[str]) -> ReturnCurrent:
        """What some sources drive into the loads and batteries at some terminals.

        Of these only what they reach: what another source feeds comes back to that.
        """
        takes: dict[str, None] = {}
        circuits: dict[str, None] = {}
        reached = self._reached(frozenset(driving))
        for end in sorted(there):
            for plus, circuit in self.takes[end]:
                if plus not in reached:
                    continue
                takes[plus] = None
                if circuit:
                    circuits[circuit] = None
        return self._into(list(takes), driving, tuple(circuits))

    def _reached(self, driving: frozenset[str]) -> Collection[str]:
        """The terminals that the plus posts of some sources are joined to."""
        if driving not in self._near:
            posts = [one.plus for one in self.sources if one.about.name in driving]
            self._near[driving] = self.study.net.walk(posts).keys()
        return self._near[driving]

    def _into(
        self, pluses: list[str], driving: set[str], circuits: tuple[str, ...] = ()
    ) -> ReturnCurrent:
        """What some sources drive into some terminals of the plus side."""
        if not pluses or not driving:
            return _NOTHING
        inflow = reach_of(self.study).into(pluses, self.names - driving)
        most_a = _most_a(one for one in self.sources if one.about.name in driving)
        return ReturnCurrent(min(inflow.current_a, most_a), inflow.by, circuits)


def _most_a(sources: Iterable[Source]) -> float:
    """What some sources drive at most, the outputs of one part taken together [A]."""
    limits = {one.part: source_limit(one) for one in sources}
    return sum(limits.values())


def _rings(parts: _Parts) -> Iterator["_Ring"]:
    study = parts.study
    for mesh in meshes_of(study.net):
        if _is_minus(study, mesh):
            yield _Ring(parts, mesh)


class _Ring:
    """A mesh of the minus side, with what meets it at each of its terminals."""

    def __init__(self, parts: _Parts, mesh: Mesh) -> None:
        self.parts, self.mesh = parts, mesh
        self.takes: dict[str, list[str]] = {}
        self.sources: dict[str, set[str]] = {}
        starts = [load.minus for load in parts.study.rig.loads if load.about.name in parts.starters]
        nodes = dict.fromkeys(end for edge in mesh.edges for end in ends(edge))
        used = 0
        for node in nodes:
            hung = parts.study.net.walk([node], lambda edge: edge_name(edge) in mesh.names)
            self.takes[node] = [end for end in parts.takes if end in hung]
            self.sources[node] = {s.about.name for s in parts.sources if s.minus in hung}
            used += bool(self.takes[node] or self.sources[node] or hung.keys() & starts)
        self.exits = [node for node in nodes if self.takes[node] or self.sources[node]]
        self._flows: dict[tuple[frozenset[str], frozenset[str]], ReturnCurrent] = {}
        self._states = self._levels() if used > 1 else None

    def back(self, wire: Conductor) -> ReturnCurrent:
        """The most that can come back through one of its conductors, whatever is open."""
        if self._states is None:
            return _NOTHING
        if not self._states:
            whole = self._between(self.exits, self.exits)
            return ReturnCurrent(0.0, whole.by, whole.circuits, maybe=True)
        found = [self._bound(level[wire.name]) for level in self._states if wire.name in level]
        return max(found, key=lambda one: one.current_a, default=_NOTHING)

    def _levels(self) -> list[Mapping[str, Mapping[str, float]]]:
        """The level of each exit for each conductor: closed, and with one device open at a time.

        None at all where a resistance is not known.
        """
        base = _cold_ohms(self.parts.study, self.mesh)
        if base is None:
            return []
        opened = [
            edge_name(edge)
            for edge in self.mesh.edges
            if isinstance(edge, Device) and (edge.traits.opens or edge.traits.resets)
        ]
        return [
            self._solved({name: ohm for name, ohm in base.items() if name != out})
            for out in ("", *opened)
        ]

    def _solved(self, ohms: Mapping[str, float]) -> Mapping[str, Mapping[str, float]]:
        if not self.exits:
            return {}
        split = Split(self.mesh, self.exits[0], ohms)
        reached = [end for end in self.exits if split.reaches(end)]
        units = {end: split.to({end: 1.0}).part for end in reached}
        return {name: {end: units[end][name] for end in reached} for name in split.names}

    def _bound(self, level: Mapping[str, float]) -> ReturnCurrent:
        """The sum over all levels of what can flow across, the one way or the other."""
        steps = sorted(set(level.values()))
        found = []
        for ahead in (True, False):
            current_a = 0.0
            by: dict[int, Device | Source] = {}
            circuits: dict[str, None] = {}
            for low, high in pairwise(steps):
                above = [end for end, own in level.items() if own >= high]
                below = [end for end, own in level.items() if own <= low]
                part = self._between(above, below) if ahead else self._between(below, above)
                if part.current_a and high - low > _NONE:
                    current_a += (high - low) * part.current_a
                    by |= {id(one): one for one in part.by}
                    circuits |= dict.fromkeys(part.circuits)
            found.append(ReturnCurrent(current_a, tuple(by.values()), tuple(circuits)))
        return max(found, key=lambda one: one.current_a)

    def _between(self, sources: list[str], takes: list[str]) -> ReturnCurrent:
        """What the sources at some terminals drive into what hangs on others."""
        key = (frozenset(sources), frozenset(takes))
        if key not in self._flows:
            driving = {name for end in sources for name in self.sources[end]}
            self._flows[key] = self.parts.flow(
                driving, [take for end in takes for take in self.takes[end]]
            )
        return self._flows[key]


@once
def start_shares(study: Study) -> dict[str, tuple[float, Load]]:
    """What wires that are no cranking cable bring back of an engine's start [A], and of which.

    It is the most of any starter and any battery that serves it, where more than one way leads
    back and all resistances are known.
    """
    found: dict[str, tuple[float, Load]] = {}
    starters = starters_of(study)
    meshes = [mesh for mesh in meshes_of(study.net) if starters and _is_minus(study, mesh)]
    for load in study.rig.loads:
        current_a = starting_a(study, load) if load.about.name in starters else None
        if current_a is None:
            continue
        near = study.net.walk([load.plus])
        stores = [source for source in study.rig.sources if source.stores and source.plus in near]
        for mesh, source in product(meshes, stores):
            for name, share in _shares(study, mesh, load.minus, source.minus).items():
                if share * current_a > found.get(name, (0.0, load))[0]:
                    found[name] = share * current_a, load
    return {
        wire.name: found[wire.name]
        for wire in study.rig.conductors
        if wire.name in found and not is_cranking(study, wire)
    }


def start_among(study: Study, names: Iterable[str]) -> tuple[float, Load] | None:
    """The most of an engine's start that runs through any of some parts [A], and of which load.

    Parameters
    ----------
    study : Study
        The rig.
    names : Iterable[str]
        Wires and devices, by name or as edges.
    """
    edges = [edge for name in names for edge in sorted(edges_of_device(study.rig, name)) or [name]]
    held = (start_shares(study).get(edge) or whole_starts(study).get(edge) for edge in edges)
    return max((one for one in held if one is not None), key=lambda one: one[0], default=None)


def start_of_level(study: Study, one: LevelDemand) -> tuple[float, Load] | None:
    """The most of an engine's start that a level carries [A], and of which load.

    It lasts for seconds and counts in no demand.
    """
    if one.level == "source":
        return _start_given(study, study.rig.by_name.sources[one.name])
    if one.level == "panel":
        bus = study.rig.by_name.panels[one.name].bus
        return start_among(study, (d.about.name for d in study.rig.devices if d.line == bus))
    circuit = study.circuit(one.name) if one.level == "circuit" else None
    begins = () if circuit is None else (circuit.device or next(iter(circuit.wires), ""),)
    return start_among(study, begins or (one.name,))


def _start_given(study: Study, source: Source) -> tuple[float, Load] | None:
    """The most that a source gives to the start of an engine [A], and to which load."""
    found = None
    for load in study.rig.loads if starters_of(study) else ():
        name = load.about.name
        ways = flows_of(study).ways.get(name, ()) if name in starters_of(study) else ()
        way = next((way for way in ways if way.source is source and source.stores), None)
        current_a = starting_a(study, load) if way is not None else None
        if way is not None and current_a is not None:
            part = flows_of(study).counts.parts(way).get(source.about.name, 1.0)
            found = max(found or (0.0, load), (part * current_a, load), key=lambda one: one[0])
    return found


def whole_start_of(study: Study, wire: Conductor) -> tuple[float, Load] | None:
    """What of an engine's start runs through a wire [A], and of which; None if it has company."""
    return None if wire.name in start_shares(study) else whole_starts(study).get(wire.name)


def _shares(study: Study, mesh: Mesh, one: str, two: str) -> dict[str, float]:
    """The part of a current from one terminal to another in each edge of a mesh [-]."""
    ohms = _cold_ohms(study, mesh)
    nodes = [_node(study, mesh, end) for end in (one, two)]
    if ohms is None or None in nodes or nodes[0] == nodes[1]:
        return {}
    split = Split(mesh, str(nodes[0]), ohms)
    return {name: abs(part) for name, part in split.to({str(nodes[1]): 1.0}).part.items()}


def _node(study: Study, mesh: Mesh, terminal: str) -> str | None:
    """Where a terminal hangs on a mesh."""
    inside = {end for edge in mesh.edges for end in ends(edge)}
    hung = study.net.walk([terminal], lambda edge: edge_name(edge) in mesh.names)
    return next((end for end in hung if end in inside), None)


def _is_minus(study: Study, mesh: Mesh) -> bool:
    return study.side.get(ends(mesh.edges[0])[0]) == "-"


def _cold_ohms(study: Study, mesh: Mesh) -> dict[str, float] | None:
    """The resistances of a mesh in cold copper; None where one is not known.

    A conductor that carries more than the others gets hotter, and leaves the more to these.
    """
    found: dict[str, float] = {}
    for edge in mesh.edges:
        ohm: float | None = 0.0
        if isinstance(edge, Conductor):
            ohm = copper_of(study).counted_ohm(edge, 0.0, edge.size)
        if ohm is None:
            return None
        found[edge_name(edge)] = ohm
    return found


# A difference of levels below this is rounding.
_NONE = 1e-9


def _smaller_side(net: Net, wire: Conductor) -> set[str]:
    """The terminals on the smaller side of a conductor that is the only way between two parts."""
    sides = [{wire.a}, {wire.b}]
    steps = [_spread(net, wire, side) for side in sides]
    while True:
        for side, step in zip(sides, steps, strict=True):
            if next(step, None) is None:
                return side


def _spread(net: Net, wire: Conductor, seen: set[str]) -> Iterator[bool]:
    """Walk from one end, a terminal at a time."""
    waiting = list(seen)
    while waiting:
        here = waiting.pop()
        # Before its edges are looked at: a bar may have thousands, and the other side be done.
        yield True
        steps: tuple[tuple[Edge, str], ...] = net.steps(here)
        for edge, there in steps:
            if edge is not wire and there not in seen:
                seen.add(there)
                waiting.append(there)
