"""What loads and chargers put on the edges of a mesh, and what their way through it loses."""

from collections.abc import Iterator, Mapping

from rigfolio.demand.tally import Tally
from rigfolio.findings import Unknown
from rigfolio.model import Conductor, Device
from rigfolio.network import Mesh, Split, UnitCurrent, edge_name
from rigfolio.operating import Copper, SizeOf, as_stated
from rigfolio.record import record
from rigfolio.units import Size

# Resistance follows current, and current resistance: each round leaves a tenth of what was off.
_ROUNDS = 40
_SETTLED = 1e-13
_NONE = 1e-9


@record
class Settled:
    """A mesh under its load, copper and currents in agreement.

    `current_a` is what runs through each edge, `levels` what 1 A to an exit loses at each terminal,
    by exit [ohm].
    """

    current_a: Mapping[str, float]
    levels: Mapping[str, Mapping[str, float]]
    ohms: Mapping[str, float]


class Fed:
    """A mesh that one source feeds at one terminal, with the loads behind each of its exits."""

    def __init__(
        self, mesh: Mesh, entry: str, copper: Copper, share: float, size_of: SizeOf = as_stated
    ) -> None:
        self.mesh, self.entry, self.copper, self.share = mesh, entry, copper, share
        self.size_of = size_of
        self.behind: dict[str, Tally] = {}
        self.bound_a = 0.0
        """The most that the source adds [A]."""
        self._settled: dict[tuple[str, ...], Settled | None] = {}

    def forget(self) -> None:
        """Settle anew when asked again: what the loads draw has changed."""
        self._settled.clear()

    def settled(self, size_of: SizeOf | None = None, without: str = "") -> Settled | None:
        """The mesh with all its loads, perhaps without one of its wires.

        None where a resistance is not known, and where some load has no way without that wire.
        """
        size_of = size_of or self.size_of
        wires = [edge for edge in self.mesh.edges if isinstance(edge, Conductor)]
        sizes = [size_of(wire) for wire in wires]
        key = (without, *("?" if isinstance(size, Unknown) else size.text for size in sizes))
        if key not in self._settled:
            named = dict(zip([wire.name for wire in wires], sizes, strict=True))
            self._settled[key] = self._settle(named, without)
        return self._settled[key]

    def volts(self, settled: Settled, leaves: str) -> float:
        """What is lost between the entry and a terminal under all loads [V]."""
        lost = Tally()
        for end, tally in self.behind.items():
            lost.add_part(tally, settled.levels[end][leaves])
        return lost.expected_a(self.share)

    def tallies(self) -> Iterator[tuple[str, Tally]]:
        """What runs through each edge one way, whatever else may be off or open.

        Loads that would take some of it off again may be off, and a device that can be opened by
        hand or by a signal may be open: what it carried then runs elsewhere.
        """
        for ohms in self._states():
            split = Split(self.mesh, self.entry, ohms)
            units = {end: split.to({end: 1.0}) for end in self.behind if split.reaches(end)}
            for name in split.names:
                yield from ((name, tally) for tally in self._directions(name, units))

    def most(self, current_a: float, leaves: str) -> dict[str, tuple[float, float]]:
        """The most of a current to a terminal that runs through each edge in any state [A].

        From the first end of the edge to its second, and the other way.
        """
        found: dict[str, tuple[float, float]] = {}
        for ohms in self._states():
            split = Split(self.mesh, self.entry, ohms)
            if split.reaches(leaves):
                for name, part in split.to({leaves: 1.0}).part.items():
                    ahead_a, against_a = found.get(name, (0.0, 0.0))
                    through_a = part * current_a if abs(part) > _NONE else 0.0
                    found[name] = max(ahead_a, through_a), max(against_a, -through_a)
        return {name: most for name, most in found.items() if any(most)}

    def _directions(self, name: str, units: Mapping[str, UnitCurrent]) -> Iterator[Tally]:
        for way in (1.0, -1.0):
            parts = [(end, way * unit.part[name]) for end, unit in units.items()]
            counted = [(end, part) for end, part in parts if part > _NONE]
            if counted:
                tally = Tally(sense=way)
                for end, part in counted:
                    tally.add_part(self.behind[end], part)
                yield tally

    def _states(self) -> Iterator[dict[str, float]]:
        """The resistances of what is closed: all of it, then with one device open at a time.

        A wire of unknown resistance counts as open, and as a join.
        """
        settled = self.settled()
        if settled is not None:
            bases = [dict(settled.ohms)]
        else:
            known = self._ohms({}, {e.name: self.size_of(e) for e in self.mesh.edges
                                    if isinstance(e, Conductor)})  # fmt: skip
            bases = [{name: ohm for name, ohm in known.items() if ohm is not None},
                     {name: ohm or 0.0 for name, ohm in known.items()}]  # fmt: skip
        for base in bases:
            yield base
            for edge in self.mesh.edges:
                if isinstance(edge, Device) and (edge.traits.opens or edge.traits.resets):
                    own = edge_name(edge)
                    yield {name: ohm for name, ohm in base.items() if name != own}

    def _ohms(
        self, current_a: Mapping[str, float], sizes: Mapping[str, Size | Unknown]
    ) -> dict[str, float | None]:
        found: dict[str, float | None] = {}
        for edge in self.mesh.edges:
            name, ohm = edge_name(edge), self.copper.counted_ohm
            hot_a = current_a.get(name, 0.0)
            found[name] = ohm(edge, hot_a, sizes[name]) if isinstance(edge, Conductor) else 0.0
        return found

    def _settle(self, sizes: Mapping[str, Size | Unknown], without: str) -> Settled | None:
        current_a: dict[str, float] = {}
        # What comes and goes is looked at load by load, what lasts all at once.
        lasting = {end: tally.steady_a for end, tally in self.behind.items() if tally.steady_a}
        coming = [end for end, tally in self.behind.items() if tally.occasional_a]
        for _ in range(_ROUNDS):
            ohms: dict[str, float] = {}
            for name, ohm in self._ohms(current_a, sizes).items():
                if name == without:
                    continue
                if ohm is None:
                    return None
                ohms[name] = ohm
            split = Split(self.mesh, self.entry, ohms)
            if without and not all(split.reaches(end) for end in self.behind):
                return None
            before, current_a = current_a, self._currents(split, lasting, coming)
            off_a = max(abs(one - before.get(name, 0.0)) for name, one in current_a.items())
            if off_a <= _SETTLED * max(current_a.values()):
                break
        return Settled(current_a, {end: split.to({end: 1.0}).level for end in self.behind}, ohms)

    def _currents(
        self, split: Split, lasting: Mapping[str, float], coming: list[str]
    ) -> dict[str, float]:
        """What can be expected to run through each edge at one time [A]."""
        steady = split.to(lasting).part
        units = [(self.behind[end], split.to({end: 1.0}).part) for end in coming]
        circuits = {one for behind in self.behind.values() for one in behind.circuits}
        found: dict[str, float] = {}
        for name in split.names:
            tally = Tally(steady_a=abs(steady[name]), circuits=circuits)
            for behind, part in units:
                tally.occasional_a += abs(part[name]) * behind.occasional_a
                tally.largest_a = max(tally.largest_a, abs(part[name]) * behind.largest_a)
            found[name] = tally.expected_a(self.share)
        return found
