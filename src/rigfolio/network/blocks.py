"""Meshes: where current has more than one way, as in a ring or through wires side by side.

A mesh is a largest set of edges of which any two lie on one ring. A way from a source enters it at
one terminal, the one that all current into it comes by, and leaves it once. Batteries side by side
close rings too: out of such a mesh current goes at one terminal and comes back at another.
"""

from collections.abc import Hashable, Iterable, Mapping, Sequence

from rigfolio.calc import DATUM, Branch, Factor, Grid, Network, factor, push, stamp
from rigfolio.model import Source
from rigfolio.network.graph import Edge, Net, Step, edge_name, ends, ringed
from rigfolio.record import derived, record

# A share below this is rounding.
_NONE = 1e-12
# Rounds in which copper and currents agree for all batteries of a mesh, and a few sizes on trial;
# in a mesh of switches as many are open one at a time.
_MOST_SPLITS = 64


@record
class Mesh:
    """The edges of a mesh and their names; `number` tells it from all others of a rig.

    `batteries` stand side by side in it, each joined to it by both posts.
    """

    number: int
    edges: tuple[Edge, ...]
    names: frozenset[str]
    batteries: tuple[Source, ...] = ()

    @derived
    def in_order(self) -> tuple[str, ...]:
        """The names of the edges in their order."""
        return tuple(map(edge_name, self.edges))

    @derived
    def wirings(self) -> "dict[Hashable, _SplitWiring]":
        """What splits of it have in common, by entry, what is open and what has no resistance."""
        return {}


Exits = tuple[str, str]
"""Where current leaves a mesh, and where it comes back to it."""


@record
class Stretch:
    """A part of a way inside a mesh, from the end near the source to the end near the load.

    `back` is where current comes back to a mesh of batteries; elsewhere it is the entry.
    """

    mesh: Mesh
    entry: str
    exit: str
    back: str = ""

    @property
    def exits(self) -> Exits:
        """Where current leaves and where it comes back."""
        return self.exit, self.back or self.entry


class Meshes:
    """The meshes among some edges, by the names of these; `first` is the number of the first.

    `bank` are batteries side by side, each an edge between its posts.
    """

    def __init__(
        self, edges: Iterable[Edge], first: int = 0, bank: tuple[Source, ...] = ()
    ) -> None:
        every = tuple(edges)
        pairs = [*map(ends, every), *((one.minus, one.plus) for one in bank)]
        found = []
        for number, ring in enumerate(_rings(pairs), start=first):
            held = tuple(every[place] for place in ring if place < len(every))
            inside = tuple(bank[place - len(every)] for place in ring if place >= len(every))
            found.append(Mesh(number, held, frozenset(map(edge_name, held)), inside))
        self.every = tuple(found)
        self._of = {edge_name(edge): mesh for mesh in self.every for edge in mesh.edges}

    def of(self, edge: Edge) -> Mesh | None:
        """The mesh of an edge; None where current has only that one way."""
        return self._of.get(edge_name(edge))

    def stretches(self, back: Mapping[str, Step | None], terminal: str) -> tuple[Stretch, ...]:
        """The parts inside meshes of the way from a terminal back to the start of a walk."""
        found: list[Stretch] = []
        step = back.get(terminal)
        while step is not None:
            edge, nearer = step
            mesh = self.of(edge)
            if mesh is not None:
                goes_on = found and found[-1].mesh is mesh
                leaves = found.pop().exit if goes_on else terminal
                found.append(Stretch(mesh, nearer, leaves))
            terminal = nearer
            step = back.get(terminal)
        return tuple(found)

    def through_bank(
        self, source: Source, out: Sequence[Stretch], back: Sequence[Stretch]
    ) -> tuple[Stretch, ...]:
        """The stretches of a way out and back, those through the mesh of its own battery as one."""
        mesh = next((one for one in self.every if source in one.batteries), None)
        if mesh is None:
            return (*out, *back)
        exits = [
            next((one.exit for one in stretches if one.mesh is mesh), post)
            for stretches, post in ((out, source.plus), (back, source.minus))
        ]
        own = Stretch(mesh, source.plus, exits[0], exits[1])
        return (own, *(one for one in (*out, *back) if one.mesh is not mesh))


def meshes_of(net: Net) -> tuple[Mesh, ...]:
    """The meshes among all wires and devices, every device closed."""
    return Meshes(ringed(net)).every


