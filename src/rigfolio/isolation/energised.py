"""Which source reaches which terminal, with some things open and some sources off.

Live means that a meter shows volts against a minus in reach. A terminal is live where closed edges
join it to the plus of a source that is on and whose minus still leads somewhere: to a load, a bar
or a frame. A source whose minus lead is cut from all of these drives nothing there; but its own
two posts are a hand apart, so its plus post is live, against its own minus. A DC-DC converter
drives only while its input is live, so does a solar controller whose modules are told. Where the
way back of a load is open, its minus side stands at plus through the load: that side is live too,
through the load.
"""

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Set
from functools import cached_property

from rigfolio.model import Device, Rig, Source
from rigfolio.network import Edge, edge_name, parallel_switches
from rigfolio.record import record
from rigfolio.study import Study, once

Alive = Mapping[str, tuple[str, ...]]
"""The sources that reach each terminal, by name, in the order of the text."""


@record
class Open:
    """What is open and what is off: edges by `edge_name`, sources by name."""

    edges: frozenset[str] = frozenset()
    sources: frozenset[str] = frozenset()

    def bars(self, edge: Edge) -> bool:
        """Whether an edge is open."""
        edges = self.edges
        # Most are not: then neither of the two names that it may have is among the open ones.
        return (
            isinstance(edge, Device)
            and (edge.about.name in edges or edge.line in edges)
            and edge_name(edge) in edges
        )


CLOSED = Open()
"""Everything closed and every source on."""


_STATES_KEPT = 8
"""States of which it is kept what is live in them."""


def bank_joins(rig: Rig) -> frozenset[str]:
    """What joins banks now and then, as edges: combiners, open while nothing charges.

    So are switches for an emergency, in use.
    """
    by_hand = parallel_switches(rig)
    return frozenset(
        edge_name(each)
        for each in rig.devices
        if each.traits.joins_banks or each.about.name in by_hand
    )


def in_use(rig: Rig, but: str = "") -> Open:
    """How a rig stands in use where nothing names a part: closed but for what joins banks by hand.

    `but` is a switch that is asked about: whatever it does it does from closed.
    """
    by_hand = parallel_switches(rig) - {but}
    return Open(frozenset(edge_name(one) for one in rig.devices if one.about.name in by_hand))


