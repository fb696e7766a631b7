"""Which feeds a section hangs on: where nobody knows how long one is, what is behind it waits."""

from collections.abc import Collection, Mapping, Sequence

from rigfolio.demand import flows_of
from rigfolio.findings import Span
from rigfolio.model import Conductor, Device
from rigfolio.operating import standing_of
from rigfolio.rule import rule
from rigfolio.sizing.fuses import PART
from rigfolio.sizing.groups import Section, ends_of
from rigfolio.study import Study
from rigfolio.units import show_added, show_limit


def feeds_before(study: Study, sections: Sequence[Section]) -> Mapping[str, frozenset[str]]:
    """The feeds between a battery and each section by place, those that charge it left aside."""
    of_line: dict[Span, Section] = {g.key: one for one in sections for g in one.groups}
    of_device = {d.about.name: one for one in sections for d in one.devices}
    found: dict[str, set[str]] = {one.place: set() for one in sections}
    for load in study.rig.loads:
        ways = standing_of(flows_of(study).ways.get(load.about.name, ()))
        for way in (one for each in ways for one in each.every):
            before: set[str] = set()
            for edge in reversed(way.out):
                section = None
                if isinstance(edge, Conductor):
                    section = of_line.get(edge.span)
                elif isinstance(edge, Device):
                    section = of_device.get(edge.about.name)
                if section is None:
                    continue
                found[section.place] |= before
                if section.kind == "feed":
                    before.add(section.place)
    return {place: frozenset(feeds - {place}) for place, feeds in found.items()}


def waiting(
    before: Mapping[str, frozenset[str]], sections: Sequence[Section], stuck: Collection[str]
) -> dict[str, str]:
    """The sections that can be sized only after a feed before them, and which feed that is.

    A feed that stays as it is, or of which no more is unknown than what some loads draw, holds
    nothing up: what hangs on it is sized for that which is known.
    """
    open_ends = {one.place for one in sections if one.missing and not one.is_part_known}
    still = {one.place for one in sections if one.missing} | set(stuck)
    found: dict[str, str] = {}
    for one in sections:
        feeds = sorted(before.get(one.place, frozenset()) & open_ends)
        if feeds and one.place not in still:
            found[one.place] = feeds[0]
    return found


def overloaded(study: Study, sections: Sequence[Section]) -> dict[str, str]:
    """The feeds of panels whose loads draw more than the panel is made for, and how much that is.

    No fuse and no copper mend that, so the feed stays as it is.
    """
    of, check, _ = rule("panel-overloaded")
    panels = {panel.about.span: panel for panel in study.rig.panels}
    found: dict[str, str] = {}
    for finding in check(study) if study.book.name in of.books else ():
        panel, figures = panels[finding.at.span], dict(finding.numbers)
        why = (
            f"its loads draw {show_added(figures['demand_a'], 'A')} at one time and "
            f"`{panel.about.name}` is made for {show_limit(figures['total_a'], 'A')} in all; {PART}"
        )
        for one in sections:
            if one.kind == "feed" and panel.feed in ends_of(one):
                found[one.place] = why
    return found
