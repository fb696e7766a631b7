"""Everything that is worked out of a rig once, and then asked by rules and sheets."""

from collections.abc import Iterable
from functools import cached_property
from typing import TYPE_CHECKING, TypeVar

from rigfolio.books.loader import Book, Limit, Service, load_book
from rigfolio.findings import Source, Unknown
from rigfolio.model.graph import Circuit, Conductor, Device, Junction, Load, Panel, Rig
from rigfolio.model.graph import Source as Supply
from rigfolio.record import replace
from rigfolio.study.copper import Copper
from rigfolio.study.demand import Flows
from rigfolio.study.drop import Drops
from rigfolio.study.net import Net, net_of, sides, volts
from rigfolio.study.reach import Reach
from rigfolio.units import Size, show

if TYPE_CHECKING:
    from rigfolio.study.fault import Faults
    from rigfolio.study.guards import Guard
    from rigfolio.study.operating import Operating
    from rigfolio.study.protection import Exposure
    from rigfolio.study.returns import Back
    from rigfolio.study.sag import Sag

Named = TypeVar("Named", Device, Supply, Load, Panel, Junction)


class Study:
    """A rig under a rule book."""

    def __init__(self, rig: Rig, book: str) -> None:
        self.rig = _once(rig)
        self.book: Book = load_book(book)
        self._carries: dict[tuple[str, str], Limit | None] = {}
        self._services: dict[str, Service] = {}
        self._guards: dict[str, Guard] = {}
        self._reaches: dict[float, Reach] = {}

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
        return Reach(self.rig, self.net)

    @cached_property
    def flows(self) -> Flows:
        """What all loads put on every wire and device."""
        share = self.book.intermittent_share().value
        copper = Copper(self.carries_of, self.heat, self.is_judged_lead)
        return Flows(self.rig, self.net, self.volts, share, copper)

    @cached_property
    def drops(self) -> Drops:
        """Voltage drops."""
        return Drops(self.flows, self.carries_of, self.heat, self.is_judged_lead)

    @cached_property
    def sags(self) -> "tuple[Sag, ...]":
        """Loads that get too little voltage, of every circuit the worst."""
        from rigfolio.study.sag import sags

        return sags(self)

    @cached_property
    def exposures(self) -> "tuple[Exposure, ...]":
        """Conductors that some source can overload."""
        from rigfolio.study.protection import exposures

        return tuple(exposures(self))

    @cached_property
    def faults(self) -> "Faults":
        """Short circuits at every place, everything closed."""
        from rigfolio.study.fault import Faults

        return Faults(self)

    @cached_property
    def knows_shorts(self) -> bool:
        """Whether any battery states what it drives into a short: without that none is judged."""
        return any(
            isinstance(source.short_a, float) or isinstance(source.internal_ohm, float)
            for source in self.rig.sources
            if source.kind == "battery"
        )

    @cached_property
    def operating(self) -> "Operating":
        """The operating point with everything on that may run for more than a moment."""
        from rigfolio.study.operating import operating

        return operating(
            self, loads={x.about.name for x in self.rig.loads if x.duty != "momentary"}
        )

    @cached_property
    def unfused(self) -> "dict[str, tuple[Exposure, ...]]":
        """Batteries without a fuse, with the conductors that they drive into."""
        from rigfolio.study.protection import unfused

        return unfused(self)

    @cached_property
    def returns(self) -> "dict[str, Back]":
        """The most that can come back through each stated conductor of the minus side."""
        from rigfolio.study.returns import returns

        return returns(self)

    @cached_property
    def load_ends(self) -> frozenset[str]:
        """The plus terminals of all loads."""
        return frozenset(load.plus for load in self.rig.loads)

    def service(self, wire: Conductor) -> Service:
        """What a conductor lives in, with what the rig says of all its wires."""
        if wire.name not in self._services:
            self._services[wire.name] = Service(
                insulation_c=wire.insulation_c or self.rig.insulation_c,
                ambient_c=self.rig.ambient_c if wire.ambient_c is None else wire.ambient_c,
                bundle=wire.bundle,
                engine_space=wire.engine_space,
                sheathed=wire.sheathed,
                system_v=max(self.volts.get(end, self.rig.system_v) for end in (wire.a, wire.b)),
                feeder=not wire.circuit and bool(self._feeds & {wire.a, wire.b}),
            )
        return self._services[wire.name]

    def heat(self, wire: Conductor) -> tuple[float, float]:
        """Ambient and rated temperature of a conductor [°C]."""
        service = self.service(wire)
        rated_c = service.insulation_c or self.book.insulation_c().value
        ambient_c = 30.0 if service.ambient_c is None else service.ambient_c
        return min(ambient_c, rated_c), rated_c

    def carries(self, wire: Conductor) -> Limit | None:
        """What one of the conductors side by side may carry [A]; None where it is not known."""
        return None if isinstance(wire.size, Unknown) else self.carries_of(wire, wire.size)

    def carries_of(self, wire: Conductor, size: Size) -> Limit | None:
        """As `carries`, for another size on trial."""
        key = (wire.name, size.text)
        if key not in self._carries:
            self._carries[key] = self.book.carries_a(size, self.service(wire))
        return self._carries[key]

    def carries_all_of(self, wire: Conductor, size: Size) -> Limit | None:
        """What all conductors side by side may carry together, in a size on trial [A]."""
        return _together(self.carries_of(wire, size), wire.count)

    def limit(self, wire: Conductor) -> Limit | None:
        """The largest device that may stand before a conductor, all side by side counted [A]."""
        return None if isinstance(wire.size, Unknown) else self.limit_of(wire, wire.size)

    def limit_of(self, wire: Conductor, size: Size, guard: "Guard | None" = None) -> Limit | None:
        """As `limit`, for another size on trial.

        Some books list breakers apart from fuses: `guard` says which stands there, as it is in the
        rig if left out; of both the lesser counts.
        """
        guard = guard or self.guard(wire)
        service = self.service(wire)
        devices = ("fuse", "breaker") if guard == "both" else (guard,)
        found = [self.book.largest_fuse_a(size, service, device) for device in devices]
        known = [limit for limit in found if limit is not None]
        least = min(known, key=lambda limit: limit.value, default=None)
        return _together(least, wire.count)

    def limit_before(self, wire: Conductor, parts: "Iterable[Device | Supply]") -> Limit | None:
        """As `limit`, with some devices and sources before the conductor."""
        from rigfolio.study.guards import kind_of

        if isinstance(wire.size, Unknown):
            return None
        return self.limit_of(wire, wire.size, kind_of(tuple(parts)))

    def guard(self, wire: Conductor) -> "Guard":
        """What protects a conductor, where the book tells breakers from fuses."""
        if not self.parts_breakers:
            return "fuse"
        if wire.name not in self._guards:
            from rigfolio.study.guards import guard_of

            self._guards[wire.name] = guard_of(self, wire)
        return self._guards[wire.name]

    @cached_property
    def parts_breakers(self) -> bool:
        """Whether breakers are judged apart from fuses: by the book, and where there are any."""
        has_column = any(column.device == "breaker" for column in self.book.columns)
        return has_column and any(device.kind == "breaker" for device in self.rig.devices)

    def reach_at(self, share: float) -> Reach:
        """What can flow into conductors, breakers counted at a share of their rating."""
        if share == 1.0:
            return self.reach
        if share not in self._reaches:
            devices = tuple(
                replace(device, rating_a=device.rating_a * share)
                if device.kind == "breaker" and isinstance(device.rating_a, float)
                else device
                for device in self.rig.devices
            )
            self._reaches[share] = Reach(replace(self.rig, devices=devices), self.net)
        return self._reaches[share]

    def is_judged_lead(self, wire: Conductor) -> bool:
        """Whether a conductor is to be judged: short leads of a fixture are left to its maker."""
        if not wire.lead or isinstance(wire.length_m, Unknown):
            return not wire.lead
        return wire.length_m > self.book.lead_m().value

    @cached_property
    def _by_circuit(self) -> dict[str, list[Conductor]]:
        found: dict[str, list[Conductor]] = {}
        for wire in self.rig.conductors:
            if wire.circuit:
                found.setdefault(wire.circuit, []).append(wire)
        return found

    def wires_of(self, circuit: str) -> tuple[Conductor, ...]:
        """The conductors of a circuit, returns and leads among them."""
        return tuple(self._by_circuit.get(circuit, ()))

    def largest_fuse(self, circuit: Circuit) -> Limit | None:
        """The largest device that all wires of a circuit allow, slot and returns counted [A]."""
        limits: list[Limit] = []
        device = self.device(circuit.device)
        before = (device,) if device is not None else ()
        for wire in self.wires_of(circuit.place):
            if not self.is_judged_lead(wire):
                continue
            limit = self.limit_before(wire, before)
            if limit is None:
                return None
            limits.append(limit)
        panel = self.panel(circuit.panel)
        if panel is not None and isinstance(panel.slot_a, float) and limits:
            made = Source("rating of a slot by the maker of the panel", "common practice")
            limits.append(Limit(panel.slot_a, made, "the slot allows no more"))
        return min(limits, key=lambda one: one.value) if limits else None

    def allowed_drop(self, load: Load) -> Limit:
        """The share of the system voltage that a load may lose, out and back [-]."""
        if load.drop_share is not None:
            return Limit(load.drop_share, Source("as stated for this load", "seen"))
        return self.book.drop_share(
            critical=load.critical,
            intermittent=load.duty in ("intermittent", "momentary"),
            system_v=self.volts.get(load.plus, self.rig.system_v),
        )

    @cached_property
    def _feeds(self) -> frozenset[str]:
        return frozenset(end for panel in self.rig.panels for end in (panel.feed, panel.bus))

    @cached_property
    def _devices(self) -> dict[str, Device]:
        return _by_name(self.rig.devices)

    @cached_property
    def _panels(self) -> dict[str, Panel]:
        return _by_name(self.rig.panels)

    @cached_property
    def _circuits(self) -> dict[str, Circuit]:
        return {circuit.place: circuit for circuit in self.rig.circuits}

    def device(self, name: str) -> Device | None:
        """The device of a name."""
        return self._devices.get(name)

    def panel(self, name: str) -> Panel | None:
        """The panel of a name."""
        return self._panels.get(name)

    def circuit(self, place: str) -> Circuit | None:
        """The circuit of a place."""
        return self._circuits.get(place)


def _by_name(things: Iterable[Named]) -> dict[str, Named]:
    found: dict[str, Named] = {}
    for thing in things:
        found.setdefault(thing.about.name, thing)
    return found


def _together(limit: Limit | None, count: int) -> Limit | None:
    """The limit of several equal conductors side by side."""
    if limit is None or count == 1:
        return limit
    how = f"{count} x {limit.how or show(limit.value, 'A')}"
    return Limit(limit.value * count, limit.source, how)


def _once(rig: Rig) -> Rig:
    """A rig without the second of two things of one name; that they are two is said by a rule.

    Two fuses of one name would stand side by side at the same terminals and let the double through.
    """
    devices: dict[tuple[str, str, str], Device] = {}
    for device in rig.devices:
        devices.setdefault((device.about.name, device.line, device.load), device)
    return replace(
        rig,
        sources=tuple(_by_name(rig.sources).values()),
        loads=tuple(_by_name(rig.loads).values()),
        devices=tuple(devices.values()),
    )
