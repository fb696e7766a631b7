"""How many loads a fault takes down: an owner names one of them."""

from collections.abc import Collection
from functools import cached_property

from rigfolio.diagnosis.suspects import OF_BATTERIES, Suspect
from rigfolio.model import Reading
from rigfolio.network import edge_name
from rigfolio.operating import Scene
from rigfolio.study import Study

_NAMED = frozenset({"dead", "dim", "slow", "flickers"})
_OF_SOURCES = OF_BATTERIES | {"dead source", "drain"}
_OF_LOAD = frozenset({"overload", "dead load", "reversed"})


class Behind:
    """The loads of a rig as they hang behind its parts, while it stands as in a scene.

    A trunk takes down every load alike. Whoever says of one load alone that it is dead says so of a
    fault that many share with the chance that it is that load which was tried; and who is mistaken
    may be so of any load.
    """

    def __init__(self, study: Study, scene: Scene) -> None:
        self.study, self.scene = study, scene
        self._lost: dict[str, frozenset[str]] = {}

    def chance(self, reading: Reading, suspect: Suspect) -> float:
        """The chance that of all that a fault takes down just this was named [-].

        Source
        ------
        Of several that are alike each is named as often as any other (common practice).
        """
        if reading.symptom not in _NAMED or reading.kind not in ("load", "circuit"):
            return 1.0
        hit = self._hit(suspect)
        of = self.study.rig.by_name.loads
        if reading.kind == "load":
            return 1.0 / max(len(hit if reading.part in hit else self._fed), 1)
        places = {of[name].circuit for name in hit}
        every = {of[name].circuit for name in self._fed}
        return 1.0 / max(len(places if reading.part in places else every), 1)

    def _hit(self, suspect: Suspect) -> frozenset[str]:
        """The names of the loads that a fault takes down, those behind a relay with its coil."""
        hit = self._taken_down(suspect)
        if suspect.kind in ("overload", "reversed", "thin wire"):
            return hit
        waiting = dict(self.scene.coils)
        while fallen := {edge for edge, coil in waiting.items() if coil.about.name in hit}:
            hit = hit.union(*(self._without(edge) for edge in fallen))
            waiting = {edge: coil for edge, coil in waiting.items() if edge not in fallen}
        return hit

    def _taken_down(self, suspect: Suspect) -> frozenset[str]:
        if suspect.kind in _OF_LOAD:
            return frozenset({suspect.name})
        if suspect.kind in _OF_SOURCES:
            return self.fed_by(suspect.bank or suspect.name, "")
        if suspect.kind == "thin wire":
            loads = self.study.rig.loads
            return frozenset(one.about.name for one in loads if one.circuit == suspect.circuit)
        return self._without(suspect.fuse or suspect.name)

    def _without(self, edge: str) -> frozenset[str]:
        """The loads that no source feeds while an edge is open."""
        if edge not in self._lost:
            left = (self.fed_by(source, edge) for source in self.scene.sources)
            self._lost[edge] = self._fed.difference(*left)
        return self._lost[edge]

    @cached_property
    def _fed(self) -> frozenset[str]:
        """The loads that are fed while nothing is wrong."""
        return frozenset().union(*(self.fed_by(source, "") for source in self.scene.sources))

    def fed_by(self, source: str, without: str) -> frozenset[str]:
        """The loads that a source feeds, with a way out and a way back, while an edge is open."""
        one = self.study.rig.by_name.sources[source]
        plus, minus = self._reached(one.plus, without), self._reached(one.minus, without)
        loads = self.study.rig.loads
        return frozenset(o.about.name for o in loads if o.plus in plus and o.minus in minus)

    def _reached(self, start: str, without: str) -> Collection[str]:
        closed = self.scene.branch_of
        return self.study.net.walk(
            [start], lambda edge: (name := edge_name(edge)) == without or name not in closed
        )
