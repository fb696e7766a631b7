"""What loads draw at their own volts, with the wires and the source that feed them and no others.

A load of current draws what it says. One of watts draws more the less volts it gets, one of ohms
less, and what it gets depends on what it draws: both are met where supply and load agree. Each load
runs from one source by its own way. Where the way has no mesh that is a sum over its wires; in a
mesh the current is split by Kirchhoff's laws. It comes to the same as the nodal solution of the
whole rig with nothing else on, at a cost that does not grow with the rig.
"""

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence

from rigfolio.findings import Unknown
from rigfolio.model import Conductor, Load
from rigfolio.network import Split, Stretch, Way, edge_name
from rigfolio.operating.copper import Copper, Hot, SizeOf, as_stated, copper_of
from rigfolio.operating.point import STIFF_OHM, source_ohm
from rigfolio.operating.ways import ways_of
from rigfolio.record import record
from rigfolio.study import Study, once

# Copper and current settle each other; what is left is below every figure that is printed.
_ROUNDS = 200
_SETTLED = 1e-9


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


def together(
    runs: Sequence[tuple[Load, Way]], copper: Copper, size_of: SizeOf = as_stated
) -> dict[str, Drawn]:
    """What some loads draw that are on together, each from the source of its way, nothing else on.

    Wires of unknown size or length count as without resistance, loads of unknown draw as off. The
    draws rise from those at the volts of the source, so that a load is found to collapse only where
    nothing holds it.
    """
    if len(runs) == 1 and not runs[0][1].stretches:
        load, way = runs[0]
        return {load.about.name: _single(load, way, copper, size_of)}
    net = _Net(runs, copper, size_of)
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


class _Net:
    """Some loads on their ways, on the way to the currents that agree."""

    def __init__(self, runs: Sequence[tuple[Load, Way]], copper: Copper, size_of: SizeOf) -> None:
        self.runs, self.copper, self.size_of = runs, copper, size_of
        self.lines = [
            tuple((f"{way.source.about.name} {name}", hot)
                  for name, hot in _line(way, copper, size_of))
            for _, way in runs
        ]  # fmt: skip
        self.drawn = {
            load.about.name: drawn_behind(load, way.source.voltage_v, 0.0, 0.0)
            for load, way in runs
        }
        self.meshes: dict[tuple[str, int, str], _Meshed] = {}

    def step(self) -> float:
        """Let every load draw what it draws under what all lose; returns the largest change."""
        total_a = self._totals()
        held = {key: hot.ohm(total_a[key]) for line in self.lines for key, hot in line}
        self._split()
        most = 0.0
        for (load, way), line in zip(self.runs, self.lines, strict=True):
            before = self.drawn[load.about.name]
            if before.collapses:
                continue
            source = way.source
            own_ohm = source_ohm(source) or STIFF_OHM
            lost_v = own_ohm * total_a[source.about.name]
            for key, _ in line:
                own_ohm += held[key]
                lost_v += held[key] * total_a[key]
            for stretch in way.stretches:
                meshed = self.meshes[_key(way, stretch)]
                own_ohm += meshed.own_ohm(stretch.exit)
                lost_v += meshed.level[stretch.exit]
            lost_v = max(lost_v - own_ohm * before.known_a, 0.0)
            after = drawn_behind(load, source.voltage_v, lost_v, own_ohm)
            self.drawn[load.about.name] = after
            if before.known_a > 0.0:
                most = max(most, abs(after.known_a / before.known_a - 1.0))
            most = max(most, abs(after.volts - before.volts) / source.voltage_v)
        return most

    def _totals(self) -> dict[str, float]:
        """What runs through every wire outside meshes, and what every source gives [A]."""
        found: dict[str, float] = {}
        for (load, way), line in zip(self.runs, self.lines, strict=True):
            current_a = self.drawn[load.about.name].known_a
            for key in (way.source.about.name, *(key for key, _ in line)):
                found[key] = found.get(key, 0.0) + current_a
        return found

    def _split(self) -> None:
        """Let the meshes take what leaves them now."""
        leaving: dict[tuple[str, int, str], dict[str, float]] = {}
        for load, way in self.runs:
            for stretch in way.stretches:
                at = leaving.setdefault(_key(way, stretch), {})
                own_a = self.drawn[load.about.name].known_a
                at[stretch.exit] = at.get(stretch.exit, 0.0) + own_a
                if _key(way, stretch) not in self.meshes:
                    made = _Meshed(stretch, self.copper, self.size_of)
                    self.meshes[_key(way, stretch)] = made
        for key, out_a in leaving.items():
            self.meshes[key].take(out_a)


