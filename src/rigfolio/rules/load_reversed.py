"""A load is joined the wrong way round: its plus to the minus side, or its minus to the plus side.

*Why:* electronics die of it; a motor runs backwards. Colours do not tell, the wiring does.
"""

from collections.abc import Iterator

from rigfolio.findings import Finding, Fix, Severity, Source
from rigfolio.study.rule import Rule
from rigfolio.study.study import Study

RULE = Rule(
    "load-reversed",
    Severity.FAULT,
    Source("plus to plus, minus to minus", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every load with a terminal on the wrong side."""
    for load in study.rig.loads:
        wrong_plus = study.side.get(load.plus) == "-"
        wrong_minus = study.side.get(load.minus) == "+"
        if not wrong_plus and not wrong_minus:
            continue
        end = "plus" if wrong_plus else "minus"
        label = load.about.label or load.about.name
        yield RULE.finding(
            f"the {end} of `{label}` is joined to the {'minus' if wrong_plus else 'plus'} side",
            load.about.span,
            fix=Fix("change its two wires over"),
        )
