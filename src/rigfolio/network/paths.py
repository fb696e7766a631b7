"""The ways from sources to loads and back, and where they lead through meshes."""

from collections import deque
from collections.abc import Callable, Collection, Iterable, Mapping
from typing import TYPE_CHECKING

from rigfolio.model import Device, Load, Rig, Source
from rigfolio.network.by_hand import parallel_switches
from rigfolio.network.graph import (
    Edge,
    Net,
    Step,
    edge_name,
    ends,
    excludes,
    path,
    ringed,
)
from rigfolio.network.parallel import parallel_banks
from rigfolio.network.throws import nets_in_turn
from rigfolio.record import derived, record, replace

if TYPE_CHECKING:
    from rigfolio.network.blocks import Meshes, Stretch

Walk = Mapping[str, Step | None]


@record
class Way:
    """The edges from a source to a load and back to the source.

    Where there are several ways it is that of fewest edges, and `stretches` tells where it leads
    through a mesh: there the current splits, and more than these edges carry it.
    """

    source: Source
    out: tuple[Edge, ...]
    back: tuple[Edge, ...]
    stretches: "tuple[Stretch, ...]" = ()
    others: "tuple[Way, ...]" = ()
    """Those that it may run by as well, as switches stand that make one of several ways."""
    settings: frozenset[int] = frozenset({0})
    """The numbers of the settings of such switches in which it runs by this one."""

    @property
    def every(self) -> "tuple[Way, ...]":
        """The way itself and the others, of which it runs by one at a time."""
        return (self, *self.others)

    @property
    def banked(self) -> "Stretch | None":
        """Its part in the mesh of batteries side by side; None where its source is alone."""
        return next((one for one in self.stretches if one.mesh.batteries), None)

    @property
    def beside(self) -> tuple[str, ...]:
        """The batteries that share its current, its source among them; empty where it is alone."""
        banked = self.banked
        return tuple(one.about.name for one in banked.mesh.batteries) if banked is not None else ()

    def is_meshed(self, edge: str) -> bool:
        """Whether an edge lies in a mesh on this way."""
        return any(edge in stretch.mesh.names for stretch in self.stretches)

    @derived
    def single(self) -> tuple[str, ...]:
        """The edges by name, those left out that lie in a mesh."""
        names = [edge_name(edge) for edge in (*self.out, *self.back)]
        if not self.stretches:
            return tuple(names)
        return tuple([name for name in names if not self.is_meshed(name)])


@record
class Tree:
    """What a source reaches from plus and minus, and what of it no other bank shares."""

    source: Source
    out: Walk
    near: Walk
    back: Walk
    meshes: "Meshes | None"
    near_meshes: "Meshes | None"
    selects: bool
    """Whether the rig has a selector."""

    def way(self, out: Walk, plus: str, minus: str) -> Way:
        """The way to two terminals, out by one of the walks."""
        stretches: tuple[Stretch, ...] = ()
        if self.meshes is not None and self.near_meshes is not None:
            meshes = self.near_meshes if out is self.near else self.meshes
            there, again = meshes.stretches(out, plus), self.meshes.stretches(self.back, minus)
            stretches = self.meshes.through_bank(self.source, there, again)
        return Way(self.source, tuple(path(out, plus)), tuple(path(self.back, minus)), stretches)

    def is_own(self, load: Load) -> bool:
        """Whether the source serves a load without another bank's place on a selector."""
        if load.plus not in self.near or load.minus not in self.back:
            return False
        if not self.selects:
            return True
        places = [
            edge.about.name
            for edge in path(self.near, load.plus)
            if isinstance(edge, Device) and edge.traits.selects
        ]
        return len(places) == len(set(places))


