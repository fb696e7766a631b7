"""Batteries side by side: joined at plus and at minus, so that they share what they give."""

from collections.abc import Mapping

from rigfolio.model import Device, Rig, Source
from rigfolio.network.by_hand import parallel_switches
from rigfolio.network.graph import Edge, Net


def parallel_banks(rig: Rig, net: Net) -> Mapping[str, tuple[Source, ...]]:
    """For each battery that has others beside it all of them, by its name.

    They are of one chemistry, as far as that is said, and of one voltage: unlike ones do not share,
    they drive into each other. What a relay, a selector or a parallel switch joins now and then
    is left out, and so are batteries whose plus is joined to a minus.
    """
    stores = [source for source in rig.sources if source.stores]
    if len(stores) < 2:
        return {}
    found: dict[str, tuple[Source, ...]] = {}

    def bars(edge: Edge) -> bool:
        return joins_now_and_then(rig, edge)

    for first in stores:
        if first.about.name in found:
            continue
        plus = net.walk([first.plus], bars)
        minus = net.walk([first.minus], bars)
        bank = tuple(one for one in stores if one.plus in plus and one.minus in minus)
        if len(bank) > 1 and _are_alike(bank) and not plus.keys() & minus.keys():
            found |= dict.fromkeys((one.about.name for one in bank), bank)
    return found


def joins_now_and_then(rig: Rig, edge: Edge) -> bool:
    """Whether an edge joins banks only while a relay, a selector or a person has them so."""
    return isinstance(edge, Device) and (
        edge.traits.joins_banks or edge.traits.selects or edge.about.name in parallel_switches(rig)
    )


def _are_alike(bank: tuple[Source, ...]) -> bool:
    kinds = {one.chemistry for one in bank if one.chemistry}
    return len(kinds) < 2 and len({one.voltage_v for one in bank}) == 1
