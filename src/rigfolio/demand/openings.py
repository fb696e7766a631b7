"""What may be open in a mesh while the rest of the rig is in use."""

from collections.abc import Collection, Iterable, Iterator, Mapping

from rigfolio.model import Device, Rig
from rigfolio.network import Mesh, edge_name, ends


def devices_left_open(rig: Rig) -> frozenset[str]:
    """The devices that some state of the text has open."""
    return frozenset(
        name for state in rig.states for name, how in state.settings if how in ("open", "off")
    )


def opened_in_use(mesh: Mesh, left_open: Collection[str]) -> Iterator[str]:
    """The devices of a mesh that may be open, by the names of their edges.

    What a person or a signal opens, what the text has open in a state, and breakers. The breaker of
    one battery of a bank opens on too much, and then those of the others tell: it is switched off
    only where the text says so.
    """
    for edge in mesh.edges:
        if isinstance(edge, Device):
            is_named = edge.traits.opens or edge.about.name in left_open
            if is_named or (edge.traits.resets and not _parts_battery(mesh, edge)):
                yield edge_name(edge)


def _parts_battery(mesh: Mesh, device: Device) -> bool:
    """Whether an open device takes a battery off the bank."""
    steps: dict[str, list[str]] = {}
    for edge in mesh.edges:
        if edge is not device:
            one, two = ends(edge)
            steps.setdefault(one, []).append(two)
            steps.setdefault(two, []).append(one)
    poles = [one.plus for one in mesh.batteries], [one.minus for one in mesh.batteries]
    return any(not set(posts) <= _walked(posts[0], steps) for posts in poles if posts)


def _walked(start: str, steps: Mapping[str, Iterable[str]]) -> set[str]:
    """The terminals that hang together with one."""
    seen, waiting = {start}, [start]
    while waiting:
        more = set(steps.get(waiting.pop(), ())) - seen
        seen |= more
        waiting += more
    return seen
