"""What faults share that does not turn on which sources are on: wiring and cold and hot copper."""

from collections.abc import Callable, Collection, Iterable
from functools import cached_property

from rigfolio.isolation import AfterOpening, Open, when_opened
from rigfolio.model import Conductor, Device
from rigfolio.network import Edge, edge_name
from rigfolio.operating import wire_ohm
from rigfolio.shorts.minus import MinusSides
from rigfolio.shorts.sources import Core
from rigfolio.study import Study


class Ohms:
    """Resistance of edges in one case, each worked out once."""

    def __init__(self, wire_ohm: Callable[[Conductor], float | None]) -> None:
        self._wire_ohm = wire_ohm
        self._known: dict[str, float] = {}

    def of(self, edge: Edge) -> float:
        """Resistance of an edge [ohm]; what is not known counts as none."""
        if not isinstance(edge, Conductor):
            return 0.0
        known = self._known.get(edge.name)
        if known is None:
            known = self._known[edge.name] = self._wire_ohm(edge) or 0.0
        return known


class FaultWiring:
    """The wiring of a rig with some edges open, and its copper at its coldest and its hottest."""

    def __init__(self, study: Study, opened: Open) -> None:
        self.study = study
        self.core = Core(study, opened)
        self.minus = MinusSides(study, self.core)

    @cached_property
    def cold(self) -> Ohms:
        """Copper at the coldest, in the cable that has most of it."""
        study = self.study
        return Ohms(lambda wire: wire_ohm(study, wire, study.coldest_c(wire), least=True))

    @cached_property
    def hot(self) -> Ohms:
        """Copper as hot as each conductor may be."""
        study = self.study
        return Ohms(lambda wire: wire_ohm(study, wire, study.heat(wire)[1]))


def in_short(
    study: Study, state: Open, devices: Iterable[Device], held: Collection[str] = ()
) -> AfterOpening:
    """What goes dark and what comes on in a short that some devices open, from a state on.

    `held` are terminals that it holds down: what converters make of them is gone too.
    """
    rig = study.rig
    starved = {
        source.about.name
        for source in rig.sources
        for load in rig.loads
        if load.about.name == source.inlet and load.plus in held
    }
    opened = state.edges | {edge_name(device) for device in devices}
    dead = frozenset(load.about.name for load in rig.loads if load.plus in held)
    return when_opened(study, state, Open(opened, state.sources | starved), dead)
