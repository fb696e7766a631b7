"""Which devices guard a conductor or a circuit against each source, or why none does.

A device guards a conductor where it opens before the conductor is harmed. Of those that stand
between it and a source the nearest are meant, unless these let too much through together and
others further up do not: then the narrowest cut of the largest flow is. Where more can flow in
than the conductor may carry, what is allowed or wrong is what the exposures tell.
"""

import math
from collections.abc import Iterable
from typing import Literal

from rigfolio.books import Limit
from rigfolio.findings import Unknown
from rigfolio.model import Circuit, Conductor, Device, Source
from rigfolio.protection.exposure import (
    Exposure,
    ahead_of,
    exposures_by_wire,
    exposures_of,
    is_summed,
    unsized,
)
from rigfolio.protection.inflow import Fence, Inflow, rating, reach_of, source_limit
from rigfolio.protection.limits import (
    known_limit_of,
    largest_fuse_of,
    limit_behind,
    limit_of,
    too_much,
)
from rigfolio.protection.starting import is_cranking
from rigfolio.record import record, replace
from rigfolio.study import Study, once, together

Why = Literal[
    "guarded", "itself", "idle", "return", "cranking", "ahead", "over", "far", "bare"
]  # fmt: skip
"""What holds of a conductor, or of it and one source; of two the one further back is told first."""
_RANK: tuple[Why, ...] = (
    "idle", "return", "itself", "guarded", "cranking", "ahead", "over", "far", "bare"
)  # fmt: skip


@record
class Against:
    """What stands between a conductor and one source that can drive into it."""

    source: Source
    devices: tuple[Device, ...]
    why: Why


@record
class Guard:
    """What guards a conductor or a circuit.

    `why` tells what `devices` are: `guarded` those that guard it, `over` those that let more
    through than it may carry, `ahead` and `far` those further on, which it is allowed to run ahead
    of or begins too far from. In all other cases there are none: what drives into it limits
    `itself`, it is a `cranking` cable or a `return`, nothing protects it (`bare`), or no source
    drives into it (`idle`). `carries` is what it may carry, `largest` the largest device that may
    stand before it, None where that is not known.
    """

    why: Why
    devices: tuple[Device, ...]
    against: tuple[Against, ...] = ()
    carries: Limit | None = None
    largest: Limit | None = None

    @property
    def guards(self) -> tuple[Device, ...]:
        """The devices that open before it is harmed."""
        return self.devices if self.why == "guarded" else ()


def guard_of(study: Study, wire: Conductor) -> Guard:
    """What guards a conductor against every source."""
    kept = _kept(study)
    key = (wire.name, wire.a, wire.b)
    if key not in kept:
        kept[key] = _guard(study, wire)
    return kept[key]


@once
def guard_of_circuit(study: Study, circuit: Circuit) -> Guard:
    """What guards a circuit: its own device, else what guards the wire that it begins with.

    `over` is told where its device is rated above what its slot, wires or returns allow, as far as
    that is known: one of them is enough.
    """
    own = study.device(circuit.device)
    # Of a wire thinner than any in the book it is known all the same what is too much for it.
    largest, bears = largest_fuse_of(study, circuit), known_limit_of(study, circuit)
    wires = {wire.name: wire for wire in study.wires_of(circuit.place)}
    first = next((wires[name] for name in circuit.wires if name in wires), None)
    found = guard_of(study, first) if first is not None else _at(study, circuit.start)
    if own is not None:
        is_known = isinstance(own.rating_a, float)
        over = is_known and bears is not None and bears.is_broken_by(rating(own))
        return Guard("over" if over else "guarded", (own,), found.against, found.carries, largest)
    why, devices = found.why, found.devices
    for wire in wires.values():
        told = [e for e in exposures_by_wire(study).get(wire.name, ()) if e.fault == "over"]
        if told and why == "guarded":
            why, devices = "over", told[0].devices
    return Guard(why, devices, found.against, found.carries, largest)


@once
def _kept(_: Study) -> dict[tuple[str, str, str], Guard]:
    return {}


def _guard(study: Study, wire: Conductor) -> Guard:
    carries, largest = together(study.carries(wire), wire.count), limit_of(study, wire)
    own = own_of(study, wire)
    circuit = study.circuit(wire.circuit)
    if circuit is not None and wire.name in circuit.returns:
        return Guard("return", (), (), carries, largest)
    if study.side.get(wire.a) == "-":
        on_it = tuple(device for device in own if device.on_wire == wire.name)
        return Guard("guarded" if on_it else "return", on_it, (), carries, largest)
    against = tuple(one for end in _ends(study, wire) for one in end)
    why = _worst(against)
    if why == "idle" and own:
        # Nothing drives in yet; whatever will come by the start of the circuit meets its device.
        return Guard("guarded", own, (), carries, largest)
    devices = _of(one for one in against if one.why == why)
    return Guard(why, devices, against, carries, largest)


def _at(study: Study, terminal: str) -> Guard:
    """What stands before a terminal that no wire of its circuit begins at."""
    fence = reach_of(study).fence(terminal) if terminal else ()
    against = tuple(Against(s, devices, _alone(s, devices)) for s, devices in fence)
    why = _worst(against)
    return Guard(why, _of(one for one in against if one.why == why), against)


