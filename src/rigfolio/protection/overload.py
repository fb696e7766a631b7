"""Wires that must carry more than they may, so that what follows from it is not told again."""

import math

from rigfolio.books import Limit
from rigfolio.model import Conductor
from rigfolio.protection.limits import most_of
from rigfolio.protection.returns import demand_back_a, returns_of
from rigfolio.protection.starting import running_of
from rigfolio.study import Study, once
from rigfolio.units import Size

_SLACK = 1.0 + 1e-9


def too_much_back(study: Study, wire: Conductor) -> Limit | None:
    """What may stand before a return; None where the fuses let no more come back by it."""
    back, limit = returns_of(study).get(wire.name), most_of(study, wire)
    if back is None or limit is None or not math.isfinite(back.current_a):
        return None
    return limit if back.current_a > limit.value * _SLACK else None


@once
def overloaded_of(study: Study) -> frozenset[str]:
    """The wires that several circuits share and that carry more than they may, by name."""
    found = set()
    for wire in study.rig.conductors:
        if wire.circuit or not isinstance(wire.size, Size):
            continue
        limit = study.carries_at_most(wire, wire.size)
        if limit is None:
            continue
        is_back = study.side.get(wire.a) == "-"
        carried_a = (
            demand_back_a(study, wire)
            if is_back
            else running_of(study, wire).demand(wire.name).current_a
        )
        if carried_a > limit.value * _SLACK:
            found.add(wire.name)
    return frozenset(found)
