"""Proposals that leave nothing worse, and after which nothing is left to propose.

What is proposed is judged with the rest of the rig before it is offered. A section whose change
would bring a finding that was not there, or make one worse, stays as it is and says so. What comes
out is proposed for once more, until a second run would change nothing.

That a fuse breaks less than can flow beside it is mended by no gauge and no rating. Where that is
found already, more copper, which lets more flow, is not held up by it: a stronger fuse is wanted
with the wires of now as well, and `grown_by_sizes` tells what it then has to break.
"""

from collections.abc import Iterator, Mapping, Sequence
from typing import TypeVar

from rigfolio.demand import bank_leads, drops_of
from rigfolio.findings import Finding, Severity, Span, Unknown
from rigfolio.record import replace
from rigfolio.rule import judged
from rigfolio.sizing.groups import Section, points_at, sections
from rigfolio.sizing.needs import on_trial
from rigfolio.sizing.order import feeds_before, overloaded
from rigfolio.sizing.proposals import FuseSize, Proposal, Proposed, WireSize
from rigfolio.study import Study, once
from rigfolio.units import Size, is_over, show
from rigfolio.wording import called, in_a_row, name_of
from rigfolio.worsening import worse

_MOST_RUNS = 6
_FLOWS = "short_a"
"""The first figure of findings about what a fuse has to break [A]."""
_OF_SIZES = frozenset({
    "fuse-over-wire", "unprotected-wire", "return-too-thin", "return-overloaded",
    "wire-overloaded", "voltage-drop",
})  # fmt: skip
"""Rules that gauges and ratings answer."""
_TOLD = frozenset({Severity.DANGER, Severity.FAULT})
_RESTLESS = "what it needs does not come to rest with what is around it; size it by hand"


@once
def sizes(study: Study) -> tuple[Proposal, ...]:
    """Gauge and fuse of every circuit and feed, feeds first, in the order of the text."""
    runs: list[Proposed] = []
    now = study
    for _ in range(_MOST_RUNS):
        run, then = _run(now)
        runs.append(run)
        if then is now:
            return _joined(study, runs)
        now = then
    # Nothing is written then, so that a second run comes to the same.
    still = dict.fromkeys(_places(study), _RESTLESS)
    return Proposed(study, sections(study), still).in_full


def _places(study: Study) -> tuple[str, ...]:
    return tuple(one.place for one in sections(study))


def fitted(study: Study, proposals: Sequence[Proposal]) -> Study:
    """The rig with all that has to change, and with nothing that was never read."""
    gauges: dict[Span, Size] = {}
    ratings: dict[str, float] = {}
    for one in proposals:
        gauges |= {wire.line: wire.fit for wire in one.wires if wire.verdict == "change"}
        ratings |= {fuse.name: fuse.fit_a for fuse in one.fuses if fuse.verdict == "change"}
    return on_trial(study, gauges, ratings) if gauges or ratings else study


def _run(study: Study) -> tuple[Proposed, Study]:
    """Proposals for a rig that leave nothing in it worse, and the rig with them."""
    found = sections(study)
    held = overloaded(study, found)
    while True:
        proposed = Proposed(study, found, held)
        changing = proposed.changing
        if not changing:
            return proposed, study
        twins = _twins(study, changing, held)
        if twins:
            held |= twins
            continue
        then = fitted(study, changing)
        bad = _hindering(study, judged(then))
        if not bad:
            return proposed, then
        held |= _spoiling(study, changing, bad)
        held |= _twins(study, changing, held)


def _twins(study: Study, changing: Sequence[Proposal], held: Mapping[str, str]) -> dict[str, str]:
    """The sections whose leads would grow while their twin on another battery stays, and why.

    A lead that need not grow is right as it is: nothing is said of it.
    """
    place_of = {group.key: one.place for one in sections(study) for group in one.groups}
    grown = {wire.line for one in changing for wire in one.wires if wire.verdict == "change"}
    stay: dict[str, str] = {}
    for leads in bank_leads(study):
        places = dict.fromkeys(place_of[w.span] for w in leads if w.span in place_of)
        why = next((held[place] for place in places if place in held), None)
        if why is None:
            continue
        wanted = {place_of[w.span] for w in leads if w.span in grown and w.span in place_of}
        stay |= {place: why for place in places if place in wanted and place not in held}
    return stay


def _hindering(study: Study, after: Sequence[Finding]) -> list[Finding]:
    """What sizes have made worse, without what none of them could have mended."""
    before = judged(study)
    return [
        one
        for one in worse(before, after)
        if not (_was_there(one, before) or _was_silent(study, one))
    ]


def _was_silent(study: Study, now: Finding) -> bool:
    """Whether a feeder lost as much before, and its loads were told of instead."""
    if now.rule != "feeder-drop":
        return False
    lost_v = dict(now.numbers)["drop_v"]
    panels = (one for one in study.rig.panels if one.about.span == now.at.span)
    drops = (drops_of(study).feeder(panel) for panel in panels)
    return any(drop is not None and not is_over(lost_v, drop.volts) for drop in drops)


def _was_there(now: Finding, before: Sequence[Finding]) -> bool:
    """Whether a fuse that breaks too little did so before, as gravely."""
    return any(
        one.rule == now.rule
        and one.at.span == now.at.span
        and one.severity == now.severity
        and _breaks_too_little(one)
        for one in before
    )


