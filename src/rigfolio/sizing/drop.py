"""The copper that voltage drop asks for, out and back, the feeder counted with its demand."""

from collections.abc import Callable, Collection, Iterator, Mapping

from rigfolio.books import sun_figure
from rigfolio.demand import (
    Drop,
    Drops,
    Flows,
    allowed_drop_of,
    bank_leads,
    lasting_start,
    sun_drops_with,
)
from rigfolio.findings import Span
from rigfolio.model import Conductor, Load
from rigfolio.network import Way
from rigfolio.operating import Drawn, SizeOf
from rigfolio.record import record
from rigfolio.sizing.groups import WireGroup
from rigfolio.sizing.needs import Needs, bears, flows_with, sizes_on_trial
from rigfolio.study import Study
from rigfolio.units import Size, is_over

_SAME = 1e-6
_MOST_DRAWS = 40
"""Times that draws of loads are counted anew; what has not settled by then is near collapse."""


@record
class FreeGroups:
    """The groups that may be sized, by the line that writes them, and by section."""

    free: Mapping[Span, WireGroup]
    of_section: Mapping[str, tuple[WireGroup, ...]]
    left_out: frozenset[str]
    """Sections by place that stay as they are: they cannot be sized."""

    @property
    def held(self) -> frozenset[Span]:
        """The lines of those sections."""
        return frozenset(
            group.key for place in self.left_out for group in self.of_section.get(place, ())
        )


def worst_drop(drops: Drops, load: Load, size_of: SizeOf | None) -> Drop | None:
    """The drop of a load as it runs or, where that is more, while it starts if that lasts.

    None of what turns an engine over: its leads are not sized by what others are.
    """
    if load.about.name in drops.flows.counts.starters:
        return None
    running, start = drops.of(load, size_of), lasting_start(drops.flows, load)
    if running is None or start is None:
        return running
    starting = drops.starting(load, start.current_a, size_of)
    return running if starting is None else max(running, starting, key=lambda one: one.volts)


class Stuck(Exception):  # noqa: N818
    """No stock size keeps the drop of a section; `place` is the section, empty if it is not one."""

    def __init__(self, place: str) -> None:
        super().__init__(place)
        self.place = place


