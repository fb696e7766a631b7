"""More current may come back into a string of solar modules than its modules bear.

The strings beside a shaded or faulty one drive into it all that they give, or what a fuse on the
way lets through. The label of a module tells the largest fuse that it may stand in series with:
more than that is a danger. One string alone, and two side by side, need no fuse by the habits of
codes. Where the label is not told, three or more without fuses are advice.

*Why:* the modules of the weak string turn the power of all others into heat, on a roof, with nobody
there.
"""

from collections.abc import Iterator

from rigfolio.books import sun_figure
from rigfolio.findings import Citation, Finding, Fix, Severity, Span, Unknown
from rigfolio.model import Conductor, Source
from rigfolio.protection import arrays_beside, back_into, is_fused, string_fuse_fix, string_lead
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.units import apart, is_over, show_limit, show_load

RULE = Rule(
    "array-fed-back",
    Severity.DANGER,
    Citation("what comes back into modules against the largest fuse on their label", "seen"),
    also=(Severity.UNKNOWN, Severity.ADVICE),
)


def check(study: Study) -> Iterator[Finding]:
    """Every array against what all strings beside its own drive back; alike ones once."""
    told: set[tuple[float, float | Unknown | None, frozenset[str]]] = set()
    for array in study.rig.sources:
        if array.modules is None or array.plus in study.shorted:
            continue
        beside = arrays_beside(study, array)
        inflow = back_into(study, array)
        key = (inflow.current_a, array.modules.back_a, frozenset(s.about.name for s in beside))
        strings = sum(one.modules.parallel for one in beside if one.modules is not None)
        finding = _finding(study, array, inflow.current_a, strings)
        if finding is not None and key not in told:
            told.add(key)
            yield finding


def _leads(study: Study, beside: tuple[Source, ...]) -> list[Conductor]:
    """The wires that carry the strings of some arrays to where they meet."""
    leads = [string_lead(study, one) for one in beside] if len(beside) > 1 else []
    return [one for one in leads if one is not None]


def _said(study: Study, lead: Conductor, most_a: float) -> tuple[Span, str]:
    """What a lead has to do with it: that its fuse is too large, or that it leads to the others."""
    fuse = next(iter(study.rig.seated.get(lead.name, ())), None)
    if fuse is None or not isinstance(fuse.rating_a, float) or not is_over(fuse.rating_a, most_a):
        return lead.span, "leads to the others"
    label = show_limit(most_a, "A")
    return fuse.rating_span or lead.span, f"larger than the {label} on the label of the modules"


def _finding(study: Study, array: Source, back_a: float, strings: int) -> Finding | None:
    modules, name = array.modules, array.about.name
    most_a = modules.back_a if modules is not None else None
    few = sun_figure("side_by_side", "strings")
    beside = arrays_beside(study, array)
    fix = string_fuse_fix(study, beside)
    if isinstance(most_a, float):
        if not is_over(back_a, most_a):
            return None
        return RULE.finding(
            f"{apart(back_a, most_a, 'A')} may come back into a string of `{name}` from the others,"
            f" its modules bear {show_limit(most_a, 'A')}",
            array.about.span,
            here=f"{strings} strings side by side",
            others=[_said(study, lead, most_a) for lead in _leads(study, beside)],
            fix=fix,
            numbers=(("back_a", back_a), ("limit_a", most_a)),
        )
    if strings <= few.value or back_a == 0.0 or is_fused(study, array):
        return None
    words = f"{show_load(back_a, 'A')} may come back into a string of `{name}` from the others"
    if isinstance(most_a, Unknown):
        return RULE.cannot_judge(
            f"{words}, what its modules bear is unknown",
            array.about.span,
            fix="read the largest series fuse on the label of a module",
        )
    return RULE.finding(
        f"{words}, {strings} strings without fuses",
        array.about.span,
        source=few.source,
        fix=Fix(f"{fix.text}; `series fuse` of the label tells whether it needs one"),
        numbers=(("back_a", back_a), ("limit_a", 0.0)),
        severity=Severity.ADVICE,
    )
