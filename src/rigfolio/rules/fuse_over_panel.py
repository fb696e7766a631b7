"""More can flow into a panel than the panel is made for.

What comes in by a slot, sun or a charger behind a breaker of its own, is added to the feed. A
charger that is joined to the bar itself counts for itself: that is how a converter is built in, and
while it gives the battery takes. What runs from shore and what runs from an engine do not run
together, and a slot by which something only comes in takes nothing out.

*Why:* the bar and the feed stud of a panel are made for a current. Where the fuses in its slots add
up to more, only what can flow in keeps the bar from running hot, and that is too much.
"""

import math
from collections.abc import Iterator

from rigfolio.demand import flows_of
from rigfolio.findings import Citation, Finding, Fix, Severity, Span
from rigfolio.model import Device, Panel, Source
from rigfolio.protection import exposures_of, rating, reach_of, smaller_device, source_limit
from rigfolio.rule import Rule
from rigfolio.standard_sizes import rating_below
from rigfolio.study import Study
from rigfolio.units import is_over, show_against, show_load
from rigfolio.wording import joined_words, listed

RULE = Rule(
    "fuse-over-panel",
    Severity.FAULT,
    Citation("device ahead of a panel against the rating of its bar", "common practice"),
)
_BY_SLOT = Citation(
    "what feeds a bus by its own slots is added to its feed, as NFPA 70 705.12(B) does", "memory"
)

_Part = Device | Source


def check(study: Study) -> Iterator[Finding]:
    """Every panel whose slots could draw more than its bar is made for, by all that flows in.

    Where the loads do so already, `panel-overloaded` says it.
    """
    for panel in study.rig.panels:
        if not isinstance(panel.total_a, float):
            continue
        total_a = panel.total_a
        slots = [one for one in study.rig.devices if one.in_slot and one.line == panel.bus]
        demand_a = flows_of(study).together_a([one.about.name for one in slots])
        out = [one for one in slots if _takes(study, one)]
        out_a = math.fsum(map(_at_most_a, out))
        if is_over(demand_a, total_a) or not is_over(out_a, total_a):
            continue
        large = _large(study, panel, total_a)
        if large:
            if not _mended_by_wire(study, large, total_a):
                yield _finding(study, panel, large[0], total_a)
            continue
        parts = max(_ways_in(study, panel, slots), key=_sum_a, default=[])
        if is_over(_sum_a(parts), total_a) and math.isfinite(_sum_a(parts)):
            yield _summed(study, panel, parts, total_a)


def _large(study: Study, panel: Panel, total_a: float) -> list[Device]:
    """The devices that alone let too much in."""
    by = reach_of(study).into([panel.bus]).by
    devices = [one for one in by if isinstance(one, Device) and math.isfinite(rating(one))]
    return [one for one in devices if is_over(rating(one), total_a)]


def _takes(study: Study, slot: Device) -> bool:
    """Whether anything can run out by a slot: not where only sun or a charger comes in by it."""
    behind = study.net.walk([slot.load], lambda edge: edge is slot)
    sources = [one for one in study.rig.sources if one.plus in behind]
    return (
        not sources or any(one.stores for one in sources) or not study.load_ends.isdisjoint(behind)
    )


def _ways_in(study: Study, panel: Panel, slots: list[Device]) -> Iterator[list[_Part]]:
    """What lets current into a panel by feed and slots, the feed first.

    Once with the shore on, once with an engine running; none where nothing comes in by a slot.
    """
    behind = study.net.without([one.load for one in slots], slots)
    for off in ("engine", "shore"):
        inflow = reach_of(study).into([panel.bus], frozenset(_run_by(study, off)))
        devices = [one for one in inflow.by if isinstance(one, Device)]
        fence = reach_of(study).fence(panel.bus, None, devices)
        fed = {id(device) for source, held in fence if source.limit_a is None for device in held}
        by_slot = [one for one in inflow.by if _end(one) in behind]
        others = [one for one in inflow.by if _end(one) not in behind]
        feed = [one for one in others if id(one) in fed] or others
        if by_slot:
            yield [*feed, *by_slot]


