"""A part is marked as scorched, melted, loose or corroded.

*Why:* heat marks are the trace of a joint of too much resistance or of a current that was too
large. A new part in the old place looks the same after a season, unless the cause is found. A
joint that gives is on the way there.
"""

from collections.abc import Iterator

from rigfolio.findings import Citation, Finding, Fix, Severity, Span
from rigfolio.kinds import CONDITIONS
from rigfolio.model import About
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.wording import name_of

RULE = Rule(
    "part-damaged",
    Severity.FAULT,
    Citation("a trace of heat or damp is followed to its cause", "common practice"),
    also=(Severity.ADVICE,),
)


def check(study: Study) -> Iterator[Finding]:
    """Everything with a condition, in the order of the kinds of things."""
    rig = study.rig
    told: set[tuple[str, str]] = set()
    for name, condition, span in _marked(study):
        if condition and (name, condition) not in told:
            told.add((name, condition))
            yield _finding(name, condition, span)
    for remark in rig.remarks:
        if remark.condition:
            yield _finding(f"`{remark.place}`", remark.condition, remark.span)


def _marked(study: Study) -> Iterator[tuple[str, str, Span]]:
    rig = study.rig
    for about in _abouts(study):
        yield f"`{about.name}`", about.condition, about.span
    for wire in rig.conductors:
        yield name_of(wire), wire.condition, wire.span
    for circuit in rig.circuits:
        yield f"circuit `{circuit.place}`", circuit.condition, circuit.span


def _abouts(study: Study) -> Iterator[About]:
    rig = study.rig
    yield from (one.about for one in rig.sources)
    yield from (one.about for one in rig.devices)
    yield from (one.about for one in rig.junctions)
    yield from (one.about for one in rig.panels)
    yield from (one.about for one in rig.loads)


def _finding(name: str, condition: str, span: Span) -> Finding:
    kind = CONDITIONS[condition]
    way_out = (
        f"{kind.cause}, then {kind.mend}" if kind.cause else f"with the power off, {kind.mend}"
    )
    severity = Severity.ADVICE if kind.is_slow else None
    return RULE.finding(f"{name} is {condition}", span, fix=Fix(way_out), severity=severity)
