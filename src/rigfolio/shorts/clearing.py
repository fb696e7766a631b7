"""What a fault current does on its way: devices that open, conductors that heat."""

import math
from collections.abc import Iterable, Sequence
from itertools import compress
from typing import Literal

from rigfolio.books import Gates, Limit, far_apart, fault_k, fuse_gates
from rigfolio.calc import Window, opening_window, withstand_s
from rigfolio.findings import Citation, Unknown
from rigfolio.model import Conductor, Device, Source
from rigfolio.network import Edge
from rigfolio.record import record, replace
from rigfolio.study import Study
from rigfolio.units import is_over

Speed = Literal["timed", "holds", "no gate", "no table", "no rating"]
"""How far the time of a device is known.

Timed: between gates. Holds: no more than its rating flows. No gate: more than that, but less than
the first gate. No table: its family has none, as breakers of any kind.
"""
Ways = Sequence[tuple[Source, Sequence[Edge]]]
"""The sources that feed a fault, each with all edges between it and the fault, there and back."""

_NEVER = Window(math.inf, math.inf)


@record
class Blow:
    """A fuse or breaker in a fault: its current [A], and the time in which it opens.

    `window` is None unless `speed` is `timed`; `source` is that of the gates. `beyond` is whether
    the current is above the last gate, which lies at `last` times the rating [-]: it opens no later
    than there, and may be far sooner.
    """

    device: Device
    current_a: float
    speed: Speed
    window: Window | None = None
    source: Citation | None = None
    beyond: bool = False
    last: float = 0.0

    @property
    def overload(self) -> float:
        """Its current over its rating [-]; 0 where that is not known."""
        rating_a = self.device.rating_a
        return self.current_a / rating_a if isinstance(rating_a, float) and rating_a else 0.0


@record
class Stress:
    """A conductor in a fault: its current [A], and how long it takes that [s].

    `holds` is whether what opens is sure to open in that time; None where that cannot be told, as
    for a time that is the last gate's of a fuse far beyond it.
    `k` is the constant that decides, None where the conductor is not known well enough.
    """

    wire: Conductor
    current_a: float
    withstand_s: float | None
    clears_s: float | None
    holds: bool | None
    k: Limit | None


@record
class SourceEnd:
    """How one source stops feeding a fault.

    `window` is the time in which the first device on its way opens; infinite where none does, None
    where that cannot be told. `by` is that device. `is_limited` says that the source gives no more
    than its own limit and others drive the fault, `is_beyond` that the time is no more than a
    bound: of a last gate, or beside a device whose time no table tells and which is loaded more.
    `wires` are the conductors on its way, by name. `first` is the device there that is overloaded
    most: it opens first, whether or not a table tells when. `is_parted` is whether what opens for
    the others leaves it no way to the fault.
    """

    source: Source
    window: Window | None
    by: Device | None
    is_limited: bool = False
    is_beyond: bool = False
    wires: frozenset[str] = frozenset()
    first: Device | None = None
    is_parted: bool = False

    @property
    def is_endless(self) -> bool:
        """Whether it is sure that nothing on its way opens."""
        return self.window is not None and math.isinf(self.window.max_s)


