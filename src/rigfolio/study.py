"""A rig under a rule book, and what is worked out of it: each answer once, by whoever asks first.

A study knows the wiring and what the book says of each conductor. All other answers live where
they are worked out: a function there takes the study, and `once` keeps what it gave. So it does
with what follows from the rig alone.

What a text says of a wire that is to come does not change the wire that is there. Until it is
pulled, what was found is what loses volts, grows warm and holds a short; and the thinner of the two
is what a device has to guard, since it guards the one now and the other soon. So a rig has a second
study, as it is, and a third, as what guards it has to take it.

The same holds of a fuse: what opens now is the one that was found, what is bought and put in is the
one that belongs there. So a rig has a fourth study, as it is fitted: what happens now is asked
there. What a device is allowed to be, and whether what was found is, is asked of the others.
"""

from collections.abc import Callable, Hashable, Iterable
from functools import cached_property
from typing import TypeVar

from rigfolio.books import (
    Book,
    Cable,
    Limit,
    Service,
    cable_of_type,
    carries_bound_a,
    coldest_copper_c,
    full_v,
    least_resistance_ohm_per_m,
    load_book,
    resistance_ohm_per_m,
)
from rigfolio.findings import Citation, Unknown
from rigfolio.model import (
    Circuit,
    Conductor,
    Device,
    Junction,
    Load,
    Panel,
    Rig,
    Source,
    fitted_now,
    in_place,
    larger_of,
    thinner_of,
)
from rigfolio.network import (
    Net,
    OpenPole,
    most_volts,
    net_of,
    open_poles,
    reversed_source,
    sides,
    sunlit,
    volts,
)
from rigfolio.record import once, replace
from rigfolio.units import Size, show_limit

__all__ = ["Study", "as_fitted", "as_found", "as_it_is", "fused_as_found", "once", "together"]

Named = TypeVar("Named", Device, Source, Load, Panel, Junction)


class Study:
    """A rig under a rule book."""

    def __init__(self, rig: Rig, book: str) -> None:
        self.rig = _once(rig)
        self.book: Book = load_book(book)
        self._carries: dict[tuple[str, Size], Limit | None] = {}
        self._services: dict[str, Service] = {}
        self.answers: dict[Hashable, object] = {}
        """What `once` keeps with it."""

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
        """The nominal volts of every terminal of the plus side: those of its bank [V]."""
        return volts(self.rig, self.net)

    @cached_property
    def most_volts(self) -> dict[str, float]:
        """The highest source voltage at every terminal of the plus side [V]."""
        return most_volts(self.rig, self.net)

    @cached_property
    def _full_volts(self) -> dict[str, float]:
        """Those of a bank full and at rest [V]: one of `48 V` and one of `51.2 V` are alike.

        Of several the highest; where no bank is joined, of what else is.
        """
        found: dict[str, float] = {}
        ranked = sorted(self.rig.sources, key=lambda one: (not one.stores, -_full_v(one)))
        for source in ranked:
            if source.plus not in found:
                found |= dict.fromkeys(self.net.walk([source.plus]), _full_v(source))
        return found

    @cached_property
    def open_poles(self) -> tuple[OpenPole, ...]:
        """The poles of sources that are joined to nothing."""
        return open_poles(self.rig, self.net)

    @cached_property
    def reversed_source(self) -> Source | None:
        """The one source that is joined the wrong way round, where all else agrees on that."""
        return reversed_source(self.rig, self.net)

    def nominal_v(self, terminal: str) -> float:
        """The nominal volts at a terminal: those of the rig where no bank feeds it [V]."""
        return self.volts.get(terminal, self.rig.system_v)

    @cached_property
    def sunlit(self) -> frozenset[str]:
        """The terminals between solar modules and their controller, of plus and of minus."""
        return sunlit(self.rig, self.net)

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
                system_v=max(
                    self._full_volts.get(end) or full_v("", self.rig.system_v).value
                    for end in (wire.a, wire.b)
                ),
                feeder=not wire.circuit and bool(self._feeds & {wire.a, wire.b}),
            )
        return self._services[wire.name]

    def heat(self, wire: Conductor) -> tuple[float, float]:
        """Ambient and rated temperature of a conductor [°C]."""
        service = self.service(wire)
        rated_c = service.insulation_c or self.book.insulation_c().value
        ambient_c = 30.0 if service.ambient_c is None else service.ambient_c
        return min(ambient_c, rated_c), rated_c

    @cached_property
    def coldest(self) -> Limit:
        """How cold copper may be that carries nothing: as stated of the rig, else as usual [°C]."""
        if self.rig.coldest_c is not None:
            return Limit(self.rig.coldest_c, Citation("as stated of the rig", "seen"))
        return coldest_copper_c()

    def coldest_c(self, wire: Conductor) -> float:
        """How cold a conductor may be that carries nothing, never above its ambient [°C]."""
        return min(self.heat(wire)[0], self.coldest.value)

    def cable(self, wire: Conductor) -> Cable:
        """The family of cable of a wire: by the type printed on it, else as the book names it."""
        return cable_of_type(wire.insulation) or self.book.cable

    def ohm_per_m(self, wire: Conductor, size: Size, temperature_c: float) -> float:
        """Resistance of one conductor of a wire in a size, at a copper temperature [ohm/m]."""
        return resistance_ohm_per_m(size, temperature_c, self.cable(wire).name)

    def least_ohm_per_m(self, wire: Conductor, size: Size, temperature_c: float) -> float:
        """As `ohm_per_m`, where the type is not known of the cable with the most copper [ohm/m]."""
        if cable_of_type(wire.insulation) is not None:
            return self.ohm_per_m(wire, size, temperature_c)
        return least_resistance_ohm_per_m(size, temperature_c)

    def at_limit_c(self, wire: Conductor, limit: Limit | None) -> float:
        """Temperature of a conductor at the current that it may carry [°C].

        It is that of its insulation where the table of currents does not tell, or there is none.
        """
        ambient_c, rated_c = self.heat(wire)
        if limit is None or limit.rise_k is None:
            return rated_c
        return min(ambient_c + limit.rise_k, rated_c)

    def carries(self, wire: Conductor) -> Limit | None:
        """What one of the conductors side by side may carry [A]; None where it is not known."""
        return None if isinstance(wire.size, Unknown) else self.carries_of(wire, wire.size)

    def carries_of(self, wire: Conductor, size: Size) -> Limit | None:
        """As `carries`, for another size on trial."""
        key = (wire.name, size)
        if key not in self._carries:
            self._carries[key] = self.book.carries_a(size, self.service(wire))
        return self._carries[key]

    def carries_at_most(self, wire: Conductor, size: Size) -> Limit | None:
        """As `carries_all_of`; of a size thinner than any in the book what it stays below [A]."""
        known = self.carries_all_of(wire, size)
        if known is not None:
            return known
        return together(carries_bound_a(self.book, size, self.service(wire)), wire.count)

    def carries_all_of(self, wire: Conductor, size: Size) -> Limit | None:
        """What all conductors side by side may carry together, in a size on trial [A]."""
        return together(self.carries_of(wire, size), wire.count)

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

    def polarity(self, wire: Conductor) -> str:
        """`+`, `-` or empty: the side that a conductor lies on, by its ends."""
        return next((side for end in (wire.a, wire.b) if (side := self.side.get(end, ""))), "")

    def wires_of(self, circuit: str) -> tuple[Conductor, ...]:
        """The conductors of a circuit, returns and leads among them."""
        return tuple(self._by_circuit.get(circuit, ()))

    @cached_property
    def _feeds(self) -> frozenset[str]:
        return frozenset(end for panel in self.rig.panels for end in (panel.feed, panel.bus))

    def device(self, name: str) -> Device | None:
        """The device of a name."""
        return self.rig.by_name.devices.get(name)

    def panel(self, name: str) -> Panel | None:
        """The panel of a name."""
        return self.rig.by_name.panels.get(name)

    def circuit(self, place: str) -> Circuit | None:
        """The circuit of a place."""
        return self.rig.by_name.circuits.get(place)


