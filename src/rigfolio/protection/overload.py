"""Wires that must carry more than they may, so that what follows from it is not told again."""

import math
from collections.abc import Mapping

from rigfolio.books import Limit
from rigfolio.demand import flows_of, least_rated_a
from rigfolio.model import Conductor, Device, is_found_larger
from rigfolio.protection.exposure import Exposure, exposures_by_wire, exposures_of
from rigfolio.protection.inflow import reach_of
from rigfolio.protection.limits import limit_of, most_of, sure_a
from rigfolio.protection.returns import returns_of
from rigfolio.record import record
from rigfolio.standard_sizes import rating_below
from rigfolio.study import Study, fused_as_found, once
from rigfolio.units import Size, is_over

_MOST_GROWTH = 3.0
"""How many times of what a wire may be fused at it is grown to bear: a choice of this program."""


def too_much_back(study: Study, wire: Conductor) -> Limit | None:
    """What may stand before a return; None where the fuses let no more come back by it."""
    back, limit = returns_of(study).get(wire.name), most_of(study, wire)
    if back is None or limit is None or not math.isfinite(back.current_a):
        return None
    return limit if limit.is_broken_by(back.current_a) else None


def found_letting_back(study: Study, wire: Conductor) -> tuple[Device, ...]:
    """The devices that were found too large, where they let too much come back by a conductor.

    None where those that belong there let too much come back as well. A larger one further up may
    bound what comes back then: it is not what somebody has to change.
    """
    return _letting_back(study).get(wire.name, ())


@once
def _letting_back(study: Study) -> Mapping[str, tuple[Device, ...]]:
    """The same of all conductors, by their names."""
    rig, there = study.rig, fused_as_found(study)
    if there is study:
        return {}
    larger = tuple(one for one in rig.by_name.devices.values() if is_found_larger(rig, one))
    found = {}
    for wire in rig.conductors:
        if too_much_back(there, wire) is None or too_much_back(study, wire) is not None:
            continue
        parts = (*returns_of(study)[wire.name].by, *returns_of(there)[wire.name].by)
        names = {part.about.name for part in parts}
        # In a ring the devices that bound a part of it may be others than those that were found.
        found[wire.name] = tuple(one for one in larger if one.about.name in names) or larger
    return found


@once
def found_letting_in(study: Study) -> tuple[Exposure, ...]:
    """What devices that were found too large let too much into together, or beside other supplies.

    None of what those that belong there let too much into as well, nor of what one of them alone
    does: that one is held against all that it guards.
    """
    there = fused_as_found(study)
    if there is study:
        return ()
    as_written = {one.wire.name for one in exposures_of(study) if one.fault == "over"}
    return tuple(
        one
        for one in exposures_of(there)
        if one.fault == "over"
        and one.wire.name not in as_written
        and len(one.devices) + len(one.sources) > 1
    )


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
    device = too_much_back(fused_as_found(study), wire)
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


def lacks_own_fuse(
    study: Study, wire: Conductor, current_a: float
) -> tuple[Conductor, float] | None:
    """The wire that lacks but a fuse where it begins, and the most that this may be [A].

    So it is where several supplies together let too much into it, of which no one can be made
    smaller for its sake, and where it bears what it serves. Copper may serve where that is little
    more than it bears, `current_a` [A]; it is not grown to bear whole banks.
    Of a return it is the wire out to what comes back by it: what a fuse there lets through comes
    back, and no more.
    """
    bears = limit_of(study, wire)
    if bears is None or not is_over(current_a, bears.value * _MOST_GROWTH):
        return None
    out = wire if study.side.get(wire.a) != "-" else _wire_out(study, wire)
    if out is None or not any(
        one.fault == "over" and len(one.devices) + len(one.sources) > 1
        for one in exposures_by_wire(study).get(out.name, ())
    ):
        return None
    limits = [limit_of(study, one) for one in (out, wire)]
    most_a = rating_below(min(0.0 if limit is None else sure_a(limit) for limit in limits))
    needed_a = least_rated_a(study, out.name)
    return None if most_a is None or is_over(needed_a, most_a) else (out, most_a)


def _wire_out(study: Study, wire: Conductor) -> Conductor | None:
    """The one wire out to what a return serves alone; None where it serves more than that."""
    ends = {wire.a, wire.b}
    served = [(x.plus, x.minus) for x in study.rig.loads if x.minus in ends]
    served += [(x.plus, x.minus) for x in study.rig.sources if x.minus in ends]
    if len(served) != 1:
        return None
    plus, minus = served[0]
    back = [one for one in study.rig.conductors if minus in (one.a, one.b)]
    out = [one for one in study.rig.conductors if plus in (one.a, one.b)]
    return out[0] if len(out) == len(back) == 1 else None
