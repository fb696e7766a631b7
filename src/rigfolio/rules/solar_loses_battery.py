"""A switch can take the battery off a solar controller while the sun shines.

*Why:* most controllers want the battery first and give it up last. Without one they may put the
volts of the panels on everything that is still joined to them, or break.
"""

from collections.abc import Iterator

from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.protection import losing_battery
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.wording import with_kind

RULE = Rule(
    "solar-loses-battery",
    Severity.ADVICE,
    Citation("battery on first and off last, as controllers' manuals ask", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every solar controller, with the first switch that parts it from its last battery."""
    for source, parting in losing_battery(study, "sun"):
        first, name = parting[0], source.about.name
        yield RULE.finding(
            f"{with_kind(first.kind, first.about.name)} takes the battery off `{name}`, which the "
            "sun may drive at that moment",
            first.about.span,
            others=[(source.about.span, "has no other battery")],
            fix=Fix(
                f"join `{name}` ahead of `{first.about.name}`, with a fuse of its own; or part it "
                "from its panels first, and say so beside the switch"
            ),
        )
