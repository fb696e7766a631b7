"""Which wires bring a panel its supply."""

from rigfolio.model import Conductor, Panel, Rig


def feeds_of(rig: Rig, panel: Panel) -> tuple[tuple[Conductor, str], ...]:
    """The wires that lead from a source to a panel, each with its far end.

    A wire counts where a source is reached from its far end without coming back by the panel, so
    that what the panel feeds itself is left out.
    """
    hub = {panel.feed, panel.bus}
    joints = [(each.line, each.load) for each in rig.devices if not each.in_slot]
    near = hub | {end for pair in joints if hub & set(pair) for end in pair}
    pairs = [(each.line, each.load) for each in rig.devices]
    pairs += [(wire.a, wire.b) for wire in rig.conductors]
    sources = {source.plus for source in rig.sources}
    return tuple(
        (wire, far)
        for wire in rig.conductors
        for here, far in ((wire.a, wire.b), (wire.b, wire.a))
        if here in near and sources & _reached(far, near, pairs)
    )


def _reached(start: str, walls: set[str], pairs: list[tuple[str, str]]) -> set[str]:
    """Terminals joined to one by pairs, not through any of the walls."""
    seen, waiting = {start} - walls, [start]
    while waiting:
        here = waiting.pop()
        for one, two in (*pairs, *((b, a) for a, b in pairs)):
            if one == here and two not in seen and two not in walls:
                seen.add(two)
                waiting.append(two)
    return seen
