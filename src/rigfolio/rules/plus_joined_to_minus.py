"""Wires join the plus and the minus of sources with no load between them.

*Why:* that is a short circuit, as it stands in the text.
"""

from collections.abc import Iterator

from rigfolio.findings import Finding, Fix, Severity, Source
from rigfolio.model.graph import Conductor
from rigfolio.study.net import ends
from rigfolio.study.rule import Rule
from rigfolio.study.study import Study

RULE = Rule(
    "plus-joined-to-minus",
    Severity.DANGER,
    Source("plus and minus meet only in a load", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """One finding for each source whose two terminals are joined by wires."""
    for source in study.rig.sources:
        if source.plus not in study.shorted or source.minus not in study.shorted:
            continue
        back = study.net.walk([source.plus])
        if source.minus not in back:
            continue
        wires = []
        step = back[source.minus]
        while step is not None:
            edge, here = step
            if isinstance(edge, Conductor):
                wires.append(edge)
            step = back[here]
        at = wires[0].span if wires else source.about.span
        names = " to ".join(ends(wires[0])) if wires else ""
        yield RULE.finding(
            f"wires join plus and minus of `{source.about.name}`",
            at,
            here=f"{names} closes the ring" if names else "",
            others=[(wire.span, "part of the ring") for wire in wires[1:4]],
            fix=Fix("see which end of these wires is written wrong"),
        )
        return
