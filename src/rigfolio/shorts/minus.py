"""Where a short finds the minus side, if the text does not say."""

from collections.abc import Mapping
from functools import cached_property

from rigfolio.shorts.sources import Core
from rigfolio.study import Study


class MinusSides:
    """The minus side that lies next to terminals of the plus side."""

    def __init__(self, study: Study, core: Core) -> None:
        self.study, self.core = study, core

    @cached_property
    def slots(self) -> Mapping[str, str]:
        """The negative of the panel, for its feed, its bus and the loads' end of its slots."""
        found: dict[str, str] = {}
        panel_of = {panel.bus: panel for panel in self.study.rig.panels}
        for panel in self.study.rig.panels:
            if panel.negative is not None:
                found |= {panel.feed: panel.negative, panel.bus: panel.negative}
        for device in self.study.rig.devices:
            panel_here = panel_of.get(device.line) if device.in_slot else None
            if panel_here is not None and panel_here.negative is not None:
                found[device.load] = panel_here.negative
        return found

    @cached_property
    def of(self) -> Mapping[str, str]:
        """The minus of the load at a terminal, or of the first load of its circuit."""
        first: dict[str, str] = {}
        found = dict(self.slots)
        for load in self.study.rig.loads:
            found.setdefault(load.plus, load.minus)
            if load.circuit:
                first.setdefault(load.circuit, load.minus)
        for wire in self.study.rig.conductors:
            if wire.circuit in first:
                for end in (wire.a, wire.b):
                    if end in self.core.out:
                        found.setdefault(end, first[wire.circuit])
        return {end: to for end, to in found.items() if self.study.side.get(to) == "-"}
