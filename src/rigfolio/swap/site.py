"""Where hands go when a rig is changed, and how it is made dead for that as it stands."""

from collections.abc import Collection, Iterator, Mapping

from rigfolio.compare import Work, WorkThing
from rigfolio.isolation import Plan, isolate_ends, parted_from_source
from rigfolio.job import Again
from rigfolio.model import Rig
from rigfolio.natural_order import natural
from rigfolio.network import landing_on, name_of_run, runs_of, with_whole_returns
from rigfolio.record import replace
from rigfolio.study import Study
from rigfolio.swap.power import chargers
from rigfolio.swap.retest import touched
from rigfolio.wording import Terminals, in_runs, terminals_of


class Site:
    """Where hands go, before and after."""

    def __init__(self, study: Study, again: Again) -> None:
        self.study, self.again = study, again
        self.old = again.before or study
        self.rig, self.was = with_whole_returns(study.rig), with_whole_returns(self.old.rig)
        # By what a return is called on its tag.
        self.tagged = {
            wire.name: name_of_run(study.rig, run)
            for run in runs_of(study.rig) if run[0].assumed for wire in run
        }  # fmt: skip
        self.hands_on = [work for work in again.work if work.is_hands_on]
        self.new_panels = tuple(
            work for work in self.hands_on if work.thing == "panel" and work.deed == "replace"
        )
        self.held = touched(study, again)
        ends = set(self._ends())
        # A panel is open as a whole: a slip inside it reaches all of it.
        self.panels = tuple(
            panel.about.name
            for panel in self.old.rig.panels
            if ends & set(terminals_of(self.old.rig, "panel", panel.about.name).plus)
            or panel.about.name in self.held.panels
        )
        for name in self.panels:
            if name in self.old.rig.by_name.panels:
                ends |= set(terminals_of(self.old.rig, "panel", name).plus)
        lifted = {name for work in self.hands_on for name in self.lifted_by(work)}
        self.kept_off = self._kept_off()
        ends |= set(parted_from_source(self.old, lifted, self.kept_off))
        self.ends = tuple(sorted(ends, key=natural))
        self.plan = self._plan()

    def lifted_by(self, work: Work) -> tuple[str, ...]:
        """The wires that come off where a part is worked on: itself, or those that land on it."""
        rig = self.old.rig
        if not work.before:
            return ()
        if work.thing == "wire":
            held = (run for run in runs_of(rig) if any(w.name == work.before for w in run))
            return next((tuple(w.name for w in run if w.assumed or w.name == work.before)
                         for run in held), ())  # fmt: skip
        if work.thing == "load" or work.deed == "mend":
            return ()
        landing = landing_on(rig, _terminals(rig, work, work.before).every)
        stays = self._stays_on_its_bar(work.before) if work.thing == "panel" else frozenset()
        return tuple(wire.name for wire in landing if wire.name not in stays)

    def comes_off(self, panel: Work) -> tuple[str, ...]:
        """The wires that come off a panel that is changed, by what they are called now."""
        was = {one.after: one.before for one in self.again.work if one.thing == "wire"}
        lifted = frozenset(self.lifted_by(panel))
        return tuple(w.name for w in self.rig.conductors if was.get(w.name, w.name) in lifted)

    @property
    def in_new_slots(self) -> tuple[Work, ...]:
        """What is done with the fuses and breakers of the slots of a panel that is changed."""
        panels = {work.after for work in self.new_panels}
        held = {c.device for c in self.rig.circuits if c.panel in panels and c.slot}
        return tuple(w for w in self.hands_on if w.thing == "device" and w.after in held)

    @property
    def new_parts(self) -> tuple[Work, ...]:
        """What wires land on: neither a wire itself, nor what goes into a slot."""
        devices = self.rig.by_name.devices
        alone = {name for name, one in devices.items() if not one.in_slot}
        return tuple(
            work
            for work in self.hands_on
            if work.deed == "pull new"
            and (work.thing in ("source", "panel", "bar") or work.after in alone)
        )

    def _stays_on_its_bar(self, panel: str) -> frozenset[str]:
        """What only lands on a bar beside a panel, and is of none of its circuits."""
        rig = self.old.rig
        bars = {junction.terminal for junction in rig.junctions}
        plus = frozenset(_terminals(rig, Work("replace", "panel", panel, ""), panel).plus)
        return frozenset(
            wire.name
            for wire in landing_on(rig, bars)
            if plus.isdisjoint((wire.a, wire.b))
            and getattr(rig.by_name.circuits.get(wire.circuit), "panel", "") != panel
        )

    def _ends(self) -> Iterator[str]:
        """The terminals that are touched, of those that there are before anything is changed."""
        known = set(self.old.net.at)
        for work in self.hands_on:
            for rig, name in ((self.was, work.before), (self.rig, work.after)):
                yield from (end for end in _terminals(rig, work, name).plus if end in known)

    def _plan(self) -> Plan:
        return isolate_ends(self.old, self._called(), self.ends, self.kept_off)

    def _kept_off(self) -> tuple[str, ...]:
        """What charges before the work, and what of it charges once it is done."""
        there = self.old.rig.by_name.sources
        later = (name for name in chargers(self.study) if name in there)
        return tuple(dict.fromkeys((*chargers(self.old), *later)))

    def _called(self) -> str:
        return in_runs((*self.panels, *self.outside())) or self.rig.name

    def outside(self) -> tuple[str, ...]:
        """What is touched outside panels, by the names that it has before the work."""
        inside = {d.about.name for d in self.old.rig.devices if d.in_slot}
        rig = self.old.rig
        names = []
        for work in self.hands_on:
            wire = rig.by_name.conductors.get(work.before) if work.thing == "wire" else None
            is_loose = wire is not None and not wire.circuit
            if is_loose or (work.thing in ("device", "source") and work.before not in inside):
                names.append(work.before)
        return tuple(dict.fromkeys(name for name in names if name))

    def back(self) -> Plan:
        """The isolation, of the parts that the rig still has."""
        sources = self.rig.by_name.sources
        there = {*self.rig.by_name.devices, *sources}
        steps = tuple(
            replace(step, keeps_off=tuple(name for name in step.keeps_off if name in sources))
            for step in self.plan.steps
            if step.action.part in there
        )
        stopped, kept_off = (
            tuple(name for name in names if name in sources)
            for names in (self.plan.stop_first, self.plan.kept_off)
        )
        return replace(self.plan, steps=steps, stop_first=stopped, kept_off=kept_off)


def _terminals(rig: Rig, work: Work, name: str) -> Terminals:
    """The terminals of a part of one version; none where that has none of this name."""
    index = rig.by_name
    known: Mapping[WorkThing, Collection[str]] = {
        "wire": index.conductors, "device": index.devices, "load": index.loads,
        "source": index.sources, "panel": index.panels,
    }  # fmt: skip
    is_there = name in known.get(work.thing, rig.where)
    return terminals_of(rig, work.thing, name) if is_there else Terminals("", "", ())
