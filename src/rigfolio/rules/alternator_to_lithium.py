"""An alternator drives straight into a lithium battery, and nothing limits it to what that takes.

A fuse or a relay limits nothing: it passes all that the alternator gives. What limits is a DC-DC
charger between them, or a regulator that holds the alternator back; of that its `note` may tell.
What only a switch for an emergency joins, open in use, is left out. It is advice: that a charger or
a protector is wanted is common practice, and no limit that was seen in print says how much an
alternator stands.

*Why:* a lithium battery takes all that an alternator can give for an hour, and few alternators bear
that hot. When the battery's electronics then cut off at full current, the volts leap.
"""

from collections.abc import Iterator

from rigfolio.books import is_limited
from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.isolation import in_use
from rigfolio.rule import Rule
from rigfolio.study import Study

RULE = Rule(
    "alternator-to-lithium",
    Severity.ADVICE,
    Citation("an alternator charges lithium through what limits its current", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every alternator with a lithium battery that it reaches by wires, fuses and switches."""
    for source in study.rig.sources:
        if not source.traits.guard_by_output or is_limited(source.about.note):
            continue
        reached = study.net.walk([source.plus], in_use(study.rig).bars)
        taking = [
            battery
            for battery in study.rig.sources
            if battery.stores and battery.chemistry == "lithium" and battery.plus in reached
        ]
        if not taking:
            continue
        name, battery = source.about.name, taking[0]
        yield RULE.finding(
            f"`{name}` drives straight into lithium battery `{battery.about.name}`, nothing limits "
            "its current",
            source.about.span,
            others=[(one.about.span, "takes all that it gives") for one in taking],
            fix=Fix(
                f"a DC-DC charger between them; or, where a regulator holds `{name}` back by its "
                'heat, say so: `note "limited to 60 A by its regulator"`'
            ),
        )
