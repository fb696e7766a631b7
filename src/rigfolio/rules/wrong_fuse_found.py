"""The fuse that was found in a slot or holder is not the one that belongs there.

*Why:* somebody put a larger fuse in because the right one kept blowing: the overload or the short
that blew it is still there, and now the wire is the fuse.
"""

from collections.abc import Iterator

from rigfolio.findings import Citation, Finding, Fix, Severity, Unknown
from rigfolio.model import Circuit, Device
from rigfolio.protection import largest_for_wires
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.units import show_limit, show_unequal

RULE = Rule(
    "wrong-fuse-found",
    Severity.FAULT,
    Citation("what is found in a slot is compared with what belongs there", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every circuit of which the text says what was found."""
    for circuit in study.rig.circuits:
        device = study.device(circuit.device)
        found_a = circuit.found_a
        if device is None or found_a is None or isinstance(device.rating_a, Unknown | None):
            continue
        if isinstance(found_a, Unknown):
            yield RULE.cannot_judge(
                f"which {device.kind} is in `{circuit.place}` now is unknown",
                circuit.span,
                fix="read the rating on it, not the mark beside the slot",
            )
        elif found_a != device.rating_a:
            yield _finding(study, circuit, device, found_a, device.rating_a)


def _finding(
    study: Study, circuit: Circuit, device: Device, found_a: float, rating_a: float
) -> Finding:
    found, rated = show_unequal(found_a, rating_a, "A")
    limit = largest_for_wires(study, circuit)
    over = limit is not None and found_a > limit.value
    bears = f", its wires bear {show_limit(limit.value, 'A')}" if over and limit is not None else ""
    larger = found_a > rating_a
    cause = "; find out what made somebody put a larger one in" if larger else ""
    return RULE.finding(
        f"{found} {device.kind} found in `{circuit.place}`, {rated} belongs there{bears}",
        circuit.span,
        fix=Fix(f"put {rated} in{cause}, then take `found` out of the text"),
        severity=Severity.DANGER if over else None if larger else Severity.ADVICE,
        numbers=(("found_a", found_a), ("rating_a", rating_a)),
    )
