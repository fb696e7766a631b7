"""A converter or charger that has no battery beside it gives less than its loads ask for.

*Why:* nothing else gives the rest. Its volts fall until loads drop out, or it switches off and on.
"""

from collections.abc import Iterator

from rigfolio.demand import flows_of
from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.protection import apart
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.units import show_limit, show_load
from rigfolio.wording import with_kind

RULE = Rule(
    "source-overloaded",
    Severity.FAULT,
    Citation("demand at one time against the output of the only source", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every source that alone feeds its loads against their demand."""
    lone = set(flows_of(study).lone)
    for source in study.rig.sources:
        name, limit_a = source.about.name, source.limit_a
        if name not in lone or not isinstance(limit_a, float):
            continue
        asked_a = flows_of(study).asked_a(name)
        if asked_a <= limit_a * (1.0 + 1e-9):
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
