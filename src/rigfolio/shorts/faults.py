"""Short circuits: what flows, what opens and when, what the copper takes, what goes dark."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from functools import cached_property

from rigfolio.books import Limit
from rigfolio.isolation import CLOSED, Open
from rigfolio.model import Conductor, Device, Source
from rigfolio.network import Edge, edge_name, is_guard
from rigfolio.operating import has_ohm, source_ohm
from rigfolio.protection import interrupts
from rigfolio.record import record, replace
from rigfolio.shorts.cases import Case, CaseName, Fault, Interrupt, may_break
from rigfolio.shorts.clearing import (
    Clearing,
    Ways,
    blow,
    clearing,
    is_selective,
)
from rigfolio.shorts.sources import (
    Core,
    Currents,
    FaultCurrent,
    as_cranked,
    cranked_a,
    hardest,
    usual_ohm,
    weakest,
)
from rigfolio.shorts.unknown_inside import absences, bound_of
from rigfolio.shorts.wiring import FaultWiring
from rigfolio.study import Study

# Share of a fault current below which a part of the core counts as not touched by it.
_TRACE = 1e-6
# Faults of a rig that are kept; in a large one each is asked of by few, and there are very many.
_MOST_KEPT = 1_000
# A battery of 2 kA and a fuse that breaks 2 kA: what the sum is off by is no more current.
_DIGITS = 10


class Faults:
    """All faults of a rig; what they share is worked out once.

    `like` are faults of the same rig with the same edges open; what does not turn on which sources
    are on is theirs.
    """

    def __init__(self, study: Study, opened: Open = CLOSED, like: "Faults | None" = None) -> None:
        self.study, self.opened = study, opened
        self._wiring: FaultWiring = like._wiring if like is not None else FaultWiring(study, opened)
        self.core, self._minus = self._wiring.core, self._wiring.minus
        self.ask = tuple(s for s in self._sources() if _is_strong(s) and source_ohm(s) is None)
        self._ask = frozenset(source.about.name for source in self.ask)
        self._starts: dict[tuple[str, str | None], _FaultStart | None] = {}
        self._fed: dict[tuple[str, str], Ways] = {}

    def without(self, sources: frozenset[str]) -> "Faults":
        """The faults of the rig with further sources off."""
        return Faults(self.study, Open(self.opened.edges, self.opened.sources | sources), self)

    def at(self, terminal: str, to: str | None = None) -> Fault | None:
        """A fault at a terminal of the plus side.

        Parameters
        ----------
        terminal : str
            A terminal joined to the plus of a source.
        to : str, optional
            A terminal of the minus side, the frame among them. If left out, the minus of the load
            there or of its circuit, the negative of its panel, or the minus of a source.

        Returns
        -------
        Fault | None
            None where the two are not on the two sides, or no source drives a current there.
        """
        to = to or self.minus_of(terminal)
        start = self._start(terminal, to)
        if start is None or to is None:
            return None
        way, ask, unknown = start.way, start.ask, start.unknown
        hot = self._hot.fault(start.plus, start.minus, sum(map(self._wiring.hot.of, way)))
        assumed = tuple(
            (s, usual) for s in ask if (usual := self._usual.get(s.about.name)) is not None
        )
        weak = bool(unknown) or any(s.stores and s.about.name not in self._usual for s in ask)
        return Fault(
            terminal, to, self._coldest(start),
            _case(self, "hottest", hot, start, is_sure=not weak), ask, assumed, unknown,
        )  # fmt: skip

    def coldest_at(self, terminal: str, to: str | None = None) -> Case | None:
        """As `at`, of the coldest case alone."""
        start = self._start(terminal, to or self.minus_of(terminal))
        return self._coldest(start) if start is not None else None

    def _coldest(self, start: "_FaultStart") -> Case:
        return _case(self, "coldest", start.flow, start, is_sure=start.is_sure)

    def _start(self, terminal: str, to: str | None) -> "_FaultStart | None":
        key = (terminal, to)
        if key in self._starts:
            return self._starts[key]
        start = _begun(self, terminal, to)
        if len(self._starts) < _MOST_KEPT:
            self._starts[key] = start
        return start

    def interrupt(
        self, device: Device, at: Collection[str] = (), to: str | None = None
    ) -> Interrupt | None:
        """Whether a device may break a fault right beside it, on either side or at some ends.

        With a terminal of the minus side to go `to`, those very shorts are meant.

        Without a rating of its own, that of its family counts, and of a blade fuse in a slot. None
        for a device that breaks none, and for one that no fault drives a current through. Beside
        batteries what is limited by itself does not count: in a short a charger folds back and an
        alternator loses its field (common practice).
        """
        at = at or (device.load, device.line)
        if (
            self._strong is not self
            and (strong := self._strong.interrupt(device, at, to)) is not None
        ):
            return strong
        found = self._beside(device, at, to)
        if not found:
            return None
        volts = (self.study.most_volts.get(start.plus, 0.0) for start, _ in found)
        rating = interrupts(device, max(volts) or self.study.rig.system_v)
        is_bounded = all(start.is_bounded for start, _ in found)
        bound_a = max(through_a for _, through_a in found) if is_bounded else None
        current_a = bound_a if all(start.is_sure for start, _ in found) else None
        least_a = self._least(device, (at, to), found) if current_a is None else current_a
        may = may_break(rating, bound_a, least_a)
        ask = dict.fromkeys(source for start, _ in found for source in start.ask)
        worst, _ = max(found, key=lambda pair: pair[1])
        gives = worst.flow.sources
        by = tuple(
            s
            for s, _ in _through(self.core, worst, device)
            if gives.get(s.about.name, 0.0) > 0.0 and _is_strong(s)
        )
        unknown = {wire.name: wire for start, _ in found for wire in start.unknown}
        return Interrupt(
            device, rating, current_a, bound_a, may, tuple(ask), least_a, by,
            tuple(unknown.values()),
        )  # fmt: skip

    def _beside(
        self, device: Device, at: Collection[str], to: str | None
    ) -> "list[tuple[_FaultStart, float]]":
        """The faults at some ends of a device, with what each drives through it [A]."""
        name, found = edge_name(device), []
        ends = at if device.protects else ()
        starts = (self._start(*pair) for end in ends for pair in _shorts(self, end, to))
        for start in filter(None, starts):
            on_way = any(isinstance(e, Device) and edge_name(e) == name for e in start.way)
            own_a = start.flow.current_a if on_way else abs(start.flow.edges.get(name, 0.0))
            if own_a > _TRACE * start.flow.current_a:
                found.append((start, float(f"{own_a:.{_DIGITS}g}")))
        return found

    def _least(
        self, device: Device, shorts: tuple[Collection[str], str | None],
        found: "Sequence[tuple[_FaultStart, float]]",
    ) -> float | None:  # fmt: skip
        """What flows for sure: by the faults that are known, and with the sources at their least.

        None where nothing is sure.
        """
        more = self._at_least._beside(device, *shorts) if self.ask else []
        return max((own_a for start, own_a in (*found, *more) if start.is_sure), default=None)

    @property
    def _strong(self) -> "Faults":
        """The faults with only the sources on that nothing limits but what is inside them."""
        # What kept itself would stay when nobody asks it any more.
        return self._without_limited or self

    @cached_property
    def _without_limited(self) -> "Faults | None":
        limited = frozenset(s.about.name for s in self._sources() if not _is_strong(s))
        return self.without(limited) if limited else None

    @cached_property
    def _at_least(self) -> "Faults":
        """The faults that are sure."""
        return _sure(self)

    def minus_of(self, terminal: str) -> str | None:
        """Where a fault at a terminal finds the minus side, if the text does not say."""
        found = self._minus.of.get(terminal)
        return found if found is not None else self._near_minus(terminal)

    def _near_minus(self, terminal: str) -> str | None:
        """The negative of a slot's panel, else the minus of the nearest source, a battery first."""
        slot = self._minus.slots.get(terminal)
        if slot is not None:
            return slot
        _, plus = self.core.branch(terminal)
        ways = ((source, self.core.way(source.plus, plus)) for source in self._sources())
        near = ((not s.stores, len(w), s.about.name, s.minus) for s, w in ways if w is not None)
        return min(near, default=("",))[-1] or None

    def _sources(self) -> tuple[Source, ...]:
        """The sources that are on, batteries first."""
        on = [s for s in self.study.rig.sources if s.about.name not in self.opened.sources]
        return tuple(sorted(on, key=lambda source: not source.stores))

    @cached_property
    def _usual(self) -> Mapping[str, Limit]:
        """The most that the batteries asked for usually have inside [ohm]."""
        usual = ((source.about.name, usual_ohm(source)) for source in self.ask)
        return {name: limit for name, limit in usual if limit is not None}

    @cached_property
    def _cold(self) -> Currents:
        """Everything that can drive a current, as hard as it can."""
        drives = tuple(hardest(each) for each in self._sources())
        return Currents(self.core, drives, self._wiring.cold.of)

    @cached_property
    def _hot(self) -> Currents:
        """Batteries only, as weak as they may be; other sources where there is no battery."""
        drives = weakest(self._sources(), self._usual, self.core.net)
        return Currents(self.core, drives, self._wiring.hot.of)

    @cached_property
    def _each_absent(self) -> "tuple[Faults, ...]":
        """The faults with some of those off of which it is not known what they have inside."""
        return tuple(map(self.without, absences(self.ask)))

    def _feeding(self, plus: str, minus: str) -> Ways:
        """The sources that reach two places of the core, each with its way there and back."""
        key = (plus, minus)
        if key not in self._fed:
            self._fed[key] = tuple(_feeding(self, plus, minus))
        return self._fed[key]


