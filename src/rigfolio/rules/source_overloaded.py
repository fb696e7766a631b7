"""A converter or charger that has no battery beside it gives less than its loads ask for.

So does a battery that may give no more for hours, by the figure of its maker, than its part of what
runs for hours. A load that starts at more than such a converter or charger gives is told of, too.

*Why:* nothing else gives the rest. Its volts fall until loads drop out, or it switches off and on.
"""

from collections.abc import Iterator

from rigfolio.demand import demand_by_level, flows_of
from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.model import Source
from rigfolio.operating import starting_a
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.units import apart, is_over, show_limit, show_load
from rigfolio.wording import label_of, with_kind

RULE = Rule(
    "source-overloaded",
    Severity.FAULT,
    Citation("demand at one time against the output of the only source", "common practice"),
    also=(Severity.ADVICE,),
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
            yield from _starved(study, source, limit_a)
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


def _starved(study: Study, source: Source, limit_a: float) -> Iterator[Finding]:
    """The load that starts hardest on a source which alone feeds it, and gives less than that."""
    behind = study.net.walk([source.plus])
    starts = (
        (starting_a(study, load) or 0.0, load)
        for load in study.rig.loads if load.starts_at and load.plus in behind
    )  # fmt: skip
    start_a, load = max(starts, key=lambda pair: pair[0], default=(0.0, None))
    if load is None or not is_over(start_a, limit_a):
        return
    yield RULE.finding(
        f"`{label_of(load)}` starts at {apart(start_a, limit_a, 'A')} on "
        f"{with_kind(source.kind, source.about.name)}, which gives {show_limit(limit_a, 'A')} and "
        "has no battery beside it",
        load.about.span,
        others=[(source.about.span, "gives no more")],
        severity=Severity.ADVICE,
        fix=Fix(
            f"one that gives {show_load(start_a, 'A')} or more for as long as a start lasts, a "
            "battery beside it, or a soft start: the load may not start, and the volts of all else "
            "there fall"
        ),
        numbers=(("start_a", start_a), ("limit_a", limit_a)),
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
