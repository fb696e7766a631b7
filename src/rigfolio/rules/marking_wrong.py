"""What is marked beside a slot is not the rating of the fuse that belongs there.

*Why:* the next person goes by the mark. A mark that is too high is an instruction to overload the
wire.
"""

from collections.abc import Iterator

from rigfolio.findings import Citation, Finding, Fix, Severity
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
            marked, rated = show_unequal(marked_a, device.rating_a, "A")
            yield RULE.finding(
                f"`{circuit.place}` is marked {marked}, {rated} belongs there",
                circuit.span,
                fix=Fix("print its label and put it over the mark, then take `marked` out"),
                numbers=(("marked_a", marked_a), ("rating_a", device.rating_a)),
            )
