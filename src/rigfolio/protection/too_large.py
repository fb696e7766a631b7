"""Which device is too large for what it is there for, and the largest that may stand in its place.

The wires are those that are there: of one that was found thinner than what belongs there, what was
found counts until it is pulled.
"""

from collections.abc import Iterator, Mapping

from rigfolio.demand import flows_of, least_rated_a
from rigfolio.findings import UNKNOWN, Unknown
from rigfolio.model import Circuit, Conductor, Device, thinner_of
from rigfolio.network import in_line
from rigfolio.protection.exposure import Exposure, exposures_by_wire, exposures_of
from rigfolio.protection.guard import Guard, guard_of, guard_of_circuit
from rigfolio.protection.inflow import rating
from rigfolio.protection.limits import sure_a
from rigfolio.record import once
from rigfolio.standard_sizes import rating_below
from rigfolio.study import Study, as_found, as_it_is
from rigfolio.units import is_over


def largest_made_a(study: Study, circuit: Circuit) -> float | Unknown | None:
    """Rating of the largest device that is made and that a circuit allows; None if none is [A]."""
    begun = study.rig.begun.get(circuit.device, ()) if circuit.device else ()
    guards = [guard_of_circuit(as_found(study), one) for one in (circuit, *begun)]
    limits = [guard.largest for guard in guards if guard.largest is not None]
    if len(limits) < len(guards):
        return UNKNOWN
    before = guards[0].devices
    return rating_below(min(one.value for one in limits), before[0] if before else None)


def is_too_large(study: Study, circuit: Circuit) -> bool:
    """Whether the device before a circuit is rated above what its slot and wires allow."""
    return guard_of_circuit(as_found(study), circuit).why == "over"


def is_device_too_large(study: Study, device: Device) -> bool:
    """Whether a device is rated above what its slot or the wires that it is there for allow."""
    circuits = study.rig.begun.get(device.about.name, ())
    if circuits:
        return any(is_too_large(study, one) for one in circuits)
    return _let_down(study, device) is not None


def largest_instead(study: Study, device: Device) -> float | Unknown | None:
    """Rating of the largest device in its place; None if none is made [A]."""
    if circuits := study.rig.begun.get(device.about.name, ()):
        return largest_made_a(study, circuits[0])
    most = _largest_outside(study, device)
    return UNKNOWN if most is None else most[0]


def bare_behind(study: Study, device: Device) -> tuple[Conductor, ...]:
    """The wires that not even the largest device in its place protects: each lacks a fuse.

    What runs through it needs more than they allow.
    """
    if study.rig.begun.get(device.about.name, ()):
        return ()
    most = _largest_outside(study, device)
    return () if most is None else most[1]


@once
def _largest_outside(
    study: Study, device: Device
) -> tuple[float | None, tuple[Conductor, ...]] | None:
    """The largest device outside circuits in its place [A], and the wires that lack their own.

    It is held against every wire that nothing else bounds, as far on as that may be; one of which
    the loads allow no such rating is left to a fuse of its own. None where it is not known.
    """
    wire = _let_down(study, device)
    if wire is None or not isinstance(device.rating_a, float):
        return None
    behind = sorted(_allowed_behind(study, device), key=lambda one: one[1], reverse=True)
    largest = guard_there(study, wire).largest
    # A wire that something else is not guarded against at all has no largest device of its own.
    known = [largest.value] if largest is not None else [allowed_a for _, allowed_a in behind[:1]]
    if not known:
        return None
    most = rating_below(known[0], device)
    for _, allowed_a in behind:
        smaller = rating_below(allowed_a, device)
        if most is None or smaller is None or not _serves(study, device, smaller):
            break
        most = min(most, smaller)
    rest = set() if most is None else {one.name for one, a in behind if is_over(most, a)}
    return most, tuple(one for one in study.rig.conductors if one.name in rest)


def _allowed_behind(study: Study, device: Device) -> Iterator[tuple[Conductor, float]]:
    """The wires that a device lets too much into, each with what it might be rated for it [A].

    Of what several devices let through together only what is too much from one of them counts.
    """
    for one in exposures_of(as_found(study)):
        if one.fault == "over" and _is_among(device, one.devices):
            others_a = one.others_a if len(one.devices) == 1 else 0.0
            yield one.wire, max(sure_a(one.limit) - others_a, 0.0)


def until_pulled(study: Study, wire: Conductor) -> tuple[tuple[Device, float | None], ...]:
    """The devices too large for a wire that was found, each with what serves until it is pulled.

    That is the largest rating that the wires bear that were found [A]; None where what runs through
    the device needs more.
    """
    guard, circuit = guard_there(study, wire), study.circuit(wire.circuit)
    own = None if circuit is None else study.device(circuit.device)
    before = guard.devices if guard.why == "over" else ()
    held = before if own is None else (own,)
    return tuple((one, serving_a(study, one)) for one in held if is_device_too_large(study, one))


