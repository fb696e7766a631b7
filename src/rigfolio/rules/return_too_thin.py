"""A return lets less through than the fuses toward its loads.

*Why:* nothing watches a return. What a fuse lets through toward a load comes back by the return,
and a return that several circuits share carries the sum of them. Until a larger fuse that was found
is out again, it lets its own rating through.
"""

from collections.abc import Iterator
from functools import partial

from rigfolio.books import Limit
from rigfolio.findings import Citation, Finding, Fix, Severity, Span
from rigfolio.model import Conductor, Device
from rigfolio.protection import (
    ReturnCurrent,
    copper,
    found_letting_back,
    lacks_own_fuse,
    limit_in,
    own_fuse_words,
    refit_words,
    returns_of,
    too_much_back,
)
from rigfolio.record import replace
from rigfolio.rule import Rule
from rigfolio.study import Study, fused_as_found
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
    there = fused_as_found(study)
    for wire in study.rig.conductors:
        limit = too_much_back(there, wire)
        if limit is None:
            continue
        back = returns_of(there)[wire.name]
        if too_much_back(study, wire) is not None:
            found = _finding(study, wire, back, limit)
            yield replace(found, fix=_fix(study, wire, returns_of(study)[wire.name]))
            continue
        larger = found_letting_back(study, wire)
        if len(larger) > 1:
            # What one alone lets through is held against all of its wires where it was found.
            found, fix = _finding(study, wire, back, limit), Fix(refit_words(study, larger))
            # What the text says belongs there is enough: no more than that has to be done.
            yield replace(found, fix=fix, until_pulled=True)


def _finding(study: Study, wire: Conductor, back: ReturnCurrent, limit: Limit) -> Finding:
    shared = f" from {len(back.circuits)} circuits" if len(back.circuits) > 1 else ""
    return RULE.finding(
        f"{apart(back.current_a, limit.value, 'A')} can come back through "
        f"{name_of(wire)}{shared}, it {may_bear(limit)}",
        wire.size_span,
        here=carrying(limit),
        others=list(_parties(study, back))[:_NAMED],
        source=limit.source,
        numbers=(("return_a", back.current_a), ("limit_a", limit.value)),
    )


def _fix(study: Study, wire: Conductor, back: ReturnCurrent) -> Fix:
    """A fuse on the way out where nothing else is lacking; else copper."""
    lacking = lacks_own_fuse(study, wire, back.current_a)
    if lacking is None:
        return copper(study, [wire], back.current_a, partial(limit_in, study))
    out, most_a = lacking
    return Fix(f"{own_fuse_words([out], most_a)}, on the way out")


def _parties(study: Study, back: ReturnCurrent) -> Iterator[tuple[Span, str]]:
    for one in back.by:
        amount_a = one.rating_a if isinstance(one, Device) else one.limit_a
        if isinstance(amount_a, float):
            span = (one.rating_span if isinstance(one, Device) else None) or one.about.span
            planned = study.device(one.about.name)
            is_found = planned is not None and planned.rating_a != amount_a
            found = f"{show_load(amount_a, 'A')} was found and lets as much through"
            yield span, found if is_found else f"lets {show_load(amount_a, 'A')} through"
