"""A return lets less through than the fuses on the way out.

*Why:* nothing watches a return. What a fuse lets through on the way out comes back on the way home,
and a return that several circuits share carries the sum of them.
"""

import math
from collections.abc import Iterator
from functools import partial

from rigfolio.books import Limit
from rigfolio.findings import Citation, Finding, Severity, Span
from rigfolio.model import Conductor, Device
from rigfolio.protection import (
    ReturnCurrent,
    apart,
    bears,
    carrying,
    copper,
    limit_in,
    most_of,
    name_of,
    returns_of,
)
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.units import show_load

RULE = Rule(
    "return-too-thin",
    Severity.DANGER,
    Citation("returns are judged as strictly as the wires out", "common practice"),
)
_NAMED = 6


def check(study: Study) -> Iterator[Finding]:
    """Every conductor of the minus side against what can come back through it.

    An assumed return is a twin of its wire out and is judged there.
    """
    for wire in study.rig.conductors:
        back, limit = returns_of(study).get(wire.name), most_of(study, wire)
        if back is None or limit is None or not math.isfinite(back.current_a):
            continue
        if back.current_a > limit.value * (1.0 + 1e-9):
            yield _finding(study, wire, back, limit)


def _finding(study: Study, wire: Conductor, back: ReturnCurrent, limit: Limit) -> Finding:
    shared = f" from {len(back.circuits)} circuits" if len(back.circuits) > 1 else ""
    return RULE.finding(
        f"{apart(back.current_a, limit.value, 'A')} can come back through "
        f"{name_of(wire)}{shared}, it may carry {bears(limit)}",
        wire.size_span,
        here=carrying(limit),
        others=list(_parties(back))[:_NAMED],
        source=limit.source,
        fix=copper(study, [wire], back.current_a, partial(limit_in, study)),
        numbers=(("return_a", back.current_a), ("limit_a", limit.value)),
    )


def _parties(back: ReturnCurrent) -> Iterator[tuple[Span, str]]:
    for one in back.by:
        amount_a = one.rating_a if isinstance(one, Device) else one.limit_a
        if isinstance(amount_a, float):
            span = (one.rating_span if isinstance(one, Device) else None) or one.about.span
            yield span, f"lets {show_load(amount_a, 'A')} through"
