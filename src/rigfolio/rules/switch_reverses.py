"""A switch has plus at one of its positions and minus at another: it turns round what hangs on it.

A motor that runs both ways gets plus by the one lead and then by the other. What it takes is
reckoned in one direction: that in which its plus is plus. The wires that serve the other direction
alone carry as much, and nothing is counted on them.

*Why:* a wire on which nothing is counted is never found too thin.
"""

from collections.abc import Iterator

from rigfolio.findings import Citation, Finding, Severity
from rigfolio.model import Device
from rigfolio.network import changeovers
from rigfolio.rule import Rule
from rigfolio.study import Study

RULE = Rule(
    "switch-reverses",
    Severity.UNKNOWN,
    Citation("what runs both ways loads the wires of both", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every such switch with plus and minus of sources behind its positions."""
    for name, ways in changeovers(study.rig).items():
        sides = {side for way in ways for side in _sides(study, ways, way)}
        if sides >= {"+", "-"}:
            yield RULE.cannot_judge(
                f"`{name}` has plus at one position and minus at the other: what hangs on it is "
                "reckoned in one direction",
                ways[0].about.span,
                fix="size the wires of both directions alike, or write the coils that it works",
            )


def _sides(study: Study, ways: tuple[Device, ...], way: Device) -> Iterator[str]:
    """The poles of sources that the end of a position is joined to without the switch."""
    near = study.net.without([way.line], ways)
    for source in study.rig.sources:
        if source.plus in near:
            yield "+"
        if source.minus in near:
            yield "-"
