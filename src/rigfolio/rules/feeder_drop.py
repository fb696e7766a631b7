"""The feeder of a panel loses more voltage than is left to a feeder, out and back.

*Why:* what the feeder loses, every load of the panel loses. It is advice: the limits for the loads
themselves are judged on the whole way, feeder and all, and where one of them is exceeded that is
told and not this. So it comes just where all loads of today are within their limits: it says that
the feeder has used up what it leaves to circuits that are still to come, and to loads that are
critical and not said to be. The code for towables prints no limit at all; its book takes that of
marine and handbook tables.
"""

from collections.abc import Iterator

from rigfolio.books import Limit
from rigfolio.demand import drops_of, told_of_loads
from rigfolio.findings import Citation, Finding, Fix, Severity, Unknown
from rigfolio.model import Conductor, Panel
from rigfolio.protection import other_gauge
from rigfolio.rule import Rule
from rigfolio.standard_sizes import is_thicker, sizes_like
from rigfolio.study import Study
from rigfolio.units import Size, apart, show, show_limit, show_load
from rigfolio.wording import lost_words, name_of

RULE = Rule(
    "feeder-drop",
    Severity.ADVICE,
    Citation("voltage drop of panel feeders", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every panel under the demand of its loads; not where loads are told of that count it in."""
    told = told_of_loads(study)
    allowed = study.book.feeder_drop_share()
    for panel in study.rig.panels:
        drop = drops_of(study).feeder(panel)
        if drop is None or not allowed.is_broken_by(drop.share) or panel.about.name in told:
            continue
        wire = drop.worst
        others = [(wire.span, lost_words(wire, drop.worst_v, drop.volts))] if wire else []
        yield RULE.finding(
            f"the feeder of `{panel.about.name}` loses {show_load(drop.volts, 'V')}, "
            f"{apart(drop.share, allowed.value, '%')} of {show(drop.nominal_v, 'V')}; "
            f"{show_limit(allowed.value, '%')} are left to a feeder",
            panel.about.span,
            here=f"{drop.origin}{_within(study, panel)}",
            others=others,
            source=allowed.source,
            fix=_fix(study, panel, wire, allowed),
            numbers=(("drop_v", drop.volts), ("share", drop.share), ("allowed", allowed.value)),
        )


def _within(study: Study, panel: Panel) -> str:
    """That its loads are within their own limits, where all of them are judged on the whole way."""
    loads = {name for circuit in study.rig.circuits if circuit.panel == panel.about.name
             for name in circuit.loads}  # fmt: skip
    drops = [drops_of(study).of(one) for one in study.rig.loads if one.about.name in loads]
    if not drops or any(drop is None or drop.bar for drop in drops):
        return ""
    return "; its loads are within their own limits all the same"


def _fix(study: Study, panel: Panel, wire: Conductor | None, allowed: Limit) -> Fix:
    """The thinnest size that does it for the wire that loses most; else what to look at."""
    by_hand = f"thicker wire{f' for {name_of(wire)}' if wire else ''}, or a shorter way"
    if wire is None:
        return Fix(by_hand)
    for size in sizes_like(wire, study.book):
        if not is_thicker(size, wire):
            continue

        def on_trial(one: Conductor, size: Size = size, wire: Conductor = wire) -> Size | Unknown:
            return size if one.span == wire.span and not one.lead else one.size

        drop = drops_of(study).feeder(panel, on_trial)
        if drop is not None and not allowed.is_broken_by(drop.share):
            text = f"`{size.text}` for {name_of(wire)}, or a shorter way"
            return Fix(text, "ask", other_gauge([wire], size), otherwise=by_hand)
    return Fix(by_hand)
