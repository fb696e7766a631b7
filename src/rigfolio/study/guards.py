"""What may stand before a conductor where a rule book lists breakers apart from fuses.

A breaker that may be larger than a fuse counts for less, in the ratio of the two columns, so that
one largest flow tells whether a conductor is protected, whatever stands before it.
"""

import math
from collections.abc import Collection
from typing import Literal

from rigfolio.findings import Unknown
from rigfolio.model.graph import Conductor, Device, Source
from rigfolio.record import replace
from rigfolio.study.reach import Inflow, rating, source_limit
from rigfolio.study.study import Study

Guard = Literal["fuse", "breaker", "both"]
_SLACK = 1.0 + 1e-9


def guard_of(study: Study, wire: Conductor) -> Guard:
    """What protects a conductor: fuses, breakers or both; fuses where nothing does."""
    by: list[Device | Source] = []
    if study.side.get(wire.a) == "-":
        back = study.returns.get(wire.name)
        circuit = study.circuit(wire.circuit)
        own = study.device(circuit.device) if circuit is not None else None
        by = list(back.by) if back is not None else [own] if own is not None else []
    else:
        for inflow in study.reach.inflows(wire):
            by += inflow.by
    return kind_of([one for one in by if isinstance(one, Device)])


def kind_of(parts: Collection[Device | Source]) -> Guard:
    """What some devices are, taken together; a source that limits itself counts with fuses."""
    kinds = {part.kind for part in parts}
    if "breaker" not in kinds:
        return "fuse"
    return "breaker" if kinds == {"breaker"} else "both"


def too_much(study: Study, wire: Conductor) -> tuple[Inflow, ...]:
    """What flows into the ends of a conductor, where that is more than it may carry."""
    if isinstance(wire.size, Unknown):
        return ()
    limit = study.limit_of(wire, wire.size, "fuse")
    if limit is None:
        return ()
    reach = study.reach
    if study.parts_breakers:
        breaker = study.limit_of(wire, wire.size, "breaker")
        if breaker is not None and breaker.value > 0.0:
            reach = study.reach_at(limit.value / breaker.value)
    above_a = limit.value * _SLACK
    if reach.at_most_a(wire) <= limit.value:
        return ()
    found = tuple(inflow for inflow in reach.inflows(wire) if inflow.current_a > above_a)
    return found if reach is study.reach else tuple(_as_rated(study, each) for each in found)


def _as_rated(study: Study, inflow: Inflow) -> Inflow:
    """An inflow with the devices as they are, and what they let through together."""
    own = {(d.about.name, d.line, d.load): d for d in study.rig.devices}
    by: list[Device | Source] = [
        own[(one.about.name, one.line, one.load)] if isinstance(one, Device) else one
        for one in inflow.by
    ]
    if math.isinf(inflow.current_a):
        return replace(inflow, by=tuple(by))
    together_a = sum(rating(x) if isinstance(x, Device) else source_limit(x) for x in by)
    return replace(inflow, current_a=together_a, by=tuple(by))