def _breaks_too_little(finding: Finding) -> bool:
    return bool(finding.numbers) and finding.numbers[0][0] == _FLOWS


@once
def grown_by_sizes(study: Study) -> tuple[Finding, ...]:
    """What fuses break too little of, as it is once all is fitted that has to change."""
    changing = [one for one in sizes(study) if one.changes]
    before = judged(study) if changing else ()
    if not any(_breaks_too_little(one) for one in before):
        return ()
    after = judged(fitted(study, changing))
    return tuple(one for one in worse(before, after) if _was_there(one, before))


def left_words(study: Study, found: Sequence[Proposal]) -> Iterator[str]:
    """What is still too much once all is fitted that has to change, and no proposal speaks of."""
    told = {one.place for one in found if one.problem}
    unsized = {one.place for one in found if one.missing}
    every = sections(study)
    before = feeds_before(study, every)
    circuits = {load.about.span: load.circuit for load in study.rig.loads}
    for one in judged(fitted(study, found)):
        place = circuits.get(one.at.span, "")
        if one.rule not in _OF_SIZES or one.severity not in _TOLD or place in told:
            continue
        waits = sorted(before.get(place, frozenset()) & unsized)
        why = f"; `{waits[0]}` before it cannot be sized yet" if waits else ""
        mends = f"; {one.fix.text}" if one.fix is not None and not one.fix.changes else ""
        yield f"{_place_words(study, every, one)}`{one.rule}`: {one.headline}{why or mends}"


def _place_words(study: Study, every: Sequence[Section], finding: Finding) -> str:
    """The section that a finding points at; empty where it points at none."""
    section = next((one for one in every if points_at(study, one, finding)), None)
    if section is None:
        # The gauge may stand where several wires share it: what is said names the one.
        section = next((one for one in every if _names(one, finding)), None)
    return "" if section is None else f"{called(section.place, section.label)}: "


def _names(section: Section, finding: Finding) -> bool:
    return any(
        wire.size_span == finding.at.span and name_of(wire) in finding.headline
        for group in section.groups
        for wire in group.wires
    )


def _spoiling(
    study: Study,
    changing: Sequence[Proposal],
    in_all: Sequence[Finding],
) -> dict[str, str]:
    """The sections whose changes make something worse, taken one after the other, and what.

    `in_all` is what all of them together make worse.
    """
    kept: list[Proposal] = []
    held: dict[str, str] = {}
    for one in changing:
        bad = in_all
        if len(kept) + 1 < len(changing):
            bad = _hindering(study, judged(fitted(study, [*kept, one])))
        if bad:
            held[one.place] = _why(one, bad[0])
        else:
            kept.append(one)
    return held


def _why(one: Proposal, bad: Finding) -> str:
    wanted: dict[str, list[str]] = {}
    for wire in one.wires:
        if wire.verdict == "change":
            held = wanted.setdefault(f"`{wire.fit.text}`", [])
            held += [f"`{name}`" for name in wire.names]
    words = [f"{fit} for {in_a_row(names)}" for fit, names in wanted.items()]
    for fuse in one.fuses:
        if fuse.verdict == "change":
            at = "" if fuse.name == one.place else f" in `{fuse.name}`"
            words.append(f"`{fuse.kind} {show(fuse.fit_a, 'A')}`{at}")
    would = f"would bring `{bad.rule}`: {bad.headline}"
    return f"{' and '.join(dict.fromkeys(words))} {would}; see to that first"


def _joined(study: Study, runs: Sequence[Proposed]) -> tuple[Proposal, ...]:
    """What several runs came to, beside what was there before the first."""
    if len(runs) <= 2:
        # The last run found nothing left to change.
        return runs[0].in_full
    wires: dict[str, dict[str, WireSize]] = {}
    fuses: dict[str, dict[str, FuseSize]] = {}
    for one in (one for run in runs for one in run.in_full):
        changed = {wire.name: wire for wire in one.wires if wire.verdict == "change"}
        wires.setdefault(one.place, {}).update(changed)
        others = {fuse.name: fuse for fuse in one.fuses if fuse.verdict == "change"}
        fuses.setdefault(one.place, {}).update(others)
    demands = {one.place: one.demand_a for one in runs[0].in_full}
    return tuple(
        replace(
            one,
            demand_a=demands.get(one.place, one.demand_a),
            wires=tuple(_since(study, wire) for wire in _latest(one.wires, wires[one.place])),
            fuses=tuple(_rated_since(study, f) for f in _latest(one.fuses, fuses[one.place])),
        )
        for one in runs[-1].in_full
    )


Sized = TypeVar("Sized", WireSize, FuseSize)


def _latest(last: Sequence[Sized], changed: Mapping[str, Sized]) -> Iterator[Sized]:
    """What the last run lists, as it was when it was changed; and what only was changed before."""
    yield from (changed.get(one.name, one) for one in last)
    listed = {one.name for one in last}
    yield from (one for name, one in changed.items() if name not in listed)


def _since(study: Study, wire: WireSize) -> WireSize:
    has = study.rig.conductor(wire.name).size
    return wire if wire.verdict != "change" else replace(wire, has=has)


def _rated_since(study: Study, fuse: FuseSize) -> FuseSize:
    device = study.device(fuse.name)
    if fuse.verdict != "change" or device is None or isinstance(device.rating_a, Unknown):
        return fuse
    is_back = device.rating_a == fuse.fit_a
    return replace(fuse, has_a=device.rating_a, verdict="enough" if is_back else "change")