@record
class Clearing:
    """How a fault ends.

    `window` is the time in which nothing feeds it any more but a source that gives no more than its
    own limit; infinite as soon as nothing opens on the way of one source, whatever is known of the
    others; else None where that of one cannot be told. `each` is how each source ends. `beyond` is
    whether the greatest time is that of a last gate, and so no more than a bound.
    """

    window: Window | None
    each: tuple[SourceEnd, ...] = ()
    beyond: bool = False

    @property
    def by(self) -> tuple[Device, ...]:
        """The devices that do it, each once."""
        found = {e.by.about.name: e.by for e in self.each if e.by is not None and not e.is_limited}
        return tuple(found.values())

    @property
    def firsts(self) -> tuple[Device, ...]:
        """The devices that open first, each once; some of them in a time that no table gives."""
        ends = [end for end in self.each if not end.is_limited and end.first is not None]
        return tuple({e.first.about.name: e.first for e in ends if e.first is not None}.values())

    @property
    def feeds_on(self) -> tuple[str, ...]:
        """The limited sources that go on."""
        return tuple(
            e.source.about.name for e in self.each
            if e.is_limited and not e.is_parted and (e.window is None or e.is_endless)
        )  # fmt: skip

    def along(self, wires: Iterable[str]) -> "list[Clearing]":
        """How that part of it ends which runs through each conductor; all of it where that is open.

        Conductors behind one another share what feeds them.
        """
        known: dict[tuple[bool, ...], Clearing] = {}
        found = []
        for wire in wires:
            feeds = tuple([wire in end.wires for end in self.each])
            if feeds not in known:
                known[feeds] = self._of(tuple(compress(self.each, feeds)))
            found.append(known[feeds])
        return found

    def _of(self, own: "tuple[SourceEnd, ...]") -> "Clearing":
        return _ended(own) if any(not end.is_limited for end in own) else self

    @property
    def endless(self) -> tuple[Source, ...]:
        """The sources, limited ones aside, on whose way nothing opens."""
        return tuple(e.source for e in self.each if e.is_endless and not e.is_limited)


def gates_of(device: Device) -> Gates | None:
    """The times that a standard sets for a fuse; None where there are none, as for all breakers."""
    rating_a = device.rating_a
    if not isinstance(rating_a, float) or rating_a <= 0.0:
        return None
    return fuse_gates(device.fitted_family, rating_a)


def is_timed(device: Device) -> bool:
    """Whether a standard sets times for a fuse, as for no breaker of any kind."""
    return gates_of(device) is not None


def blow(device: Device, current_a: float) -> Blow:
    """What a current does to a fuse or breaker."""
    rating_a = device.rating_a
    if not isinstance(rating_a, float) or rating_a <= 0.0:
        return Blow(device, current_a, "no rating")
    if current_a <= rating_a:
        return Blow(device, current_a, "holds")
    table = gates_of(device)
    if table is None:
        return Blow(device, current_a, "no table")
    window = opening_window(current_a, rating_a, table.gates)
    last = table.gates[-1].share
    beyond = is_over(current_a, rating_a * last)
    speed: Speed = "timed" if window else "no gate"
    return Blow(device, current_a, speed, window, table.source, beyond, last)


def clearing(blows: Sequence[Blow], ways: Ways) -> Clearing:
    """How a fault ends that some sources feed by some ways."""
    limited = [isinstance(source.limit_a, float) for source, _ in ways]
    each = tuple(
        _source_end(blows, source, edges, is_limited=is_limited and not all(limited))
        for (source, edges), is_limited in zip(ways, limited, strict=True)
    )
    each = tuple(_while_others_feed(end, each, blows, ways) for end in each)
    return _ended(each)


def _ended(each: tuple[SourceEnd, ...]) -> Clearing:
    """A fault that some sources feed, from how each of them ends."""
    driving = [end for end in each if not end.is_limited]
    if any(end.is_endless for end in driving):
        return Clearing(_NEVER, each)
    known = [end.window for end in driving if end.window is not None]
    if len(known) < len(driving) or not known:
        return Clearing(None, each)
    last = Window(max(one.min_s for one in known), max(one.max_s for one in known))
    held = [(end.window.max_s, end.is_beyond) for end in driving if end.window is not None]
    return Clearing(last, each, any(is_bound for max_s, is_bound in held if max_s >= last.max_s))


def _source_end(
    blows: Sequence[Blow], source: Source, edges: Sequence[Edge], *, is_limited: bool
) -> SourceEnd:
    own = _on(blows, edges)
    window, first = _first_to_open(own)
    wires = frozenset(edge.name for edge in edges if isinstance(edge, Conductor))
    most = max(own, key=lambda one: one.overload, default=None)
    opens = most.device if most is not None and most.overload > 1.0 else None
    if first is None or window is None:
        return SourceEnd(source, window, None, is_limited, wires=wires, first=opens)
    # One of which no table tells, and that is overloaded more, may open far sooner.
    untold = (one.overload for one in own if _is_untold(one))
    is_bound = first.beyond or max(untold, default=0.0) > first.overload
    return SourceEnd(source, window, first.device, is_limited, is_bound, wires, opens)