def serving_a(study: Study, device: Device) -> float | None:
    """Rating of the largest device in its place; None where what runs through it needs more [A]."""
    largest = largest_instead(study, device)
    return largest if isinstance(largest, float) and _serves(study, device, largest) else None


def _serves(study: Study, device: Device, rating_a: float) -> bool:
    """Whether a rating carries what runs through a device [A]."""
    return not is_over(least_rated_a(as_it_is(study), device.about.name), rating_a)


def _let_down(study: Study, device: Device) -> Conductor | None:
    """A wire that a device outside circuits is there for and is too large for.

    It is there for the wire that it sits on, else for those at its own ends, and for all that
    follows with nothing else between. Where one of these is guarded by it, and what runs through it
    needs so large a one, it is right for that one: the others lack a fuse of their own, unless
    nothing but them hangs on it.
    """
    if not device.protects:
        return None
    wires = study.rig.conductors
    if device.on_wire:
        ends = [[wire for wire in wires if wire.name == device.on_wire]]
    else:
        own = [e for e in (device.line, device.load) if e.startswith(f"{device.about.name}.")]
        # One along the run of a circuit bears the terminals of that: it is there for what follows.
        own = own or [device.load]
        ends = [[wire for wire in wires if end in (wire.a, wire.b)] for end in own]
    is_right = False
    for held in ends:
        guards = [(wire, guard_there(study, wire)) for wire in held]
        over = [
            (wire, one)
            for wire, one in guards
            if (one.why == "over" and _is_alone(device, one.devices))
            or lets_too_much(study, wire, device)
        ]
        is_guard = any(_is_among(device, one.guards) for _, one in guards)
        for wire, one in over:
            if not is_guard or _may_be_less(study, device, one):
                return wire
        is_right = is_right or is_guard
    further = _let_into(study).get(device.about.name, ())
    line = _in_line_with(study, device) if further and is_right else frozenset()
    for wire in further:
        is_for_it = not is_right or wire.name in line
        if is_for_it or _may_be_less(study, device, guard_there(study, wire)):
            return wire
    return None


def _in_line_with(study: Study, device: Device) -> frozenset[str]:
    """The wires that nothing but a device feeds, and that are all that it feeds, by name."""
    rig = study.rig
    posts = {one.plus for one in rig.loads} | {one.plus for one in rig.sources}
    found: set[str] = set()
    for end in (device.line, device.load):
        away = next((step for step in study.net.steps(end) if step[0] == device), None)
        for edge, there in () if away is None else in_line(study.net, away):
            if isinstance(edge, Conductor):
                found.add(edge.name)
            if there in posts:
                break
    return frozenset(found)


@once
def _let_into(study: Study) -> Mapping[str, tuple[Conductor, ...]]:
    """The wires into which each device by itself lets too much, by its name."""
    found: dict[str, dict[str, Conductor]] = {}
    for one in exposures_of(as_found(study)):
        names = {device.about.name for device in one.devices}
        is_alone = one.fault == "over" and len(names) == 1
        if is_alone and one.limit.is_broken_by(rating(one.devices[0])):
            found.setdefault(names.pop(), {}).setdefault(one.wire.name, one.wire)
    return {name: tuple(wires.values()) for name, wires in found.items()}


def lets_too_much(study: Study, wire: Conductor, device: Device) -> bool:
    """Whether a device by itself lets too much into one end of a wire, whatever holds of the other.

    Of a wire that nothing protects from a charger at its far end that is told first.
    """
    return any(
        is_let_by(device, one) and one.limit.is_broken_by(rating(device))
        for one in exposures_by_wire(as_found(study)).get(wire.name, ())
    )


def _may_be_less(study: Study, device: Device, guard: Guard) -> bool:
    """Whether a rating that a wire allows is known to carry all that runs through a device."""
    if guard.largest is None or flows_of(as_it_is(study)).demand(device.about.name).open:
        return False
    smaller = rating_below(guard.largest.value, device)
    return smaller is not None and _serves(study, device, smaller)


def guard_there(study: Study, wire: Conductor) -> Guard:
    """What guards the wire that is there."""
    there = as_found(study)
    return guard_of(there, thinner_of(wire))


def is_let_by(device: Device, exposure: Exposure) -> bool:
    """Whether it is this device, and no other beside it, that lets too much into a wire."""
    return exposure.fault == "over" and _is_alone(device, exposure.devices)


def _is_alone(device: Device, found: tuple[Device, ...]) -> bool:
    return {one.about.name for one in found} == {device.about.name}


def _is_among(device: Device, found: tuple[Device, ...]) -> bool:
    return any(one.about.name == device.about.name for one in found)