def _sure(faults: Faults) -> Faults:
    """The same with every source off of which no figure is known.

    Batteries of which cranking amperes are known give what these promise.
    """
    cranked = {one.about.name for one in faults.ask if cranked_a(one) is not None}
    unknown = frozenset(one.about.name for one in faults.ask) - cranked
    if not cranked:
        return faults.without(unknown)
    off = Open(faults.opened.edges, faults.opened.sources | unknown)
    return Faults(as_cranked(faults.study), off)


def _most(faults: Faults, plus: str, minus: str, ohm: float) -> tuple[FaultCurrent | None, bool]:
    """The most in each part of a fault, whatever is not known; whether anything holds it back."""
    flow = faults._cold.fault(plus, minus, ohm)
    if flow is None or not faults.ask:
        return flow, True
    others = (each._cold.fault(plus, minus, ohm) for each in faults._each_absent)
    return bound_of(faults._ask, faults._cold, (flow, *filter(None, others)))


def _begun(faults: Faults, terminal: str, to: str | None) -> "_FaultStart | None":
    side, core = faults.study.side, faults.core
    if side.get(terminal) != "+" or to is None or side.get(to) != "-":
        return None
    out, plus = core.branch(terminal)
    back, minus = core.branch(to)
    way = (*out, *back)
    flow, is_bounded = _most(faults, plus, minus, sum(map(faults._wiring.cold.of, way)))
    if flow is None:
        return None
    feeding = faults._feeding(plus, minus)
    edges = (*way, *(edge for _, found in feeding for edge in found))
    wires = {e.name: e for e in edges if isinstance(e, Conductor)}
    unknown = tuple(wire for wire in wires.values() if not has_ohm(wire))
    ask = tuple(s for s, _ in feeding if s.about.name in faults._ask)
    return _FaultStart(plus, minus, way, flow, feeding, ask, unknown, is_bounded)


