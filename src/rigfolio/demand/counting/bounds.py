"""The most that a source adds to an edge, whatever its loads ask for."""

import math
from collections.abc import Iterable, Mapping

from rigfolio.demand.counting.tally import Tally
from rigfolio.model import Device, Load
from rigfolio.network import Tree, Way, edge_name, is_guard, path

_Key = tuple[str, str]
"""A source and an edge by name."""
Fuses = tuple[Device, ...]
"""Fuses that follow each other from a source outwards."""


class SourceBounds:
    """What sources add at most, edge by edge: behind the fuses of their own what these let [A]."""

    def __init__(self, share: float) -> None:
        self.share = share
        self._meshed: dict[_Key, float] = {}
        self._behind: dict[_Key, dict[tuple[str, ...], tuple[Fuses, Tally]]] = {}

    def behind(self, key: _Key, fuses: Fuses) -> Tally:
        """Where it is counted what a source drives through an edge by some fuses of its own."""
        names = tuple(fuse.about.name for fuse in fuses)
        return self._behind.setdefault(key, {}).setdefault(names, (fuses, Tally()))[1]

    def in_mesh(self, key: _Key, bound_a: float) -> None:
        """Note the most that a source adds to an edge of a mesh [A]."""
        self._meshed[key] = max(bound_a, self._meshed.get(key, 0.0))

    def most_a(self, key: _Key) -> float:
        """The most that a source adds to an edge; without end where nothing bounds it [A]."""
        behind = self._behind.get(key, {})
        if not behind:
            return self._meshed.get(key, math.inf)
        return self._meshed.get(key, 0.0) + self._let_a(behind)

    def _let_a(self, behind: Mapping[tuple[str, ...], tuple[Fuses, Tally]]) -> float:
        """What fuses let through together: those behind one no more than that one does [A]."""
        total_a = 0.0
        branches: dict[str, dict[tuple[str, ...], tuple[Fuses, Tally]]] = {}
        first: dict[str, Device] = {}
        for names, (fuses, tally) in behind.items():
            if not fuses:
                total_a += tally.demand_a(self.share)
                continue
            first[names[0]] = fuses[0]
            branches.setdefault(names[0], {})[names[1:]] = (fuses[1:], tally)
        return total_a + sum(
            min(_rating_a(first[name]), self._let_a(held)) for name, held in branches.items()
        )


def bounded_by(way: Way, load: Load, banks: Iterable[Tree]) -> Fuses:
    """The fuses that bound what a source without a limit adds to a load which a bank serves too.

    A towing vehicle drives no more than the fuses of its own line let through, the bank gives the
    rest. Without a bank it has to serve the load alone.
    """
    if way.source.limit_a is not None:
        return ()
    shared: set[str] = set()
    for bank in banks:
        if bank.is_own(load):
            shared.update(edge_name(edge) for edge in path(bank.near, load.plus))
    if not shared:
        return ()
    outwards = reversed(way.out)
    own = [edge for edge in outwards if is_guard(edge) and edge_name(edge) not in shared]
    return tuple(one for one in own if isinstance(one.rating_a, float))


def least_a(fuses: Fuses) -> float:
    """What fuses in line let through; without one there is no bound [A]."""
    return min(map(_rating_a, fuses), default=math.inf)


def _rating_a(device: Device) -> float:
    held = device.rating_a
    return held if isinstance(held, float) else math.inf
