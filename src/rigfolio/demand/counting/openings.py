"""What may be open in a mesh while the rest of the rig is in use."""

from collections.abc import Collection, Iterator

from rigfolio.model import OPENS, Device, Rig
from rigfolio.network import Mesh, Net, edge_name, net_among


def devices_left_open(rig: Rig) -> frozenset[str]:
    """The devices that some state of the text has open."""
    return frozenset(name for state in rig.states for name, how in state.settings if how in OPENS)


def opened_in_use(mesh: Mesh, left_open: Collection[str]) -> Iterator[str]:
    """The devices of a mesh that may be open, by the names of their edges.

    What a person or a signal opens, what the text has open in a state, and breakers. The breaker of
    one battery of a bank opens on too much, and then those of the others tell: it is switched off
    only where the text says so.
    """
    net = net_among(mesh.edges)
    for edge in mesh.edges:
        if isinstance(edge, Device):
            is_named = edge.traits.opens or edge.about.name in left_open
            if is_named or (edge.traits.resets and not _parts_battery(mesh, net, edge)):
                yield edge_name(edge)


def _parts_battery(mesh: Mesh, net: Net, device: Device) -> bool:
    """Whether an open device takes a battery off the bank."""
    poles = [one.plus for one in mesh.batteries], [one.minus for one in mesh.batteries]
    return any(
        not net.walk(posts[:1], lambda edge: edge is device).keys() >= set(posts) for posts in poles
    )
