"""A converter or charger that has no battery beside it gives less than its loads ask for.

So does a battery that may give no more for hours, by the figure of its maker, than its part of what
runs for hours.

*Why:* nothing else gives the rest. Its volts fall until loads drop out, or it switches off and on.
"""

from collections.abc import Iterator

from rigfolio.demand import demand_by_level, flows_of
from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.units import apart, is_over, show_limit, show_load
from rigfolio.wording import with_kind

RULE = Rule(
    "source-overloaded",
    Severity.FAULT,
    Citation("demand at one time against the output of the only source", "common practice"),
)

_MAKER = Citation("as stated for this battery, from its maker", "seen")


def check(study: Study) -> Iterator[Finding]:
    """Every source that alone feeds its loads against their demand, every battery for hours."""
    yield from _for_hours(study)
    lone = set(flows_of(study).lone)
    for source in study.rig.sources:
        name, limit_a = source.about.name, source.limit_a
        if name not in lone or not isinstance(limit_a, float):
            continue
        asked_a = flows_of(study).asked_a(name)
        if not is_over(asked_a, limit_a):
            continue
        yield RULE.finding(
            f"loads of {apart(asked_a, limit_a, 'A')} at one time on {with_kind(source.kind, name)}"
            f", which gives {show_limit(limit_a, 'A')} and has no battery beside it",
            source.about.span,
            fix=Fix(
                f"one that gives {show_load(asked_a, 'A')} or more, a battery beside it, or fewer "
                "loads"
            ),
            numbers=(("asked_a", asked_a), ("limit_a", limit_a)),
        )


def _for_hours(study: Study) -> Iterator[Finding]:
    """Batteries of which more is asked for hours than their maker allows."""
    asked_a = {
        one.name: one.continuous_a for one in demand_by_level(study) if one.level == "source"
    }
    for battery in study.rig.sources:
        name, limit_a = battery.about.name, battery.hours_a
        if limit_a is None or not is_over(asked_a.get(name, 0.0), limit_a):
            continue
        yield RULE.finding(
            f"loads of {apart(asked_a[name], limit_a, 'A')} for hours on "
            f"{with_kind(battery.kind, name)}, which gives {show_limit(limit_a, 'A')}",
            battery.about.span,
            source=_MAKER,
            fix=Fix("a second one beside it, one that gives more, or fewer loads for hours"),
            numbers=(("asked_a", asked_a[name]), ("limit_a", limit_a)),
        )
