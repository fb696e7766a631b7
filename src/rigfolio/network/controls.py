"""What a person or a signal closes to feed a place: the open switches on the way to it."""

from collections.abc import Callable, Collection, Iterable

from rigfolio.model import Device, Rig
from rigfolio.network.by_hand import parallel_switches
from rigfolio.network.graph import Edge, Net, edge_name, net_of
from rigfolio.record import once


@once
def resting_open(rig: Rig) -> frozenset[str]:
    """The switches and relays that rest open, as edges: each closes for what it starts.

    What joins banks in an emergency is none of them, nor is what feeds a panel: that is closed by
    whoever works at the panel.
    """
    by_hand = parallel_switches(rig)
    found = frozenset(
        edge_name(device) for device in rig.devices
        if device.rests == "open" and (device.traits.starts_load or device.traits.has_coil)
        and device.about.name not in by_hand
    )  # fmt: skip
    return found - _feeding(rig, found) if found else found


def closed_for_panels(rig: Rig) -> tuple[str, ...]:
    """What rests open and is closed all the same while a panel is worked at, by name."""
    kept = resting_open(rig)
    return tuple(dict.fromkeys(
        device.about.name for device in rig.devices
        if device.rests == "open" and edge_name(device) not in kept
        and device.about.name not in parallel_switches(rig)
    ))  # fmt: skip


def _feeding(rig: Rig, switches: frozenset[str]) -> frozenset[str]:
    """Those of some switches that a panel hangs behind."""
    net = net_of(rig)
    posts = [one.plus for one in rig.sources if one.stores] or [one.plus for one in rig.sources]
    return frozenset().union(*(
        in_the_way(net, panel.bus, posts, waits=lambda edge: edge_name(edge) in switches)
        for panel in rig.panels
    ))  # fmt: skip


def in_the_way(
    net: Net,
    start: str,
    fed: Collection[str],
    *,
    waits: Callable[[Edge], bool],
    is_open: Callable[[Edge], bool] = lambda _: False,
) -> frozenset[str]:
    """The switches that have to close for a place to be joined to one that is fed, as edges.

    The fewest in a row, and all of those that stand side by side: any of them feeds it. None where
    it is joined without them, nor where it is not joined with them.

    Parameters
    ----------
    net : Net
        The wiring.
    start : str
        The terminal that is to be fed.
    fed : Collection[str]
        The terminals of what feeds.
    waits : Callable[[Edge], bool]
        Which switches wait to be closed.
    is_open : Callable[[Edge], bool]
        Which edges stay open.
    """

    def bars(edge: Edge) -> bool:
        return is_open(edge) or waits(edge)

    rooms = [net.walk([start], bars).keys()]
    room_of = dict.fromkeys(rooms[0], 0)
    doors: list[list[tuple[str, int]]] = [[]]
    layer = [0]
    while layer:
        if reached := [room for room in layer if any(end in rooms[room] for end in fed)]:
            return _passed(doors, reached)
        inner = len(rooms)
        for room in layer:
            for edge, there in _doors(net, rooms[room], waits, is_open):
                if there not in room_of:
                    rooms.append(net.walk([there], bars).keys())
                    room_of |= dict.fromkeys(rooms[-1], len(rooms) - 1)
                    doors.append([])
                if room_of[there] >= inner:
                    doors[room_of[there]].append((edge_name(edge), room))
        layer = list(range(inner, len(rooms)))
    return frozenset()


def _doors(
    net: Net, room: Iterable[str], waits: Callable[[Edge], bool], is_open: Callable[[Edge], bool]
) -> Iterable[tuple[Device, str]]:
    """The switches that wait at any terminal of a room, each with its other end."""
    for here in room:
        for edge, there in net.steps(here):
            if isinstance(edge, Device) and waits(edge) and not is_open(edge):
                yield edge, there


def _passed(doors: list[list[tuple[str, int]]], reached: list[int]) -> frozenset[str]:
    """The switches on all shortest ways back from some rooms to the first."""
    found, waiting = set[str](), list(reached)
    # It grows as it is gone through; the ways back lead to lower rooms only.
    for room in waiting:
        found |= {name for name, _ in doors[room]}
        waiting += {before for _, before in doors[room]} - set(waiting)
    return frozenset(found)
