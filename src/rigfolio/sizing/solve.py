"""Gauges and ratings that meet all rules at once, with as little copper as that takes.

What is right stays. Ratings come first, because they settle what copper must bear: a device that
lets too much into a wire gets the largest rating that the wire allows, as long as that carries
what runs through it; else the smallest rating that does, and copper to match. Then every wire gets
the thinnest size that meets demand, device, way back and bond, and then what voltage drop asks for:
one size for all wires of a circuit that have to grow, feeders only where no size of the circuit
does it.
"""

from collections.abc import Mapping
from functools import partial
from types import MappingProxyType

from rigfolio.demand import flows_of
from rigfolio.findings import Span
from rigfolio.network import edge_name
from rigfolio.protection import fuse_left, led_elsewhere, limit_in, limit_of, section_left
from rigfolio.record import record
from rigfolio.sizing.drop import FreeGroups, Sizer, Stuck
from rigfolio.sizing.fuses import LABEL, MOST_BY, OWN_LINE, OWN_LINES, PART, DeviceDuty, duty_of
from rigfolio.sizing.groups import Section, WireGroup
from rigfolio.sizing.needs import Lack, Needs, bonds, is_for_a_fuse, lacks, on_trial
from rigfolio.sizing.order import feeds_before, waiting
from rigfolio.study import Study
from rigfolio.units import Size, is_over, show_added, show_limit

_NO_SIZE = "no stock size carries it and keeps its drop"
_MOST_ROUNDS = 60


@record
class Solved:
    """Sizes by line and ratings by device that meet the rules, and what asked for them.

    `stuck` says of a section by place why nothing serves; it stays as it is. `needs` is what
    every wire must bear, as far as that came out. `waits` names the feed that has to be sized
    before a section can be.
    """

    sizes: Mapping[Span, Size]
    ratings: Mapping[str, float]
    stuck: Mapping[str, str]
    duties: Mapping[str, DeviceDuty]
    needs: Needs
    wiring: FreeGroups
    waits: Mapping[str, str]


def solve(study: Study, sections: tuple[Section, ...], held: Mapping[str, str]) -> Solved:
    """Gauges and ratings for all sections; a section that cannot be sized is left as it is.

    Parameters
    ----------
    study : Study
        The rig.
    sections : tuple of Section
        What `sections` gives.
    held : mapping of str to str
        Sections by place that are not to be sized, and why.
    """
    stuck = dict(held)
    before = feeds_before(study, sections)
    while True:
        waits = waiting(before, sections, stuck)
        solver = _Attempt(study, sections, stuck, waits)
        found = solver.run()
        if found is not None:
            return _with_what_may_stay(study, sections, found)
        # Every round leaves one section more as it is, until none is left to be sized.
        fresh = {place: why for place, why in solver.failed.items() if place not in stuck}
        rest = (one for one in sections if one.place not in solver.wiring.left_out)
        stuck |= fresh or {one.place: _no_size(study, one) for one in rest}


def _with_what_may_stay(study: Study, sections: tuple[Section, ...], found: Solved) -> Solved:
    """The same with the fuses left in that are enough once the copper is as it is to be.

    A load that takes a power draws less through thicker wire.
    """
    raised = {
        device.about.name: section
        for section in sections
        for device in section.devices
        if isinstance(device.rating_a, float)
        and is_over(found.ratings.get(device.about.name, 0.0), device.rating_a)
    }
    duties = _enough(study, found.sizes, raised)
    if not duties:
        return found
    other = _Attempt(study, sections, found.stuck, found.waits, duties).run()
    if other is None or not _enough(study, other.sizes, raised).keys() >= duties.keys():
        return found
    return other


def _enough(
    study: Study, sizes: Mapping[Span, Size], devices: Mapping[str, Section]
) -> dict[str, DeviceDuty]:
    """Which of some devices carry what they must behind other copper, and what that is."""
    if not devices or not sizes:
        return {}
    trial = on_trial(study, sizes, {})
    duties = {
        name: duty_of(trial, trial.rig.by_name.devices[name], section.leads)
        for name, section in devices.items()
    }
    return {name: one for name, one in duties.items() if one.start_a() == one.device.rating_a}


