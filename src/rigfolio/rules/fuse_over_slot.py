"""A fuse or breaker is rated above what its slot is made for.

*Why:* the clips of a slot are made for a current. A larger fuse lets more through, the clips run hot
and cook the bay, and no fuse sees it.
"""

from collections.abc import Iterator

from rigfolio.findings import Finding, Fix, Severity, Source
from rigfolio.study.rule import Rule
from rigfolio.study.study import Study
from rigfolio.units import show

RULE = Rule(
    "fuse-over-slot",
    Severity.DANGER,
    Source("rating of a slot by the maker of the panel", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every device in a slot against the rating of the slot."""
    for circuit in study.rig.circuits:
        device = study.device(circuit.device)
        if not circuit.panel or device is None or not isinstance(device.rating_a, float):
            continue
        panel = study.rig.panel(circuit.panel)
        if not isinstance(panel.slot_a, float) or device.rating_a <= panel.slot_a:
            continue
        needed_a = study.flows.demand(device.about.name).current_a
        allowed = show(panel.slot_a, "A")
        fix = Fix(f"`{device.kind} {allowed}` or less", "show")
        if needed_a > panel.slot_a:
            fix = Fix(
                f"move it out of the panel: its loads need {show(needed_a, 'A')}, a slot of "
                f"`{panel.about.name}` gives {allowed}"
            )
        yield RULE.finding(
            f"{show(device.rating_a, 'A')} {device.kind} in slot `{circuit.place}` made for "
            f"{allowed}",
            device.rating_span or device.about.span,
            others=[(panel.about.span, f"slots of {allowed}")],
            fix=fix,
            numbers=(("rating_a", device.rating_a), ("slot_a", panel.slot_a)),
        )