class SourceReach:
    """What the sources of a rig reach."""

    def __init__(self, study: Study) -> None:
        self.study = study
        self.rig = study.rig
        self._alive: dict[Open, Alive] = {}
        self.net = study.net
        loads = self.rig.by_name.loads
        inputs = {
            source.about.name: loads[source.inlet].plus
            for source in self.rig.sources
            if source.inlet in loads
        }
        # As long as no modules are told at its input, a controller may run whenever the sun shines.
        arrays = self.net.walk(one.plus for one in self.rig.sources if one.traits.by_light)
        inputs |= {
            source.about.name: source.lit[0]
            for source in self.rig.sources
            if source.lit and source.lit[0] in arrays
        }
        self.inputs: Mapping[str, str] = {
            name: end for name, end in inputs.items() if self.net.steps(end)
        }
        """The input of each converter or controller whose input is wired in the text."""
        minus = {load.minus for load in self.rig.loads}
        minus |= {junction.terminal for junction in self.rig.junctions}
        minus |= {panel.negative for panel in self.rig.panels if panel.negative is not None}
        minus |= {source.lit[1] for source in self.rig.sources if source.lit}
        self.backs = frozenset(end for end in minus if study.side.get(end) == "-")
        """Where current comes back: minus sides of loads, bars, frames and panels."""

    @cached_property
    def returning(self) -> frozenset[str]:
        """Sources that need a way back, by name: their minus leads somewhere in the text.

        A vehicle has a frame of its own to come back by.
        """
        return frozenset(
            source.about.name
            for source in self.rig.sources
            if not source.traits.own_frame and self.backs & self.net.walk([source.minus]).keys()
        )

    @cached_property
    def passes_on(self) -> frozenset[str]:
        """Converters that charge no bank, by name: they pass on what their input gets."""
        apart = Open(bank_joins(self.rig))
        posts = {source.plus for source in self.rig.sources if source.stores}
        return frozenset(
            source.about.name
            for source in self.rig.sources
            if source.inlet and not posts & self.net.walk([source.plus], apart.bars).keys()
        )

    @cached_property
    def _minus_edges(self) -> frozenset[str]:
        """Devices that do not stand on the plus side; both ends of one are on the same side."""
        return frozenset(
            edge_name(device)
            for device in self.rig.devices
            if self.study.side.get(device.line) != "+"
        )

    def drives(self, source: Source, state: Open) -> bool:
        """Whether a source is on and its minus leads somewhere."""
        name = source.about.name
        if name in state.sources:
            return False
        if name not in self.returning or not state.edges & self._minus_edges:
            return True
        return bool(self.backs & self.net.walk([source.minus], state.bars).keys())

    def alive(self, state: Open = CLOSED) -> Alive:
        """The sources that each terminal is live from; terminals that are dead are left out."""
        # Whoever plans asks for few states, each of them again and again.
        if state not in self._alive:
            if len(self._alive) == _STATES_KEPT:
                self._alive.pop(next(iter(self._alive)))
            self._alive[state] = self._worked_out(state)
        return self._alive[state]

    def _worked_out(self, state: Open) -> Alive:
        found: dict[str, dict[str, None]] = {}
        driving = (source for source in self.rig.sources if self.drives(source, state))
        for source in self._in_turn(driving, found):
            for end in self.net.walk([source.plus], state.bars):
                if end in found:
                    found[end][source.about.name] = None
                else:
                    found[end] = {source.about.name: None}
        for source in self.rig.sources:
            name = source.about.name
            if name not in state.sources and self._is_fed(source, found):
                found.setdefault(source.plus, {})[name] = None
        rank = {source.about.name: place for place, source in enumerate(self.rig.sources)}
        # Most are live from one source, of which nothing has to be put in order.
        return {
            end: tuple(names) if len(names) == 1 else tuple(sorted(names, key=rank.__getitem__))
            for end, names in found.items()
        }

    def from_batteries(self, without: Collection[str] = ()) -> Set[str]:
        """The terminals that batteries reach, out and back, with some parts gone.

        These are named: wires, devices, sources. A converter passes on what reaches its input.
        """

        def bars(edge: Edge) -> bool:
            return (edge.about.name if isinstance(edge, Device) else edge.name) in without

        found: set[str] = set()
        giving = (
            source
            for source in self.rig.sources
            if source.about.name not in without
            and (source.stores or source.about.name in self.inputs)
        )
        for source in self._in_turn(giving, found):
            found.update(self.net.walk([source.plus, source.minus], bars))
        return found

    def _in_turn(self, sources: Iterable[Source], found: Collection[str]) -> Iterator[Source]:
        """Sources one by one while what they reach is found: what is fed once its input is."""
        waiting = list(sources)
        while ready := [source for source in waiting if self._is_fed(source, found)]:
            waiting = [source for source in waiting if source not in ready]
            yield from ready

    def _is_fed(self, source: Source, found: Collection[str]) -> bool:
        name = source.about.name
        return name not in self.inputs or self.inputs[name] in found

    def through_loads(self, alive: Alive, state: Open) -> Alive:
        """Terminals that stand at plus through a load because its way back is open."""
        if not state.edges & self._minus_edges:
            return {}
        back = self.net.walk(
            (s.minus for s in self.rig.sources if s.about.name not in state.sources), state.bars
        )
        found: dict[str, dict[str, None]] = {}
        for load in self.rig.loads:
            if load.minus in back or load.minus not in self.backs or load.plus not in alive:
                continue
            for end in self.net.walk([load.minus], state.bars):
                if end not in alive:
                    found.setdefault(end, {}).update(dict.fromkeys(alive[load.plus]))
        return {end: tuple(names) for end, names in found.items()}


@once
def source_reach(study: Study) -> SourceReach:
    """What the sources of a rig reach; what is the same in all states is worked out once."""
    return SourceReach(study)


def lit_by(study: Study, array: Source, bars: Callable[[Edge], bool]) -> tuple[str, ...]:
    """The plus inputs of the controllers that an array drives, there and back past what `bars`."""
    plus, minus = (study.net.walk([end], bars) for end in (array.plus, array.minus))
    inputs = (one.lit for one in study.rig.sources if one.lit)
    return tuple(one for one, two in inputs if one in plus and two in minus)
