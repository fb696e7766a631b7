"""Everything that is worked out of a rig once, and then asked by rules and sheets."""

import math
from functools import cached_property
from typing import TYPE_CHECKING

from rigfolio.books.loader import Book, Limit, Service, awg_sizes, load_book, next_down, next_up
from rigfolio.findings import Source, Unknown
from rigfolio.model.graph import Circuit, Conductor, Device, Load, Panel, Rig
from rigfolio.model.graph import Source as Supply
from rigfolio.study.demand import Flows
from rigfolio.study.drop import Drops
from rigfolio.study.net import Net, net_of, sides, volts
from rigfolio.study.reach import Reach
from rigfolio.units import Size, show

if TYPE_CHECKING:
    from rigfolio.study.protection import Exposure


class Study:
    """A rig under a rule book."""

    def __init__(self, rig: Rig, book: str) -> None:
        self.rig = rig
        self.book: Book = load_book(book)
        self._carries: dict[str, Limit | None] = {}

    @cached_property
    def net(self) -> Net:
        """All wires and devices as edges between terminals."""
        return net_of(self.rig)

    @cached_property
    def _sides(self) -> tuple[dict[str, str], frozenset[str]]:
        return sides(self.rig, self.net)

    @property
    def side(self) -> dict[str, str]:
        """`+` or `-` of every terminal that is joined to a source."""
        return self._sides[0]

    @property
    def shorted(self) -> frozenset[str]:
        """Terminals that are joined to the plus and to the minus of sources."""
        return self._sides[1]

    @cached_property
    def volts(self) -> dict[str, float]:
        """The highest source voltage at every terminal of the plus side [V]."""
        return volts(self.rig, self.net)

    @cached_property
    def reach(self) -> Reach:
        """What can flow into the ends of conductors."""
        return Reach(self.rig, self.net, self.side)

    @cached_property
    def flows(self) -> Flows:
        """What all loads put on every wire and device."""
        share = self.book.intermittent_share().value
        return Flows(self.rig, self.net, self.volts, share)

    @cached_property
    def drops(self) -> Drops:
        """Voltage drops."""
        return Drops(self.flows, self.carries, self.heat)

    @cached_property
    def exposures(self) -> "tuple[Exposure, ...]":
        """Conductors that some source can overload."""
        from rigfolio.study.protection import exposures

        return tuple(exposures(self))

    @cached_property
    def unfused(self) -> tuple[Supply, ...]:
        """Batteries from whose plus post a wire leaves that nothing protects."""
        found = {
            source.about.name
            for exposure in self.exposures
            if exposure.is_bare and exposure.run_m == math.inf
            for source in exposure.sources
            if source.plus in (exposure.wire.a, exposure.wire.b)
        }
        return tuple(s for s in self.rig.sources if s.kind == "battery" and s.about.name in found)

    def service(self, wire: Conductor) -> Service:
        """What a conductor lives in, with what the rig says of all its wires."""
        return Service(
            insulation_c=wire.insulation_c or self.rig.insulation_c,
            ambient_c=self.rig.ambient_c if wire.ambient_c is None else wire.ambient_c,
            bundle=wire.bundle,
            engine_space=wire.engine_space,
            sheathed=wire.sheathed,
        )

    def heat(self, wire: Conductor) -> tuple[float, float]:
        """Ambient and rated temperature of a conductor [°C]."""
        service = self.service(wire)
        rated_c = service.insulation_c or self.book.insulation_c().value
        ambient_c = 30.0 if service.ambient_c is None else service.ambient_c
        return min(ambient_c, rated_c), rated_c

    def carries(self, wire: Conductor) -> Limit | None:
        """What one of the conductors side by side may carry [A]; None where it is not known."""
        if isinstance(wire.size, Unknown):
            return None
        if wire.name not in self._carries:
            self._carries[wire.name] = self.book.carries_a(wire.size, self.service(wire))
        return self._carries[wire.name]

    def limit(self, wire: Conductor) -> Limit | None:
        """The largest device that may stand before a conductor, all side by side counted [A]."""
        if isinstance(wire.size, Unknown):
            return None
        return self.limit_of(wire, wire.size)

    def limit_of(self, wire: Conductor, size: Size) -> Limit | None:
        """As `limit`, for another size on trial."""
        limit = self.book.largest_fuse_a(size, self.service(wire))
        if limit is None or wire.count == 1:
            return limit
        how = f"{wire.count} x {limit.how or show(limit.value, 'A')}"
        return Limit(limit.value * wire.count, limit.source, how)

    def size_for(self, wire: Conductor, current_a: float) -> Size | None:
        """The thinnest stock gauge that a device of some rating may stand before."""
        for size in awg_sizes():
            limit = self.limit_of(wire, size)
            if limit is not None and limit.value >= current_a:
                return size
        return None

    def is_judged_lead(self, wire: Conductor) -> bool:
        """Whether the short leads of a fixture are too long to be left to its maker."""
        if not wire.lead:
            return True
        known = not isinstance(wire.length_m, Unknown)
        return known and float(wire.length_m) > self.book.lead_m().value  # type: ignore[arg-type]

    def fuse_for(self, limit_a: float, family: str = "") -> float | None:
        """The largest rating in stock that is not above a limit [A]."""
        return next_down(limit_a, family or "regular") or next_down(limit_a, "maxi")

    def fuse_above(self, current_a: float, family: str = "") -> float | None:
        """The smallest rating in stock that is not below a current [A]."""
        return next_up(current_a, family or "regular") or next_up(current_a, "mega")

    def largest_fuse(self, circuit: Circuit) -> Limit | None:
        """The largest device that all wires of a circuit allow, slot and returns counted [A]."""
        wires = [w for w in self.rig.conductors if w.circuit == circuit.place]
        limits: list[Limit] = []
        for wire in wires:
            if not self.is_judged_lead(wire):
                continue
            limit = self.limit(wire)
            if limit is None:
                return None
            limits.append(limit)
        panel = next((p for p in self.rig.panels if p.about.name == circuit.panel), None)
        if panel is not None and isinstance(panel.slot_a, float) and limits:
            limits.append(Limit(panel.slot_a, limits[0].source, "the slot allows no more"))
        return min(limits, key=lambda one: one.value) if limits else None

    def allowed_drop(self, load: Load) -> Limit:
        """The share of the system voltage that a load may lose, out and back [-]."""
        if load.drop_share is not None:
            return Limit(load.drop_share, Source("as stated for this load", "seen"))
        return self.book.drop_share(critical=load.critical)

    def size_for_drop(self, load: Load, allowed: float) -> Size | None:
        """The thinnest stock gauge for all wires of a load's circuit that keeps its drop."""
        for size in awg_sizes():

            def on_trial(wire: Conductor, size: Size = size) -> Size | Unknown:
                own = wire.circuit == load.circuit and not wire.lead
                if not own or isinstance(wire.size, Unknown):
                    return wire.size
                return size if size.area_m2 > wire.size.area_m2 else wire.size

            drop = self.drops.of(load, on_trial)
            if drop is not None and drop.share <= allowed:
                return size
        return None

    def wire_feeds(self, panel: Panel) -> tuple[Conductor, ...]:
        """The conductors that land on the feed of a panel."""
        return tuple(w for w in self.rig.conductors if panel.feed in (w.a, w.b))

    def device(self, name: str) -> Device | None:
        """The device of a name."""
        return next((d for d in self.rig.devices if d.about.name == name), None)

    def load(self, name: str) -> Load:
        """The load of a name."""
        return next(one for one in self.rig.loads if one.about.name == name)
