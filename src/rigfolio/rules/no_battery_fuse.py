"""A battery post feeds wires with no fuse or breaker near it.

*Why:* a battery drives hundreds of amperes into a short. The fuse at the post is the only thing that
stands between it and every wire behind it. A battery's own electronics never count as one.
"""

from collections.abc import Iterator

from rigfolio.findings import Finding, Fix, Severity, Source
from rigfolio.study.rule import Rule
from rigfolio.study.study import Study
from rigfolio.study.wayout import listed
from rigfolio.units import show

RULE = Rule(
    "no-battery-fuse",
    Severity.DANGER,
    Source("a device at the battery for every conductor but cranking cable", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every battery with wires that nothing protects from it; one finding a battery."""
    for source in study.unfused:
        exposed = [
            exposure
            for exposure in study.exposures
            if exposure.is_bare and exposure.run_m == float("inf") and source in exposure.sources
        ]
        if not exposed:
            continue
        wires = [exposure.wire for exposure in exposed]
        thinnest = min(exposed, key=lambda exposure: exposure.limit.value)
        unit = "in" if thinnest.wire.size_is_awg else "mm"
        reach = thinnest.reach
        rating = study.fuse_for(thinnest.limit.value, "terminal cube")
        most = show(rating or thinnest.limit.value, "A")
        yield RULE.finding(
            f"no fuse between battery `{source.about.name}` and "
            f"{listed(wire.name for wire in wires[:4])}"
            + (f" and {len(wires) - 4} more" if len(wires) > 4 else ""),
            source.about.span,
            here="nothing here opens on a short",
            others=[(wires[0].span, "unprotected")],
            source=reach.source,
            fix=Fix(f"a fuse of no more than {most} within {show(reach.value, unit)} of the post"),
            numbers=(("limit_a", thinnest.limit.value), ("reach_m", reach.value)),
        )