def _by_name(things: Iterable[Named]) -> dict[str, Named]:
    found: dict[str, Named] = {}
    for thing in things:
        found.setdefault(thing.about.name, thing)
    return found


def _full_v(source: Source) -> float:
    return full_v(source.chemistry, source.voltage_v).value


def together(limit: Limit | None, count: int) -> Limit | None:
    """The limit of several equal conductors side by side."""
    if limit is None or count == 1:
        return limit
    how = f"{count} x {limit.how or show_limit(limit.value, 'A')}"
    return replace(limit, value=limit.value * count, how=how)


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


@once
def as_it_is(study: Study) -> Study:
    """The rig with each wire in the size that was found; the same study where none was."""
    return _with(study, in_place)


@once
def as_fitted(study: Study) -> Study:
    """The rig as it is, each fuse and breaker of the rating that was found; the same without any.

    What was found and not read is unknown, whatever belongs there.
    """
    there = as_it_is(study)
    rig = there.rig
    devices = tuple([fitted_now(rig, one) for one in rig.devices])
    if all(new is old for new, old in zip(devices, rig.devices, strict=True)):
        return there
    return Study(replace(rig, devices=devices), study.book.name)


@once
def as_found(study: Study) -> Study:
    """The rig with each wire in the size that was found, where that is the thinner one.

    Where nobody knows what belongs there, what was found counts. It is the same study where no wire
    was found thinner.
    """
    return _with(study, thinner_of)


@once
def fused_as_found(study: Study) -> Study:
    """The rig with each fuse and breaker of the rating that was found, where that is the larger.

    Where nobody knows what belongs there, what was found counts. It is the same study where none
    was found larger.
    """
    rig = study.rig
    devices = tuple([larger_of(rig, one) for one in rig.devices])
    if all(new is old for new, old in zip(devices, rig.devices, strict=True)):
        return study
    return Study(replace(rig, devices=devices), study.book.name)


def _with(study: Study, there: Callable[[Conductor], Conductor]) -> Study:
    """The rig with its wires as something takes them for."""
    rig = study.rig
    wires = tuple(map(there, rig.conductors))
    if all(new is old for new, old in zip(wires, rig.conductors, strict=True)):
        return study
    return Study(replace(rig, conductors=wires), study.book.name)