def _feeding(faults: Faults, plus: str, minus: str) -> Iterator[tuple[Source, tuple[Edge, ...]]]:
    for source in faults._sources():
        out = faults.core.way(source.plus, plus)
        back = faults.core.way(source.minus, minus)
        if out is not None and back is not None:
            yield source, (*out, *back)


def _through(core: Core, start: "_FaultStart", device: Device) -> Ways:
    """Of the sources that feed a fault those whose current comes through a device.

    In a ring any of them may send a part of it that way.
    """
    name = edge_name(device)
    if len(start.feeding) == 1 or any(edge_name(edge) == name for edge in start.way):
        return start.feeding
    if device.load in core.net.walk([device.line], lambda edge: edge_name(edge) == name):
        return start.feeding
    return tuple(
        (source, way)
        for source, way in start.feeding
        if any(edge_name(edge) == name for edge in way)
    )


def _shorts(faults: Faults, end: str, to: str | None) -> Iterator[tuple[str, str | None]]:
    """The shorts at a terminal: to its minus, and on the minus side from a plus post."""
    study = faults.study
    if study.side.get(end) != "-":
        yield end, to or faults._near_minus(end)
        return
    joined = study.net.walk([end])
    for source in study.rig.sources:
        is_off = source.about.name in faults.opened.sources
        if source.stores and source.minus in joined and not is_off:
            yield source.plus, end


