"""Conductors that some source can overload, each with what lets it and how far that runs."""

import math
from collections.abc import Mapping
from typing import Literal

from rigfolio.books import Limit
from rigfolio.findings import Unknown
from rigfolio.model import Conductor, Device, Source
from rigfolio.network import is_guard, loose_ends, unguarded_m
from rigfolio.protection.inflow import Inflow, rating, reach_of
from rigfolio.protection.limits import most_behind, too_much
from rigfolio.protection.starting import is_cranking
from rigfolio.protection.unguarded import (
    FarSide,
    FedFrom,
    far_side,
    fed_from,
    is_wire_or_guard,
)
from rigfolio.record import record
from rigfolio.study import Study, once

Fault = Literal["over", "far", "bare"]


@record
class Exposure:
    """A conductor into whose `end` more can flow than it may carry, and nothing mends that.

    `fault` is `over` where `devices` let more through than it may carry, `far` where devices
    further on protect it and come too late, `bare` where nothing stands between it and `sources`.
    `run_m` is the way along wires from where the supply connects to the device that comes too
    late, `before_m` the part of it before this conductor, `reach` how far it may be.
    """

    wire: Conductor
    limit: Limit
    end: str
    current_a: float
    fault: Fault
    devices: tuple[Device, ...]
    sources: tuple[Source, ...]
    run_m: float
    before_m: float
    reach: Limit
    start: str
    """Where the supply connects: from there `run_m` and `reach` are measured."""
    way: tuple[Conductor, ...] = ()
    """The wires of `run_m`, from the supply on."""

    @property
    def others_a(self) -> float:
        """What other supplies drive in beside the ratings of the devices [A]; none is below 0."""
        ratings = (one.rating_a for one in self.devices)
        return max(self.current_a - sum(a for a in ratings if isinstance(a, float)), 0.0)


@record
class _EndVerdict:
    """What is wrong with a conductor from one of its ends, whatever it may carry."""

    fault: Fault
    devices: tuple[Device, ...]
    sources: tuple[Source, ...]
    current_a: float
    run_m: float
    before_m: float
    reach: Limit
    start: str
    way: tuple[Conductor, ...]

    @property
    def parts(self) -> tuple[Device | Source, ...]:
        """The devices and sources that decide."""
        return (*self.devices, *self.sources)


@record
class _Overfed:
    """A conductor into which too much can flow at some end."""

    wire: Conductor
    inflows: tuple[Inflow, ...]


@record
class _Around:
    """All conductors into which too much can flow, and the terminals that were not found.

    `summed` are leads of batteries into which too much can flow only for as long as no fuse opens.
    """

    others: Mapping[str, _Overfed]
    summed: Mapping[str, _Overfed]
    loose: frozenset[str]


@once
def exposures_of(study: Study) -> tuple[Exposure, ...]:
    """All conductors of the plus side that are not protected from some source.

    A conductor short enough before the device that protects it is allowed to be unprotected, as
    long as nothing but that device hangs on it.
    """
    around = _around(study)
    told = (
        _exposure(study, one, inflow, around)
        for one in around.others.values()
        for inflow in _ways_in(study, one, around.others)
    )
    return tuple(exposure for exposure in told if exposure is not None)


@once
def summed_of(study: Study) -> tuple[Exposure, ...]:
    """The leads of batteries that only the sum of what others drive in at the far end overloads.

    No short on them lasts: see `is_summed`. They are no exposures.
    """
    around = _around(study)
    told = (
        _exposure(study, one, inflow, around)
        for one in around.summed.values()
        for inflow in one.inflows
    )
    return tuple(exposure for exposure in told if exposure is not None)


@once
def exposures_by_wire(study: Study) -> dict[str, tuple[Exposure, ...]]:
    """The exposures of each conductor that has any, by its name."""
    found: dict[str, list[Exposure]] = {}
    for exposure in exposures_of(study):
        found.setdefault(exposure.wire.name, []).append(exposure)
    return {name: tuple(held) for name, held in found.items()}


@once
def _around(study: Study) -> _Around:
    found, summed = _open(study)
    return _Around(found, summed, frozenset(loose_ends(study.rig)))


