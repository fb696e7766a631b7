"""The fuses and breakers that a battery reaches with nothing before them that opens."""

from collections.abc import Mapping

from rigfolio.model import Device, Source
from rigfolio.network import edge_name, is_guard
from rigfolio.record import record
from rigfolio.study import Study, once


@record
class First:
    """A device that nothing protecting stands before.

    `batteries` reach it so, and `beyond` are its ends on the far side from one of them: a short
    there is the device's own to break.
    """

    device: Device
    batteries: tuple[Source, ...]
    beyond: tuple[str, ...]


@once
def firsts_of(study: Study) -> Mapping[str, First]:
    """The first devices behind batteries, by the name of their edge."""
    batteries = [s for s in study.rig.sources if s.stores and s.plus not in study.shorted]
    # A device in a minus lead is the first one from the minus post.
    near = [(one, study.net.walk([end], is_guard)) for one in batteries
            for end in (one.plus, one.minus)]  # fmt: skip
    found = {}
    for device in study.rig.devices:
        if not device.protects:
            continue
        line = [one for one, reached in near if device.line in reached]
        load = [one for one, reached in near if device.load in reached]
        by = tuple(one for one in batteries if (one in line) != (one in load))
        beyond = [device.load for one in by if one in line]
        beyond += [device.line for one in by if one in load]
        if by:
            found[edge_name(device)] = First(device, by, tuple(dict.fromkeys(beyond)))
    return found
