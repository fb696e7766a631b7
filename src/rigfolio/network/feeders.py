"""Which wires bring a panel its supply, and which are there for one load alone."""

from collections.abc import Collection
from functools import partial

from rigfolio.model import Conductor, Panel, Rig
from rigfolio.network.graph import Edge, Net, edge_name, ends, net_of, path


def feeds_of(rig: Rig, panel: Panel) -> tuple[tuple[Conductor, str], ...]:
    """The wires that lead from a source to a panel, each with its far end.

    A wire counts where a source is reached from its far end without coming back by the panel, so
    that what the panel feeds itself is left out.
    """
    hub = {panel.feed, panel.bus}
    joints = [(each.line, each.load) for each in rig.devices if not each.in_slot]
    near = hub | {end for pair in joints if hub & set(pair) for end in pair}
    net = net_of(rig)
    sources = {source.plus for source in rig.sources}
    return tuple(
        (wire, far)
        for wire in rig.conductors
        for here, far in ((wire.a, wire.b), (wire.b, wire.a))
        if here in near and _reaches(net, far, near, sources)
    )


def _ends_at(terminal: str, edge: Edge) -> bool:
    return terminal in ends(edge)


def _reaches(net: Net, start: str, walls: Collection[str], goals: Collection[str]) -> bool:
    """Whether a terminal is joined to any of some goals, not through any of the walls."""
    if start in goals and start not in walls:
        return True
    seen, waiting = {start}, [start]
    while waiting:
        for _, there in net.steps(waiting.pop()):
            if there not in seen and there not in walls:
                if there in goals:
                    return True
                seen.add(there)
                waiting.append(there)
    return False


def own_edges(
    net: Net, start: str, posts: Collection[str], others: Collection[str]
) -> tuple[Edge, ...]:
    """The edges that nothing but a place hangs on, those that lie side by side among them.

    Parameters
    ----------
    net : Net
        The wiring.
    start : str
        The place, a terminal.
    posts : Collection[str]
        The terminals of what feeds.
    others : Collection[str]
        The terminals of all else that is fed.

    Returns
    -------
    tuple[Edge, ...]
        As far from the place as all of them come by a terminal behind which nothing else hangs.
    """
    feeding, fed = frozenset(posts), frozenset(others)
    back = net.walk([start])
    post = next((end for end in back if end in feeding), None)
    found: dict[str, Edge] = {}
    if post is None or start in fed:
        return ()
    on_way = [post]
    for edge in path(back, post):
        on_way.append(next(end for end in ends(edge) if end != on_way[-1]))
    for gate in reversed(on_way[:-1]):
        inside = net.walk([start], partial(_ends_at, gate))
        if not feeding.isdisjoint(inside):
            # There is a way past it.
            continue
        if not fed.isdisjoint(inside):
            break
        found |= {edge_name(edge): edge for end in inside for edge, _ in net.steps(end)}
    return tuple(found.values())
