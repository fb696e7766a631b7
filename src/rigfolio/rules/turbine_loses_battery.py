"""A switch can take the battery off a wind turbine, which may turn at any time.

A state of the text that opens the switch with the turbine off says that it is braked first.

*Why:* the battery is what holds a turbine back. Without it the turbine overspeeds and its volts
rise, until its regulator, its blades or what is still joined to it break. Opening a switch stops no
wind: only the turbine's own brake does, and that goes first.
"""

from collections.abc import Iterator

from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.protection import losing_battery
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.wording import with_kind

RULE = Rule(
    "turbine-loses-battery",
    Severity.FAULT,
    Citation("a turbine keeps its load, or is braked before it loses it", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every turbine, with the first switch that parts it from its last battery."""
    for source, parting in losing_battery(study, "wind"):
        first, name = parting[0], source.about.name
        yield RULE.finding(
            f"{with_kind(first.kind, first.about.name)} takes the battery off `{name}`, which the "
            "wind may turn at that moment: it overspeeds and its volts rise",
            first.about.span,
            others=[(source.about.span, "has no other battery")],
            fix=Fix(
                f"join `{name}` ahead of `{first.about.name}`, with a fuse of its own; until then "
                f"brake it before `{first.about.name}` is opened, and say so beside the switch"
            ),
        )
