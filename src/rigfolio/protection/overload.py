"""Wires that must carry more than they may, so that what follows from it is not told again."""

import math

from rigfolio.books import Limit
from rigfolio.demand import flows_of
from rigfolio.model import Conductor
from rigfolio.protection.inflow import reach_of
from rigfolio.protection.limits import most_of
from rigfolio.protection.returns import returns_of
from rigfolio.record import record
from rigfolio.study import Study, once
from rigfolio.units import Size


def too_much_back(study: Study, wire: Conductor) -> Limit | None:
    """What may stand before a return; None where the fuses let no more come back by it."""
    back, limit = returns_of(study).get(wire.name), most_of(study, wire)
    if back is None or limit is None or not math.isfinite(back.current_a):
        return None
    return limit if limit.is_broken_by(back.current_a) else None


@record
class Overload:
    """What runs through a conductor at one time [A], and the less that it may carry."""

    demand_a: float
    limit: Limit


def overload_out(study: Study, wire: Conductor) -> Overload | None:
    """What loads draw through a conductor of the plus side, where that is more than it may carry.

    None where no more can flow into it than it may carry, whatever the loads ask for: the device
    before it opens first.
    """
    if study.side.get(wire.a) != "+" or not study.is_judged_lead(wire):
        return None
    limit = study.carries_at_most(wire, wire.size) if isinstance(wire.size, Size) else None
    if limit is None:
        return None
    demand_a = flows_of(study).demand(wire.name).current_a
    if not limit.is_broken_by(demand_a):
        return None
    inflows = reach_of(study).inflows(wire)
    opens_first = all(not limit.is_broken_by(i.current_a) and not i.maybe for i in inflows)
    return None if opens_first else Overload(demand_a, limit)


def overload_back(study: Study, wire: Conductor) -> Overload | None:
    """What loads send back through a conductor, where that is more than it may carry.

    None where the fuses on the way out let more come back than it carries: that is told instead,
    unless the book lets a fuse be larger than what a wire carries. Then both figures are told. So
    it is where how much of it comes by this way turns on a length that is not known.
    """
    back = returns_of(study).get(wire.name)
    if back is None or back.maybe or not isinstance(wire.size, Size):
        return None
    limit, demand_a = (
        study.carries_at_most(wire, wire.size),
        flows_of(study).demand(wire.name).current_a,
    )
    if limit is None or not limit.is_broken_by(demand_a):
        return None
    device = too_much_back(study, wire)
    return None if device is not None and not device.of_device else Overload(demand_a, limit)


@once
def overloaded_of(study: Study) -> frozenset[str]:
    """The wires that several loads or circuits share and that carry more than they may, by name."""
    found = set()
    for wire in study.rig.conductors:
        if wire.circuit or not isinstance(wire.size, Size):
            continue
        limit = study.carries_at_most(wire, wire.size)
        if limit is None or len(flows_of(study).users(wire.name)) < 2:
            # Of one load both are told: wire that just bears it need not keep its drop.
            continue
        if limit.is_broken_by(flows_of(study).demand(wire.name).current_a):
            found.add(wire.name)
    return frozenset(found)


def told_of_wire(study: Study, worst: Conductor | None) -> str:
    """The wire that a drop is told of and by itself not, by name; empty where it is told itself.

    `worst` is the wire that most of it is lost in. What all behind a wire lack that several share
    and that carries more than it may is one fault, and that one.
    """
    return worst.name if worst is not None and worst.name in overloaded_of(study) else ""
