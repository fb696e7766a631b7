"""A load that no source feeds: its plus terminal is joined to nothing that drives it.

*Why:* either it is dead, or the text leaves out the wire that keeps it alive.
"""

from collections.abc import Iterator

from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.protection import explained, groups
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.wording import label_of, listed

RULE = Rule(
    "load-without-path",
    Severity.FAULT,
    Citation("every load is joined to plus and to minus", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Loads whose plus is not on the plus side of a source; those joined together once."""
    dead = [
        load
        for load in study.rig.loads
        if load.plus not in study.side and load.plus not in study.shorted
    ]
    if not dead:
        return
    told = explained(study, "+")
    for group in groups(study, [load for load in dead if load.about.name not in told], "+"):
        first = group[0]
        where = f" of `{first.circuit}`" if first.circuit and len(group) == 1 else ""
        yield RULE.finding(
            f"no source feeds {listed(label_of(load) for load in group)}{where}",
            first.about.span,
            others=[(load.about.span, "nor this one") for load in group[1:4]],
            fix=Fix("a wire from a source, a panel or a slot to its plus"),
        )
