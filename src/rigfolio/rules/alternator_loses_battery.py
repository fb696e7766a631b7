"""A selector or a switch can take the last battery off an alternator that runs.

A selector does so between two of its positions, or at `off`; so does a disconnect in the line of
the alternator. It is advice, since nobody is meant to turn either with the engine running.

*Why:* an alternator whose battery goes away drives its volts to a hundred and more before its
regulator notices: its diodes go, and with them all electronics that are on.
"""

from collections.abc import Iterator

from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.protection import losing_battery
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.wording import with_kind

RULE = Rule(
    "alternator-loses-battery",
    Severity.ADVICE,
    Citation("an alternator never runs without a battery on its output", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every alternator, with the first switch that parts it from its last battery."""
    for source, parting in losing_battery(study, "engine"):
        worst = next((one for one in parting if one.traits.selects), parting[0])
        name = source.about.name
        yield RULE.finding(
            f"{with_kind(worst.kind, worst.about.name)} can leave `{name}` without a battery while "
            "the engine runs",
            worst.about.span,
            others=[(source.about.span, "drives through it into its only battery")],
            fix=Fix(
                f"lead `{name}` straight to a battery, with a fuse there, and let a combining "
                "relay or a charger share with the other"
            ),
        )
