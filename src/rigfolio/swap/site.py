"""Where hands go when a rig is changed, and how it is made dead for that as it stands."""

from collections.abc import Iterable, Iterator

from rigfolio.compare import Work
from rigfolio.isolation import Plan, isolate_ends, parted_from_source
from rigfolio.job import Again
from rigfolio.model import Rig
from rigfolio.natural_order import natural
from rigfolio.network import name_of_run, runs_of, with_whole_returns
from rigfolio.record import replace
from rigfolio.study import Study
from rigfolio.swap.power import chargers
from rigfolio.swap.retest import touched
from rigfolio.wording import in_runs


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
        self.held = touched(study, again)
        ends = set(self._ends())
        # A panel is open as a whole: a slip inside it reaches all of it.
        self.panels = tuple(
            panel.about.name
            for panel in self.old.rig.panels
            if ends & set(_of_panel(self.old.rig, panel.about.name))
            or panel.about.name in self.held.panels
        )
        for name in self.panels:
            ends |= set(_of_panel(self.old.rig, name))
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
        ends = set(_owned(rig, work))
        return tuple(w.name for w in rig.conductors if ends & {w.a, w.b})

    def _ends(self) -> Iterator[str]:
        """The terminals that are touched, of those that there are before anything is changed."""
        known = set(self.old.net.at)
        for work in self.hands_on:
            was = _ends_of(self.was, work, work.before)
            now = _ends_of(self.rig, work, work.after)
            yield from (end for end in (*was, *now) if end in known)

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


def _owned(rig: Rig, work: Work) -> Iterator[str]:
    """All terminals of a part, plus and minus."""
    source = rig.by_name.sources.get(work.before)
    panel = rig.by_name.panels.get(work.before)
    if work.thing == "source" and source is not None:
        yield from (source.plus, source.minus)
    elif work.thing == "panel" and panel is not None:
        yield from (*_of_panel(rig, work.before), panel.negative or panel.feed)
    else:
        yield from _ends_of(rig, work, work.before)


def _of_panel(rig: Rig, name: str) -> Iterator[str]:
    """Feed, bus and slots of a panel; none where the rig has none of that name."""
    panel = rig.by_name.panels.get(name)
    if panel is not None:
        yield from (panel.feed, panel.bus)
        yield from (d.load for d in rig.devices if d.in_slot and d.line == panel.bus)


def _ends_of(rig: Rig, work: Work, name: str) -> Iterable[str]:
    """The terminals of a part of one version."""
    index = rig.by_name
    if work.thing == "wire" and name in index.conductors:
        wire = index.conductors[name]
        return wire.a, wire.b
    if work.thing == "device":
        return tuple(end for d in rig.devices if d.about.name == name for end in (d.line, d.load))
    if work.thing == "load" and name in index.loads:
        return (index.loads[name].plus,)
    if work.thing == "source" and name in index.sources:
        return (index.sources[name].plus,)
    return tuple(_of_panel(rig, name)) if work.thing == "panel" else (name,) if name else ()
