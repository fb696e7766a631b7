"""A position of a switch that makes nothing of its own: nothing is wired to it, or both are one.

A changeover has an end for each position. One that no wire leads to may be what is meant, as where
the second circuit is yet to come: it is advice. Ends that are joined to each other by wires alone
feed the same whichever way the handle stands: then it only seems to choose, and that is a fault.

*Why:* whoever turns the handle trusts that it does what is written there. A bilge pump whose
`automatic` is wired to nothing runs by nobody's hand.
"""

from collections.abc import Iterator

from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.model import Device
from rigfolio.network import Edge, changeovers
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.wording import position_words

RULE = Rule(
    "position-makes-nothing",
    Severity.FAULT,
    Citation("each position of a switch has its own circuit", "common practice"),
    also=(Severity.ADVICE,),
)


def check(study: Study) -> Iterator[Finding]:
    """Every such switch with an end that leads nowhere, or with two that are joined."""
    for name, ways in changeovers(study.rig).items():
        if any(one.line == one.load for one in ways):
            continue
        bare = [one for one in ways if _leads_nowhere(study, one)]
        for one in bare:
            at = position_words(study.rig, name, one.position)
            yield RULE.finding(
                f"nothing is wired to position {at} of `{name}`",
                one.about.span,
                fix=Fix(f"a wire from `{one.line}`, or a plain `switch` where it has one way only"),
                severity=Severity.ADVICE,
            )
        if not bare and _are_joined(study, ways):
            yield RULE.finding(
                f"`{ways[0].line}` and `{ways[1].line}` are joined: `{name}` feeds the same in "
                "both positions",
                ways[0].about.span,
                fix=Fix("part the wires behind it, or write a plain `switch`"),
            )


def _leads_nowhere(study: Study, one: Device) -> bool:
    others = (edge for edge, _ in study.net.steps(one.line) if edge is not one)
    is_post = any(one.line in source.terminals for source in study.rig.sources)
    ends = (end for load in study.rig.loads for end in (load.plus, load.minus))
    return not (any(True for _ in others) or is_post or one.line in ends)


def _are_joined(study: Study, ways: tuple[Device, ...]) -> bool:
    """Whether wires alone join the ends of two positions; a switch between may part them."""

    def bars(edge: Edge) -> bool:
        return isinstance(edge, Device)

    near = study.net.walk([ways[0].line], bars)
    return any(one.line in near for one in ways[1:])
