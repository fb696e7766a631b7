"""A battery post feeds wires with no fuse or breaker near it.

*Why:* a battery drives hundreds of amperes into a short. The fuse at the post is the only thing
that stands between it and every wire behind it. A battery's own electronics never count as one.
"""

from collections.abc import Iterator

from rigfolio.findings import Citation, Finding, Severity
from rigfolio.model import Source
from rigfolio.protection import Exposure, fuse_near, sure_a, unfused_of
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.wording import distance, joined_words, name_of

RULE = Rule(
    "no-battery-fuse",
    Severity.DANGER,
    Citation("a device at the battery for every conductor but cranking cable", "common practice"),
    unguarded=True,
)
_NAMED = 4


def check(study: Study) -> Iterator[Finding]:
    """Every battery with wires that nothing protects from it; one finding a battery."""
    for source in study.rig.sources:
        exposed = unfused_of(study).get(source.about.name)
        if exposed:
            yield _finding(study, source, exposed)


def _finding(study: Study, source: Source, exposed: tuple[Exposure, ...]) -> Finding:
    each = {one.wire.name: one for one in exposed}
    on_post = [one for one in each.values() if source.plus in (one.wire.a, one.wire.b)]
    near = on_post or list(each.values())
    rest = [one for one in each.values() if one not in near]
    first = min(near, key=lambda one: one.limit.value)
    reach = distance(first.reach.value, first.wire)
    thinner = any(one.limit.value < first.limit.value for one in each.values())
    return RULE.finding(
        f"no fuse between battery `{source.about.name}` and "
        f"{joined_words([name_of(one.wire) for one in near])}",
        source.about.span,
        here="nothing here opens on a short",
        others=[(one.wire.span, "unprotected") for one in [*near, *rest][:_NAMED]],
        source=first.reach.source,
        fix=fuse_near(
            study,
            [one.wire for one in near],
            sure_a(first.limit),
            f"within {reach} of `{source.plus}`",
            "; thinner wire further on needs a fuse of its own" if thinner else "",
            end=source.plus,
        ),
        numbers=(("limit_a", first.limit.value), ("reach_m", first.reach.value)),
    )
