"""The fuse or breaker in the output of an alternator is larger than the rule book allows for it.

*Why:* it has to open before the windings and the rectifier burn, and an alternator drives little
more than its rated output into any fault of its own: a device far above that never opens.
"""

from collections.abc import Iterator

from rigfolio.demand import flows_of
from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.model import Device, Source
from rigfolio.network import Edge, is_guard
from rigfolio.protection import smaller_device
from rigfolio.rule import Rule
from rigfolio.standard_sizes import rating_below
from rigfolio.study import Study
from rigfolio.units import is_over, show, show_against, show_limit, show_load

RULE = Rule(
    "alternator-fuse-large",
    Severity.FAULT,
    Citation("33 CFR 183.460", "memory"),
    frozenset({"boat"}),
)


def check(study: Study) -> Iterator[Finding]:
    """Every alternator of stated output that has a fuse or breaker of its own in its line."""
    share = study.book.alternator_share()
    if share is None:
        return
    for source in study.rig.sources:
        device = _own_device(study, source) if source.traits.guard_by_output else None
        if device is None or not isinstance(source.limit_a, float):
            continue
        may_a = source.limit_a * share.value
        if not isinstance(device.rating_a, float) or not is_over(device.rating_a, may_a):
            continue
        fitting = rating_below(may_a, device)
        needed_a = flows_of(study).demand(device.about.name).current_a
        between = f"a device rated {show_load(needed_a, 'A')} to {show_limit(may_a, 'A')}"
        rated, may = show_against(device.rating_a, may_a, "A")
        yield RULE.finding(
            f"{rated} {device.kind} in the output of "
            f"`{source.about.name}`, {show(source.limit_a, 'A')}: at most {may} there",
            device.rating_span or device.about.span,
            others=[(source.about.span, f"gives {show(source.limit_a, 'A')}")],
            source=share.source,
            fix=smaller_device(study, device, fitting, otherwise=between)
            if fitting is not None and fitting >= needed_a
            else Fix(between),
            numbers=(("rating_a", device.rating_a), ("may_a", may_a)),
        )


def _own_device(study: Study, source: Source) -> Device | None:
    """The first fuse or breaker on the way out of a source, as far as its line does not branch."""
    here, last = source.plus, None
    seen = {here}
    while True:
        steps = [step for step in study.net.steps(here) if step[0] is not last]
        if len(steps) != 1:
            return None
        edge: Edge = steps[0][0]
        if is_guard(edge):
            return edge
        here, last = steps[0][1], edge
        if here in seen:
            return None
        seen.add(here)