class Sizer:
    """Sizes for one set of needs; what drop asks of feeders is taken down in the needs."""

    def __init__(self, study: Study, wiring: FreeGroups, needs: Needs) -> None:
        self.study = study
        self.wiring = wiring
        self.held = wiring.held
        self.needs = needs
        self.drops = Drops(needs.flows_in(study))

    def sizes(self, least: Mapping[Span, Size]) -> dict[Span, Size]:
        """The thinnest sizes, none below `least`, that meet the needs and keep every drop.

        Raises
        ------
        Stuck
            No stock size does.
        """
        for _ in range(self._most_rounds()):
            sizes = {}
            for key, group in self.wiring.free.items():
                floor_m2 = self.needs.floor_m2.get(key, 0.0)
                found = self.thinnest(group, least.get(key), floor_m2)
                if found is None:
                    raise Stuck(self._place_of(key))
                sizes[key] = found
            _even_out(self, sizes, least)
            kept = self._feeders(sizes) and self._sun(sizes)
            kept = kept and all(self._own(load, sizes) for load in self._loads(is_open=True))
            for load in self._loads(is_open=False) if kept else ():
                _own_alone(self, load, sizes)
            if kept and not self._draws_more(sizes):
                return sizes
        raise Stuck("")

    def _most_rounds(self) -> int:
        """Rounds after which nothing can be left to grow: every floor has risen through stock."""
        return _MOST_DRAWS + sum(len(group.stock) for group in self.wiring.free.values())

    def _draws_more(self, sizes: Mapping[Span, Size]) -> bool:
        """Whether loads draw more behind these sizes than was counted; that counts from now on."""
        if all(load.kind == "current" for load in self.study.rig.loads):
            return False
        counted, found = self.drops.flows, flows_with(self.study, sizes)
        if not _is_above(found.expected, counted.expected):
            return False
        # Draws only ever rise from one count to the next, so that the counting ends.
        drawn = _larger(found.own, counted.own), _larger(found.expected, counted.expected)
        self.needs.flows = Flows(self.study, sizes_on_trial(sizes), drawn)
        self.drops = Drops(self.needs.flows)
        return True

    def _loads(self, *, is_open: bool) -> Iterator[Load]:
        """The loads of circuits that are sized, with all on their ways that is, or with less."""
        for load in self.study.rig.loads:
            ways = self.drops.flows.ways.get(load.about.name, ())
            if load.circuit in self.wiring.left_out:
                continue
            if all(map(self._is_open, ways)) is is_open:
                yield load

    def _is_open(self, way: Way) -> bool:
        """Whether all wires on a way that could be sized may be.

        What one loses that stays as it is would else be made up for by others.
        """
        edges = (edge for one in way.every for edge in (*one.out, *one.back))
        wires = (edge for edge in edges if isinstance(edge, Conductor))
        return not any(wire.span in self.held for wire in wires)

    def _place_of(self, key: Span) -> str:
        places = self.wiring.of_section.items()
        return next(place for place, groups in places if any(group.key == key for group in groups))

    def thinnest(self, group: WireGroup, least: Size | None, area_m2: float) -> Size | None:
        """The thinnest size of a group that meets its needs, not below a size and an area."""
        candidates: tuple[Size, ...] = () if least is None else (least,)
        for size in (*candidates, *group.stock):
            thinner = least is not None and is_over(least.area_m2, size.area_m2)
            if thinner or is_over(area_m2, size.area_m2):
                continue
            if bears(self.study, group, size, self.needs):
                return size
        return None

    def _feeders(self, sizes: Mapping[Span, Size]) -> bool:
        """Whether every panel feeder keeps what is left to it; else one of its wires grows."""
        allowed = self.study.book.feeder_drop_share()
        size_of = sizes_on_trial(sizes)
        for panel in self.study.rig.panels:
            drop = self.drops.feeder(panel, size_of)
            if drop is None or not allowed.is_broken_by(drop.share) or not self._is_open(drop.way):
                continue
            if self._grow(drop, sizes, lambda _: True):
                return False
        return True

    def _sun(self, sizes: Mapping[Span, Size]) -> bool:
        """Whether every array keeps what it gives at its most; else one of its wires grows."""
        lost = _lost_of_sun(self.study, sizes, self.held)
        return not any(self._grow_worst(one, sizes) for one in lost)

    def _own(self, load: Load, sizes: dict[Span, Size]) -> bool:
        """Make the wires of a load's own thick enough; false where a feeder had to grow."""
        drops, allowed = self.drops, allowed_drop_of(self.study, load)
        drop = worst_drop(drops, load, sizes_on_trial(sizes))
        if drop is None or not allowed.is_broken_by(drop.share):
            return True
        own = self._own_groups(load)
        if self._shared_return_grows(drop, own, sizes):
            return False
        drop = _raise(self, load, own, sizes, drop)
        if not allowed.is_broken_by(drop.share):
            return True
        mine = {group.key for group in own}
        if not self._grow(drop, sizes, lambda wire: wire.span not in mine):
            raise Stuck(load.circuit or self._first_place(own, drop))
        return False

    def _shared_return_grows(
        self, drop: Drop, own: tuple[WireGroup, ...], sizes: Mapping[Span, Size]
    ) -> bool:
        """Grow a return that a load shares where it loses more than the wires of the load's own.

        One wire then serves all that come back by it, where thicker wire for one of them would have
        to make up for what the others lose.
        """
        mine = {group.key for group in own}
        back = [e for e in drop.way.back if isinstance(e, Conductor) and e.span not in mine]
        shared = {e.span for e in back if len(self.drops.flows.users(e.name)) > 1}
        lost = _lost_v(self.drops, drop, self.wiring.free, sizes)
        theirs_v = sum(lost_v for key, lost_v in lost.items() if key in shared)
        if theirs_v <= sum(lost_v for key, lost_v in lost.items() if key in mine):
            return False
        return self._grow(drop, sizes, lambda wire: wire.span in shared)

    def _first_place(self, own: tuple[WireGroup, ...], drop: Drop) -> str:
        keys = [group.key for group in own]
        keys += [e.span for e in (*drop.way.out, *drop.way.back) if isinstance(e, Conductor)]
        return next((self._place_of(key) for key in keys if key in self.wiring.free), "")

    def _own_groups(self, load: Load) -> tuple[WireGroup, ...]:
        """The wires of the circuit; of a load outside circuits those that carry nothing else."""
        if load.circuit:
            return tuple(
                group
                for group in self.wiring.of_section.get(load.circuit, ())
                if group.key in self.wiring.free
            )
        found: dict[Span, WireGroup] = {}
        for way in self.drops.flows.ways.get(load.about.name, ()):
            for edge in (edge for one in way.every for edge in (*one.out, *one.back)):
                if not isinstance(edge, Conductor) or edge.span not in self.wiring.free:
                    continue
                if self.drops.flows.users(edge.name) == {load.about.name}:
                    found[edge.span] = self.wiring.free[edge.span]
        return tuple(found.values())

    def _grow(
        self, drop: Drop, sizes: Mapping[Span, Size], may: Callable[[Conductor], bool]
    ) -> bool:
        """Ask one more size of the wire on a way that loses most; false where none can grow."""
        wires = [e for e in (*drop.way.out, *drop.way.back) if isinstance(e, Conductor)]
        able = {wire.span for wire in wires if wire.span in self.wiring.free and may(wire)}
        lost = _lost_v(self.drops, drop, self.wiring.free, sizes)
        return self._grow_worst({key: v for key, v in lost.items() if key in able}, sizes)

    def _grow_worst(self, every: Mapping[Span, float], sizes: Mapping[Span, Size]) -> bool:
        """Ask one more size of the line that loses most; false where none can grow."""
        able = {
            key: thicker
            for key, lost_v in every.items()
            if key in self.wiring.free
            and lost_v > 0.0
            and (thicker := self._thicker(key, sizes)) is not None
        }
        if not able:
            return False
        key = max(able, key=lambda one: every[one])
        self.needs.floor_m2[key] = able[key].area_m2
        return True

    def _thicker(self, key: Span, sizes: Mapping[Span, Size]) -> Size | None:
        stock = self.wiring.free[key].stock
        return next((s for s in stock if is_over(s.area_m2, sizes[key].area_m2)), None)


