"""The circuits that some loads run in by themselves, settled by Kirchhoff's laws.

A load of watts draws more the less volts it gets, one of ohms less, and what it gets depends on
what it draws. Each load runs from one source by its own way. Where the way has no mesh that is a
sum over its wires; in a mesh the current is split.
"""

import math
from collections.abc import Iterator, Mapping, Sequence

from rigfolio.findings import Unknown
from rigfolio.model import Conductor, Load, Source
from rigfolio.network import Exits, Split, Stretch, UnitCurrent, Way, edge_name, ends
from rigfolio.operating.copper import Copper, Hot, SizeOf, as_stated
from rigfolio.operating.insides import stated_ohms
from rigfolio.operating.point import STIFF_OHM, source_ohm
from rigfolio.record import record, replace

# Copper and current settle each other; what is left is below every figure that is printed.
_ROUNDS = 200
_SETTLED = 1e-9

_Leg = tuple[str, float, Hot]
"""A wire: the key of its current, 1 or -1 as that runs, and its resistance."""


@record
class Drawn:
    """What a load draws [A] and the volts that it has then [V].

    Where it `collapses` no volts serve it: the amperes are those that it would draw at the volts of
    its source, and it has no volts of its own.
    """

    current_a: float | Unknown
    volts: float
    collapses: bool = False

    @property
    def known_a(self) -> float:
        """The amperes, 0 where they are not known [A]."""
        return self.current_a if isinstance(self.current_a, float) else 0.0


def drawn_behind(load: Load, emf_v: float, lost_v: float, own_ohm: float) -> Drawn:
    """What a load draws behind a resistance of its own.

    Parameters
    ----------
    load : Load
        The load.
    emf_v : float
        Voltage of the source without load [V].
    lost_v : float
        What other currents take of it before the load draws any [V].
    own_ohm : float
        Resistance that the current of the load runs through, its source's with it [Ω].

    Source
    ------
    P = U (E - R I), of whose two roots the upper is where a load settles; there is none where P is
    above E² / 4 R (computed).
    """
    left_v = emf_v - lost_v
    if isinstance(load.value, Unknown):
        return Drawn(load.value, left_v)
    if load.kind == "current":
        return Drawn(load.value, left_v - own_ohm * load.value)
    if load.kind == "resistance":
        current_a = max(left_v, 0.0) / (load.value + own_ohm)
        return Drawn(current_a, current_a * load.value)
    inside = left_v**2 - 4.0 * load.value * own_ohm
    if left_v <= 0.0 or inside < 0.0:
        return Drawn(load.value / emf_v, 0.0, collapses=True)
    own_v = (left_v + math.sqrt(inside)) / 2.0
    return Drawn(load.value / own_v, own_v)


@record
class Input:
    """The input of a converter and its way; it draws what the output gives, over the efficiency."""

    converter: Source
    load: Load
    way: Way

    def asks(self, given_a: float) -> Load:
        """The input as a load while the output gives so much [A]."""
        ohm = source_ohm(self.converter) or STIFF_OHM
        given_w = (self.converter.voltage_v - ohm * given_a) * given_a
        # Where it is not known what a converter loses, it loses nothing.
        drawn_w = given_w / (self.converter.efficiency or 1.0)
        return replace(self.load, kind="power", value=max(drawn_w, 0.0))


def together(
    runs: Sequence[tuple[Load, Way]],
    copper: Copper,
    size_of: SizeOf = as_stated,
    inputs: Sequence[Input] = (),
) -> dict[str, Drawn]:
    """What some loads draw that are on together, each from the source of its way, nothing else on.

    Wires of unknown size or length count as without resistance, loads of unknown draw as off. The
    draws rise from those at the volts of the source, so that a load is found to collapse only where
    nothing holds it. What the `inputs` of converters draw comes back against what their loads draw
    where both use one wire.
    """
    if len(runs) == 1 and not runs[0][1].stretches and not inputs:
        load, way = runs[0]
        return {load.about.name: _single(load, way, copper, size_of)}
    net = _LoadNet(runs, copper, size_of, inputs)
    for _ in range(_ROUNDS):
        if net.step() <= _SETTLED:
            break
    return net.drawn


