"""A wire that some source reaches with nothing between that would open.

Every source is walked from, from both ends of the wire: a battery, a towing vehicle, a charger
whose rated output is more than the wire may carry.

*Why:* a chafed wire with no fuse before it carries what the battery can give, hundreds of amperes,
until it burns.
"""

from collections.abc import Iterator

from rigfolio.findings import Finding, Fix, Severity, Source
from rigfolio.model.graph import Conductor
from rigfolio.study.protection import Exposure
from rigfolio.study.rule import Rule
from rigfolio.study.study import Study
from rigfolio.study.wayout import listed, name_of
from rigfolio.units import show

RULE = Rule(
    "unprotected-wire",
    Severity.DANGER,
    Source("every conductor is protected from every source that reaches it", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every conductor with no device at all between it and a source, battery posts left out."""
    unfused = {source.about.name for source in study.unfused}
    for exposure in study.exposures:
        sources = [s.about.name for s in exposure.sources if s.about.name not in unfused]
        if exposure.is_bare and sources and exposure.run_m == float("inf"):
            yield _finding(study, exposure, sources)


def _finding(study: Study, exposure: Exposure, sources: list[str]) -> Finding:
    wire: Conductor = exposure.wire
    limit = exposure.limit
    rating = study.fuse_for(limit.value)
    reach = show(exposure.reach.value, "in" if wire.size_is_awg else "mm")
    return RULE.finding(
        f"nothing protects {name_of(wire)} from {listed(sources)}, it may carry "
        f"{show(limit.value, 'A')}",
        wire.size_span,
        here=f"may carry {show(limit.value, 'A')}: {limit.how}",
        others=[(s.about.span, "drives into it") for s in exposure.sources],
        fix=Fix(
            f"a fuse of no more than {show(rating, 'A') if rating else show(limit.value, 'A')} "
            f"within {reach} of where its supply connects"
        ),
        source=exposure.reach.source,
        numbers=(("limit_a", limit.value),),
    )