def _while_others_feed(
    end: SourceEnd, each: Sequence[SourceEnd], blows: Sequence[Blow], ways: Ways
) -> SourceEnd:
    """A source whose device holds only as long as others bear a part of the fault.

    When those are gone more runs through it, and whether it opens then cannot be told from here.
    """
    if not end.is_endless or end.is_limited:
        return end
    edges = next(edges for source, edges in ways if source is end.source)
    others = [one for one in each if one is not end and not one.is_limited]
    if not _on(blows, edges) or all(one.is_endless for one in others):
        return end
    return replace(end, window=None)


def is_selective(blows: Sequence[Blow], ways: Ways) -> bool | None:
    """Whether the device that is overloaded most is sure to open before all others on its way.

    None where a time is not known, or where nothing opens.
    """
    first = next((one for one in blows if one.overload > 1.0), None)
    if first is None or first.window is None:
        return None
    found: set[bool | None] = set()
    for _, edges in ways:
        own = _on(blows, edges)
        if first in own:
            found |= {waits(other, first) for other in own if other is not first}
    return False if False in found else None if None in found else True


def stress(study: Study, wire: Conductor, current_a: float, ends: Clearing) -> Stress:
    """What a fault current does to a conductor until it `ends` there."""
    clears_s = None if ends.window is None else ends.window.max_s
    _, rated_c = study.heat(wire)
    k = fault_k(rated_c)
    if isinstance(wire.size, Unknown) or k is None or current_a <= 0.0:
        return Stress(wire, current_a, None, clears_s, None, k)
    takes_s = withstand_s(wire.size.area_m2 * wire.count, current_a, k.value)
    carries = study.carries_all_of(wire, wire.size)
    holds = None if clears_s is None else clears_s <= takes_s
    if ends.beyond and not holds:
        holds = None
    if carries is not None and not carries.is_broken_by(current_a):
        holds, takes_s = True, math.inf
    return Stress(wire, current_a, takes_s, clears_s, holds, k)


def _on(blows: Iterable[Blow], edges: Iterable[Edge]) -> list[Blow]:
    names = {(edge.line, edge.load) for edge in edges if isinstance(edge, Device)}
    return [one for one in blows if (one.device.line, one.device.load) in names]


def _first_to_open(blows: Sequence[Blow]) -> tuple[Window | None, Blow | None]:
    """When the first of some devices in a row opens, and which one is sure to."""
    timed = [one for one in blows if one.window is not None]
    open_ended = any(_is_untold(one) for one in blows)
    if not timed:
        return (None if open_ended else _NEVER), None
    first = min(timed, key=lambda one: one.window.max_s if one.window else math.inf)
    windows = [one.window for one in timed if one.window is not None]
    max_s = min(window.max_s for window in windows)
    if open_ended and math.isinf(max_s):
        return None, None
    # A device without a table may open sooner than any other.
    min_s = 0.0 if open_ended else min(window.min_s for window in windows)
    return Window(min_s, max_s), None if math.isinf(max_s) else first


def _is_untold(one: Blow) -> bool:
    """Whether a device may open, in a time that no table tells."""
    return one.speed in ("no table", "no rating")


def _sets_no_least(device: Device) -> bool:
    """Whether the standard of a fuse sets no least time in which it holds."""
    table = gates_of(device)
    return table is not None and all(gate.min_s == 0.0 for gate in table.gates[1:])


def waits(other: Blow, first: Blow) -> bool | None:
    """Whether a device is sure to stay closed until another one has opened.

    None where that cannot be told: a time is not known, or the first is beyond its last gate and
    the other so much larger that it may well wait, of which the standard says nothing.
    """
    if other.speed in ("holds", "no gate"):
        return True
    if other.window is None or first.window is None:
        return None
    if other.window.min_s > first.window.max_s:
        return True
    if _sets_no_least(other.device):
        return None
    far = far_apart().value * (1.0 - 1e-9)
    return None if first.beyond and first.overload >= far * other.overload else False
