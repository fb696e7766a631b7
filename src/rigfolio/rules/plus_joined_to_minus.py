"""Wires join the plus and the minus of sources with no load between them.

*Why:* that is a short circuit, as it stands in the text. Batteries in series are written as one
battery of the volts of both.
"""

from collections.abc import Iterator

from rigfolio.findings import Finding, Fix, Severity, Source
from rigfolio.model.graph import Conductor
from rigfolio.model.graph import Source as Supply
from rigfolio.study.net import Step, ends, path
from rigfolio.study.rule import Rule
from rigfolio.study.study import Study

RULE = Rule(
    "plus-joined-to-minus",
    Severity.DANGER,
    Source("plus and minus meet only in a load", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """One finding for every net of wires in which a plus and a minus meet."""
    told: set[str] = set()
    for source in study.rig.sources:
        if source.plus not in study.shorted or source.plus in told:
            continue
        back = study.net.walk([source.plus])
        told |= back.keys()
        meets = [other for other in study.rig.sources if other.minus in back]
        own = [other for other in meets if other.plus in back]
        if own:
            yield _short(own[0], study.net.walk([own[0].plus]))
        elif meets:
            yield _series(source, meets[0])


def _short(source: Supply, back: dict[str, Step | None]) -> Finding:
    wires = [edge for edge in path(back, source.minus) if isinstance(edge, Conductor)]
    names = " to ".join(ends(wires[0])) if wires else ""
    return RULE.finding(
        f"wires join plus and minus of `{source.about.name}`",
        wires[0].span if wires else source.about.span,
        here=f"{names} closes the ring" if names else "",
        others=[(wire.span, "part of the ring") for wire in wires[1:4]],
        fix=Fix(
            "see which end of these wires is written wrong; what hangs on them is judged after that"
        ),
    )


def _series(source: Supply, other: Supply) -> Finding:
    return RULE.cannot_judge(
        f"plus of `{source.about.name}` is joined to minus of `{other.about.name}`, one after the "
        "other",
        source.about.span,
        fix="write batteries in series as one `battery` of the volts of both",
    )
