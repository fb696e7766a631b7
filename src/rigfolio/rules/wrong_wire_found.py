"""The wire that was found is not the one that belongs there.

A gauge that is written into a text for a wire that is to come does not change the wire that is
there: until it is pulled, what was found is what carries the current.

*Why:* who reads the text alone takes the thin wire for the thick one, and puts its fuse in.
"""

from collections.abc import Iterator

from rigfolio.findings import Citation, Finding, Fix, Severity, Unknown
from rigfolio.model import Conductor
from rigfolio.protection import bears, guard_of, limit_in
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.units import is_over, show_limit
from rigfolio.wording import gauge_words

RULE = Rule(
    "wrong-wire-found",
    Severity.FAULT,
    Citation("the wire that is found is compared with what belongs there", "common practice"),
    also=(Severity.DANGER, Severity.ADVICE, Severity.UNKNOWN),
)


def check(study: Study) -> Iterator[Finding]:
    """Every wire of which the text says what was found."""
    told = set()
    for wire in study.rig.conductors:
        if wire.found is None or wire.assumed or wire.span in told:
            continue
        told.add(wire.span)
        if isinstance(wire.found, Unknown):
            yield RULE.cannot_judge(f"which wire is in place of `{wire.name}` now is unknown",
                                    wire.span, fix="read its gauge, or measure it")  # fmt: skip
        elif wire.found != wire.size:
            yield _finding(study, wire)


def _finding(study: Study, wire: Conductor) -> Finding:
    assert not isinstance(wire.found, Unknown)  # noqa: S101
    assert wire.found is not None  # noqa: S101
    limit = limit_in(study, wire, wire.found)
    ratings = [d.rating_a for d in guard_of(study, wire).devices if isinstance(d.rating_a, float)]
    rating_a = min(ratings, default=None)
    carries = ""
    if limit is not None and rating_a is not None and is_over(rating_a, limit.value):
        carries = f", it carries {bears(limit)} behind {show_limit(rating_a, 'A')}"
    is_thinner = isinstance(wire.size, Unknown) or wire.found.area_m2 < wire.size.area_m2
    severity = Severity.DANGER if carries else None if is_thinner else Severity.ADVICE
    return RULE.finding(
        f"{wire.found.text} found in place of `{wire.name}`, "
        f"{gauge_words(wire)} belongs there{carries}",
        wire.span,
        fix=Fix(f"pull {gauge_words(wire)}, then take `found` out of the text"),
        severity=severity,
        numbers=(("found_mm2", wire.found.area_m2 * 1e6),),
    )
