"""A fuse protects the wire, but sits too far along it from where the supply connects.

*Why:* everything before the fuse is unprotected. The rule books allow a short piece, measured along
the wire.
"""

from collections.abc import Iterator

from rigfolio.findings import Finding, Fix, Severity, Source
from rigfolio.study.rule import Rule
from rigfolio.study.study import Study
from rigfolio.study.wayout import name_of
from rigfolio.units import show

RULE = Rule(
    "fuse-too-far",
    Severity.DANGER,
    Source("distance from the supply to the protecting device", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every unprotected conductor whose device comes too late."""
    for exposure in study.exposures:
        if not exposure.is_bare or exposure.run_m == float("inf"):
            continue
        wire = exposure.wire
        unit = "in" if wire.size_is_awg else "mm"
        run, reach = show(exposure.run_m, unit), show(exposure.reach.value, unit)
        yield RULE.finding(
            f"{run} along {name_of(wire)} to the device that protects it, {reach} are allowed",
            wire.span,
            here=f"unprotected for {run}",
            source=exposure.reach.source,
            fix=Fix(f"move the device to within {reach} of the supply"),
            numbers=(("run_m", exposure.run_m), ("reach_m", exposure.reach.value)),
        )
