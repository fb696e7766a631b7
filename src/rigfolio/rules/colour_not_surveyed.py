"""The colour of a wire has not been surveyed.

*Why:* no limit turns on a colour, but the next person looks for the wire by it: legend and tags
print `?` in its place.
"""

from collections.abc import Iterator

from rigfolio.findings import Citation, Finding, Fix, Severity, Unknown
from rigfolio.rule import Rule
from rigfolio.study import Study

RULE = Rule(
    "colour-not-surveyed",
    Severity.ADVICE,
    Citation("a wire is found by its colour", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every stated wire whose colour is unknown."""
    for wire in study.rig.conductors:
        if isinstance(wire.colour, Unknown) and not wire.assumed and not wire.lead:
            yield RULE.finding(
                f"colour of `{wire.name}` is not surveyed",
                wire.span,
                fix=Fix("look at the wire by daylight, and write base and stripe"),
            )