class _Attempt:
    """One try; `failed` are the sections for which it found nothing.

    `duties` is what some devices must carry behind other copper than the text has.
    """

    def __init__(
        self,
        study: Study,
        sections: tuple[Section, ...],
        stuck: Mapping[str, str],
        waits: Mapping[str, str],
        duties: Mapping[str, DeviceDuty] = MappingProxyType({}),
    ) -> None:
        self.study = study
        self.sections = sections
        self.stuck = stuck
        self.waits = waits
        self.failed: dict[str, str] = {}
        unknown = {s.place for s in sections if s.missing and not s.is_part_known}
        still = frozenset({*unknown, *stuck, *waits})
        # Nothing is proposed for what only some loads are not known of. It grows on trial for what
        # is known, so that nothing else makes up for it, and nothing waits for it.
        self.on_trial_only = frozenset(
            g.key for s in sections if s.missing and s.place not in still for g in s.groups
        )
        self.wiring = FreeGroups(
            {g.key: g for s in sections if s.place not in still for g in s.groups},
            {s.place: s.groups for s in sections},
            still,
        )
        self.place_of = {g.key: s.place for s in sections for g in s.groups}
        self.duties: dict[str, DeviceDuty] = {}
        self.ratings: dict[str, float] = {}
        self.leads: dict[str, str] = {}
        self.floored: set[str] = set()
        for section in sections:
            for device in section.devices:
                duty = duties.get(device.about.name) or duty_of(study, device, section.leads)
                is_still = section.place in still or bool(section.missing)
                self._take(section, duty, is_still=is_still)
            self.leads |= {wire.name: section.place for wire in section.leads}

    def _take(self, section: Section, duty: DeviceDuty, *, is_still: bool) -> None:
        name = duty.device.about.name
        if is_still:
            return
        self.duties[name] = duty
        if not duty.is_possible:
            self.failed[section.place] = _no_fuse(self.study, duty)
        start_a = duty.start_a()
        if start_a is not None:
            self.ratings[name] = start_a

    def run(self) -> Solved | None:
        """The sizes and ratings; None where a section failed on the way."""
        if self.failed:
            return None
        present = {
            key: group.has
            for key, group in self.wiring.free.items()
            if isinstance(group.has, Size) and _is_in_book(self.study, group, group.has)
        }
        try:
            self._settle_ratings(present)
            needs = Needs()
            sizer = Sizer(self.study, self.wiring, needs)
            sizes = self._settle_copper(sizer, present)
            if self.failed:
                return None
        except Stuck as problem:
            if problem.place:
                one = next(each for each in self.sections if each.place == problem.place)
                self.failed[problem.place] = _no_size(self.study, one)
            return None
        return Solved(sizes, self.ratings, self.stuck, self.duties, needs, self.wiring, self.waits)

    def _sized(self, key: Span) -> WireGroup | None:
        """The wires of a line for which a size is proposed; None of others."""
        return None if key in self.on_trial_only else self.wiring.free.get(key)

    def _settle_ratings(self, present: Mapping[Span, Size]) -> None:
        """Ratings that the wires allow, where a rating alone can mend it."""
        for _ in range(_MOST_ROUNDS):
            sizes = Sizer(self.study, self.wiring, Needs()).sizes(present)
            trial = on_trial(self.study, sizes, self.ratings)
            mended = False
            for lack in sorted(lacks(trial), key=lambda one: one.current_a):
                mended |= self._mend(trial, lack)
            if not mended:
                return

    def _mend(self, trial: Study, lack: Lack) -> bool:
        """Lower the rating of the one device that lets too much into a wire; whether it changed."""
        group = self._sized(lack.wire.span)
        is_lead = lack.wire.name in self.leads
        if len(lack.devices) != 1 or not (group or is_lead):
            return False
        if group is not None and not isinstance(group.has, Size):
            # A wire that nobody has read is no reason to take out a fuse.
            return False
        name = lack.devices[0].about.name
        duty, limit = self.duties.get(name), limit_of(trial, lack.wire)
        if duty is None or limit is None:
            return False
        has_a = self.ratings[name]
        lower = duty.below(limit.value - lack.others_a)
        if lower is None:
            self.floored.add(name)
            lower = duty.least_a
        elif name in self.floored:
            return False
        if lower is None or lower >= has_a:
            return False
        self.ratings[name] = lower
        return True

    def _settle_copper(self, sizer: Sizer, present: Mapping[Span, Size]) -> dict[Span, Size]:
        """The thinnest sizes that bear what the ratings let through."""
        for _ in range(_MOST_ROUNDS):
            sizes = sizer.sizes(present)
            trial = on_trial(self.study, sizes, self.ratings)
            grown = False
            for lack in lacks(trial):
                if lack.wire.name in self.leads:
                    self.failed[self.leads[lack.wire.name]] = (
                        "the leads of the load carry less than the fuse that it needs; "
                        "give it leads as thick as its wire"
                    )
                elif self._sized(lack.wire.span) and not is_for_a_fuse(trial, lack):
                    grown |= sizer.needs.note(lack)
            for key, area_m2 in bonds(trial):
                if self._sized(key):
                    grown |= sizer.needs.note_area(key, area_m2)
            if not grown:
                break
        return sizes


def _is_in_book(study: Study, group: WireGroup, size: Size) -> bool:
    """Whether the book has a figure for a size at all."""
    return all(study.carries_of(wire, size) is not None for wire in group.wires)


def _no_size(study: Study, section: Section) -> str:
    wires = [wire for group in section.groups for wire in group.wires]
    most_a = flows_of(study).most(wire.name for wire in wires).current_a
    left = section_left(study, wires, most_a, partial(limit_in, study))
    return f"{_NO_SIZE}; {left or PART}"


def _no_fuse(study: Study, duty: DeviceDuty) -> str:
    kind, needed = duty.device.kind, show_added(duty.needed_a, "A")
    if duty.most_a is not None:
        most = f"{MOST_BY[duty.most_by]} {show_limit(duty.most_a, 'A')}"
        own = led_elsewhere(study, [edge_name(duty.device)], OWN_LINE, OWN_LINES)
        rest = LABEL if duty.most_by == "array-fed-back" else own
        return f"{needed} are needed and {most}; {rest}"
    left = fuse_left(study, duty.device, duty.needed_a)
    return f"no {kind} of this kind in stock carries {needed}; {left}"
