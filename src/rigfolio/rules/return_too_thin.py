"""A return lets less through than the fuses toward its loads.

*Why:* nothing watches a return. What a fuse lets through toward a load comes back by the return,
and a return that several circuits share carries the sum of them.
"""

from collections.abc import Iterator
from functools import partial

from rigfolio.books import Limit
from rigfolio.findings import Citation, Finding, Fix, Severity, Span
from rigfolio.model import Conductor, Device
from rigfolio.protection import (
    ReturnCurrent,
    copper,
    lacks_own_fuse,
    limit_in,
    own_fuse_words,
    returns_of,
    too_much_back,
)
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.units import apart, show_load
from rigfolio.wording import carrying, may_bear, name_of

RULE = Rule(
    "return-too-thin",
    Severity.DANGER,
    Citation("returns are judged as strictly as the wires out", "common practice"),
    of_plan=True,
)
_NAMED = 6


def check(study: Study) -> Iterator[Finding]:
    """Every conductor of the minus side against what can come back through it.

    An assumed return is a twin of its wire out and is judged there.
    """
    for wire in study.rig.conductors:
        limit = too_much_back(study, wire)
        if limit is not None:
            yield _finding(study, wire, returns_of(study)[wire.name], limit)


def _finding(study: Study, wire: Conductor, back: ReturnCurrent, limit: Limit) -> Finding:
    shared = f" from {len(back.circuits)} circuits" if len(back.circuits) > 1 else ""
    return RULE.finding(
        f"{apart(back.current_a, limit.value, 'A')} can come back through "
        f"{name_of(wire)}{shared}, it {may_bear(limit)}",
        wire.size_span,
        here=carrying(limit),
        others=list(_parties(back))[:_NAMED],
        source=limit.source,
        fix=_fix(study, wire, back),
        numbers=(("return_a", back.current_a), ("limit_a", limit.value)),
    )


def _fix(study: Study, wire: Conductor, back: ReturnCurrent) -> Fix:
    """A fuse on the way out where nothing else is lacking; else copper."""
    lacking = lacks_own_fuse(study, wire, back.current_a)
    if lacking is None:
        return copper(study, [wire], back.current_a, partial(limit_in, study))
    out, most_a = lacking
    return Fix(f"{own_fuse_words([out], most_a)}, on the way out")


def _parties(back: ReturnCurrent) -> Iterator[tuple[Span, str]]:
    for one in back.by:
        amount_a = one.rating_a if isinstance(one, Device) else one.limit_a
        if isinstance(amount_a, float):
            span = (one.rating_span if isinstance(one, Device) else None) or one.about.span
            yield span, f"lets {show_load(amount_a, 'A')} through"
