"""Two statements claim one slot.

*Why:* one of them is wrong, and a label would be too.
"""

from collections.abc import Iterator

from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.rule import Rule
from rigfolio.study import Study

RULE = Rule("slot-used-twice", Severity.FAULT, Citation("one circuit a slot", "common practice"))


def check(study: Study) -> Iterator[Finding]:
    """Every second claim on a slot."""
    for problem in study.rig.problems:
        if problem.kind == "slot-twice":
            yield RULE.finding(
                f"slot `{problem.name}` is used twice",
                problem.at,
                others=[(problem.other, "already used here")] if problem.other else [],
                fix=Fix("give one of them another slot"),
            )
