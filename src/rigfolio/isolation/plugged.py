"""The plugs between a tow vehicle and a rig."""

from collections.abc import Iterator

from rigfolio.isolation.energised import Open
from rigfolio.model import Device, Rig, Source
from rigfolio.network import Net, edge_name, net_of, plug_pins
from rigfolio.record import once


@once
def unplugged(rig: Rig) -> frozenset[str]:
    """The pins that lead to a tow vehicle, where a battery aboard serves the rig without it."""
    if not any(source.stores for source in rig.sources):
        return frozenset()
    vehicles = [one for one in rig.sources if one.traits.runs_with == "towing"]
    near = {device.about.name for one in vehicles for device in plugs_of(net_of(rig), rig, one)}
    pins = (device for device in rig.devices if device.traits.is_plug)
    return frozenset(edge_name(pin) for pin in pins if pin.about.name in near)


def plugs_of(net: Net, rig: Rig, vehicle: Source) -> Iterator[Device]:
    """The pins of plugs that a vehicle leads to."""
    near = net.walk([vehicle.plus], Open(plug_pins(rig)).bars)
    pins = (device for device in rig.devices if device.traits.is_plug)
    return (pin for pin in pins if pin.line in near or pin.load in near)