def trees(rig: Rig, net: Net) -> tuple[Tree, ...]:
    """What every source reaches, and where there is more than one way to it.

    Batteries side by side are taken to be all in: see `rigfolio.network.parallel`.
    """
    selects = any(device.traits.selects for device in rig.devices)
    joins = (
        selects
        or any(device.traits.joins_banks for device in rig.devices)
        or bool(parallel_switches(rig))
    )
    banks = parallel_banks(rig, net)
    rings = _Rings(rig, net)
    found = []
    for source in rig.sources:
        out, back = net.walk([source.plus]), net.walk([source.minus])
        near = within_bank(rig, net, source.plus) if joins else out
        bank = banks.get(source.about.name, ())
        meshes = rings.of_bank(bank, near, back) if bank else rings.every
        near_meshes = meshes
        if joins and not bank and meshes is not None:
            near_meshes = rings.within(near)
        found.append(Tree(source, out, near, back, meshes, near_meshes, selects))
    return tuple(found)


class _Rings:
    """The meshes of a rig as its sources meet them, each with a number of its own."""

    def __init__(self, rig: Rig, net: Net) -> None:
        self.net, self.edges = net, _ringed_in_turn(rig, net)
        self.by_hand = parallel_switches(rig)
        self._number = 0
        self._banks: dict[tuple[str, ...], Meshes] = {}
        self.every = self._made(self.edges) if self.edges else None

    def within(self, near: Walk) -> "Meshes":
        """Those on the plus side of one bank."""
        return self._made(edge for edge in self.edges if _is_near(self.by_hand, near, edge))

    def of_bank(self, bank: tuple[Source, ...], near: Walk, back: Walk) -> "Meshes":
        """Those on the plus side and the minus side of batteries side by side."""
        names = tuple(one.about.name for one in bank)
        if names not in self._banks:
            edges = ringed(self.net, [(one.minus, one.plus) for one in bank])
            own = [
                edge
                for edge in edges
                if _is_near(self.by_hand, near, edge) or ends(edge)[0] in back
            ]
            self._banks[names] = self._made(own, bank)
        return self._banks[names]

    def _made(self, edges: Iterable[Edge], bank: tuple[Source, ...] = ()) -> "Meshes":
        from rigfolio.network.blocks import Meshes

        made = Meshes(edges, self._number, bank)
        self._number += len(made.every)
        return made


def _ringed_in_turn(rig: Rig, net: Net) -> tuple[Edge, ...]:
    """The edges of rings, none of which needs two ways of a switch that makes one at a time."""
    if not net.turning:
        return ringed(net)
    found: dict[str, Edge] = {}
    for closed in nets_in_turn(rig):
        found |= {edge_name(edge): edge for edge in ringed(closed)}
    return tuple(found.values())


def _is_near(by_hand: Collection[str], near: Walk, edge: Edge) -> bool:
    """Whether a walk that keeps to one bank may lead over an edge."""
    here, there = ends(edge)
    return here in near and there in near and not _joins_banks(by_hand, edge, here)


def turned_trees(
    rig: Rig, net: Net, found: Iterable[Tree], is_open: Callable[[Edge], bool]
) -> tuple[Tree, ...]:
    """What every source reaches with some ways of switches open, as they stand in one setting."""
    turned = []
    for tree in found:
        plus, minus = tree.source.plus, tree.source.minus
        near = within_bank(rig, net, plus, is_open)
        out, back = (net.walk([post], is_open) for post in (plus, minus))
        turned.append(replace(tree, out=out, near=near, back=back))
    return tuple(turned)


def within_bank(
    rig: Rig, net: Net, start: str, is_open: Callable[[Edge], bool] | None = None
) -> dict[str, Step | None]:
    """A walk that leads through no combiner, selector or parallel switch into another bank."""
    by_hand = parallel_switches(rig)
    back: dict[str, Step | None] = {start: None}
    waiting = deque(back)
    while waiting:
        here = waiting.popleft()
        for edge, there in net.steps(here):
            is_parted = _joins_banks(by_hand, edge, here) or excludes(back[here], edge)
            if there not in back and not (is_parted or (is_open is not None and is_open(edge))):
                back[there] = (edge, here)
                waiting.append(there)
    return back


def _joins_banks(by_hand: Collection[str], edge: Edge, here: str) -> bool:
    if not isinstance(edge, Device):
        return False
    if edge.traits.selects:
        return here == edge.load
    return edge.traits.joins_banks or edge.about.name in by_hand
