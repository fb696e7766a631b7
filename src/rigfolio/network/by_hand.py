"""Switches by which a person joins two banks in an emergency, and which stand open in use."""

from collections.abc import Collection, Iterable, Mapping

from rigfolio.model import OPENS, Device, Rig
from rigfolio.network.graph import Edge, Net, edge_name, net_of
from rigfolio.record import once

_MEANT = ("emergency", "parallel")


@once
def parallel_switches(rig: Rig) -> frozenset[str]:
    """The switches that join two banks, each with loads of its own, and are open in use; by name.

    One is open in use that `rests open`, or that every state of the text that names it has open.
    A state whose name says `emergency` or `parallel` does not count: it is there for the switch.
    One that closes nothing else does not make a switch one of them: it is storage.
    """
    if sum(source.stores for source in rig.sources) < 2:
        return frozenset()
    by_hand = {
        device.about.name: device
        for device in rig.devices
        if device.traits.opened_by == "hand" and not device.traits.shares_name
    }
    found = {name: device for name, device in by_hand.items() if _is_open_in_use(rig, device)}
    if not found:
        return frozenset()
    net = net_of(rig)
    # Of several poles the one between the plus sides tells for all.
    poles = [device for device in rig.devices if device.about.name in found]
    return frozenset(one.about.name for one in poles if _parts_banks(rig, net, one, found))


@once
def never_closed(rig: Rig) -> frozenset[str]:
    """The switches between sources that no state has closed, as edges: for need, not for hours.

    One `rests open` and no state names it otherwise, or every state names it as open, one at least
    with the rig in use.
    """
    states = [dict(state.settings) for state in rig.states]
    in_use = any({"closed", "on"} & set(one.values()) for one in states)
    by_hand = [
        one
        for one in rig.devices
        if one.traits.opened_by == "hand" and not one.traits.has_positions
    ]
    found = {
        device.about.name for device in by_hand
        if _is_never_closed(device, [one.get(device.about.name) for one in states], in_use=in_use)
    }  # fmt: skip
    if not found:
        return frozenset()

    def bars(edge: Edge) -> bool:
        return isinstance(edge, Device) and edge.about.name in found

    # What starts one load joins no two sources, and most of what rests open does just that.
    posts = [end for source in rig.sources for end in (source.plus, source.minus)]
    fed = net_of(rig).walk(posts, bars)
    return frozenset(
        edge_name(one) for one in by_hand
        if one.about.name in found and one.line in fed and one.load in fed
    )  # fmt: skip


def _is_never_closed(device: Device, said: list[str | None], *, in_use: bool) -> bool:
    if device.rests == "open":
        return all(how is None or how in OPENS for how in said)
    return in_use and all(how == "open" for how in said)


def _is_open_in_use(rig: Rig, device: Device) -> bool:
    if device.rests:
        return device.rests == "open"
    name = device.about.name
    stated = [
        dict(state.settings)
        for state in rig.states
        if not any(word in state.name.casefold() for word in _MEANT)
    ]
    stated = [said for said in stated if name in said]
    others = {one.about.name for one in rig.devices if one.traits.parts_rig} - {name}
    return all(said[name] in OPENS for said in stated) and any(
        not _is_stored(said, others) for said in stated
    )


def _is_stored(said: Mapping[str, str], others: Iterable[str]) -> bool:
    """Whether a state closes nothing: then an open switch says nothing of how it stands in use."""
    return not any(said.get(name, "open") not in OPENS for name in others)


def _parts_banks(rig: Rig, net: Net, device: Device, switches: Collection[str]) -> bool:
    """Whether a bank with loads of its own lies on either side of a switch, and is not the same.

    A switch in the lead of one battery of a bank has no loads on the side of that battery.
    """

    def bars(edge: Edge) -> bool:
        return isinstance(edge, Device) and (
            edge.about.name in switches or edge.traits.joins_banks or edge.traits.selects
        )

    one, two = (net.walk([end], bars).keys() for end in (device.line, device.load))
    return not one & two and all(_serves(rig, side) for side in (one, two))


def _serves(rig: Rig, side: Collection[str]) -> bool:
    """Whether a side has the plus post of a battery, and the plus of a load."""
    return any(source.stores and source.plus in side for source in rig.sources) and any(
        load.plus in side for load in rig.loads
    )
