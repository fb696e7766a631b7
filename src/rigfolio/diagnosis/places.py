"""Where a reading was taken, and what was on: as far as people leave it unsaid."""

import re
from collections.abc import Collection, Iterator, Sequence
from functools import cached_property

from rigfolio.diagnosis.symptoms import steady
from rigfolio.model import Circuit, Conductor, Device, Load, Reading, Source
from rigfolio.network import Edge, path, together
from rigfolio.study import Study

_WRITTEN = re.compile(r"=\s*[+-]?(?P<number>\d+(?:\.\d+)?)\s*(?P<unit>\w*)")


class MeterPlaces:
    """The places of a rig as readings name them."""

    def __init__(self, study: Study) -> None:
        self.study, self.loads = study, study.rig.by_name.loads

    def loads_on(self, reading: Reading) -> tuple[str, ...]:
        """The loads that are taken to be on: those that were said, or those of the place.

        Who says what runs beside what he complains of says it of a part that is switched on.
        """
        if reading.on is not None:
            said = reading.on
            return tuple(dict.fromkeys((*self._complained_of(reading), *said))) if said else said
        load = self._load_at(reading)
        if load is not None and not load.circuit:
            return (load.about.name,)
        loads = self.study.rig.loads
        if reading.kind == "rig":
            return steady(loads)
        if reading.kind == "source" and reading.symptom == "uncharged":
            return ()
        if reading.kind in ("panel", "source") and reading.measure == "symptom":
            place = reading.part if reading.kind == "panel" else ""
            held = {c.place for c in self.study.rig.circuits if place in ("", c.panel)}
            return steady(one for one in loads if one.circuit in held)
        place = load.circuit if load is not None else reading.part
        wire = self.study.rig.by_name.conductors.get(reading.part)
        place = wire.circuit if wire is not None and wire.circuit else place
        circuit = self.study.circuit(place) or next(
            (c for c in self.study.rig.circuits if reading.a and reading.a == c.start), None
        )
        if circuit is None and reading.measure == "symptom":
            # What is seen of a part that all or many run through is seen while they run.
            return steady(loads)
        return circuit.loads if circuit is not None else ()

    def taken_on(self, reading: Reading, loads: Collection[str]) -> frozenset[str]:
        """Those of some loads, by name, that are on while a reading is taken that names none.

        Of loads that a switch keeps from each other those of the reading are on.
        """
        own = self._load_at(reading)
        first = [] if own is None else [own.about.name]
        first += [*self.loads_on(reading), *sorted(loads)]
        wanted = (name for name in first if name in loads)
        return frozenset(together(self.study.rig, wanted, frozenset(reading.set_to)))

    def _complained_of(self, reading: Reading) -> tuple[str, ...]:
        if reading.measure != "symptom" or reading.kind not in ("load", "circuit"):
            return ()
        circuit = self.study.circuit(reading.part) if reading.kind == "circuit" else None
        return circuit.loads if circuit is not None else (reading.part,)

    def _load_at(self, reading: Reading) -> Load | None:
        """The load that a reading is of: by its name, or alone at one of the terminals."""
        if reading.part in self.loads:
            return self.loads[reading.part]
        ends = {reading.a, reading.b} - {""}
        at = [one for one in self.study.rig.loads if one.plus in ends or one.minus in ends]
        return at[0] if len(at) == 1 else None

    def minus_of(self, terminal: str) -> str | None:
        """Where the black probe goes for a reading at a terminal; None where there is no minus.

        At a slot that is the end of its return at the panel, so that a lost return shows.
        """
        rig = self.study.rig
        for load in rig.loads:
            if terminal == load.plus:
                return load.minus
        for source in rig.sources:
            if terminal == source.plus:
                return source.minus
        circuit = next((c for c in rig.circuits if c.start == terminal), None)
        if circuit is not None and circuit.returns:
            return self._landing(circuit)
        panel = next((p for p in rig.panels if terminal in (p.feed, p.bus)), None)
        if panel is not None and panel.negative:
            return panel.negative
        return self._feeding_minus(terminal)

    def _feeding_minus(self, terminal: str) -> str | None:
        """The minus of the battery that is the shortest way off: its post is beside the place.

        Of batteries that are as far the first of the text; what none is joined to is read against
        the first of all.
        """
        banks = [one for one in self.study.rig.sources if one.stores]
        reached = self.study.net.walk([terminal])
        joined = [one for one in banks if {one.plus, one.minus} & reached.keys()]

        def steps(bank: Source) -> tuple[int, float]:
            ways = (path(reached, end) for end in (bank.plus, bank.minus) if end in reached)
            plugs = [
                (sum(_is_plug(edge) for edge in way), sum(_length_m(edge) for edge in way))
                for way in map(tuple, ways)
            ]
            return min(plugs)

        return next((one.minus for one in sorted(joined, key=steps) or banks), None)

    def _landing(self, circuit: Circuit) -> str:
        """Where the way back of a circuit lands: at a bar, else where but one of its wires ends.

        Its last return may lead from one load to another, or to a joint on the way.
        """
        wires = [self.study.rig.conductor(name) for name in reversed(circuit.returns)]
        ends = [end for wire in wires for end in (wire.b, wire.a)]
        bars = [end for end in ends if end in self._bars]
        inside = {self.loads[name].minus for name in circuit.loads}
        outer = [end for end in ends if ends.count(end) == 1 and end not in inside]
        return next(iter((*bars, *outer, *ends)))

    @cached_property
    def _bars(self) -> frozenset[str]:
        """The terminals at which ways back of several circuits may come together."""
        rig = self.study.rig
        bars = {one.terminal for one in rig.junctions if one.traits.is_bar or one.traits.is_frame}
        bars |= {panel.negative for panel in rig.panels if panel.negative}
        return frozenset(bars | {source.minus for source in rig.sources})


def at_rest(readings: Sequence[Reading]) -> Iterator[Reading]:
    """Readings that name no load, beside one at the same place that says what was on.

    Whoever writes `B1 = 12.3 V` and then `B1 = 11.8 V, with Pump on` has switched the pump on in
    between.
    """
    loaded = {(one.a, one.b) for one in readings if one.on or one.at_a}
    for one in readings:
        is_bare = one.on is None and one.at_a is None
        if one.measure == "voltage" and is_bare and (one.a, one.b) in loaded:
            yield one


def written_step(reading: Reading) -> float:
    """One step of the last digit that was written down [V, A]; nought was not rounded."""
    if reading.value == 0.0:
        return 0.0
    found = _WRITTEN.search(reading.text)
    text = found["number"] if found else f"{reading.value:.6f}".rstrip("0").rstrip(".")
    step = 10.0 ** -len(text.partition(".")[2])
    return step / 1000.0 if found and found["unit"].startswith("m") else step


def _is_plug(edge: Edge) -> bool:
    """Whether what lies beyond it comes off with a plug."""
    return isinstance(edge, Device) and edge.traits.is_plug


def _length_m(edge: Edge) -> float:
    length = edge.length_m if isinstance(edge, Conductor) else 0.0
    return length if isinstance(length, float) else 0.0