def _even_out(sizer: Sizer, sizes: dict[Span, Size], least: Mapping[Span, Size]) -> None:
    """Give the leads of batteries side by side the gauge of the one that has to grow most.

    Thicker wire for one alone makes its battery do the more of the work.
    """
    for leads in bank_leads(sizer.study):
        keys = [key for key in dict.fromkeys(wire.span for wire in leads) if key in sizes]
        area = {key: sizes[key].area_m2 for key in keys}
        has = {key: size.area_m2 for key, size in least.items()}
        grown = [one for key, one in area.items() if is_over(one, has.get(key, 0.0))]
        most_m2 = max(grown, default=0.0)
        for key in keys:
            if not is_over(most_m2, sizes[key].area_m2):
                continue
            size = sizer.thinnest(sizer.wiring.free[key], least.get(key), most_m2)
            if size is None:
                raise Stuck(sizer._place_of(key))
            sizes[key] = size
            sizer.needs.alike.add(key)


def _lost_v(
    drops: Drops, drop: Drop, free: Collection[Span], sizes: Mapping[Span, Size]
) -> dict[Span, float]:
    """What the wires on a way that may be sized lose, by the line that writes them [V]."""
    source = drop.way.source.about.name
    lost: dict[Span, float] = {}
    for edge in (*drop.way.out, *drop.way.back):
        if isinstance(edge, Conductor) and edge.span in free:
            current_a = drops.flows.from_source(source, edge.name)
            ohm = drops.ohm(edge, current_a, sizes[edge.span]) or 0.0
            lost[edge.span] = lost.get(edge.span, 0.0) + ohm * current_a
    return lost


def _own_alone(sizer: Sizer, load: Load, sizes: dict[Span, Size]) -> None:
    """As `Sizer._own`, of a load on whose way something stays as it is.

    Where its own wires lose most of the drop they grow, as long as that mends it; what others
    lose is not made up for.
    """
    drop = worst_drop(sizer.drops, load, sizes_on_trial(sizes))
    if drop is None or not allowed_drop_of(sizer.study, load).is_broken_by(drop.share):
        return
    own = sizer._own_groups(load)
    mine = {group.key for group in own}
    if drop.worst is not None and drop.worst.span in mine:
        _raise(sizer, load, own, sizes, drop)


def _raise(
    sizer: Sizer, load: Load, own: tuple[WireGroup, ...], sizes: dict[Span, Size], drop: Drop
) -> Drop:
    """Give the wires of a load's own the first size that keeps its drop; the drop at the last.

    They stay as they are where none does. `drop` is what is lost before, more than is allowed.
    """
    allowed = allowed_drop_of(sizer.study, load)
    for area_m2 in sorted({size.area_m2 for group in own for size in group.stock}):
        raised = _raised(sizer, own, sizes, area_m2)
        if raised is None:
            break
        drop = worst_drop(sizer.drops, load, sizes_on_trial({**sizes, **raised})) or drop
        if not allowed.is_broken_by(drop.share):
            sizes.update(raised)
            break
    return drop


def _raised(
    sizer: Sizer, own: tuple[WireGroup, ...], sizes: Mapping[Span, Size], area_m2: float
) -> dict[Span, Size] | None:
    """Own wires thinner than an area made as thick; None where no stock size is."""
    raised = {}
    for group in own:
        size = sizer.thinnest(group, sizes[group.key], area_m2)
        if size is None:
            return None
        raised[group.key] = size
    return raised


def _lost_of_sun(
    study: Study, sizes: Mapping[Span, Size], held: Collection[Span]
) -> Iterator[dict[Span, float]]:
    """What the wires of every array that loses too much on its way lose, by line [V].

    Left out where one of them stays as it is: others would have to make up for it.
    """
    allowed = sun_figure("drop", "share")
    for drop in sun_drops_with(study, sizes_on_trial(sizes)):
        is_open = not any(wire.span in held for wire, _ in drop.by_wire)
        if is_open and allowed.is_broken_by(drop.share):
            lost: dict[Span, float] = {}
            for wire, lost_v in drop.by_wire:
                lost[wire.span] = lost.get(wire.span, 0.0) + lost_v
            yield lost


def _is_above(found: Mapping[str, Drawn], counted: Mapping[str, Drawn]) -> bool:
    """Whether any load draws more than was counted, or collapses where that was not known."""
    return any(
        one.known_a > counted[name].known_a * (1.0 + _SAME)
        or (one.collapses and not counted[name].collapses)
        for name, one in found.items()
    )


def _larger(one: Mapping[str, Drawn], two: Mapping[str, Drawn]) -> dict[str, Drawn]:
    """Of every load the larger draw of two."""
    return {
        name: drawn if drawn.collapses or drawn.known_a > two[name].known_a else two[name]
        for name, drawn in one.items()
    }