@record
class _FaultStart:
    """A fault before it is judged: where it meets the core, and what flows there at worst.

    `is_bounded` is whether something that is known holds it back.
    """

    plus: str
    minus: str
    way: tuple[Edge, ...]
    flow: FaultCurrent
    feeding: Ways
    ask: tuple[Source, ...]
    unknown: tuple[Conductor, ...]
    is_bounded: bool

    @property
    def is_sure(self) -> bool:
        return not self.ask and not self.unknown


def _case(
    faults: Faults, name: CaseName, flow: FaultCurrent | None, start: _FaultStart, *, is_sure: bool
) -> Case:
    """What a current does that flows into a fault, in one of the two cases."""
    if flow is None or (name == "hottest" and not is_sure):
        return Case(faults.study, name, None, None)
    way, feeding = start.way, start.feeding
    own_a = [(edge, flow.current_a) for edge in way]
    own_a += [
        (edge, abs(flow.edges[label]))
        for edge, label in zip(faults.core.edges, faults.core.names, strict=True)
        if abs(flow.edges[label]) > _TRACE * flow.current_a
    ]
    found = [blow(e, a) for e, a in own_a if is_guard(e)]
    blows = tuple(sorted(found, key=lambda one: -one.overload))
    ways = tuple(
        (source, (*way, *edges))
        for source, edges in feeding if flow.sources.get(source.about.name, 0.0) > 0.0
    )  # fmt: skip
    ends = _parted(faults, start, clearing(blows, ways))
    feeds = {source.about.name for source, _ in feeding}
    if name == "coldest" and not start.is_bounded:
        open_end = ends if ends.endless else Clearing(None, ends.each)
        return Case(faults.study, name, None, None, blows=blows, ends=open_end)
    return Case(
        faults.study, name, flow.current_a if is_sure else None, flow.current_a,
        tuple((n, a) for n, a in flow.sources.items() if n in feeds), blows,
        tuple([(edge, a) for edge, a in own_a if isinstance(edge, Conductor)]), ends,
        is_selective(blows, ways),
    )  # fmt: skip


def _parted(faults: Faults, start: _FaultStart, ends: Clearing) -> Clearing:
    """How a fault ends, with those limited sources marked that what opens leaves no way to it."""
    off = {edge_name(device) for device in ends.firsts}
    if not off or not any(one.is_limited for one in ends.each):
        return ends
    is_cut = any(edge_name(edge) in off for edge in start.way)
    opened = faults.opened
    walk = faults.study.net.walk
    near = (
        () if is_cut
        else walk([start.plus], lambda edge: edge_name(edge) in off or opened.bars(edge))
    )  # fmt: skip
    each = [
        replace(one, is_parted=one.is_limited and one.source.plus not in near) for one in ends.each
    ]
    return replace(ends, each=tuple(each))


def _is_strong(source: Source) -> bool:
    """Whether nothing is known to limit a source but what is inside it."""
    return not isinstance(source.limit_a, float)
