"""A load that no source feeds: its plus terminal is joined to nothing that drives it.

*Why:* either it is dead, or the text leaves out the wire that keeps it alive.
"""

from collections.abc import Iterator

from rigfolio.findings import Finding, Fix, Severity, Source
from rigfolio.study.rule import Rule
from rigfolio.study.study import Study

RULE = Rule(
    "load-without-path",
    Severity.FAULT,
    Source("every load has a way out and a way back", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every load whose plus is not on the plus side of a source."""
    for load in study.rig.loads:
        if load.plus in study.side or load.plus in study.shorted:
            continue
        label = load.about.label or load.about.name
        where = f" of `{load.circuit}`" if load.circuit else ""
        yield RULE.finding(
            f"no source feeds `{label}`{where}",
            load.about.span,
            fix=Fix("a wire from a source, a panel or a slot to its plus"),
        )
