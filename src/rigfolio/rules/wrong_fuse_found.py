"""The fuse that was found in a slot or holder is not the one that belongs there.

What was found is judged by the wires behind it and by its slot, whether or not anybody knows yet
what belongs there.

*Why:* somebody put a larger fuse in because the right one kept blowing: the overload or the short
that blew it is still there, and now the wire is the fuse.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence

from rigfolio.books import Limit
from rigfolio.demand import flows_of
from rigfolio.findings import Citation, Finding, Fix, Severity, Span, Unknown
from rigfolio.model import Circuit, Conductor, Device
from rigfolio.protection import (
    exposures_of,
    found_letting_back,
    guard_of,
    is_device_too_large,
    known_limit_of,
    largest_fuse_of,
    limit_of,
    too_much_back,
)
from rigfolio.record import record
from rigfolio.rule import Rule
from rigfolio.standard_sizes import rating_below
from rigfolio.study import Study, as_found, fused_as_found, once
from rigfolio.units import is_over, show_against, show_limit, show_unequal
from rigfolio.wording import bears, may_bear

RULE = Rule(
    "wrong-fuse-found",
    Severity.FAULT,
    Citation("what is found in a slot is compared with what belongs there", "common practice"),
    also=(Severity.DANGER, Severity.ADVICE, Severity.UNKNOWN),
    of_plan=True,
)


def check(study: Study) -> Iterator[Finding]:
    """Every circuit and every other device of which the text says what was found."""
    there = as_found(study)
    for circuit in study.rig.circuits:
        device = study.device(circuit.device)
        if device is None or circuit.found_a is None:
            continue
        beyond = _limits_beyond(there).get(device.about.name, ())
        limit = _least((known_limit_of(there, circuit), *beyond))
        place = _FoundAt(circuit.place, circuit.span, device, limit)
        yield from _judged(study, place, circuit.found_a, circuit)
    for device in study.rig.by_name.devices.values():
        if device.found_a is not None:
            beyond = _limits_beyond(there).get(device.about.name, ())
            limit = _least((_limit_around(there, device), *beyond))
            place = _FoundAt(device.about.name, device.about.span, device, limit)
            yield from _judged(study, place, device.found_a)


@record
class _FoundAt:
    """Where something was found: what it is called, what belongs there, what its wires allow."""

    name: str
    span: Span
    device: Device
    limit: Limit | None


def _judged(
    study: Study, place: _FoundAt, found_a: float | Unknown, circuit: Circuit | None = None
) -> Iterator[Finding]:
    belongs_a, limit = place.device.rating_a, place.limit
    if isinstance(found_a, Unknown):
        if isinstance(belongs_a, float):
            yield RULE.cannot_judge(
                f"which {place.device.kind} is in `{place.name}` now is unknown",
                place.span,
                fix="read the rating on it, not the mark beside the slot",
            )
        # What belongs there is asked for by another rule, and who looks sees both.
        return
    over = limit if limit is not None and limit.is_broken_by(found_a) else None
    if not isinstance(belongs_a, float):
        if over is not None:
            yield _unread(study, place, found_a, over, circuit)
    elif found_a != belongs_a:
        yield _finding(study, place, (found_a, belongs_a), over)


def _limit_around(study: Study, device: Device) -> Limit | None:
    """The least that the wires allow that a device is there for, as far as that is known."""
    own = [wire for wire in study.rig.conductors if wire.name == device.on_wire]
    # What else lands on the post that it sits on is no wire of its own.
    ends = {end for end in (device.line, device.load) if end.startswith(f"{device.about.name}.")}
    wires = own or [
        wire
        for wire in study.rig.conductors
        if {wire.a, wire.b} & ends and _is_for(study, device, wire)
    ]
    return _least(limit_of(study, wire) for wire in wires)


@once
def _limits_beyond(study: Study) -> Mapping[str, Sequence[Limit]]:
    """What wires allow, out or back, that a device alone lets too much into as it was found.

    By the name of that device. They may lie further on, behind a switch or a bar, and in the way
    back of its circuits.
    """
    there, found = fused_as_found(study), dict[str, list[Limit]]()
    for one in exposures_of(there):
        if one.fault == "over" and len(one.devices) == 1 and not one.sources:
            found.setdefault(one.devices[0].about.name, []).append(one.limit)
    for wire in study.rig.conductors:
        larger, limit = found_letting_back(study, wire), too_much_back(there, wire)
        if len(larger) == 1 and limit is not None:
            found.setdefault(larger[0].about.name, []).append(limit)
    return found


def _least(limits: Iterable[Limit | None]) -> Limit | None:
    known = [limit for limit in limits if limit is not None]
    return min(known, key=lambda limit: limit.value, default=None)


def _is_for(study: Study, device: Device, wire: Conductor) -> bool:
    """Whether what a source drives into a wire has to pass the device."""
    return any(
        device.about.name in {guard.about.name for guard in one.devices}
        for one in guard_of(study, wire).against
        if one.why in ("guarded", "over")
    )


def _finding(
    study: Study, place: _FoundAt, ratings_a: tuple[float, float], over: Limit | None
) -> Finding:
    found_a, belongs_a = ratings_a
    found, rated = show_unequal(found_a, belongs_a, "A")
    kind, may = place.device.kind, f", {_allows(over)}" if over is not None else ""
    larger = found_a > belongs_a
    words, do = f"{rated} belongs there", f"put {rated} in"
    if is_device_too_large(study, place.device):
        # Whatever was found, a device that is barred is not told to be put in.
        also = " as well" if over is not None else ""
        words = f"the text says {rated}, which is too large{also}"
        do = f"settle first which {kind} slot and wires allow, and put that in"
    cause = "; find out what made somebody put a larger one in" if larger else ""
    return RULE.finding(
        f"{found} {kind} found in `{place.name}`, {words}{may}",
        place.span,
        fix=Fix(f"{do}{cause}, then take `found` out of the text"),
        severity=Severity.DANGER if over else None if larger else Severity.ADVICE,
        numbers=(("found_a", found_a), ("rating_a", belongs_a)),
    )


def _unread(
    study: Study, place: _FoundAt, found_a: float, over: Limit, circuit: Circuit | None
) -> Finding:
    """A device that is too large, of which nobody knows what it should be."""
    found, most = show_against(found_a, over.value, "A")
    smaller = Fix(f"take it out; what belongs there is {most} at most")
    return RULE.finding(
        f"{found} {place.device.kind} found in `{place.name}`, {_allows(over)}",
        place.span,
        source=over.source,
        fix=smaller if circuit is None else _smaller(study, circuit, place.device),
        severity=Severity.DANGER,
        numbers=(("found_a", found_a), ("limit_a", over.value)),
    )


def _allows(limit: Limit) -> str:
    if limit.how == "the slot allows no more":
        return f"its slot allows {show_limit(limit.value, 'A')}"
    return f"its wires {may_bear(limit)}" if limit.of_device else f"its wires carry {bears(limit)}"


def _smaller(study: Study, circuit: Circuit, device: Device) -> Fix:
    """The largest device that all wires allow, where its loads can live with that."""
    limit = largest_fuse_of(as_found(study), circuit)
    fits_a = rating_below(limit.value, device) if limit is not None else None
    demand = flows_of(study).demand(device.about.name)
    word = f"take it out; what belongs there is no more than the thinnest wire of `{circuit.place}`"
    if fits_a is None or demand.open or is_over(demand.current_a, fits_a):
        return Fix(f"{word} carries, and no less than its loads need")
    return Fix(
        f"put {show_limit(fits_a, 'A')} in, and find out what made somebody put a larger one in"
    )
