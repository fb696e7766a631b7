"""Loads at one time draw more than what a battery's own electronics switch it off above.

Of batteries side by side each is held against its part of what runs. A load that alone starts at
more is told of as advice: how long such electronics wait is the maker's to say, seconds to a
minute, and no fuse waits for them.

*Why:* all that the battery feeds is dark at one moment, the alarm and the detector with the rest,
and it stays so until somebody finds out why.
"""

from collections.abc import Collection, Iterator, Mapping

from rigfolio.demand import demand_by_level, flows_of
from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.isolation import dark_without, kept_names, source_reach
from rigfolio.model import Load, Source
from rigfolio.network import parallel_switches
from rigfolio.operating import starting_a
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.units import apart, is_over, show_limit, show_load
from rigfolio.wording import all_dark_words, label_of, with_kind

RULE = Rule(
    "battery-cuts-off",
    Severity.FAULT,
    Citation("as stated for this battery, from its maker", "seen"),
    also=(Severity.ADVICE,),
)


def check(study: Study) -> Iterator[Finding]:
    """Every battery that tells what it cuts off above, against loads at one time and starts."""
    guarded = {
        one.about.name: one.cut_off_a for one in study.rig.sources if one.cut_off_a is not None
    }
    if not guarded:
        return
    asked_a = {
        one.name: one.simultaneous_a for one in demand_by_level(study) if one.level == "source"
    }
    off = {
        name: limit_a for name, limit_a in guarded.items()
        if is_over(asked_a.get(name, 0.0), limit_a)
    }  # fmt: skip
    for battery in study.rig.sources:
        name = battery.about.name
        if name in off:
            yield _finding(study, battery, asked_a[name], off)
        elif name in guarded:
            yield from _started(study, battery, guarded[name])


def _finding(
    study: Study, battery: Source, asked_a: float, off: Mapping[str, float]
) -> Finding:  # fmt: skip
    name = battery.about.name
    dark = _kept_dark(study, battery, off)
    own = "; a battery of its own for what must stay on" if dark else ""
    return RULE.finding(
        f"loads of {apart(asked_a, off[name], 'A')} at one time on "
        f"{with_kind(battery.kind, name)}, which cuts off above {show_limit(off[name], 'A')}: "
        f"{all_dark_words(dark, is_one=True)}",
        battery.about.span,
        others=[(load.about.span, "must stay on") for load in dark],
        fix=Fix(
            f"fewer loads at one time, one that gives {show_load(asked_a, 'A')} or more, or a "
            f"second one beside it{own}"
        ),
        numbers=(("asked_a", asked_a), ("limit_a", off[name])),
    )


def _kept_dark(study: Study, battery: Source, off: Collection[str]) -> tuple[Load, ...]:
    """What must stay on, hangs on a battery, and is fed by none once some have cut off."""
    must = kept_names(study.rig)
    if not must:
        return ()
    own = source_reach(study).from_batteries(
        {one.about.name for one in study.rig.sources if one.stores and one is not battery}
        | parallel_switches(study.rig)
    )
    dark = dark_without(study, frozenset(off))
    return tuple(one for one in dark if one.about.name in must and one.plus in own)


def _started(study: Study, battery: Source, limit_a: float) -> Iterator[Finding]:
    """The load that starts hardest on a battery, where that alone is more than it bears."""
    flows, name = flows_of(study), battery.about.name
    starting = [
        load for load in study.rig.loads
        if load.starts_at or load.about.name in flows.counts.starters
    ]  # fmt: skip
    starts = [
        ((starting_a(study, load) or 0.0) * flows.counts.parts(way).get(name, 1.0), load)
        for load in starting
        for way in flows.ways.get(load.about.name, ())
        if way.source is battery
    ]
    start_a, load = max(starts, key=lambda pair: pair[0], default=(0.0, None))
    if load is None or not is_over(start_a, limit_a):
        return
    yield RULE.finding(
        f"`{label_of(load)}` starts at {apart(start_a, limit_a, 'A')} on "
        f"{with_kind(battery.kind, name)}, which cuts off above {show_limit(limit_a, 'A')}",
        load.about.span,
        others=[(battery.about.span, "goes dark with all that it feeds")],
        severity=Severity.ADVICE,
        fix=Fix(
            "ask its maker how long it bears that; or a soft start, or a battery made for such a "
            "start"
        ),
        numbers=(("start_a", start_a), ("limit_a", limit_a)),
    )
