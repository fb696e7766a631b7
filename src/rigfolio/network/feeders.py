"""Which wires bring a panel its supply."""

from collections.abc import Collection

from rigfolio.model import Conductor, Panel, Rig
from rigfolio.network.graph import Net, net_of


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
