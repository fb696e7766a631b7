"""A value that decides is not known yet: written `?`, or not written at all.

*Why:* what nobody has looked at is never taken as good. Every check that needs the value waits for
it; one finding stands for all of them.
"""

from collections.abc import Iterator

from rigfolio.demand import flows_of
from rigfolio.findings import Citation, Finding, Severity, Unknown
from rigfolio.model import Conductor, Device
from rigfolio.protection import (
    asked_ends,
    exposures_by_wire,
    is_cranking,
    limit_of,
    most_of,
    reach_of,
    returns_of,
    too_much_back,
)
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.wording import label_of, listed, name_of, with_kind

RULE = Rule(
    "not-surveyed",
    Severity.UNKNOWN,
    Citation("an unknown is never taken as good", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every unknown that some check needs."""
    yield from _wires(study)
    yield from _devices(study)
    yield from _sources_and_loads(study)
    yield from _panels_and_bars(study)
    yield from _returns(study)
    for gap in study.rig.gaps:
        of = f" of `{gap.name}`" if gap.name else ""
        yield RULE.cannot_judge(f"{gap.what}{of} is unknown", gap.span, fix="look, and write it in")


def _wires(study: Study) -> Iterator[Finding]:
    for wire in study.rig.conductors:
        joined = wire.a in study.side or wire.a in study.shorted
        if wire.assumed or not joined:
            continue
        missing = [
            what
            for what, is_missing in (
                ("size", _needs_size(study, wire) and isinstance(wire.size, Unknown)),
                ("length", isinstance(wire.length_m, Unknown) and _needs_length(study, wire)),
            )
            if is_missing
        ]
        if missing:
            one = len(missing) == 1
            yield RULE.cannot_judge(
                f"{' and '.join(missing)} of {name_of(wire)} {'is' if one else 'are'} unknown",
                wire.size_span if "size" in missing else wire.span,
                fix="read the print on the insulation, or measure it along the wire",
            )
        if not isinstance(wire.size, Unknown) and _is_off_the_book(study, wire):
            limit = study.carries_at_most(wire, wire.size)
            is_thin = limit is not None
            yield RULE.cannot_judge(
                f"rule book `{study.book.name}` has no figure for {wire.size.text} of "
                f"{name_of(wire)}" + (f", only for thicker wire: {limit.how}" if limit else ""),
                wire.size_span,
                fix="thicker wire, or judge it by its maker's figure"
                if is_thin
                else "write the temperature of its insulation, or judge it by its maker's figure",
            )
    for wire in asked_ends(study):
        yield RULE.cannot_judge(
            f"where an end of {name_of(wire)} lands is unknown",
            wire.span,
            fix="follow the wire, or find its other end with a meter",
        )


def _is_off_the_book(study: Study, wire: Conductor) -> bool:
    if not study.is_judged_lead(wire) or is_cranking(study, wire):
        return False
    return study.carries(wire) is None and not _is_told(study, wire)


def _is_told(study: Study, wire: Conductor) -> bool:
    """Whether a wire that has no figure carries too much even for the thinnest that has one."""
    if most_of(study, wire) is None:
        return False
    return too_much_back(study, wire) is not None or wire.name in exposures_by_wire(study)


def _needs_size(study: Study, wire: Conductor) -> bool:
    return study.is_judged_lead(wire) or isinstance(wire.length_m, Unknown)


def _needs_length(study: Study, wire: Conductor) -> bool:
    """Whether a load's drop, or the way to a fuse, turns on the length of a wire."""
    if flows_of(study).users(wire.name) or wire.lead:
        return True
    back = returns_of(study).get(wire.name)
    if back is not None and back.maybe:
        return True
    limit = limit_of(study, wire)
    if study.side.get(wire.a) != "+" or is_cranking(study, wire) or limit is None:
        return False
    return limit.is_broken_by(reach_of(study).at_most_a(wire)) and any(
        limit.is_broken_by(inflow.current_a) for inflow in reach_of(study).inflows(wire)
    )


def _devices(study: Study) -> Iterator[Finding]:
    told: set[str] = set()
    for device in study.rig.devices:
        name = device.about.name
        if isinstance(device.rating_a, float) or name in told or not _needs_rating(device):
            continue
        told.add(name)
        yield RULE.cannot_judge(
            f"rating of {with_kind(device.kind, name)} is unknown",
            device.rating_span or device.about.span,
            fix="read it on the part, not on the label of the slot",
        )


def _needs_rating(device: Device) -> bool:
    return device.protects or device.traits.needs_rating or device.rating_span is not None


def _sources_and_loads(study: Study) -> Iterator[Finding]:
    for source in study.rig.sources:
        if isinstance(source.limit_a, Unknown):
            by_light = source.traits.by_light
            yield RULE.cannot_judge(
                f"{'short-circuit current' if by_light else 'rated output'} of "
                f"`{source.about.name}` is unknown",
                source.about.span,
                fix=f"read it on the {'label of a module' if by_light else 'rating plate'}",
            )
    for load in study.rig.loads:
        if isinstance(load.value, Unknown):
            yield RULE.cannot_judge(
                f"what `{label_of(load)}` draws is unknown",
                load.about.span,
                fix="read its plate, or measure it with a clamp meter",
            )


def _panels_and_bars(study: Study) -> Iterator[Finding]:
    for panel in study.rig.panels:
        for what, value in (("slots", panel.slot_a), ("whole", panel.total_a)):
            if isinstance(value, Unknown):
                yield RULE.cannot_judge(
                    f"what the {what} of panel `{panel.about.name}` "
                    f"{'are' if what == 'slots' else 'is'} made for is unknown",
                    panel.about.span,
                    fix="read the plate of the panel or its maker's sheet",
                )
    for bar in study.rig.junctions:
        if isinstance(bar.rating_a, Unknown):
            yield RULE.cannot_judge(
                f"rating of {bar.kind} `{bar.about.name}` is unknown",
                bar.about.span,
                fix="read it on the part or in its maker's sheet",
            )


def _returns(study: Study) -> Iterator[Finding]:
    for problem in study.rig.problems:
        if problem.kind == "return-unknown":
            yield RULE.cannot_judge(
                f"how `{problem.name}` returns is unknown",
                problem.at,
                fix="follow its minus wire, or measure to the bar and to the frame",
            )
    # One bar too many makes it unclear of every circuit: one thing to be said.
    unclear = [one for one in study.rig.problems if one.kind == "return-not-plain"]
    if unclear:
        named = listed([one.name for one in unclear], len(unclear))
        verb = "returns" if len(unclear) == 1 else "return"
        yield RULE.cannot_judge(
            f"which bar {named} {verb} to is not plain",
            unclear[0].at,
            others=[(one.at, "nor of this one") for one in unclear[1:]],
            fix="`return to N1` in the circuit, or `negative N1` on the panel",
        )
