"""What a reading costs whoever takes it: the tools, and how far the probes have to reach."""

from collections.abc import Mapping
from typing import Literal

from rigfolio.books import figure
from rigfolio.record import record
from rigfolio.study import Study, once

How = Literal["volts", "volts at rest", "amperes", "amperes at rest", "ohms"]
"""Volts or a clamp round a wire with the loads on or with all of them off, ohms in the dead rig."""
Reach = Literal["slot", "post", "supply", "device", "load", "bar", "feed", "hidden"]
"""A slot from the front, posts, a device in the open, a load; a bar or the feed behind the panel; a
splice somewhere in the loom."""


@record
class Reaches:
    """How each terminal of a rig is got at; one that is none of these is a splice."""

    of: Mapping[str, Reach]

    def cost(self, terminal: str) -> float:
        """What it takes to get a probe there beside a slot [-]."""
        return figure("reach", self.of.get(terminal, "hidden"))


@once
def reaches_of(study: Study) -> Reaches:
    """How each terminal is got at; the easiest way of several counts."""
    rig = study.rig
    found: list[tuple[str, Reach]] = []
    for panel in rig.panels:
        found += [(panel.feed, "feed"), (panel.bus, "feed")]
    for circuit in rig.circuits:
        is_slot = any(one.in_slot and one.load == circuit.start for one in rig.devices)
        found.append((circuit.start, "slot" if is_slot else "device"))
    for source in rig.sources:
        reach: Reach = "post" if source.stores else "supply"
        found += [(source.plus, reach), (source.minus, reach)]
    for load in rig.loads:
        found += [(load.plus, "load"), (load.minus, "load")]
    for device in rig.devices:
        if not device.in_slot:
            found += [(device.line, "device"), (device.load, "device")]
    found += [(one.about.name, "bar") for one in rig.junctions]
    made: dict[str, Reach] = {}
    for terminal, reach in found:
        if terminal not in made or figure("reach", reach) < figure("reach", made[terminal]):
            made[terminal] = reach
    return Reaches(made)


def effort(study: Study, how: How, a: str, b: str) -> float:
    """The work of a reading beside that of volts with the loads on at two slots [-].

    Parameters
    ----------
    study : Study
        The rig.
    how : How
        What is read.
    a, b : str
        The terminals; a circuit or load and nothing for amperes, which are read at its wire; a
        source and nothing for those at its post.
    """
    reaches = reaches_of(study)
    tools = figure("effort", how.replace(" ", "_"))
    if not b:
        if study.circuit(a) is not None:
            return tools
        source = study.rig.by_name.sources.get(a)
        return tools * (reaches.cost(source.plus) if source else figure("reach", "load"))
    ends = {reaches.of.get(a), reaches.of.get(b)}
    is_far = "post" in ends and bool(ends & {"slot", "bar", "feed", "load"})
    far = figure("effort", "far") if is_far else 1.0
    return tools * far * 0.5 * (reaches.cost(a) + reaches.cost(b))
