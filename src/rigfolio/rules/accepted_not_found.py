"""A finding that the text accepts and that is not found there any more.

An `accept` of a rule that there is none of, or that the rule book does not hold, is told too.

*Why:* what was mended needs no excuse, and a line that is left standing would hide the same fault
when it comes back.
"""

from collections.abc import Iterator

from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.nearness import nearest
from rigfolio.rule import Rule, accepts, rule, rule_names
from rigfolio.study import Study

RULE = Rule(
    "accepted-not-found",
    Severity.ADVICE,
    Citation("what is accepted is what is found", "common practice"),
    also=(Severity.FAULT,),
)


def check(study: Study) -> Iterator[Finding]:
    """Every `accept` that accepts nothing."""
    for one in study.rig.accepted:
        if one.rule not in rule_names():
            close = nearest(one.rule, rule_names())
            way = f"the nearest name is `{close}`" if close else "`rigfolio explain` lists them"
            yield RULE.finding(
                f"`{one.rule}` is accepted, and no rule is called that",
                one.span,
                fix=Fix(way),
                severity=Severity.FAULT,
            )
        elif one.rule == RULE.name or study.book.name not in rule(one.rule)[0].books:
            yield RULE.finding(
                f"`{one.rule}` is accepted, and rule book {study.book.name} does not ask for it",
                one.span,
                fix=Fix("take the line out"),
            )
        elif not any(accepts(study.rig, one, each) for each in rule(one.rule)[1](study)):
            yield RULE.finding(
                f"`{one.rule}` at `{one.place}` accepted since {one.date} is not found there",
                one.span,
                fix=Fix("take the line out, once it is seen that it was mended"),
            )