def _key(way: Way, stretch: Stretch) -> tuple[str, int, str]:
    return way.source.about.name, stretch.mesh.number, stretch.entry


class _Meshed:
    """A mesh from the terminal at which a source feeds it; `level` is what is lost there [V]."""

    def __init__(self, stretch: Stretch, copper: Copper, size_of: SizeOf) -> None:
        self.mesh, self.entry = stretch.mesh, stretch.entry
        self.hot: dict[str, Hot | None] = {}
        for edge in stretch.mesh.edges:
            hot = None
            if isinstance(edge, Conductor):
                size = size_of(edge)
                hot = None if isinstance(size, Unknown) else copper.hot(edge, size)
            self.hot[edge_name(edge)] = hot
        self.current_a: Mapping[str, float] = {}
        self.level: Mapping[str, float] = {}
        self._split: Split | None = None

    def take(self, leaving_a: Mapping[str, float]) -> None:
        """Split what leaves, with copper as hot as the last split made it."""
        ohms = {
            name: hot.ohm(abs(self.current_a.get(name, 0.0))) if hot is not None else 0.0
            for name, hot in self.hot.items()
        }
        self._split = Split(self.mesh, self.entry, ohms)
        unit = self._split.to(leaving_a)
        self.level, self.current_a = unit.level, unit.part

    def own_ohm(self, leaves: str) -> float:
        """What 1 A to a terminal loses on its way there [Ω]."""
        return self._split.to({leaves: 1.0}).level[leaves] if self._split is not None else 0.0


@once
def homes_of(study: Study) -> dict[str, Way]:
    """The way that each load runs by, that on which it loses least alone, by the load's name."""
    copper, found = copper_of(study), {}
    for load in study.rig.loads:
        ways = ways_of(study).chosen(load)
        if ways:
            lost = [_lost_share(load, way, copper) for way in ways] if len(ways) > 1 else [0.0]
            found[load.about.name] = ways[lost.index(min(lost))]
    return found


def _lost_share(load: Load, way: Way, copper: Copper) -> float:
    found = together([(load, way)], copper)[load.about.name]
    return math.inf if found.collapses else 1.0 - found.volts / way.source.voltage_v


def user_of(load: Load) -> str:
    """The circuit of a load; its own name where it belongs to none."""
    return load.circuit or load.about.name


def draws_by_circuit(
    study: Study, loads: Iterable[Load], size_of: SizeOf = as_stated
) -> dict[str, Drawn]:
    """What loads draw while all loads of their circuit are on and nothing else is.

    One that no source serves is taken at the volts of its system.
    """
    copper, homes = copper_of(study), homes_of(study)
    by_user: dict[str, list[tuple[Load, Way]]] = {}
    found: dict[str, Drawn] = {}
    for load in loads:
        way = homes.get(load.about.name)
        if way is None:
            found[load.about.name] = _without_loss(study, load)
        else:
            by_user.setdefault(user_of(load), []).append((load, way))
    for runs in by_user.values():
        found |= together(runs, copper, size_of)
    return found


def draws_without_loss(study: Study) -> dict[str, Drawn]:
    """What every load draws at the volts of its source, by name."""
    return {load.about.name: _without_loss(study, load) for load in study.rig.loads}


def _without_loss(study: Study, load: Load) -> Drawn:
    way = homes_of(study).get(load.about.name)
    volts = study.volts.get(load.plus, study.rig.system_v)
    return drawn_behind(load, volts if way is None else way.source.voltage_v, 0.0, 0.0)


@once
def circuit_draws(study: Study) -> dict[str, Drawn]:
    """What every load draws with its own circuit on and nothing else, by name."""
    return draws_by_circuit(study, study.rig.loads)


def alone_draw(study: Study, load: Load) -> Drawn:
    """What a load draws that is on alone."""
    way = homes_of(study).get(load.about.name)
    circuit = study.circuit(load.circuit)
    if way is None or circuit is None or len(circuit.loads) == 1:
        return circuit_draws(study)[load.about.name]
    return together([(load, way)], copper_of(study))[load.about.name]
