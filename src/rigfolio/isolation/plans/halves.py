"""The halves of a plug: what a tow vehicle feeds stays live when the plug is pulled.

On its half nothing of the rig parts it from its own battery, and a minus of the other half is a
minus of nothing there: a live wire shows no volts to it.
"""

from collections.abc import Iterable, Mapping

from rigfolio.isolation.energised import Open
from rigfolio.model import Rig, Source
from rigfolio.network import edge_name, ends, net_of, plug_pins
from rigfolio.record import once


@once
def halves(rig: Rig) -> Mapping[str, frozenset[str]]:
    """The terminals on the half of each vehicle that comes by a plug of the rig, by its name."""
    net = net_of(rig)
    apart = Open(plug_pins(rig))
    posts = {source.plus for source in rig.sources}
    found = {}
    for source in rig.sources:
        others = posts - {source.plus}
        own = net.walk([source.plus], apart.bars).keys()
        if source.traits.own_frame and others & net.walk([source.plus]).keys() and not others & own:
            found[source.about.name] = frozenset((*own, *net.walk([source.minus], apart.bars)))
    return found


def unplugged_from(rig: Rig, vehicles: Iterable[str]) -> frozenset[str]:
    """The pins that part when some vehicles are unplugged, as edges; a plug parts as a whole."""
    ends_of = frozenset[str]().union(*(halves(rig).get(name, ()) for name in vehicles))
    pulled = {
        pin.about.name for pin in rig.devices
        if pin.traits.is_plug and not ends_of.isdisjoint(ends(pin))
    }  # fmt: skip
    return frozenset(edge_name(pin) for pin in rig.devices if pin.about.name in pulled)


def half_of(rig: Rig, terminals: Iterable[str]) -> tuple[Source, ...]:
    """The vehicles on whose half any of some terminals lies."""
    ends_of = frozenset(terminals)
    names = (name for name, half in halves(rig).items() if not half.isdisjoint(ends_of))
    return tuple(rig.by_name.sources[name] for name in names)


def own_minus(rig: Rig, vehicle: Source) -> str:
    """Where the minus of a vehicle is met on its half: its pin of the plug, else its post."""
    pins = [end for pin in rig.devices if pin.traits.is_plug for end in ends(pin)]
    apart = Open(plug_pins(rig))
    near = net_of(rig).walk([vehicle.minus], apart.bars)
    return next((end for end in pins if end in near), vehicle.minus)