def _worst(against: Iterable[Against]) -> Why:
    """What is told of all sources together; `idle` where there are none."""
    return max((one.why for one in against), key=_RANK.index, default=_RANK[0])


def _alone(source: Source, devices: tuple[Device, ...]) -> Why:
    return "guarded" if devices else "bare" if source.limit_a is None else "itself"


def _of(against: Iterable[Against]) -> tuple[Device, ...]:
    """The devices of some, each once."""
    found = {(d.about.name, d.line, d.load): d for one in against for d in one.devices}
    return tuple(found.values())


def own_of(study: Study, wire: Conductor) -> tuple[Device, ...]:
    """The device that the text puts on a conductor, else in its circuit."""
    on_it = tuple(one for one in study.rig.seated.get(wire.name, ()) if one.protects)
    circuit = study.circuit(wire.circuit)
    device = study.device(circuit.device) if circuit is not None else None
    return on_it or ((device,) if device is not None else ())


def _ends(study: Study, wire: Conductor) -> Iterable[tuple[Against, ...]]:
    """What stands between each end of a conductor and the sources that can drive into it."""
    reach = reach_of(study)
    open_ends = {
        inflow.end: inflow for inflow in too_much(study, wire) if not is_summed(study, wire, inflow)
    }
    for place, end in enumerate((wire.a, wire.b)):
        fence = reach.fence(end, wire)
        if end in open_ends:
            yield _opened(study, wire, open_ends[end], fence)
        elif _is_enough(study, wire, fence):
            yield _shut(fence)
        else:
            inflow = reach.inflows(wire)[place]
            if inflow.current_a == float("inf"):
                yield _opened(study, wire, inflow, fence)
            else:
                cut = [one for one in inflow.by if isinstance(one, Device)]
                yield _shut(reach.fence(end, wire, cut))


def _shut(fence: Fence) -> tuple[Against, ...]:
    return tuple(Against(s, devices, "guarded" if devices else "itself") for s, devices in fence)


def _opened(
    study: Study, wire: Conductor, inflow: Inflow, fence: Fence
) -> tuple[Against, ...]:  # fmt: skip
    """An end into which too much can flow.

    Where that is all a battery can give, what else drives in may still be guarded against.
    """
    why, devices = _reason(study, wire, inflow)
    if inflow.current_a < float("inf"):
        return tuple(Against(source, devices, why) for source, _ in fence)
    endless = {one.about.name for one in inflow.by if isinstance(one, Source)}
    rest = tuple((source, held) for source, held in fence if source.about.name not in endless)
    is_rest_shut = _is_enough(study, wire, rest)
    return tuple(
        Against(source, held, "guarded" if held else "itself")
        if is_rest_shut and source.about.name not in endless
        else Against(source, devices, why)
        for source, held in fence
    )


def _reason(
    study: Study, wire: Conductor, inflow: Inflow
) -> tuple[Why, tuple[Device, ...]]:  # fmt: skip
    """Why more can flow into an end than a conductor may carry, and the devices to be named."""
    if is_cranking(study, wire):
        return "cranking", ()
    told = exposures_by_wire(study).get(wire.name, ())
    here = [one for one in told if one.end == inflow.end] or list(told)
    if here:
        # Of each end no more than one exposure is told.
        (worst, *_) = here
        return worst.fault, worst.devices if worst.fault != "bare" else ()
    found = unsized(study, wire, inflow) if limit_of(study, wire) is None else None
    return found or ("ahead", ahead_of(study, wire, inflow))


def _is_enough(study: Study, wire: Conductor, fence: Fence) -> bool:
    """Whether all that stands nearest lets no more through together than a conductor may carry."""
    devices = {(d.about.name, d.line, d.load): d for _, held in fence for d in held}
    inside = [source for source, held in fence if not held]
    total_a = sum(map(rating, devices.values())) + sum(map(source_limit, inside))
    limit = limit_behind(study, wire, (*devices.values(), *inside))
    return total_a < float("inf") if limit is None else not limit.is_broken_by(total_a)


@once
def hidden_of(study: Study) -> tuple[Exposure, ...]:
    """What the next device overloads unless one of unknown rating further up lets less through."""
    rig = study.rig
    there = tuple(
        replace(one, rating_a=math.inf) if isinstance(one.rating_a, Unknown) else one
        for one in rig.devices
    )
    if there == rig.devices:
        return ()
    known = {one.wire.name for one in exposures_of(study)}
    found = exposures_of(Study(replace(rig, devices=there), study.book.name))
    return tuple(
        one for one in found if one.wire.name not in known and _is_too_large_alone(study, one)
    )


def _is_too_large_alone(study: Study, one: Exposure) -> bool:
    """Whether a device that nothing stands behind lets too much through, whatever is further up."""
    device = one.devices[0] if one.fault == "over" and len(one.devices) == 1 else None
    if device is None or not one.limit.is_broken_by(rating(device)) or rating(device) == math.inf:
        return False
    fence = reach_of(study).fence(one.end)
    return any(device.about.name in [each.about.name for each in held] for _, held in fence)
