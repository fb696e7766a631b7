"""Meshes: where current has more than one way, as in a ring or through wires side by side.

A mesh is a largest set of edges of which any two lie on one ring. A way from a source enters it at
one terminal, the one that all current into it comes by, and leaves it once.
"""

from collections.abc import Iterable, Mapping

from rigfolio.calc import Branch, Grid, Matrix, Network, push
from rigfolio.network.graph import Edge, Net, Step, edge_name, ends, ringed
from rigfolio.record import record

# A share below this is rounding.
_NONE = 1e-12


@record
class Mesh:
    """The edges of a mesh and their names; `number` tells it from all others of a rig."""

    number: int
    edges: tuple[Edge, ...]
    names: frozenset[str]


@record
class Stretch:
    """A part of a way inside a mesh, from the end near the source to the end near the load."""

    mesh: Mesh
    entry: str
    exit: str


class Meshes:
    """The meshes among some edges, by the names of these; `first` is the number of the first."""

    def __init__(self, edges: Iterable[Edge], first: int = 0) -> None:
        self.every = tuple(
            Mesh(number, ring, frozenset(map(edge_name, ring)))
            for number, ring in enumerate(_rings(edges), start=first)
        )
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


def meshes_of(net: Net) -> tuple[Mesh, ...]:
    """The meshes among all wires and devices, every device closed."""
    return Meshes(ringed(net)).every


def _rings(edges: Iterable[Edge]) -> list[tuple[Edge, ...]]:
    """Edges parted into the largest sets in which each two share a ring; single ones left out.

    Depth first, with the lowest level that each branch leads back to (Hopcroft and Tarjan).
    """
    at: dict[str, list[tuple[int, str]]] = {}
    every = tuple(edges)
    for number, edge in enumerate(every):
        one, two = ends(edge)
        at.setdefault(one, []).append((number, two))
        at.setdefault(two, []).append((number, one))
    level: dict[str, int] = {}
    found: list[tuple[Edge, ...]] = []
    for start in at:
        if start not in level:
            found += _from(start, at, level, every)
    return found


def _from(
    start: str,
    at: Mapping[str, list[tuple[int, str]]],
    level: dict[str, int],
    every: tuple[Edge, ...],
) -> list[tuple[Edge, ...]]:
    """The rings of all that hangs together with a terminal."""
    level[start] = 0
    low = {start: 0}
    held: list[int] = []
    rings: list[tuple[Edge, ...]] = []
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
                    rings.append(tuple(every[number] for number in sorted(held[mark:])))
                del held[mark:]
    return rings


@record
class UnitCurrent:
    """What 1 A from the entry of a mesh to an exit does there.

    `level` is what each terminal loses against the entry [ohm], `part` what runs through each edge
    from its first end to its second [-].
    """

    level: Mapping[str, float]
    part: Mapping[str, float]


class Split:
    """How current splits in a mesh, by Kirchhoff's laws.

    Edges of 0 ohm are joins. How much runs through each of several joins side by side nobody can
    know: all of it is taken to run through every one of them. Edges that are left out are open.
    """

    def __init__(self, mesh: Mesh, entry: str, ohms: Mapping[str, float]) -> None:
        self.entry = entry
        self.edges = tuple(edge for edge in mesh.edges if edge_name(edge) in ohms)
        self.names = tuple(edge_name(edge) for edge in self.edges)
        every = (entry, *(end for edge in self.edges for end in ends(edge)))
        self.node = {end: place for place, end in enumerate(dict.fromkeys(every))}
        branches = tuple(
            Branch(self.node[one], self.node[two], ohms[name])
            for name, (one, two) in zip(self.names, map(ends, self.edges), strict=True)
        )
        self._grid = Grid(Network(len(self.node), branches))
        # The first spot of an island is its datum, and the entry is the first node of all.
        self._matrix = Matrix(self._grid, self._grid.islands[0])
        self._factor = self._matrix.factor(())
        joins = (e for e, name in zip(self.edges, self.names, strict=True) if ohms[name] == 0.0)
        self._unsure = [[edge_name(e) for e in ring] for ring in _rings(joins)]

    def reaches(self, terminal: str) -> bool:
        """Whether a terminal is joined to the entry."""
        node = self.node.get(terminal)
        return node is not None and self._grid.spot[node] in self._matrix.at

    def to(self, leaving_a: Mapping[str, float]) -> UnitCurrent:
        """What currents out of some terminals [A] that are joined to the entry do together."""
        grid, matrix = self._grid, self._matrix
        right = [0.0] * len(matrix.rows)
        for end, current_a in leaving_a.items():
            push(right, matrix.at[grid.spot[self.node[end]]], -1, current_a)
        lost = self._factor.solve(right)
        row = [matrix.at.get(spot, -1) for spot in grid.spot]
        level = [lost[place] if place >= 0 else 0.0 for place in row]
        part = [
            (level[branch.b] - level[branch.a]) / branch.ohm if branch.ohm else 0.0
            for branch in grid.network.branches
        ]
        into = [0.0] * len(self.node)
        for end, current_a in leaving_a.items():
            push(into, 0, self.node[end], current_a)
        grid.join_currents(part, into)
        parts = dict(zip(self.names, part, strict=True))
        for names in self._unsure:
            most = sum(leaving_a.values()) if any(abs(parts[n]) > _NONE for n in names) else 0.0
            parts |= dict.fromkeys(names, most)
        return UnitCurrent(dict(zip(self.node, level, strict=True)), parts)