def _ways_in(study: Study, one: _Overfed, others: Mapping[str, _Overfed]) -> tuple[Inflow, ...]:
    """The ends by which too much can flow in; of a ring from one supply only the nearer end."""
    if len(one.inflows) == 1 or one.inflows[0].by != one.inflows[1].by:
        return one.inflows
    near = min(one.inflows, key=lambda i: fed_from(study, one.wire, i, others).before_m)
    return (near,)


def _open(study: Study) -> tuple[dict[str, _Overfed], dict[str, _Overfed]]:
    """The conductors into which too much can flow, and those where only a sum is too much."""
    found, summed = {}, {}
    returns = {name for circuit in study.rig.circuits for name in circuit.returns}
    for wire in study.rig.conductors:
        if wire.name in returns:
            # On the plus side only where its loads are joined the wrong way round.
            continue
        if study.side.get(wire.a) != "+" or not study.is_judged_lead(wire):
            continue
        if is_cranking(study, wire):
            continue
        inflows = too_much(study, wire)
        sums = tuple(inflow for inflow in inflows if is_summed(study, wire, inflow))
        if sums:
            summed[wire.name] = _Overfed(wire, sums)
        if len(sums) < len(inflows):
            rest = tuple(inflow for inflow in inflows if inflow not in sums)
            found[wire.name] = _Overfed(wire, rest)
    return found, summed


def is_summed(study: Study, wire: Conductor, inflow: Inflow) -> bool:
    """Whether a lead of a battery is harmed only by a sum that ends when its fuses open.

    The lead has the fuse of its own battery at its other end, and no more than that runs through
    it. What drives in here can only feed a short on the lead itself. There each fuse with a battery
    behind it opens: none may let through more than the lead may carry, nor may what is left then,
    the chargers. A battery that drives by two of the fuses makes each of them slow, so that it does
    not count as opening them.
    """
    if math.isinf(inflow.current_a) or not _is_lead_of_battery(study, wire, inflow):
        return False
    limit = most_behind(study, wire, inflow.by)
    if limit is None:
        return False
    cut = [one for one in inflow.by if isinstance(one, Device)]
    opened: dict[str, Device] = {}
    for source, devices in reach_of(study).fence(inflow.end, wire, cut):
        if source.limit_a is None:
            if len(devices) != 1:
                return False
            opened[devices[0].about.name] = devices[0]
    left_a = inflow.current_a - sum(rating(device) for device in opened.values())
    return not limit.is_broken_by(max(left_a, *map(rating, opened.values()), 0.0))


def _is_lead_of_battery(study: Study, wire: Conductor, inflow: Inflow) -> bool:
    """Whether all beyond the far end is behind fuses that a conductor bears, a battery there too.

    A battery that drives into this end as well has a second way here: that is no lead of its own.
    """
    devices = far_side(study, wire, inflow).devices
    ratings = [one.rating_a for one in devices if isinstance(one.rating_a, float)]
    limit = most_behind(study, wire, devices)
    if not devices or limit is None or len(ratings) < len(devices):
        return False
    if limit.is_broken_by(sum(ratings)):
        return False
    far = wire.b if inflow.end == wire.a else wire.a
    here = {source.about.name for source, _ in reach_of(study).fence(inflow.end, wire)}
    beyond = reach_of(study).fence(far, wire)
    return any(source.stores and source.about.name not in here for source, _ in beyond)


def _exposure(study: Study, one: _Overfed, inflow: Inflow, around: _Around) -> Exposure | None:
    """What is wrong with a conductor from one of its ends; None where nothing is."""
    found = _verdict(study, one.wire, inflow, around)
    limit = None if found is None else most_behind(study, one.wire, found.parts)
    if found is None or limit is None:
        return None
    return Exposure(
        one.wire, limit, inflow.end, found.current_a, found.fault, found.devices, found.sources,
        found.run_m, found.before_m, found.reach, found.start, found.way,
    )  # fmt: skip


