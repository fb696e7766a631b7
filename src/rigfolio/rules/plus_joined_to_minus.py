"""Wires join the plus and the minus of sources with no load between them.

*Why:* that is a short circuit, as it stands in the text.
"""

from collections.abc import Iterator

from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.model import Conductor, Source
from rigfolio.network import Edge, ends, path
from rigfolio.rule import Rule
from rigfolio.study import Study

RULE = Rule(
    "plus-joined-to-minus",
    Severity.DANGER,
    Citation("plus and minus meet only in a load", "common practice"),
    also=(Severity.UNKNOWN,),
    unguarded=True,
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
            yield _short(study, own[0])
        elif meets:
            crossed = study.net.walk([source.minus])
            turned = [other for other in meets if other.plus in crossed]
            if turned:
                told |= crossed.keys()
                yield _reversed(study, source, turned[0])
            else:
                yield _series(study, source, meets[0])


def _short(study: Study, source: Source) -> Finding:
    back = study.net.walk([source.plus])
    ring = [edge for edge in path(back, source.minus) if isinstance(edge, Conductor)][::-1]
    wrong = min(ring, key=lambda wire: _conflicts(study, source, wire)) if ring else None
    names = " to ".join(ends(wrong)) if wrong else ""
    others = [wire for wire in ring if wire is not wrong]
    return RULE.finding(
        f"wires join plus and minus of `{source.about.name}`",
        wrong.span if wrong else source.about.span,
        here=f"{names} closes the ring" if names else "",
        others=[(wire.span, "part of the ring") for wire in others[:3]],
        fix=Fix(
            "see which end of these wires is written wrong; what hangs on them is judged after that"
        ),
    )


def _conflicts(study: Study, source: Source, wire: Conductor) -> int:
    """What would still be wrong if a wire of the ring were not there.

    Wherever plus and minus still meet, and every end of a load that lies on the wrong side; the
    wire with the fewest is the likeliest slip, of equals the one nearest the plus.
    """

    def is_out(edge: Edge) -> bool:
        return edge is wire

    plus, minus = study.net.walk([source.plus], is_out), study.net.walk([source.minus], is_out)
    loads = study.rig.loads
    wrong = sum((load.plus in minus) + (load.minus in plus) for load in loads)
    sources = sum((one.plus in minus) + (one.minus in plus) for one in study.rig.sources)
    panels = sum(panel.feed in minus for panel in study.rig.panels)
    return wrong + sources + panels


def _reversed(study: Study, source: Source, other: Source) -> Finding:
    one, two = source, other
    if one.stores and not two.stores:
        one, two = two, one
    return RULE.finding(
        f"`{one.about.name}` and `{two.about.name}` are joined plus to minus and minus to plus",
        one.about.span,
        here="joined the wrong way round to the other",
        others=[
            (two.about.span, "the other"),
            *((wire.span, "lands on its plus") for wire in study.net.wires(one.plus)[:2]),
            *((wire.span, "lands on its minus") for wire in study.net.wires(one.minus)[:2]),
        ],
        fix=Fix(
            f"measure which of `{one.about.name}` and `{two.about.name}` has plus and minus "
            "changed over before either is moved"
        ),
    )


def _series(study: Study, source: Source, other: Source) -> Finding:
    return RULE.cannot_judge(
        f"plus of `{source.about.name}` is joined to minus of `{other.about.name}`, one after the "
        "other",
        source.about.span,
        others=[(wire.span, "joins them") for wire in _between(study, source.plus, other.minus)],
        fix="see which end of these wires is written wrong",
    )


def _between(study: Study, start: str, end: str) -> list[Conductor]:
    """The wires from one terminal to another."""
    way = path(study.net.walk([end]), start)
    return [edge for edge in way if isinstance(edge, Conductor)][:3]
