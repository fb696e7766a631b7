"""What charging sources drive into batteries, and arrays into controllers, through every edge.

What two sources drive through a link adds up only where they stand on the same side of it: from the
two ends of a link they drive against each other, and of the two directions the larger counts.
"""

import math
from collections.abc import Callable, Iterable, Mapping
from functools import partial
from operator import is_
from typing import TYPE_CHECKING

from rigfolio.books import one_system
from rigfolio.demand.counting.counts import Counts
from rigfolio.kinds import OCCASIONS
from rigfolio.model import Rig, Source
from rigfolio.network import Net, Tree, Way, edge_name, ends, is_guard, never_closed, trees
from rigfolio.operating import directions
from rigfolio.study import Study, once

if TYPE_CHECKING:
    from rigfolio.demand.counting.split import Fed
    from rigfolio.network import Stretch

_Used = Mapping[str, tuple[float, float]]
_Both = tuple[float, float]
"""What runs through an edge from its first end to its second, and the other way [A]."""
_Meshed = Callable[["Stretch"], "Fed"]
"""Gives a mesh as the source in question feeds it."""


class _OneWay:
    """What charging sources drive through one edge in one direction [A].

    What may come at any time, sun or wind, comes on top of either; what runs from shore and what
    runs from an engine do not run together.
    """

    def __init__(self) -> None:
        self.any_time_a = self.shore_a = self.engine_a = 0.0
        self.sources: list[str] = []
        self.units: dict[str, float] = {}
        """What the outputs of one part drive, which is no more than that part is made for."""

    @property
    def together_a(self) -> float:
        """The most of it at one time [A]."""
        return self.any_time_a + max(self.shore_a, self.engine_a)

    def add(self, source: Source, current_a: float) -> None:
        """Count what one source drives."""
        if not current_a:
            return
        self.sources.append(source.about.name)
        if source.unit and isinstance(source.limit_a, float):
            before_a = self.units.get(source.unit, 0.0)
            self.units[source.unit] = min(before_a + current_a, source.limit_a)
            current_a = self.units[source.unit] - before_a
        together = source.traits.charges_with or source.traits.runs_with
        if OCCASIONS[together].at_any_time:
            self.any_time_a += current_a
        elif together == "engine":
            self.engine_a += current_a
        else:
            self.shore_a += current_a


class Charge:
    """What charging sources drive through one edge into batteries, in its worse direction [A]."""

    def __init__(self) -> None:
        self.ahead = _OneWay()
        self.against = _OneWay()

    @property
    def together_a(self) -> float:
        """The most of it at one time [A]."""
        return self._worse.together_a

    @property
    def sources(self) -> tuple[str, ...]:
        """The sources that drive it."""
        return tuple(self._worse.sources)

    @property
    def _worse(self) -> _OneWay:
        return max(self.ahead, self.against, key=lambda one: one.together_a)

    def add(self, source: Source, most_a: _Both) -> None:
        """Count the most that one source drives one way and the other."""
        self.ahead.add(source, most_a[0])
        self.against.add(source, most_a[1])


def charges_of(study: Study, found: Iterable[Tree], counts: Counts) -> dict[str, Charge]:
    """What charging sources drive through each edge, once on every edge that they use.

    A switch that no state has closed is for need alone and not for hours of charge. What a fuse on
    the way does not let through reaches nothing beyond it.
    """
    left_open = _left_open(study)
    charges: dict[str, Charge] = {}
    held = tuple(left_open or found)
    banks = tuple(tree for tree in held if tree.source.stores)
    for tree in held:
        if not tree.source.stores and isinstance(tree.source.limit_a, float):
            source = tree.source.about.name
            fed = counts.unloaded if left_open else partial(counts.fed, source)
            if tree.source.traits.by_light:
                driven = _into_inputs(study.rig, tree, tree.source.limit_a, fed)
            else:
                driven = _driven(tree, banks, tree.source.limit_a, fed, study.net)
            for name, most_a in driven.items():
                charges.setdefault(name, Charge()).add(tree.source, most_a)
    return charges