def _end(part: _Part) -> str:
    """The terminal of a part away from a bar that it is a slot of."""
    return part.load if isinstance(part, Device) else part.plus


def _sum_a(parts: list[_Part]) -> float:
    return math.fsum(map(_lets_a, parts))


def _run_by(study: Study, what: str) -> Iterator[str]:
    """The sources with a limit that charge by what is told."""
    for source in study.rig.sources:
        if source.traits.charges_with == what and source.limit_a is not None:
            yield source.about.name


def _summed(study: Study, panel: Panel, parts: list[_Part], total_a: float) -> Finding:
    """Several that are each no more than a panel is made for, and more together."""
    each = joined_words([f"{show_load(_lets_a(one), 'A')} {one.kind}" for one in parts])
    together, made_for = show_against(_sum_a(parts), total_a, "A")
    return RULE.finding(
        f"{each}, {together} together, into panel `{panel.about.name}` made for {made_for} in all",
        panel.about.span,
        here=f"made for {made_for}",
        others=[(_at(one), f"lets {show_load(_lets_a(one), 'A')} in") for one in parts],
        source=_BY_SLOT,
        fix=_fix_of_sum(study, parts, total_a),
        numbers=(("inflow_a", _sum_a(parts)), ("total_a", total_a)),
    )


def _fix_of_sum(study: Study, parts: list[_Part], total_a: float) -> Fix:
    """A smaller device before the feed where the loads allow it, else another place for the rest.

    What comes in by a slot runs out by the feed too, into the battery.
    """
    first, *others = parts
    moved = listed(one.about.name for one in others)
    larger = f"a panel that is made for {show_load(_sum_a(parts), 'A')}"
    otherwise = f"{moved} joined ahead of the feed of the panel, or {larger}"
    if isinstance(first, Device) and not first.in_slot:
        smaller = rating_below(total_a - _sum_a(others), first)
        if smaller and smaller >= flows_of(study).demand(first.about.name).current_a:
            return smaller_device(study, first, smaller, otherwise=otherwise)
    return Fix(otherwise)


def _lets_a(part: _Part) -> float:
    """What a device lets through or a source gives [A]."""
    return rating(part) if isinstance(part, Device) else source_limit(part)


def _at(part: _Part) -> Span:
    own = part.rating_span if isinstance(part, Device) else None
    return own or part.about.span


def _finding(study: Study, panel: Panel, device: Device, total_a: float) -> Finding:
    limit = study.book.panel_share()
    rated, made_for = show_against(rating(device), total_a, "A")
    return RULE.finding(
        f"{rated} {device.kind} ahead of panel `{panel.about.name}` made for {made_for} in all",
        device.rating_span or device.about.span,
        others=[(panel.about.span, f"made for {made_for}")],
        source=limit.source if limit is not None else RULE.source,
        fix=_fix(study, device, total_a),
        numbers=(("rating_a", rating(device)), ("total_a", total_a)),
    )


def _at_most_a(slot: Device) -> float:
    """What a slot lets through [A]; a fuse that nobody has read lets everything through."""
    return slot.rating_a if isinstance(slot.rating_a, float) else math.inf


def _mended_by_wire(study: Study, devices: list[Device], total_a: float) -> bool:
    """Whether the wire behind a device already asks for one that is small enough for the panel."""
    names = {one.about.name for one in devices}
    return any(
        exposure.fault == "over"
        and not is_over(exposure.limit.value, total_a)
        and names & {one.about.name for one in exposure.devices}
        for exposure in exposures_of(study)
    )


def _fix(study: Study, device: Device, total_a: float) -> Fix:
    """A smaller device where the loads allow it, else a panel that is made for more."""
    otherwise = f"a panel that is made for {show_load(rating(device), 'A')}, or loads fed elsewhere"
    smaller = rating_below(total_a, device)
    if smaller is not None and smaller >= flows_of(study).demand(device.about.name).current_a:
        return smaller_device(study, device, smaller, otherwise=otherwise)
    return Fix(otherwise)