def _rings(pairs: Iterable[tuple[str, str]]) -> list[tuple[int, ...]]:
    """Edges by place parted into the largest sets in which each two share a ring.

    Single ones are left out. Depth first, with the lowest level that each branch leads back to
    (Hopcroft and Tarjan).
    """
    at: dict[str, list[tuple[int, str]]] = {}
    for number, (one, two) in enumerate(pairs):
        at.setdefault(one, []).append((number, two))
        at.setdefault(two, []).append((number, one))
    level: dict[str, int] = {}
    found: list[tuple[int, ...]] = []
    for start in at:
        if start not in level:
            found += _from(start, at, level)
    return found


def _from(
    start: str, at: Mapping[str, list[tuple[int, str]]], level: dict[str, int]
) -> list[tuple[int, ...]]:
    """The rings of all that hangs together with a terminal."""
    level[start] = 0
    low = {start: 0}
    held: list[int] = []
    rings: list[tuple[int, ...]] = []
    trail = [(start, -1, iter(at[start]), 0)]
    while trail:
        here, come, steps, mark = trail[-1]
        step = next(((number, there) for number, there in steps if number != come), None)
        if step is not None:
            number, there = step
            if there not in level:
                level[there] = low[there] = len(trail)
                trail.append((there, number, iter(at[there]), len(held)))
                held.append(number)
            elif level[there] < level[here]:
                held.append(number)
                low[here] = min(low[here], level[there])
            continue
        trail.pop()
        if trail:
            above = trail[-1][0]
            low[above] = min(low[above], low[here])
            if low[here] >= level[above]:
                if len(held) - mark > 1:
                    rings.append(tuple(sorted(held[mark:])))
                del held[mark:]
    return rings


@record
class UnitCurrent:
    """What 1 A from the entry of a mesh to an exit does there.

    `level` is what each terminal loses against the entry [ohm], `part` what runs through each edge
    from its first end to its second [-], `given` what each battery gives [-].
    """

    level: Mapping[str, float]
    part: Mapping[str, float]
    given: Mapping[str, float]

    def lost(self, exits: Exits, posts: Exits | None = None) -> float:
        """What is lost between the posts of a battery, else the entry, and some exits [ohm]."""
        out, back = exits
        lost = self.level[out] - self.level[back]
        return lost if posts is None else lost - (self.level[posts[0]] - self.level[posts[1]])


class _SplitWiring:
    """What a split has of its wiring alone: the same for all resistances above 0.

    `values` are resistances of the edges that are not left out, and of the batteries [ohm].
    """

    def __init__(
        self, mesh: Mesh, entry: str, edges: Sequence[Edge], values: Sequence[float]
    ) -> None:
        self.names = tuple(map(edge_name, edges))
        pairs = [*map(ends, edges), *((one.minus, one.plus) for one in mesh.batteries)]
        every = (entry, *(end for pair in pairs for end in pair))
        self.node = {end: place for place, end in enumerate(dict.fromkeys(every))}
        self.pairs = [(self.node[one], self.node[two]) for one, two in pairs]
        branches = tuple(map(Branch, *zip(*self.pairs, strict=True), values)) if pairs else ()
        self.grid = Grid(Network(len(self.node), branches))
        # The first spot of an island is its datum, and the entry is the first node of all.
        island = self.grid.islands[0]
        at = {spot: place - 1 for place, spot in enumerate(island.spots)}
        self.size = len(island.spots) - 1
        self.rows = [at.get(spot, DATUM) for spot in self.grid.spot]
        self.row_of = {end: at[spot] for end, spot in zip(self.node, self.grid.spot, strict=True)
                       if spot in at}  # fmt: skip
        self.stamps = [(place, *(self.rows[node] for node in self.pairs[place]))
                       for place in island.branches if values[place]]  # fmt: skip
        joins = [edge for edge, ohm in zip(edges, values, strict=False) if ohm == 0.0]
        self.is_joined = not all(values)
        self.unsure = [
            [edge_name(joins[place]) for place in ring] for ring in _rings(map(ends, joins))
        ]

    def factor(self, values: Sequence[float]) -> Factor:
        """The conductances between the nodes, taken apart."""
        rows: list[dict[int, float]] = [{} for _ in range(self.size)]
        for place, one, two in self.stamps:
            stamp(rows, one, two, 1.0 / values[place])
        return factor(rows)


