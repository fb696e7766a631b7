"""The most that a source adds to an edge, whatever its loads ask for."""

import math
from collections.abc import Iterable

from rigfolio.demand.counting.tally import Tally
from rigfolio.model import Device, Load
from rigfolio.network import Tree, Way, edge_name, is_guard, path

_Key = tuple[str, str]
"""A source and an edge by name."""


class SourceBounds:
    """What sources add at most, edge by edge: behind each fuse of their own what that lets [A]."""

    def __init__(self, share: float) -> None:
        self.share = share
        self._meshed: dict[_Key, float] = {}
        self._behind: dict[_Key, dict[str, tuple[float, Tally]]] = {}

    def behind(self, key: _Key, fuse: Device | None) -> Tally:
        """Where it is counted what a source drives through an edge by one fuse of its own."""
        by_fuse = self._behind.setdefault(key, {})
        name = fuse.about.name if fuse is not None else ""
        return by_fuse.setdefault(name, (rating_a(fuse), Tally()))[1]

    def in_mesh(self, key: _Key, bound_a: float) -> None:
        """Note the most that a source adds to an edge of a mesh [A]."""
        self._meshed[key] = max(bound_a, self._meshed.get(key, 0.0))

    def most_a(self, key: _Key) -> float:
        """The most that a source adds to an edge; without end where nothing bounds it [A]."""
        behind = self._behind.get(key, {}).values()
        if not behind:
            return self._meshed.get(key, math.inf)
        own_a = sum(min(most_a, tally.demand_a(self.share)) for most_a, tally in behind)
        return self._meshed.get(key, 0.0) + own_a


def bounded_by(way: Way, load: Load, banks: Iterable[Tree]) -> Device | None:
    """The fuse that bounds what a source without a limit adds to a load which a bank serves too.

    A towing vehicle drives no more than the fuses of its own line let through, the bank gives the
    rest. Without a bank it has to serve the load alone.
    """
    if way.source.limit_a is not None:
        return None
    shared: set[str] = set()
    for bank in banks:
        if bank.is_own(load):
            shared.update(edge_name(edge) for edge in path(bank.near, load.plus))
    if not shared:
        return None
    own = [edge for edge in way.out if is_guard(edge) and edge_name(edge) not in shared]
    return min((one for one in own if isinstance(one.rating_a, float)), key=rating_a, default=None)


def rating_a(device: Device | None) -> float:
    """What a device lets through; without one there is no bound [A]."""
    held = device.rating_a if device is not None else None
    return held if isinstance(held, float) else math.inf
