"""What a fault current does on its way: devices that open, conductors that heat."""

import math
from collections.abc import Iterable, Sequence
from typing import Literal

from rigfolio.books import Limit, far_apart, fault_k, fuse_gates, interrupt_a
from rigfolio.calc import Window, opening_window, withstand_s
from rigfolio.findings import Citation, Unknown
from rigfolio.model import Conductor, Device, Source
from rigfolio.network import Edge
from rigfolio.record import record
from rigfolio.study import Study

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
    the current is above the last gate: it opens no later than there, and may be far sooner.
    """

    device: Device
    current_a: float
    speed: Speed
    window: Window | None = None
    source: Citation | None = None
    beyond: bool = False

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
class Clearing:
    """How a fault ends.

    `window` is the time in which nothing feeds it any more but a source that gives no more than its
    own limit; None where that cannot be told, infinite where nothing is in its way. `by` are the
    devices that do it, one for each source, and `feeds_on` the limited sources that go on.
    `beyond` is whether the greatest time is that of a last gate, and so no more than a bound.
    """

    window: Window | None
    by: tuple[Device, ...]
    feeds_on: tuple[str, ...]
    beyond: bool = False


def family_of(device: Device) -> str:
    """The family of a device: as stated, blade fuses in slots; empty where that is open."""
    return device.family or (device.traits.slot_family if device.in_slot else "")


def is_timed(device: Device) -> bool:
    """Whether a standard sets times for a fuse, as for no breaker of any kind."""
    rating_a = device.rating_a
    if not isinstance(rating_a, float) or rating_a <= 0.0:
        return False
    return fuse_gates(family_of(device), rating_a) is not None


def interrupts(device: Device, system_v: float) -> Limit | None:
    """The largest current that a device may break: as stated, else what its family does [A]."""
    if isinstance(device.interrupts_a, Unknown):
        return None
    if device.interrupts_a is not None:
        return Limit(device.interrupts_a, Citation("as stated for this device", "seen"))
    family = family_of(device)
    return interrupt_a(family, system_v) if family else None


def blow(device: Device, current_a: float) -> Blow:
    """What a current does to a fuse or breaker."""
    rating_a = device.rating_a
    if not isinstance(rating_a, float) or rating_a <= 0.0:
        return Blow(device, current_a, "no rating")
    if current_a <= rating_a:
        return Blow(device, current_a, "holds")
    table = fuse_gates(family_of(device), rating_a)
    if table is None:
        return Blow(device, current_a, "no table")
    window = opening_window(current_a, rating_a, table.gates)
    beyond = current_a > rating_a * table.gates[-1].share * (1.0 + 1e-9)
    return Blow(device, current_a, "timed" if window else "no gate", window, table.source, beyond)


def clearing(blows: Sequence[Blow], ways: Ways) -> Clearing:
    """How a fault ends that some sources feed by some ways."""
    windows: list[Window | None] = []
    by: dict[str, Device] = {}
    bounds: list[tuple[float, bool]] = []
    feeds_on: list[str] = []
    limited = [isinstance(source.limit_a, float) for source, _ in ways]
    for (source, edges), is_limited in zip(ways, limited, strict=True):
        window, first = _first_to_open(_on(blows, edges))
        if is_limited and not all(limited):
            if window is None or math.isinf(window.max_s):
                feeds_on.append(source.about.name)
            continue
        windows.append(window)
        if first is not None and window is not None:
            by[first.device.about.name] = first.device
            bounds.append((window.max_s, first.beyond))
    known = [window for window in windows if window is not None]
    if len(known) < len(windows) or not known:
        return Clearing(None, tuple(by.values()), tuple(feeds_on))
    last = Window(max(one.min_s for one in known), max(one.max_s for one in known))
    beyond = any(is_bound for max_s, is_bound in bounds if max_s >= last.max_s)
    return Clearing(last, tuple(by.values()), tuple(feeds_on), beyond)


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
    """What a fault current does to a conductor until it ends."""
    clears_s = None if ends.window is None else ends.window.max_s
    _, rated_c = study.heat(wire)
    k = fault_k(rated_c)
    if isinstance(wire.size, Unknown) or k is None or current_a <= 0.0:
        return Stress(wire, current_a, None, clears_s, None, k)
    takes_s = withstand_s(wire.size.area_m2 * wire.count, current_a, k.value)
    carries = study.carries(wire)
    holds = None if clears_s is None else clears_s <= takes_s
    if ends.beyond and not holds:
        holds = None
    if carries is not None and current_a <= carries.value * wire.count:
        holds, takes_s = True, math.inf
    return Stress(wire, current_a, takes_s, clears_s, holds, k)


def _on(blows: Iterable[Blow], edges: Iterable[Edge]) -> list[Blow]:
    names = {(edge.line, edge.load) for edge in edges if isinstance(edge, Device)}
    return [one for one in blows if (one.device.line, one.device.load) in names]


def _first_to_open(blows: Sequence[Blow]) -> tuple[Window | None, Blow | None]:
    """When the first of some devices in a row opens, and which one is sure to."""
    timed = [one for one in blows if one.window is not None]
    open_ended = any(one.speed in ("no table", "no rating") for one in blows)
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


def _sets_no_least(device: Device) -> bool:
    """Whether the standard of a fuse sets no least time in which it holds."""
    rating_a = device.rating_a if isinstance(device.rating_a, float) else 0.0
    table = fuse_gates(family_of(device), rating_a)
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
