"""What is put to use while a panel goes live, and what stays dead behind what is not.

What is behind a fuse that does not go in is not read: neither on its wires nor through a converter.
"""

from collections.abc import Iterable, Iterator
from functools import cached_property

from rigfolio.isolation import Open, kept_loads, source_reach
from rigfolio.model import About, Circuit, Device, Load
from rigfolio.network import Edge, edge_name
from rigfolio.operating.readings.bounds import LiveBounds, SelectedFeed
from rigfolio.operating.readings.panel_feed import PanelFeed, supply_ends
from rigfolio.operating.readings.test_points import StageStep
from rigfolio.study import Study
from rigfolio.wording import MUST_STAY_ON, circuits_in_order, end_words, in_a_row, load_words

KEPT_DEAD = f"{MUST_STAY_ON}, yet DEAD till what keeps it so is put right: nobody leaves it so"
"""What is told of something that must stay on and is behind what is not put to use."""


class InUse:
    """What is put to use, and what stays out or off.

    `barred` are devices and sources by name, and circuits without a device of their own by place.
    """

    def __init__(self, study: Study, live: LiveBounds, barred: frozenset[str]) -> None:
        self.study, self.live, self.barred = study, live, barred

    def is_out(self, device: Device | None) -> bool:
        """Whether a device is not put to use, since something bars it."""
        return device is not None and device.about.name in self.barred

    @cached_property
    def feeds(self) -> tuple[SelectedFeed, ...]:
        """The ways to the panels on which nothing is out, and whose panel so comes alive."""
        feeds = self.live.feeds
        return tuple(
            one for one in feeds
            if not any(map(self.is_out, self.closed_for(one.feeds)))
            and not self.live.stays_dead(one.panel.bus)
        )  # fmt: skip

    def closed_for(self, feeds: Iterable[PanelFeed]) -> tuple[Device, ...]:
        """What has to be put to use for a feed, or may not be: slots of other panels, what is out.

        What else is on the way is closed with the battery.
        """
        on_it = (edge for feed in feeds for edge in feed.way if isinstance(edge, Device))
        return tuple(dict.fromkeys(one for one in on_it if one.in_slot or self.is_out(one)))

    @cached_property
    def guarded(self) -> tuple[Circuit, ...]:
        """The circuits that are brought live: neither what guards them is out, nor a feed."""
        held, fed = self.study.device, {one.panel.about.name for one in self.feeds}
        dead = {one.panel.about.name for one in self.live.feeds} - fed
        circuits = (one for one in circuits_in_order(self.study.rig) if one.panel not in dead)
        circuits = (one for one in circuits if self.live.is_fed(one.start))
        return tuple(one for one in circuits if not self.is_out(held(one.device)))

    @cached_property
    def run(self) -> tuple[Circuit, ...]:
        """Those of them that are switched on: what has no fuse to be left out has its leads off."""
        return tuple(one for one in self.guarded if one.place not in self.barred)

    @cached_property
    def places(self) -> frozenset[str]:
        """The places of the circuits that are brought live."""
        return frozenset(one.place for one in self.guarded)

    def is_run(self, load: Load) -> bool:
        """Whether a load is put to use: its circuit is, or what feeds it without one."""
        if load.circuit:
            return load.circuit in self.places
        return not self.live.stays_dead(load.plus)

    def kept(self) -> tuple[Load, ...]:
        """What must stay on and is not behind what is out, but for what runs a moment."""
        held = (load for load, _ in kept_loads(self.study.rig) if not load.traits.is_moment)
        return tuple(load for load in held if not self._is_dead(load))

    def kept_dead(self) -> tuple[Load, ...]:
        """What must stay on and is behind what is out."""
        held = (load for load, _ in kept_loads(self.study.rig))
        return tuple(load for load in held if self._is_dead(load))

    def _is_dead(self, load: Load) -> bool:
        return load.circuit in self.barred or self.live.stays_dead(load.plus)

    def kept_dead_steps(self) -> Iterator[StageStep]:
        """That what must stay on does not, for whoever would leave the rig so."""
        for words in dict.fromkeys(load_words(self.study.rig, one) for one in self.kept_dead()):
            yield StageStep(f"{words}: {KEPT_DEAD}", ())

    def dead_words(self) -> str:
        """What is not read since it is behind what is out; empty where nothing is."""
        found = tuple(self._dead())
        if not found:
            return ""
        by = in_a_row(list(self.first_out(frozenset(end for _, end in found))))
        return (
            f" What is behind {by} STAYS DEAD and has no reading before that is put right: "
            f"{'; '.join(dict.fromkeys(words for words, _ in found))}."
        )

    def first_out(self, dead: frozenset[str]) -> Iterator[str]:
        """What is out with nothing out before it, by name, where any of what is dead is behind."""
        rig, net = self.study.rig, self.study.net
        out = Open(frozenset(edge_name(d) for d in rig.devices if self.is_out(d)))
        for device in filter(self.is_out, rig.devices):
            ends = [end for end in (device.line, device.load) if self.live.stays_dead(end)]
            if len(ends) == 1 and dead & net.walk(ends, out.bars).keys():
                yield device.about.name
        inputs = source_reach(self.study).inputs
        for source in rig.sources:
            name = source.about.name
            if name in self.barred and not self.live.stays_dead(inputs.get(name, source.plus)):
                yield name

    def _dead(self) -> Iterator[tuple[str, str]]:
        """What stays dead, in words, with a terminal of it; what is itself out is not among it."""
        rig = self.study.rig
        parts: dict[str, About] = {one.about.name: one.about for one in rig.sources}
        parts |= {one.about.name: one.about for one in rig.junctions}
        ends = tuple(supply_ends(self.study))
        # Of a converter that is live on its other side only this one is dead.
        live = {end.of for end in ends if not self.live.stays_dead(end.plus)}
        held = [
            (end_words(rig, end.plus) if end.of in live else str(parts[end.of]), end.plus)
            for end in ends
        ]
        held += [(str(panel.about), panel.bus) for panel in rig.panels]
        inlets = {source.inlet for source in rig.sources}
        held += [
            (load_words(rig, load), load.plus)
            for load in rig.loads
            if load.about.name not in inlets and not self.is_out(self._own(load))
        ]
        yield from ((words, end) for words, end in held if self.live.stays_dead(end))

    def _own(self, load: Load) -> Device | None:
        circuit = self.study.circuit(load.circuit)
        return None if circuit is None else self.study.device(circuit.device)


def slotted(edge: Edge) -> Device | None:
    """The device of a slot that an edge is; None where it is anything else."""
    return edge if isinstance(edge, Device) and edge.in_slot else None
