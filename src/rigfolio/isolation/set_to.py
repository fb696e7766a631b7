"""What is open where parts with positions are turned to them: selectors, switches, plugs."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Literal

from rigfolio.isolation.energised import Open, bank_joins
from rigfolio.isolation.plugged import unplugged
from rigfolio.model import OPENS, Device, Rig
from rigfolio.network import edge_name

Position = Literal["open", "closed", "on", "off", "1", "2", "both", "any"]

BANKS: tuple[Position, ...] = ("1", "2")
"""The positions of a selector in which one bank feeds alone."""
ANY: Position = "any"
"""How a switch stands that makes one way at a time, where nobody says in which position."""


def at_rest(rig: Rig, banks: Mapping[str, Position]) -> Open:
    """What is open while nothing charges: what joins banks, and other banks of some selectors.

    `banks` are positions of selectors by name; those that are left out are on all of their banks.
    """
    off = {
        edge_name(device)
        for device, place in numbered(rig)
        if place and is_open_at(banks.get(device.about.name, "both"), place)
    }
    return Open(bank_joins(rig) | off)


def parked(rig: Rig, banks: Mapping[str, Position]) -> Open:
    """The same with the plug of a tow vehicle out."""
    return Open(at_rest(rig, banks).edges | unplugged(rig))


def turned(rig: Rig, state: Open, set_to: Iterable[tuple[str, str]]) -> Open:
    """A state with single devices set otherwise: `S1 open`, `X1 2`."""
    positions = dict(set_to)
    cut, shut = set(state.edges), set[str]()
    for device, place in numbered(rig):
        position = positions.get(device.about.name)
        if position is not None:
            edge = edge_name(device)
            (cut if is_open_at(position, place) else shut).add(edge)
    return Open(frozenset(cut - shut), state.sources)


def numbered(rig: Rig) -> Iterator[tuple[Device, int]]:
    """Every device with its number among those of its name, 0 where its kind has no positions."""
    seen: dict[str, int] = {}
    for device in rig.devices:
        name = device.about.name
        seen[name] = seen.get(name, 0) + 1
        yield device, seen[name] if device.traits.has_positions else 0


def is_open_at(position: str, place: int) -> bool:
    """Whether a device stands open; `place` is its position, 0 for one that has none."""
    if place and position in BANKS:
        return position != str(place)
    return position in OPENS
