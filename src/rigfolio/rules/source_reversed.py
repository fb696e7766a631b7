"""A battery, or another source, is joined the wrong way round: plus to minus and minus to plus.

It is told where loads, panels, the frame and other sources all agree on that. Everything else is
judged as if its two wires were changed over already: what one mistake makes is told once.

*Why:* the moment the last lead lands, every diode and all electronics of the rig conduct backwards,
and two sources against each other are a short through both. A trial of the meter before costs a
minute.
"""

from collections.abc import Iterator

from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.rule import Rule
from rigfolio.study import Study

RULE = Rule(
    "source-reversed",
    Severity.DANGER,
    Citation("plus to plus, minus to minus", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """The one source with which turned round nothing lies the wrong way any more."""
    source = study.reversed_source
    if source is None:
        return
    yield RULE.finding(
        f"{source.kind} `{source.about.name}` is joined the wrong way round: its plus to the minus "
        "side, its minus to the plus side",
        source.about.span,
        others=[
            *((wire.span, "lands on its plus") for wire in study.net.wires(source.plus)[:2]),
            *((wire.span, "lands on its minus") for wire in study.net.wires(source.minus)[:2]),
        ],
        fix=Fix(
            f"change the two wires of `{source.about.name}` over, and measure its posts before "
            "the last one lands"
        ),
    )
