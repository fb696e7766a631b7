"""A load has no way back to the source that feeds it.

*Why:* without a return it does not work; with a return through some bolt or hinge it works and heats
the bolt.
"""

from collections.abc import Iterator

from rigfolio.findings import Finding, Fix, Severity, Source
from rigfolio.study.rule import Rule
from rigfolio.study.study import Study

RULE = Rule(
    "missing-return",
    Severity.FAULT,
    Source("every load has a way out and a way back", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every load whose minus does not reach a source; returns not surveyed are left to others."""
    unsure = {
        p.name for p in study.rig.problems if p.kind in ("return-unknown", "return-not-plain")
    }
    for load in study.rig.loads:
        if study.side.get(load.plus) != "+" or study.side.get(load.minus) == "-":
            continue
        if load.circuit in unsure or load.minus in study.shorted:
            continue
        label = load.about.label or load.about.name
        yield RULE.finding(
            f"`{label}` has no way back to a source",
            load.about.span,
            fix=Fix("a `return` in its circuit, or a wire from its minus to the negative bar"),
        )
