"""The thinnest wire that would do in each place beside all that is fitted, and what decides it."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import islice

from rigfolio.books import sun_figure
from rigfolio.demand import (
    Drop,
    Drops,
    Flows,
    allowed_drop_of,
    bright_need,
    drops_of,
    flows_of,
    sun_drops_with,
)
from rigfolio.findings import Span
from rigfolio.model import Conductor, Load, Panel
from rigfolio.network import Way
from rigfolio.operating import SizeOf
from rigfolio.protection import limit_in
from rigfolio.record import record
from rigfolio.sizing.drop import Sizer, worst_drop
from rigfolio.sizing.groups import Section, WireGroup
from rigfolio.sizing.needs import (
    Needs,
    bears,
    bonds,
    carries,
    flows_with,
    is_below_book,
    is_for_a_fuse,
    lacks,
    on_trial,
    sizes_on_trial,
)
from rigfolio.sizing.solve import Solved
from rigfolio.study import Study
from rigfolio.units import Size, is_over

NO_FIGURE = "no figure"
"""In place of a rule: the book has no figure for a thinner wire."""
LEAST_GAUGE = "least gauge"
"""In place of a rule: the book allows no thinner conductor."""
NO_DROP_LIMIT = "no drop limit"
"""As `LEAST_GAUGE` or `NO_FIGURE`, of the line of what charges: no book limits what it loses."""


@record
class Least:
    """The thinnest size that would do, and the rule that forbids a thinner one.

    `let_in_a` is what a device lets into it, where that is what forbids one [A].
    """

    size: Size
    decisive: str
    let_in_a: float = 0.0


def least_sizes(study: Study, sections: tuple[Section, ...], solved: Solved) -> dict[Span, Least]:
    """The least of every wire that was sized, each section tried with all others as fitted.

    The wires of a circuit are tried together, in one size where drop decides; feeders one by one.
    """
    search = _Thinning(study, solved)
    circuits: list[tuple[WireGroup, ...]] = []
    feeders: list[tuple[WireGroup, ...]] = []
    for section in sections:
        is_sized = not section.missing
        groups = tuple(g for g in section.groups if is_sized and g.key in solved.sizes)
        if section.kind == "circuit":
            circuits.append(groups)
        else:
            feeders += [(group,) for group in groups]
    search.prove(circuits)
    search.prove(feeders)
    return {key: one for part in (*circuits, *feeders) for key, one in search.least(part).items()}


def _needs_when_thin(study: Study, solved: Solved) -> Needs:
    """What every wire must bear, as wires show it that are as thin as they come."""
    free = solved.wiring.free
    needs = Needs()
    needs.flows = flows_with(study, solved.sizes)
    needs.limit_a, needs.by = dict(solved.needs.limit_a), dict(solved.needs.by)
    needs.area_m2 = dict(solved.needs.area_m2)
    thin = {
        key: next((s for s in g.stock if bears(study, g, s, Needs())), solved.sizes[key])
        for key, g in free.items()
    }
    trial = on_trial(study, thin, solved.ratings)
    for lack in lacks(trial):
        if lack.wire.span in free and not is_for_a_fuse(trial, lack):
            needs.note(lack)
    # The bond matches the lead on the plus post, so that lead stays as fitted.
    back = {
        key: thin[key] if study.side.get(group.first.a) == "-" else solved.sizes[key]
        for key, group in free.items()
    }
    for key, area_m2 in bonds(on_trial(study, back, solved.ratings)):
        if key in free:
            needs.note_area(key, area_m2)
    return needs


class _Thinning:
    """Tries thinner wires in one place at a time."""

    def __init__(self, study: Study, solved: Solved) -> None:
        self.study = study
        self.solved = solved
        self.needs = _needs_when_thin(study, solved)
        self.sizer = Sizer(study, solved.wiring, self.needs)
        self.drops = Drops(self.needs.flows_in(study))
        self.loads: dict[Span, dict[str, Load]] = {}
        self.panels: dict[Span, dict[str, Panel]] = {}
        self.arrays: dict[Span, set[str]] = {}
        self.proved: set[frozenset[tuple[Span, Size]]] = set()
        rated = on_trial(study, {}, solved.ratings)
        self.overloaded = _overloaded(rated, self.needs.flows_in(study))
        fitted = sizes_on_trial(solved.sizes)
        for load in study.rig.loads:
            # One that loses too much as it is forbids nothing: it is told of by itself.
            drop = _drop(self.drops, load, fitted)
            if drop is None or not allowed_drop_of(study, load).is_broken_by(drop.share):
                for key in _lines(flows_of(study).ways.get(load.about.name, ())):
                    self.loads.setdefault(key, {})[load.about.name] = load
        usual = sun_figure("drop", "share")
        for sun in sun_drops_with(study, fitted):
            for wire, _ in () if usual.is_broken_by(sun.share) else sun.by_wire:
                self.arrays.setdefault(wire.span, set()).add(sun.array.about.name)
        for panel in study.rig.panels:
            for key in _lines(flows_of(study).feeders(panel)):
                self.panels.setdefault(key, {})[panel.about.name] = panel

    def prove(self, parts: Sequence[tuple[WireGroup, ...]]) -> None:
        """Try all of some parts at once: what holds among thinner wires holds among those fitted.

        A resistance draws less behind thinner wire, so that it may only be tried by itself.
        """
        if any(load.kind not in ("power", "current") for load in self.study.rig.loads):
            return
        found = []
        for part in filter(self._draws_more, parts):
            sizes = self._thinner(part, self._plain(part))
            kept = (tried for tried in sizes if self._keeps_asked(part, tried))
            found += [(part, tried) for tried in islice(kept, 1)]
        if len(found) < 2:
            return
        together = {key: size for _, tried in found for key, size in tried.items()}
        trial = on_trial(self.study, {**self.solved.sizes, **together}, self.solved.ratings)
        for part, tried in found:
            if self._holds_in(trial, tried, part):
                self.proved.add(frozenset(tried.items()))

    def _draws_more(self, groups: tuple[WireGroup, ...]) -> bool:
        """Whether anything behind some wires draws another current when they are thinner."""
        behind = {name for g in groups for name in self.loads.get(g.key, ())}
        return any(
            load.about.name in behind and load.kind != "current" for load in self.study.rig.loads
        )

    def least(self, groups: tuple[WireGroup, ...]) -> dict[Span, Least]:
        """The least of some wires that are tried together."""
        plain = self._plain(groups)
        tried: dict[Span, Size] = {}
        for tried in self._thinner(groups, plain):
            if self._holds(tried, groups):
                break
        return {one.key: self._told(one, tried[one.key], plain[one.key]) for one in groups}

    def _told(self, group: WireGroup, size: Size, plain: Size) -> Least:
        decisive = self._decisive(group, size, plain)
        is_let_in = decisive == self.needs.by.get(group.key)
        return Least(size, decisive, self.needs.limit_a[group.key] if is_let_in else 0.0)

    def _plain(self, groups: tuple[WireGroup, ...]) -> dict[Span, Size]:
        """The thinnest of each wire that bears what it must, whatever it loses."""
        plain = {}
        for group in groups:
            size = self.sizer.thinnest(group, None, 0.0)
            has = self.solved.sizes[group.key]
            plain[group.key] = size if size is not None and size.area_m2 < has.area_m2 else has
        return plain

    def _thinner(
        self, groups: tuple[WireGroup, ...], plain: Mapping[Span, Size]
    ) -> Iterator[dict[Span, Size]]:
        """Sizes to be tried for some wires, from `plain` on; none is thicker than fitted."""
        for area_m2 in sorted({0.0, *(size.area_m2 for group in groups for size in group.stock)}):
            tried = {}
            for group in groups:
                size = self.sizer.thinnest(group, plain[group.key], area_m2)
                has = self.solved.sizes[group.key]
                tried[group.key] = size if size and size.area_m2 < has.area_m2 else has
            yield tried

    def _keeps_asked(self, groups: tuple[WireGroup, ...], tried: Mapping[Span, Size]) -> bool:
        """Whether the drops hold with what is drawn as it is."""
        size_of = sizes_on_trial({**self.solved.sizes, **tried})
        return self._keeps(groups, self.drops, size_of) and self._sun_keeps(groups, size_of)

    def _holds(self, tried: Mapping[Span, Size], groups: tuple[WireGroup, ...]) -> bool:
        """Whether every load and feeder behind some wires keeps its drop, with what is drawn then.

        What holds its watts draws more behind thinner wire, and takes that from the feeder too.
        """
        if not self._keeps_asked(groups, tried):
            return False
        if not self._draws_more(groups) or frozenset(tried.items()) in self.proved:
            return True
        sizes = {**self.solved.sizes, **tried}
        return self._holds_in(on_trial(self.study, sizes, self.solved.ratings), tried, groups)

    def _holds_in(
        self, trial: Study, tried: Mapping[Span, Size], groups: tuple[WireGroup, ...]
    ) -> bool:
        """Whether some wires bear what is drawn on trial, and all behind them keeps its drop."""
        needs = Needs()
        needs.flows = flows_of(trial)
        bear = all(bears(trial, group, tried[group.key], needs) for group in groups)
        is_carried = _overloaded(trial, needs.flows) <= self.overloaded
        return bear and is_carried and self._keeps(groups, drops_of(trial), None)

    def _keeps(self, groups: tuple[WireGroup, ...], drops: Drops, size_of: SizeOf | None) -> bool:
        loads = self._loads_keep(groups, drops, size_of)
        return loads and self._feeders_keep(groups, drops, size_of)

    def _loads_keep(
        self, groups: tuple[WireGroup, ...], drops: Drops, size_of: SizeOf | None
    ) -> bool:
        loads = {name: load for g in groups for name, load in self.loads.get(g.key, {}).items()}
        for load in loads.values():
            drop = _drop(drops, load, size_of)
            if drop is not None and allowed_drop_of(self.study, load).is_broken_by(drop.share):
                return False
        return True

    def _feeders_keep(
        self, groups: tuple[WireGroup, ...], drops: Drops, size_of: SizeOf | None
    ) -> bool:
        panels = {name: one for g in groups for name, one in self.panels.get(g.key, {}).items()}
        allowed = self.study.book.feeder_drop_share()
        feeders = (drops.feeder(panel, size_of) for panel in panels.values())
        return all(drop is None or not allowed.is_broken_by(drop.share) for drop in feeders)

    def _sun_keeps(self, groups: tuple[WireGroup, ...], size_of: SizeOf) -> bool:
        """Whether the arrays before some wires lose no more on the way than is usual."""
        arrays = {name for group in groups for name in self.arrays.get(group.key, ())}
        allowed = sun_figure("drop", "share")
        drops = sun_drops_with(self.study, size_of) if arrays else ()
        asked = [one for one in drops if one.array.about.name in arrays]
        return all(not allowed.is_broken_by(one.share) for one in asked)

    def _decisive(self, group: WireGroup, size: Size, plain: Size) -> str:
        """The rule that forbids a wire thinner than its least."""
        key = group.key
        thinner = [s for s in group.stock if is_over(size.area_m2, s.area_m2)]
        if not thinner:
            return ""
        if is_over(size.area_m2, plain.area_m2):
            return self._decisive_drop(group, {**self.solved.sizes, key: thinner[-1]})
        for name, needs in self._single(key):
            if not carries(self.study, group, thinner[-1], needs):
                return name
        is_below = is_below_book(self.study, group.first, thinner[-1])
        if is_below or limit_in(self.study, group.first, thinner[-1]) is None:
            if is_unlimited(self.study, group.first):
                return NO_DROP_LIMIT
            return LEAST_GAUGE if is_below else NO_FIGURE
        if carries(self.study, group, thinner[-1], self.needs):
            return "start-heats-wire"
        if bright_need(self.study, group.first) is not None:
            return "bright-sun"
        is_back = self.study.side.get(group.first.a) == "-"
        return "return-overloaded" if is_back else "wire-overloaded"

    def _decisive_drop(self, group: WireGroup, sizes: Mapping[Span, Size]) -> str:
        """The rule on drops that forbids some sizes, one wire thinner than its least."""
        drops = self.drops, sizes_on_trial(sizes)
        if not self._sun_keeps((group,), drops[1]):
            return "array-drop"
        if self._keeps((group,), *drops):
            # Only what loads of watts draw behind thinner wire forbids it.
            drops = drops_of(on_trial(self.study, sizes, self.solved.ratings)), drops[1]
        if self._loads_keep((group,), *drops) and not self._feeders_keep((group,), *drops):
            return "feeder-drop"
        return "voltage-drop"

    def _single(self, key: Span) -> Iterable[tuple[str, Needs]]:
        """Each need of a wire by itself, the one that decides most often first."""
        if key in self.needs.limit_a:
            alone = Needs()
            alone.limit_a[key] = self.needs.limit_a[key]
            yield self.needs.by[key], alone
        if key in self.needs.area_m2:
            bond = Needs()
            bond.area_m2[key] = self.needs.area_m2[key]
            yield "chassis-bond-thin", bond


def _drop(drops: Drops, load: Load, size_of: SizeOf | None) -> Drop | None:
    """The worst drop of a load; no wire is made thinner than what turns an engine over allows."""
    if load.about.name in drops.flows.counts.starters:
        return drops.of(load, size_of)
    return worst_drop(drops, load, size_of)


def is_unlimited(study: Study, wire: Conductor) -> bool:
    """Whether nothing runs through a wire but what charges, in current and not by light.

    What it loses makes charging slower, and no rule book has a limit for it.
    """
    flows = flows_of(study)
    return flows.is_charging_line(wire.name) and bright_need(study, wire) is None


def _overloaded(study: Study, flows: Flows) -> frozenset[str]:
    """The devices that what is drawn is too much for."""
    return frozenset(
        one.about.name
        for one in study.rig.devices
        if one.protects
        and isinstance(one.rating_a, float)
        and is_over(flows.demand(one.about.name).current_a, one.rating_a)
    )


def _lines(ways: Iterable[Way]) -> Iterable[Span]:
    for way in (one for each in ways for one in each.every):
        meshed = (edge for stretch in way.stretches for edge in stretch.mesh.edges)
        for edge in (*way.out, *way.back, *meshed):
            if isinstance(edge, Conductor):
                yield edge.span
