"""Strings of solar modules that stand side by side have unlike volts.

It is seldom the modules, mostly their number: two in series beside three in series.

*Why:* side by side all have the volts of the lowest. The others give next to nothing of what they
could, and on a hot afternoon drive into the weakest.
"""

from collections.abc import Iterator

from rigfolio.books import sun_figure
from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.model import Source
from rigfolio.protection import arrays_beside, open_circuit_v
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.units import is_over, show

RULE = Rule(
    "strings-unlike",
    Severity.FAULT,
    Citation("strings side by side have the same volts", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every group of arrays that are joined at both poles, the lowest against the highest."""
    told: set[str] = set()
    for array in study.rig.sources:
        if not array.traits.by_light or array.about.name in told:
            continue
        beside = arrays_beside(study, array)
        told |= {one.about.name for one in beside}
        known = [(volts, one) for one in beside if (volts := open_circuit_v(one)) is not None]
        if known:
            yield from _judged(known)


def _judged(known: list[tuple[float, Source]]) -> Iterator[Finding]:
    low_v, low = min(known, key=lambda one: one[0])
    high_v, high = max(known, key=lambda one: one[0])
    allowed = sun_figure("unlike", "share")
    if not is_over(high_v, low_v * (1.0 + allowed.value)):
        return
    yield RULE.finding(
        f"`{low.about.name}` of {show(low_v, 'V')} stands beside `{high.about.name}` of "
        f"{show(high_v, 'V')}",
        low.about.span,
        here=_in_series(low),
        others=[(high.about.span, _in_series(high))],
        source=allowed.source,
        fix=Fix("as many modules in series in each, or a controller for each"),
        numbers=(("low_v", low_v), ("high_v", high_v)),
    )


def _in_series(array: Source) -> str:
    count = array.modules.series if array.modules is not None else 1
    return "one module" if count == 1 else f"{count} modules in series"
