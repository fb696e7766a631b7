"""What a person or a signal closes to feed a place: the open switches on the way to it."""

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence

from rigfolio.model import Device, Rig
from rigfolio.network.by_hand import parallel_switches
from rigfolio.network.graph import Edge, Net, edge_name, ends, net_among, net_of
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


def ways_to_close(
    edges: Sequence[Edge], start: str, end: str, waits: Collection[str]
) -> tuple[frozenset[str], ...]:
    """The choices among switches that join two places, as the edges that each choice leaves open.

    One for each switch that has a part in any: the fewest in a row with it, and no others. Where
    the places are joined without them all stay open. Empty where nothing joins the places.

    Parameters
    ----------
    edges : Sequence[Edge]
        The wiring between them.
    start : str
        The one terminal.
    end : str
        The other.
    waits : Collection[str]
        The switches that wait to be closed, as edges.
    """
    room_of: dict[str, int] = {}
    doors: dict[str, tuple[int, int]] = {}

    def bars(edge: Edge) -> bool:
        return edge_name(edge) in waits

    net, switches = net_among(edges), [edge for edge in edges if bars(edge)]
    for place in (start, end, *(one for edge in switches for one in ends(edge))):
        if place not in room_of:
            room_of |= dict.fromkeys(net.walk([place], bars), len(room_of))
    if room_of[start] == room_of[end]:
        return (frozenset(waits),)
    for edge in switches:
        one, two = ends(edge)
        doors[edge_name(edge)] = room_of[one], room_of[two]
    rows = (_fewest(doors, name, room_of[start], room_of[end]) for name in doors)
    return tuple(dict.fromkeys(frozenset(waits) - row for row in rows if row))


def _fewest(
    doors: Mapping[str, tuple[int, int]], through: str, start: int, end: int
) -> frozenset[str]:
    """The fewest doors in a row from one room to another, one of them given; empty if none."""
    others = {name: rooms for name, rooms in doors.items() if name != through}
    rows = []
    for near, far in (doors[through], doors[through][::-1]):
        there, on = _row(others, start, near), _row(others, far, end)
        if there is not None and on is not None and not there & on:
            rows.append(there | on | {through})
    return min(rows, key=len, default=frozenset())


def _row(doors: Mapping[str, tuple[int, int]], start: int, end: int) -> frozenset[str] | None:
    """The fewest doors from one room to another; None where none lead there."""
    found: dict[int, frozenset[str]] = {start: frozenset()}
    waiting = [start]
    for room in waiting:
        for name, rooms in doors.items():
            if room in rooms:
                there = rooms[1] if rooms[0] == room else rooms[0]
                if there not in found:
                    found[there] = found[room] | {name}
                    waiting.append(there)
    return found.get(end)


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