@once
def _left_open(study: Study) -> tuple[Tree, ...]:
    """What each source reaches by no switch for need alone; empty where there is none such."""
    names = never_closed(study.rig)
    if not names:
        return ()
    at = {
        terminal: tuple(
            step for step in steps
            if edge_name(step[0]) not in names
        )
        for terminal, steps in study.net.at.items()
    }  # fmt: skip
    return trees(study.rig, Net(at))


def _driven(
    tree: Tree, banks: Iterable[Tree], limit_a: float, fed: _Meshed, net: Net
) -> _Used:  # fmt: skip
    """What a source at its limit drives through each edge on its way to any battery [A].

    Batteries side by side take it together, as they would give it.
    """
    used: dict[str, _Both] = {}
    side_by_side: set[str] = set()
    for bank in banks:
        battery = bank.source
        if not _is_charged(battery, tree):
            continue
        if battery.about.name in side_by_side:
            continue
        way = bank.way(bank.out, tree.source.plus, tree.source.minus)
        given: dict[str, _Both] = {}
        if way.banked is None:
            way = tree.way(tree.out, battery.plus, battery.minus)
            _count_way(given, way, directions(battery.plus, battery.minus, way), limit_a, fed)
        else:
            side_by_side.update(way.beside)
            along = directions(tree.source.plus, tree.source.minus, way)
            _count_way(given, way, along, limit_a, fed)
            # It comes in where the batteries would give it.
            given = {name: (against_a, ahead_a) for name, (ahead_a, against_a) in given.items()}
        _count_let(used, given, way, tree.source, net)
    return used


def _into_inputs(rig: Rig, tree: Tree, limit_a: float, fed: _Meshed) -> _Used:
    """What an array in the sun drives through each edge on its way to any controller [A]."""
    used: dict[str, _Both] = {}
    for controller in rig.sources:
        plus, minus = controller.lit or ("", "")
        if plus in tree.out and minus in tree.back:
            way = tree.way(tree.out, plus, minus)
            _count_way(used, way, directions(plus, minus, way), limit_a, fed)
    return used


def _count_way(
    used: dict[str, _Both], way: Way, along: Mapping[str, float], limit_a: float, fed: _Meshed
) -> None:
    """Count a current on every edge of a way."""
    for name in way.single:
        _count(used, name, (limit_a, 0.0) if along[name] > 0.0 else (0.0, limit_a))
    for stretch in way.stretches:
        for name, most_a in fed(stretch).most(limit_a, stretch.exits).items():
            _count(used, name, most_a)


def _count_let(
    used: dict[str, _Both], given: Mapping[str, _Both], way: Way, source: Source, net: Net
) -> None:
    """Count what a source drives by a way: beyond a fuse no more than that lets through.

    What lies before it, as seen from the source, and the fuse itself have to bear all of it.
    """
    let_a = dict.fromkeys(given, math.inf)
    single = set(way.single)
    edges = {edge_name(edge): edge for edge in (*way.out, *way.back)}
    for name in single & edges.keys():
        fuse = edges[name]
        if not is_guard(fuse) or not isinstance(fuse.rating_a, float):
            continue
        if fuse.rating_a < max(given[name]):
            before = net.walk([source.plus], partial(is_, fuse)).keys()
            beyond = (e for e in given if e in edges and before.isdisjoint(ends(edges[e])))
            let_a |= {edge: min(let_a[edge], fuse.rating_a) for edge in beyond}
    for name, (ahead_a, against_a) in given.items():
        _count(used, name, (min(ahead_a, let_a[name]), min(against_a, let_a[name])))


def _is_charged(battery: Source, tree: Tree) -> bool:
    """Whether a source reaches a battery, out and back, and has the volts to drive into it."""
    if not battery.stores or battery.plus not in tree.out or battery.minus not in tree.back:
        return False
    return battery.voltage_v <= one_system().value * tree.source.voltage_v


def _count(used: dict[str, _Both], name: str, most_a: _Both) -> None:
    held_a = used.get(name, (0.0, 0.0))
    used[name] = max(held_a[0], most_a[0]), max(held_a[1], most_a[1])
