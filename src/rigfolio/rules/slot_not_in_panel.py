"""A slot number that the panel does not have.

*Why:* the circuit sits in another slot than the text says, or the panel has more slots.
"""

from collections.abc import Iterator

from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.wording import how_many

RULE = Rule("slot-not-in-panel", Severity.FAULT, Citation("slots as counted", "common practice"))


def check(study: Study) -> Iterator[Finding]:
    """Every slot number beyond the slots of its panel."""
    for problem in study.rig.problems:
        if problem.kind == "no-slot":
            slots = f", it has {how_many(int(problem.near), 'slot')}" if problem.near else ""
            panel = problem.name.split(".", maxsplit=1)[0]
            yield RULE.finding(
                f"panel `{panel}` has no slot `{problem.name}`{slots}",
                problem.at,
                others=[(problem.other, "the panel")] if problem.other else [],
                fix=Fix(f"a slot `{panel}.1` to `{panel}.{problem.near}`")
                if problem.near
                else None,
            )