def _verdict(study: Study, wire: Conductor, inflow: Inflow, around: _Around) -> _EndVerdict | None:
    """What is wrong with a conductor into whose end too much can flow; None if it is allowed."""
    onward = far_side(study, wire, inflow)
    start = fed_from(study, wire, inflow, around.others)
    run_m = start.before_m + onward.run_m
    reach = study.book.reach_m(sheathed=wire.sheathed, from_battery=start.at_battery)
    over = tuple(d for d in onward.devices if _lets_too_much(study, wire, d))
    by = sorted(inflow.by, key=lambda one: one.about.name)
    feeding = tuple(one for one in by if isinstance(one, Device))
    sources = tuple(one for one in by if isinstance(one, Source))
    current_a = inflow.current_a
    devices = feeding
    fault: Fault = "over" if feeding else "bare"
    is_near = not reach.is_broken_by(run_m)
    known_m = start.before_m + (unguarded_m(wire) or 0.0)
    if around.loose & {wire.a, wire.b} and not reach.is_broken_by(known_m):
        # The device that protects it may sit at the end that was not found.
        return None
    if onward.devices and not over:
        if is_near:
            # A length that is not known is asked for by another rule; it is no fault yet.
            return None
        if _comes_late(inflow, onward, start):
            fault, devices = "far", onward.devices
    elif over and not feeding and is_near:
        fault, devices, sources, current_a = "over", over, (), max(map(rating, over))
    if fault == "over" and devices == feeding and not sources:
        devices = _there_for(study, wire, inflow, feeding)
    return _EndVerdict(
        fault, devices, sources, current_a, run_m, start.before_m, reach, start.terminal,
        (*start.way, *onward.way),
    )  # fmt: skip


def _there_for(
    study: Study, wire: Conductor, inflow: Inflow, feeding: tuple[Device, ...]
) -> tuple[Device, ...]:
    """The devices that are told to let too much into a conductor.

    Where one bounds what flows, and the one that is there for the conductor stands nearer and would
    let too much through as well, it is that one: what is smaller further up is there for others.
    """
    if len(feeding) != 1:
        return feeding
    fence = reach_of(study).fence(inflow.end, wire)
    nearest = {device.about.name: device for _, held in fence for device in held}
    if len(nearest) != 1 or not all(held for _, held in fence):
        return feeding
    (device,) = nearest.values()
    limit = most_behind(study, wire, (device,))
    if limit is None or isinstance(device.rating_a, Unknown):
        return feeding
    # What flows in is the lesser: by the column of the nearer kind it has to be too much as well.
    return (device,) if limit.is_broken_by(min(inflow.current_a, rating(device))) else feeding


def ahead_of(study: Study, wire: Conductor, inflow: Inflow) -> tuple[Device, ...]:
    """The devices that a conductor runs into beyond its far end, none where a load comes first."""
    return far_side(study, wire, inflow).devices


def unsized(
    study: Study, wire: Conductor, inflow: Inflow
) -> tuple[Fault, tuple[Device, ...]] | None:
    """Fault and devices of an exposure, for a conductor of which nobody knows what it may carry."""
    found = _verdict(study, wire, inflow, _around(study))
    return None if found is None else (found.fault, found.devices)


def _lets_too_much(study: Study, wire: Conductor, device: Device) -> bool:
    limit = most_behind(study, wire, (device,))
    return limit is not None and limit.is_broken_by(rating(device))


def _comes_late(inflow: Inflow, onward: FarSide, start: FedFrom) -> bool:
    """Whether the device further on is the one meant for a conductor, and only sits too far.

    The slots of a panel are not meant for its feeder. Nor is the device further on where the
    conductor begins at a device that is too large, or at a charger that is.
    """
    if len(onward.devices) > 1 or onward.devices[0].in_slot:
        return False
    return math.isinf(inflow.current_a) or not start.at_driver


@once
def unfused_of(study: Study) -> dict[str, tuple[Exposure, ...]]:
    """Batteries with no device near any wire on their plus post, with all that they drive into."""
    found = {}
    for battery in study.rig.sources:
        if not battery.stores:
            continue
        driven = tuple(e for e in exposures_of(study) if battery in e.sources)
        names = {exposure.wire.name for exposure in driven if exposure.fault == "bare"}
        on_post = study.net.walk([battery.plus], is_wire_or_guard)
        steps = [edge for end in on_post for edge, _ in study.net.steps(end)]
        first = [e for e in steps if isinstance(e, Conductor) and not is_cranking(study, e)]
        has_fuse = any(is_guard(e) for e in steps)
        known = [wire.name for wire in first if not isinstance(wire.size, Unknown)]
        if known and not has_fuse and names.issuperset(known):
            found[battery.about.name] = driven
    return found
