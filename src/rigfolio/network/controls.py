"""What a person or a signal closes to feed a place: the open switches on the way to it."""

from collections.abc import Callable, Collection, Mapping, Sequence

from rigfolio.model import Device, Rig
from rigfolio.network.by_hand import parallel_switches
from rigfolio.network.graph import Edge, Net, edge_name, ends, net_among, net_of
from rigfolio.network.rooms import Rooms
from rigfolio.record import once


@once
def rests_open(rig: Rig) -> Mapping[str, Device]:
    """All that rests open, by edge; what joins banks in an emergency is none of it.

    Each may close at any time, and nobody at a panel sees it coming. Whoever asks what is closed
    while something runs asks `resting_open`. Of ways that exclude each other all are among it that
    no rest is said of.
    """
    by_hand = parallel_switches(rig)
    return {
        edge_name(one): one for one in rig.devices
        if one.rests_open and one.about.name not in by_hand
    }  # fmt: skip


@once
def resting_open(rig: Rig) -> frozenset[str]:
    """Those switches and relays of `rests_open` that close for what they start alone, as edges.

    What feeds a panel is none of them: that is closed by whoever works at the panel.
    """
    found = frozenset(
        edge for edge, one in rests_open(rig).items()
        if one.traits.starts_load or one.traits.has_coil
    )  # fmt: skip
    plain = found - {edge_name(one) for one in rig.devices if one.position}
    return found - feeding_panels(rig, plain) if plain else found


def closed_for_panels(rig: Rig) -> tuple[str, ...]:
    """What rests open and is closed all the same while a panel is worked at, by name."""
    kept, every = resting_open(rig), rests_open(rig)
    return tuple(dict.fromkeys(
        one.about.name for edge, one in every.items() if edge not in kept and not one.position
    ))  # fmt: skip


def feeding_panels(rig: Rig, switches: frozenset[str]) -> frozenset[str]:
    """Those of some switches that a panel hangs behind, as edges."""
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
    it is joined without them, nor where it is not joined with them. What is longer is no part of
    it: each choice by itself, also that, is told by `ways_to_close`.

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
    rooms = Rooms(net, waits, is_open)
    done, layer = {rooms.of(start)}, [rooms.of(start)]
    before: dict[int, list[tuple[str, int]]] = {layer[0]: []}
    while layer:
        if reached := [room for room in layer if rooms.holds(room, fed)]:
            return _passed(before, reached)
        further: dict[int, list[tuple[str, int]]] = {}
        for room in layer:
            for door, there in rooms.doors(room):
                if there not in done:
                    further.setdefault(there, []).append((edge_name(door), room))
        before |= further
        layer = list(further)
        done.update(layer)
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
    rooms = Rooms(net_among(edges), lambda edge: edge_name(edge) in waits)
    if rooms.of(start) == rooms.of(end):
        return (frozenset(waits),)
    doors = {
        edge_name(edge): (rooms.of(ends(edge)[0]), rooms.of(ends(edge)[1]))
        for edge in edges if edge_name(edge) in waits
    }  # fmt: skip
    rows = (_fewest(doors, name, rooms.of(start), rooms.of(end)) for name in doors)
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


def _passed(before: Mapping[int, list[tuple[str, int]]], reached: list[int]) -> frozenset[str]:
    """The switches on all shortest ways back from some rooms to the first."""
    found, waiting = set[str](), list(reached)
    # It grows as it is gone through; the ways back lead to lower rooms only.
    for room in waiting:
        found |= {name for name, _ in before[room]}
        waiting += {nearer for _, nearer in before[room]} - set(waiting)
    return frozenset(found)
