"""The fuse that was found in a slot or holder is not the one that belongs there.

What was found is judged by the wires behind it and by its slot, whether or not anybody knows yet
what belongs there.

*Why:* somebody put a larger fuse in because the right one kept blowing: the overload or the short
that blew it is still there, and now the wire is the fuse.
"""

from collections.abc import Iterator

from rigfolio.books import Limit
from rigfolio.demand import flows_of
from rigfolio.findings import Citation, Finding, Fix, Severity, Unknown
from rigfolio.model import Circuit, Device
from rigfolio.protection import bears, known_limit_of, largest_fuse_of
from rigfolio.rule import Rule
from rigfolio.standard_sizes import rating_below
from rigfolio.study import Study
from rigfolio.units import show_against, show_limit, show_unequal

RULE = Rule(
    "wrong-fuse-found",
    Severity.FAULT,
    Citation("what is found in a slot is compared with what belongs there", "common practice"),
    also=(Severity.DANGER, Severity.ADVICE, Severity.UNKNOWN),
)
_SLACK = 1.0 + 1e-9


def check(study: Study) -> Iterator[Finding]:
    """Every circuit of which the text says what was found."""
    for circuit in study.rig.circuits:
        device = study.device(circuit.device)
        found_a = circuit.found_a
        if device is None or found_a is None:
            continue
        belongs_a = device.rating_a
        if isinstance(found_a, Unknown):
            if isinstance(belongs_a, float):
                yield RULE.cannot_judge(
                    f"which {device.kind} is in `{circuit.place}` now is unknown",
                    circuit.span,
                    fix="read the rating on it, not the mark beside the slot",
                )
            # What belongs there is asked for by another rule, and who looks sees both.
            continue
        limit = known_limit_of(study, circuit)
        over = limit if limit is not None and found_a > limit.value * _SLACK else None
        if not isinstance(belongs_a, float):
            if over is not None:
                yield _unread(study, circuit, device, found_a, over)
        elif found_a != belongs_a:
            yield _finding(circuit, device, (found_a, belongs_a), over)


def _finding(
    circuit: Circuit, device: Device, ratings_a: tuple[float, float], over: Limit | None
) -> Finding:
    found_a, belongs_a = ratings_a
    found, rated = show_unequal(found_a, belongs_a, "A")
    may = f", {_allows(over)}" if over is not None else ""
    larger = found_a > belongs_a
    cause = "; find out what made somebody put a larger one in" if larger else ""
    return RULE.finding(
        f"{found} {device.kind} found in `{circuit.place}`, {rated} belongs there{may}",
        circuit.span,
        fix=Fix(f"put {rated} in{cause}, then take `found` out of the text"),
        severity=Severity.DANGER if over else None if larger else Severity.ADVICE,
        numbers=(("found_a", found_a), ("rating_a", belongs_a)),
    )


def _unread(study: Study, circuit: Circuit, device: Device, found_a: float, over: Limit) -> Finding:
    """A device that is too large, of which nobody knows what it should be."""
    found, _ = show_against(found_a, over.value, "A")
    return RULE.finding(
        f"{found} {device.kind} found in `{circuit.place}`, {_allows(over)}",
        circuit.span,
        source=over.source,
        fix=_smaller(study, circuit, device),
        severity=Severity.DANGER,
        numbers=(("found_a", found_a), ("limit_a", over.value)),
    )


def _allows(limit: Limit) -> str:
    if limit.how == "the slot allows no more":
        return f"its slot allows {show_limit(limit.value, 'A')}"
    return f"its wires carry {bears(limit)}"


def _smaller(study: Study, circuit: Circuit, device: Device) -> Fix:
    """The largest device that all wires allow, where its loads can live with that."""
    limit = largest_fuse_of(study, circuit)
    fits_a = rating_below(limit.value, device) if limit is not None else None
    demand = flows_of(study).demand(device.about.name)
    word = f"take it out; what belongs there is no more than the thinnest wire of `{circuit.place}`"
    if fits_a is None or demand.unknown or demand.current_a > fits_a * _SLACK:
        return Fix(f"{word} carries, and no less than its loads need")
    return Fix(
        f"put {show_limit(fits_a, 'A')} in, and find out what made somebody put a larger one in"
    )