class Split:
    """How current splits in a mesh, by Kirchhoff's laws.

    Edges of 0 ohm are joins. How much runs through each of several joins side by side nobody can
    know: all of it is taken to run through every one of them. Edges that are left out are open.
    `inside` is the resistance of each battery of the mesh [ohm]; all have one voltage, so that they
    are resistances and no more.
    """

    def __init__(
        self,
        mesh: Mesh,
        entry: str,
        ohms: Mapping[str, float],
        inside: Mapping[str, float] | None = None,
    ) -> None:
        self.batteries = mesh.batteries
        own = [ohms.get(name) for name in mesh.in_order]
        values = [ohm for ohm in own if ohm is not None]
        values += [(inside or {})[one.about.name] for one in mesh.batteries]
        key = (entry, *[ohm is None for ohm in own], *map(bool, values))
        wiring = mesh.wirings.get(key)
        if wiring is None:
            if len(mesh.wirings) >= _MOST_SPLITS:
                del mesh.wirings[next(iter(mesh.wirings))]
            edges = [edge for edge, ohm in zip(mesh.edges, own, strict=True) if ohm is not None]
            wiring = mesh.wirings[key] = _SplitWiring(mesh, entry, edges, values)
        self.names = wiring.names
        self._wiring, self._ohms, self._factor = wiring, values, wiring.factor(values)
        self._between: dict[tuple[tuple[Exits, float], ...], UnitCurrent] = {}

    def reaches(self, terminal: str) -> bool:
        """Whether a terminal is joined to the entry."""
        return terminal in self._wiring.row_of

    def between(self, leaving_a: Mapping[Exits, float]) -> UnitCurrent:
        """What currents do together that leave at terminals and come back at others [A]."""
        key = tuple(leaving_a.items())
        if key not in self._between:
            self._between[key] = self._worked_out(leaving_a)
        return self._between[key]

    def _worked_out(self, leaving_a: Mapping[Exits, float]) -> UnitCurrent:
        each: dict[str, float] = {}
        for (out, back), current_a in leaving_a.items():
            each[out] = each.get(out, 0.0) + current_a
            each[back] = each.get(back, 0.0) - current_a
        return self.to(each)

    def to(self, leaving_a: Mapping[str, float]) -> UnitCurrent:
        """What currents out of some terminals [A] that are joined to the entry do together."""
        wiring = self._wiring
        right = [0.0] * wiring.size
        for end, current_a in leaving_a.items():
            push(right, wiring.row_of[end], DATUM, current_a)
        # The last is the level of the datum, whose row is -1.
        lost = [*self._factor.solve(right), 0.0]
        level = [lost[row] for row in wiring.rows]
        part = [
            (level[two] - level[one]) / ohm if ohm else 0.0
            for (one, two), ohm in zip(wiring.pairs, self._ohms, strict=True)
        ]
        if wiring.is_joined:
            into = [0.0] * len(wiring.node)
            for end, current_a in leaving_a.items():
                push(into, 0, wiring.node[end], current_a)
            wiring.grid.join_currents(part, into)
        parts = dict(zip(self.names, part, strict=False))
        all_a = sum(current_a for current_a in leaving_a.values() if current_a > 0.0)
        for names in wiring.unsure:
            most = all_a if any(abs(parts[n]) > _NONE for n in names) else 0.0
            parts |= dict.fromkeys(names, most)
        own = part[len(self.names) :]
        given = {one.about.name: a for one, a in zip(self.batteries, own, strict=True)}
        return UnitCurrent(dict(zip(wiring.node, level, strict=True)), parts, given)


class Splits:
    """Splits of the meshes of batteries of one net: each battery of them asks for the same ones."""

    def __init__(self) -> None:
        self._known: dict[Hashable, Split] = {}

    def of(
        self, mesh: Mesh, entry: str, ohms: Mapping[str, float], inside: Mapping[str, float]
    ) -> Split:
        """How current splits in a mesh that is entered at a terminal, as `Split`.

        In a mesh of batteries, of which no two edges are open, it is one split whichever terminal
        it is entered at: what is lost is a difference of two of its levels.
        """
        if not mesh.batteries or len(ohms) < len(mesh.edges) - 1:
            return Split(mesh, entry, ohms, inside)
        key = (mesh.number, mesh.names, tuple(ohms.items()), tuple(inside.items()))
        if key not in self._known:
            if len(self._known) >= _MOST_SPLITS:
                del self._known[next(iter(self._known))]
            self._known[key] = Split(mesh, mesh.batteries[0].plus, ohms, inside)
        return self._known[key]