def _single(load: Load, way: Way, copper: Copper, size_of: SizeOf) -> Drawn:
    """As `together`, of one load whose way has no mesh."""
    emf_v, inner_ohm = way.source.voltage_v, source_ohm(way.source) or STIFF_OHM
    line = [hot for _, hot in _line(way, copper, size_of)]
    found = drawn_behind(load, emf_v, 0.0, 0.0)
    for _ in range(_ROUNDS):
        before_a = found.known_a
        own_ohm = inner_ohm
        for hot in line:
            own_ohm += hot.ohm(before_a)
        found = drawn_behind(load, emf_v, 0.0, own_ohm)
        if found.collapses or abs(found.known_a - before_a) <= _SETTLED * before_a:
            break
    return found


def _line(way: Way, copper: Copper, size_of: SizeOf) -> Iterator[tuple[str, Hot]]:
    """The wires of a way outside meshes, as far as their resistance is known."""
    for edge in (*way.out, *way.back):
        if isinstance(edge, Conductor) and not (way.stretches and way.is_meshed(edge.name)):
            size = size_of(edge)
            hot = None if isinstance(size, Unknown) else copper.hot(edge, size)
            if hot is not None:
                yield edge.name, hot


class _LoadNet:
    """Some loads on their ways, on the way to the currents that agree."""

    def __init__(
        self,
        runs: Sequence[tuple[Load, Way]],
        copper: Copper,
        size_of: SizeOf,
        inputs: Sequence[Input],
    ) -> None:
        self.runs, self.copper, self.size_of, self.inputs = runs, copper, size_of, inputs
        self.lines = [self._signed(load, way) for load, way in runs]
        self.input_lines = [self._signed(one.load, one.way) for one in inputs]
        self.drawn = {
            load.about.name: drawn_behind(load, way.source.voltage_v, 0.0, 0.0)
            for load, way in runs
        }
        self.into = {one.load.about.name: Drawn(0.0, one.way.source.voltage_v) for one in inputs}
        """What the inputs of converters draw."""
        self.meshes: dict[tuple[str, int, str], _Meshed] = {}

    def _signed(self, load: Load, way: Way) -> tuple[_Leg, ...]:
        """The wires of a way, each by a key under which its current is added up.

        Without converters one direction is as good as the other, and each source is by itself.
        """
        line = _line(way, self.copper, self.size_of)
        if not self.inputs:
            return tuple((f"{way.source.about.name} {name}", 1.0, hot) for name, hot in line)
        along = directions(load.plus, load.minus, way)
        return tuple((name, along[name], hot) for name, hot in line)

    def step(self) -> float:
        """Let every load draw what it draws under what all lose; returns the largest change."""
        total_a = self._totals()
        held = {key: hot.ohm(abs(total_a[key]))
                for line in (*self.lines, *self.input_lines) for key, _, hot in line}  # fmt: skip
        self._split()
        most = 0.0
        for (load, way), line in zip(self.runs, self.lines, strict=True):
            before = self.drawn[load.about.name]
            if not before.collapses:
                after = self._behind(load, way, line, before.known_a, total_a, held)
                self.drawn[load.about.name] = after
                most = max(most, _change(before, after, way.source.voltage_v))
        for one, line in zip(self.inputs, self.input_lines, strict=True):
            name, source = one.load.about.name, one.converter.about.name
            before, asks = self.into[name], one.asks(total_a[source])
            after = self._behind(asks, one.way, line, before.known_a, total_a, held)
            self.into[name] = after
            most = max(most, _change(before, after, one.way.source.voltage_v))
        return most

    def _behind(
        self,
        load: Load,
        way: Way,
        line: tuple[_Leg, ...],
        before_a: float,
        total_a: Mapping[str, float],
        held: Mapping[str, float],
    ) -> Drawn:
        """What a load draws that drew `before_a` under what all others lose now."""
        inner_ohm = source_ohm(way.source) or STIFF_OHM
        own_ohm = inner_ohm * self._part(way)
        lost_v = inner_ohm * total_a[way.source.about.name]
        for key, sign, _ in line:
            own_ohm += held[key]
            lost_v += sign * held[key] * total_a[key]
        for stretch in way.stretches:
            meshed = self.meshes[_key(way, stretch)]
            own_ohm += meshed.own_ohm(stretch.exits)
            lost_v += meshed.lost_v(stretch.exits)
        return drawn_behind(load, way.source.voltage_v, lost_v - own_ohm * before_a, own_ohm)

    def _totals(self) -> dict[str, float]:
        """What runs through every wire outside meshes, and what every source gives [A]."""
        found: dict[str, float] = {}
        for name, way, line in self._users():
            current_a = (self.drawn.get(name) or self.into[name]).known_a
            source = way.source.about.name
            found[source] = found.get(source, 0.0) + current_a * self._part(way)
            for key, sign, _ in line:
                found[key] = found.get(key, 0.0) + sign * current_a
        return found

    def _part(self, way: Way) -> float:
        """The part that the source of a way gives of its current: less than all in a bank [-]."""
        banked = way.banked
        return self._mesh(way, banked).part(banked.exits) if banked is not None else 1.0

    def _mesh(self, way: Way, stretch: Stretch) -> "_Meshed":
        key = _key(way, stretch)
        if key not in self.meshes:
            self.meshes[key] = _Meshed(way.source, stretch, self.copper, self.size_of)
        return self.meshes[key]

    def _users(self) -> Iterator[tuple[str, Way, tuple[_Leg, ...]]]:
        for (load, way), line in zip(self.runs, self.lines, strict=True):
            yield load.about.name, way, line
        for one, line in zip(self.inputs, self.input_lines, strict=True):
            yield one.load.about.name, one.way, line

    def _split(self) -> None:
        """Let the meshes take what leaves them now."""
        leaving: dict[tuple[str, int, str], dict[Exits, float]] = {}
        for name, way, _ in self._users():
            for stretch in way.stretches:
                at = leaving.setdefault(_key(way, stretch), {})
                own_a = (self.drawn.get(name) or self.into[name]).known_a
                at[stretch.exits] = at.get(stretch.exits, 0.0) + own_a
                self._mesh(way, stretch)
        for key, out_a in leaving.items():
            self.meshes[key].take(out_a)


