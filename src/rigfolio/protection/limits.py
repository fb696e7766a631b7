"""The largest device that may stand before a conductor or a circuit, and what flows beyond that."""

import math
from collections.abc import Iterable

from rigfolio.books import Limit, bound_a
from rigfolio.findings import Unknown
from rigfolio.model import Circuit, Conductor, Device, Source
from rigfolio.protection.breakers import Before, kind_before, kind_of, tells_breakers
from rigfolio.protection.inflow import Inflow, rating, reach_at, reach_of, source_limit
from rigfolio.protection.weakest import parts_on_the_way, slot_limits
from rigfolio.record import replace
from rigfolio.study import Study, once, together
from rigfolio.units import Size, is_over


def limit_of(study: Study, wire: Conductor) -> Limit | None:
    """The largest device that may stand before a conductor, all side by side counted [A]."""
    return None if isinstance(wire.size, Unknown) else limit_in(study, wire, wire.size)


def sure_a(limit: Limit) -> float:
    """What a device before a conductor may surely be rated [A]: nothing where none is known."""
    return 0.0 if limit.is_bound else limit.value


def below_least(study: Study, wire: Conductor) -> Limit | None:
    """The least copper that a book sets [m²], of a wire that has less; None of all others."""
    if isinstance(wire.size, Unknown) or not study.is_judged_lead(wire):
        return None
    least = study.book.least_size_m2(sheathed=wire.sheathed)
    return least if least is not None and is_over(least.value, wire.size.area_m2) else None


def limit_in(
    study: Study, wire: Conductor, size: Size, before: Before | None = None
) -> Limit | None:
    """As `limit_of`, for another size on trial.

    Some books list breakers apart from fuses: `before` says which stands there, as it is in the rig
    if left out; of both the lesser counts.
    """
    before = before or kind_before(study, wire)
    kept, key = _kept(study), (wire.name, wire.count, size, before)
    if key not in kept:
        service = study.service(wire)
        devices = ("fuse", "breaker") if before == "both" else (before,)
        found = [study.book.largest_fuse_a(size, service, device) for device in devices]
        known = [limit for limit in found if limit is not None]
        least = min(known, key=lambda limit: limit.value, default=None)
        kept[key] = together(least, wire.count)
    return kept[key]


@once
def _kept(_: Study) -> dict[tuple[str, int, Size, Before], Limit | None]:
    """Limits by wire, size and what stands before it: several rules and papers ask for each."""
    return {}


def most_in(
    study: Study, wire: Conductor, size: Size, before: Before | None = None
) -> Limit | None:
    """As `limit_in`; of a size thinner than any in the book what it stays below."""
    known = limit_in(study, wire, size, before)
    if known is not None:
        return known
    before = before or kind_before(study, wire)
    devices = ("fuse", "breaker") if before == "both" else (before,)
    found = [bound_a(study.book, size, study.service(wire), device) for device in devices]
    bounds = [limit for limit in found if limit is not None]
    return together(min(bounds, key=lambda limit: limit.value, default=None), wire.count)


def most_of(study: Study, wire: Conductor) -> Limit | None:
    """As `limit_of`; of a wire thinner than any in the book what it stays below [A]."""
    return None if isinstance(wire.size, Unknown) else most_in(study, wire, wire.size)


def most_behind(study: Study, wire: Conductor, parts: Iterable[Device | Source]) -> Limit | None:
    """As `limit_behind`; of a wire thinner than any in the book what it stays below [A]."""
    if isinstance(wire.size, Unknown):
        return None
    return most_in(study, wire, wire.size, kind_of(tuple(parts)))


def limit_behind(study: Study, wire: Conductor, parts: Iterable[Device | Source]) -> Limit | None:
    """As `limit_of`, with some devices and sources before the conductor."""
    if isinstance(wire.size, Unknown):
        return None
    return limit_in(study, wire, wire.size, kind_of(tuple(parts)))


@once
def largest_fuse_of(study: Study, circuit: Circuit) -> Limit | None:
    """The largest device that may stand before a circuit [A]; None where that is not known.

    Never above what the weakest part bears that it feeds before the next device protects, out or
    back: wires, slot and panel, bars, switches, pins of plugs, the panels that the circuit feeds.
    Switches, plugs, bars and its own panel are judged by what runs through them, never by the
    device: they make none too large that is fitted, and bar every larger one.
    """
    beyond, made, run_through = parts_on_the_way(study, circuit)
    least = largest_for_wires(study, circuit)
    if least is None:
        return None
    for wire in beyond:
        limit = limit_behind(study, wire, _before(study, circuit))
        if limit is None:
            return None
        made = (*made, limit)
    most = min((least, *made), key=lambda one: one.value)
    weakest = min((most, *run_through), key=lambda one: one.value)
    fitted = [one.rating_a for one in _before(study, circuit) if isinstance(one.rating_a, float)]
    if fitted and weakest.is_broken_by(fitted[0]) and not most.is_broken_by(fitted[0]):
        # Its loads keep to what that part is made for: what is fitted is not too large, but no
        # larger one is right.
        return replace(weakest, value=fitted[0], how=f"no larger than is fitted: {weakest.how}")
    return weakest


def largest_for_wires(study: Study, circuit: Circuit) -> Limit | None:
    """The largest device that slot and wires of a circuit allow, returns counted [A]."""
    limits: list[Limit] = []
    for wire in study.wires_of(circuit.place):
        if not study.is_judged_lead(wire):
            continue
        limit = limit_behind(study, wire, _before(study, circuit))
        if limit is None:
            return None
        limits.append(limit)
    if limits:
        limits += slot_limits(study, circuit)
    return min(limits, key=lambda one: one.value) if limits else None


def known_limit_of(study: Study, circuit: Circuit) -> Limit | None:
    """The least that is known to bound the device of a circuit: one of its wires, or its slot [A].

    Other than the largest device that all of them allow it is known as soon as one of them is.
    """
    wires = [wire for wire in study.wires_of(circuit.place) if study.is_judged_lead(wire)]
    limits = [most_behind(study, wire, _before(study, circuit)) for wire in wires]
    limits += slot_limits(study, circuit)
    known = [limit for limit in limits if limit is not None]
    return min(known, key=lambda one: one.value, default=None)


def _before(study: Study, circuit: Circuit) -> tuple[Device, ...]:
    """The device of a circuit."""
    device = study.device(circuit.device)
    return (device,) if device is not None else ()


def too_much(study: Study, wire: Conductor) -> tuple[Inflow, ...]:
    """What flows into the ends of a conductor, where that is more than it may carry."""
    if isinstance(wire.size, Unknown):
        return ()
    limit = most_in(study, wire, wire.size, "fuse")
    if limit is None:
        return ()
    reach = reach_of(study)
    if tells_breakers(study):
        breaker = most_in(study, wire, wire.size, "breaker")
        if breaker is not None and breaker.value > 0.0:
            reach = reach_at(study, limit.value / breaker.value)
    if not limit.is_broken_by(reach.at_most_a(wire)):
        return ()
    found = tuple(one for one in reach.inflows(wire) if limit.is_broken_by(one.current_a))
    return found if reach is reach_of(study) else tuple(_as_rated(study, each) for each in found)


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
