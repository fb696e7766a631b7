"""A value that decides is not known yet: written `?`, or not written at all.

*Why:* what nobody has looked at is never taken as good. Every check that needs the value waits for
it; one finding stands for all of them.
"""

from collections.abc import Iterator

from rigfolio.findings import Finding, Severity, Source, Unknown
from rigfolio.study.rule import Rule
from rigfolio.study.study import Study
from rigfolio.study.wayout import name_of

RULE = Rule(
    "not-surveyed",
    Severity.UNKNOWN,
    Source("an unknown is never taken as good", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every unknown that some check needs."""
    yield from _wires(study)
    yield from _devices(study)
    yield from _parts(study)
    yield from _returns(study)


def _wires(study: Study) -> Iterator[Finding]:
    for wire in study.rig.conductors:
        if wire.assumed:
            continue
        missing = [
            what
            for what, value in (("size", wire.size), ("length", wire.length_m))
            if isinstance(value, Unknown) and not (wire.lead and what == "size")
        ]
        if missing:
            one = len(missing) == 1
            yield RULE.cannot_judge(
                f"{' and '.join(missing)} of {name_of(wire)} {'is' if one else 'are'} unknown",
                wire.size_span if "size" in missing else wire.span,
                fix="read the print on the insulation, or measure it along the wire",
            )
        elif study.carries(wire) is None and not isinstance(wire.size, Unknown) and not wire.lead:
            yield RULE.cannot_judge(
                f"rule book `{study.book.name}` has no figure for {wire.size.text} of "
                f"{name_of(wire)}",
                wire.size_span,
            )


def _devices(study: Study) -> Iterator[Finding]:
    for device in study.rig.devices:
        if device.protects and not isinstance(device.rating_a, float):
            yield RULE.cannot_judge(
                f"rating of {device.kind} `{device.about.name}` is unknown",
                device.rating_span or device.about.span,
                fix="read it on the part, not on the label of the slot",
            )


def _parts(study: Study) -> Iterator[Finding]:
    for source in study.rig.sources:
        if isinstance(source.limit_a, Unknown):
            yield RULE.cannot_judge(
                f"rated output of `{source.about.name}` is unknown",
                source.about.span,
                fix="read it on the rating plate",
            )
    for load in study.rig.loads:
        if isinstance(load.value, Unknown):
            yield RULE.cannot_judge(
                f"what `{load.about.label or load.about.name}` draws is unknown",
                load.about.span,
                fix="read its plate, or measure it with a clamp meter",
            )


def _returns(study: Study) -> Iterator[Finding]:
    for problem in study.rig.problems:
        if problem.kind == "return-unknown":
            yield RULE.cannot_judge(
                f"how `{problem.name}` returns is unknown",
                problem.at,
                fix="follow its minus wire, or measure to the bar and to the frame",
            )
        elif problem.kind == "return-not-plain":
            yield RULE.cannot_judge(
                f"which bar `{problem.name}` returns to is not plain",
                problem.at,
                fix="`return to N1` in the circuit, or `negative N1` on the panel",
            )