def _change(before: Drawn, after: Drawn, emf_v: float) -> float:
    """How far a load has moved in a round, in amperes or in volts, whichever is more [-]."""
    moved = abs(after.volts - before.volts) / emf_v
    if before.known_a > 0.0:
        moved = max(moved, abs(after.known_a / before.known_a - 1.0))
    return moved


def directions(plus: str, minus: str, way: Way) -> dict[str, float]:
    """Of every edge of a way to two terminals 1 where current runs from its first end, else -1."""
    found: dict[str, float] = {}
    for edges, start, toward in ((way.out, plus, -1.0), (way.back, minus, 1.0)):
        here = start
        for edge in edges:
            first, second = ends(edge)
            found[edge_name(edge)] = toward if here == first else -toward
            here = second if here == first else first
    return found


def _key(way: Way, stretch: Stretch) -> tuple[str, int, str]:
    return way.source.about.name, stretch.mesh.number, stretch.entry


class _Meshed:
    """A mesh as a source feeds it: one terminal, or a bank of batteries of which it is one."""

    def __init__(self, source: Source, stretch: Stretch, copper: Copper, size_of: SizeOf) -> None:
        self.mesh, self.entry = stretch.mesh, stretch.entry
        self.source = source.about.name
        self.posts = (source.plus, source.minus) if self.mesh.batteries else None
        self.inside = stated_ohms(self.mesh.batteries)
        self._splits = copper.splits
        self.hot: dict[str, Hot | None] = {}
        for edge in stretch.mesh.edges:
            hot = None
            if isinstance(edge, Conductor):
                size = size_of(edge)
                hot = None if isinstance(size, Unknown) else copper.hot(edge, size)
            self.hot[edge_name(edge)] = hot
        self.taken: UnitCurrent | None = None
        self._split = self._cold = self._made({})
        self._parts: dict[Exits, float] = {}

    def _made(self, current_a: Mapping[str, float]) -> Split:
        ohms = {
            name: hot.ohm(abs(current_a.get(name, 0.0))) if hot is not None else 0.0
            for name, hot in self.hot.items()
        }
        return self._splits.of(self.mesh, self.entry, ohms, self.inside)

    def take(self, leaving_a: Mapping[Exits, float]) -> None:
        """Split what leaves, with copper as hot as the last split made it."""
        self._split = self._made(self.taken.part if self.taken is not None else {})
        self.taken = self._split.between(leaving_a)

    def lost_v(self, exits: Exits) -> float:
        """What is lost before some exits under all that leaves [V]."""
        return self.taken.lost(exits, self.posts) if self.taken is not None else 0.0

    def own_ohm(self, exits: Exits) -> float:
        """What 1 A by some exits loses on its way there [Ω]."""
        return self._split.between({exits: 1.0}).lost(exits, self.posts)

    def part(self, exits: Exits) -> float:
        """What the source gives of 1 A by some exits, copper cold [-]."""
        if exits not in self._parts:
            self._parts[exits] = self._cold.between({exits: 1.0}).given[self.source]
        return self._parts[exits]
