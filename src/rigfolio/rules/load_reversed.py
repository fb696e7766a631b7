"""A load is joined the wrong way round: its plus to the minus side, or its minus to the plus side.

*Why:* electronics die of it; a motor runs backwards. Colours do not tell, the wiring does.
"""

from collections.abc import Iterator

from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.model import Load
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.wording import label_of

RULE = Rule(
    "load-reversed",
    Severity.FAULT,
    Citation("plus to plus, minus to minus", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every load with a terminal on the wrong side; a source that is so is told by its own rule."""
    wrong = [load for load in study.rig.loads if _wrong_end(study, load)]
    for load in wrong:
        end = _wrong_end(study, load)
        yield RULE.finding(
            f"the {end} of `{label_of(load)}` is joined to the "
            f"{'minus' if end == 'plus' else 'plus'} side",
            load.about.span,
            others=[
                *((wire.span, "lands on its plus") for wire in study.net.wires(load.plus)),
                *((wire.span, "lands on its minus") for wire in study.net.wires(load.minus)),
            ],
            fix=Fix("change its two wires over"),
        )


def _wrong_end(study: Study, load: Load) -> str:
    if study.side.get(load.plus) == "-":
        return "plus"
    return "minus" if study.side.get(load.minus) == "+" else ""
