"""A frame stands in the text, and nothing bonds it to the minus of a source.

Where loads return by it, that they have no way back is told instead.

*Why:* a plus wire that chafes on a frame that is bonded opens its fuse. On one that is not, the
whole frame becomes live and waits for the next thing that touches it.
"""

from collections.abc import Iterator

from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.rule import Rule
from rigfolio.study import Study

RULE = Rule(
    "frame-not-bonded",
    Severity.FAULT,
    Citation("the metal of a rig is bonded to its minus", "common practice"),
    also=(Severity.ADVICE,),
)


def check(study: Study) -> Iterator[Finding]:
    """Every frame that no source's minus reaches, ends that were not found left aside."""
    for frame in study.rig.junctions:
        end = frame.terminal
        if not frame.traits.is_frame or study.side.get(end) or end in study.shorted:
            continue
        joined = study.net.walk([end])
        if any("~" in one for one in joined) or any(
            load.minus in joined or load.plus in joined for load in study.rig.loads
        ):
            continue
        least = study.book.chassis_bond_m2()
        minus = [source.minus for source in study.rig.sources if source.stores]
        where = f" to `{minus[0]}`" if minus else ""
        yield RULE.finding(
            f"{frame.kind} `{frame.about.name}` is bonded to nothing",
            frame.about.span,
            source=None if least is None else least.source,
            severity=Severity.ADVICE if least is None else None,
            fix=Fix(f"a bond from `{frame.about.name}`{where}; if there is one, write its wire"),
        )
