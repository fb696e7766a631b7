"""What a device of a circuit feeds through before the next one protects, and what that bears."""

import math
from collections.abc import Iterator

from rigfolio.books import Limit
from rigfolio.findings import Citation
from rigfolio.model import Circuit, Conductor, Device, Junction, Panel
from rigfolio.network import Edge, ends, is_guard
from rigfolio.study import Study, once

_MADE = "common practice"


def parts_on_the_way(
    study: Study, circuit: Circuit
) -> tuple[tuple[Conductor, ...], tuple[Limit, ...], tuple[Limit, ...]]:
    """The conductors beyond a circuit that its device feeds too, and what parts are made for [A].

    First the parts that a device is held against, its slot and the panels that it feeds; then those
    that are held against what runs through them: its panel and its side of that, bars, switches and
    pins of plugs, out and back, as far as nothing else protects. A part of unknown rating is left
    out: it is asked for elsewhere.
    """
    way = _Through(study, circuit)
    return tuple(way.beyond()), tuple(way.of_device()), tuple(way.of_loads())


class _Through:
    """All that a circuit leads through."""

    def __init__(self, study: Study, circuit: Circuit) -> None:
        self.study, self.circuit = study, circuit
        own = study.wires_of(circuit.place)
        self.own = frozenset(wire.name for wire in own)
        self.touched = {end for wire in own for end in (wire.a, wire.b)} | {circuit.start}
        self.reached = frozenset(study.net.walk([circuit.start], self._bars))

    def _bars(self, edge: Edge) -> bool:
        """Whether something else begins with an edge: another device protects, or another start."""
        if isinstance(edge, Device):
            return edge.protects
        return edge.name not in self.own and self.circuit.start in ends(edge)

    def beyond(self) -> Iterator[Conductor]:
        """Conductors on the plus side that belong to no circuit and hang on this one."""
        for wire in _of_no_circuit(self.study):
            if wire.a in self.reached and wire.b in self.reached and not self._bars(wire):
                yield wire

    def of_device(self) -> Iterator[Limit]:
        """What each part is made for that no larger device may stand before."""
        yield from slot_limits(self.study, self.circuit)
        for panel in self.study.rig.panels:
            if panel.about.name != self.circuit.panel and panel.feed in self.reached:
                yield from _total(panel)

    def of_loads(self) -> Iterator[Limit]:
        """What each part is made for through which no more may run."""
        yield from self._of_own_panel()
        for device in _without_protection(self.study):
            if self._is_on_the_way(device):
                yield from _made(device.rating_a, "rating of a switch or plug by its maker",
                                 f"{device.about.name} is made for no more")  # fmt: skip
        for junction in self.study.rig.junctions:
            if self._is_met(junction):
                yield from _made(junction.rating_a, "rating of a bar by its maker",
                                 f"{junction.about.name} is made for no more")  # fmt: skip

    def _is_on_the_way(self, device: Device) -> bool:
        """Whether a device is fed by the circuit, or its return leads into it."""
        pair = set(ends(device))
        if pair <= self.reached or pair <= self.touched:
            return True
        return any(self.study.side.get(end) == "-" for end in pair & self.touched)

    def _is_met(self, junction: Junction) -> bool:
        return junction.terminal in self.reached or junction.terminal in self.touched

    def _of_own_panel(self) -> Iterator[Limit]:
        panel = self.study.panel(self.circuit.panel)
        if panel is not None:
            yield from _total(panel)
            yield from _made(panel.side_a, "rating of a side by the maker of the panel",
                             "its side of the panel allows no more")  # fmt: skip


@once
def _of_no_circuit(study: Study) -> tuple[Conductor, ...]:
    return tuple(wire for wire in study.rig.conductors if not wire.circuit)


@once
def _without_protection(study: Study) -> tuple[Device, ...]:
    """Switches, plugs and what else protects nothing."""
    return tuple(device for device in study.rig.devices if not device.protects)


def slot_limits(study: Study, circuit: Circuit) -> Iterator[Limit]:
    """What the slot of a circuit is made for, where it begins in one of which that is known."""
    panel = study.panel(circuit.panel)
    if panel is not None:
        yield from _made(panel.slot_a, "rating of a slot by the maker of the panel",
                         "the slot allows no more")  # fmt: skip


def slot_limit_a(study: Study, device: Device) -> float | None:
    """What the slot of a device is made for [A]; None where it sits in none or it is not known."""
    if not device.in_slot:
        return None
    panel = study.panel(device.load.rsplit(".", 1)[0])
    return panel.slot_a if panel is not None and isinstance(panel.slot_a, float) else None


def panels_behind_a(study: Study, device: Device) -> float:
    """The least that a panel is made for in all that only a device guards; infinite for none [A].

    One whose slots let no more out than that needs no guard.
    """
    behind = study.net.walk([device.load], is_guard)
    made_a = math.inf
    for panel in study.rig.panels:
        slots = [one for one in study.rig.devices if one.in_slot and one.line == panel.bus]
        ratings = [one.rating_a for one in slots]
        out_a = sum(one if isinstance(one, float) else math.inf for one in ratings)
        if panel.bus in behind and isinstance(panel.total_a, float) and out_a > panel.total_a:
            made_a = min(made_a, panel.total_a)
    return made_a


def _total(panel: Panel) -> Iterator[Limit]:
    return _made(panel.total_a, "rating of a panel by its maker",
                 f"{panel.about.name} is made for no more in all")  # fmt: skip


def _made(rating_a: object, source: str, how: str) -> Iterator[Limit]:
    if isinstance(rating_a, float):
        yield Limit(rating_a, Citation(source, _MADE), how)
