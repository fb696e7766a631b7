"""Two things have one name.

*Why:* nobody can tell which of them a wire lands on, and two tags would say the same.
"""

from collections.abc import Iterator

from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.rule import Rule
from rigfolio.study import Study

RULE = Rule("name-used-twice", Severity.FAULT, Citation("one name, one thing", "common practice"))


def check(study: Study) -> Iterator[Finding]:
    """Every second use of a name."""
    for problem in study.rig.problems:
        if problem.kind == "used-twice":
            yield RULE.finding(
                f"the name `{problem.name}` is used twice",
                problem.at,
                others=[(problem.other, "first used here")] if problem.other else [],
                fix=Fix("give one of them another name"),
            )
