"""More current meets at a bar than the bar is made for.

*Why:* a bar has a rating like any other part, and nothing on it opens.
"""

from collections.abc import Iterator

from rigfolio.demand import flows_of
from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.network import edge_name
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.units import apart, is_over, show_added, show_limit

RULE = Rule(
    "busbar-overloaded",
    Severity.FAULT,
    Citation("demand at one time against the rating of the bar", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every bar, frame or splice with a rating against the largest demand of a wire on it."""
    for bar in study.rig.junctions:
        if not isinstance(bar.rating_a, float):
            continue
        names = [edge_name(edge) for edge, _ in study.net.steps(bar.terminal)]
        demand_a = flows_of(study).most(names).current_a
        if not is_over(demand_a, bar.rating_a):
            continue
        word = bar.traits.spoken
        yield RULE.finding(
            f"{apart(demand_a, bar.rating_a, 'A')} at one time on {word} `{bar.about.name}` "
            f"made for {show_limit(bar.rating_a, 'A')}",
            bar.about.span,
            fix=Fix(f"a {word} of {show_added(demand_a, 'A')} or more, or two of them"),
            numbers=(("demand_a", demand_a), ("rating_a", bar.rating_a)),
        )
