"""What is marked beside a slot is not the rating of the fuse that belongs there.

*Why:* the next person goes by the mark. A mark that is too high is an instruction to overload the
wire. Where the fuse itself is too large, its rating must not get a label either.
"""

from collections.abc import Iterator

from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.model import Circuit, Device
from rigfolio.protection import is_too_large
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.units import show_unequal

RULE = Rule(
    "marking-wrong",
    Severity.ADVICE,
    Citation("a slot is marked with the fuse that belongs in it", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every circuit of which the text says what is marked."""
    for circuit in study.rig.circuits:
        device, marked_a = study.device(circuit.device), circuit.marked_a
        if device is None or not isinstance(marked_a, float):
            continue
        if isinstance(device.rating_a, float) and device.rating_a != marked_a:
            yield _finding(study, circuit, device, (marked_a, device.rating_a))


def _finding(
    study: Study, circuit: Circuit, device: Device, ratings_a: tuple[float, float]
) -> Finding:
    marked, rated = show_unequal(*ratings_a, "A")
    words = f"`{circuit.place}` is marked {marked}, {rated} belongs there"
    label = "print its label and put it over the mark, then take `marked` out"
    if is_too_large(study, circuit):
        words = f"`{circuit.place}` is marked {marked}, the text says {rated}, which is too large"
        label = f"settle first which {device.kind} its slot and wires allow; then {label}"
    return RULE.finding(
        words,
        circuit.span,
        fix=Fix(label),
        numbers=(("marked_a", ratings_a[0]), ("rating_a", ratings_a[1])),
    )
