"""What loads and chargers put on the edges of a mesh, and what their way through it loses."""

from collections.abc import Collection, Hashable, Iterator, Mapping
from itertools import product

from rigfolio.demand.counting.openings import opened_in_use
from rigfolio.demand.counting.tally import Tally
from rigfolio.findings import Unknown
from rigfolio.model import Conductor
from rigfolio.network import Exits, Mesh, Split, Stretch, UnitCurrent, edge_name
from rigfolio.operating import Copper, Insides, Sized, SizeOf, as_stated, inside_ohms, stated_ohms
from rigfolio.record import record
from rigfolio.units import Size

# Resistance follows current, and current resistance: each round leaves a tenth of what was off.
_ROUNDS = 40
_SETTLED = 1e-13
_NONE = 1e-9


Names = frozenset[str]
_NOTHING: Names = frozenset()


@record
class Settled:
    """A mesh under its load, copper and currents in agreement.

    `current_a` is what runs through each edge, `units` what 1 A by each exit does.
    """

    current_a: Mapping[str, float]
    units: Mapping[Exits, UnitCurrent]
    ohms: Mapping[str, float]


class Fed:
    """A mesh that one source feeds at one terminal, with the loads behind each of its exits.

    A mesh of batteries side by side is fed by all of them: they are taken to be all in and of one
    voltage, and share by what is inside and by their leads. What is lost is counted from the posts
    of the one at the entry. `left_open` names devices that the text has open at some time; in
    `banked` is what the batteries of one mesh have settled for each other.
    """

    def __init__(
        self,
        stretch: Stretch,
        copper: Copper,
        share: float,
        size_of: SizeOf = as_stated,
        left_open: Collection[str] = (),
        banked: "dict[Hashable, Settled | None] | None" = None,
    ) -> None:
        self.mesh, self.entry, self.copper, self.share = stretch.mesh, stretch.entry, copper, share
        self.size_of, self._left_open = size_of, left_open
        self.behind: dict[Exits, Tally] = {}
        self.loads: list[str] = []
        """The loads behind all exits by name."""
        self.bound_a = 0.0
        """The most that the source adds [A]."""
        own = next((one for one in self.mesh.batteries if one.plus == self.entry), None)
        self.source = own.about.name if own is not None else ""
        self.posts = (own.plus, own.minus) if own is not None else None
        self._insides: tuple[Insides, ...] = inside_ohms(self.mesh.batteries)
        self._stated = stated_ohms(self.mesh.batteries)
        self._settled: dict[Hashable, Settled | None] = {}
        self._banked = {} if banked is None else banked
        self._parts: dict[Hashable, Mapping[str, float]] = {}

    def forget(self) -> None:
        """Settle anew when asked again: what the loads draw has changed."""
        self._settled.clear()

    def settled(self, size_of: SizeOf | None = None, without: Names = _NOTHING) -> Settled | None:
        """The mesh with all its loads, perhaps without some of its edges.

        None where a resistance is not known, and where some load has no way without those.
        """
        sized = self.copper.sized(self.mesh, size_of or self.size_of)
        key = (without, sized.key)
        if key not in self._settled:
            self._settled[key] = self._settled_once(sized, without)
        return self._settled[key]

    def _settled_once(self, sized: Sized, without: Names) -> Settled | None:
        """The mesh with all its loads; of batteries side by side each would settle the same."""
        if not self.mesh.batteries:
            return self._settle(sized.sizes, without)
        key = (self.mesh.number, self.mesh.names, without, sized.key, _drawn_behind(self.behind))
        if key not in self._banked:
            self._banked[key] = self._settle(sized.sizes, without)
        return self._banked[key]

    def volts(self, settled: Settled, leaves: Exits) -> float:
        """What is lost between the source and some exits under all loads [V]."""
        lost = Tally()
        for exits, tally in self.behind.items():
            lost.add_part(tally, settled.units[exits].lost(leaves, self.posts))
        return lost.expected_a(self.share)

    def ohm(self, settled: Settled, leaves: Exits) -> float:
        """What 1 A by some exits loses on its own way there [ohm]."""
        return settled.units[leaves].lost(leaves, self.posts)

    def parts(self, exits: Exits) -> Mapping[str, float]:
        """What each battery is taken to give of 1 A by some exits, all in and the copper cold [-].

        Empty where a resistance is not known, and in a mesh without batteries.
        """
        return self._given(exits, self._insides[0]) if self._insides else {}

    def part(self, exits: Exits) -> float:
        """What the source at the entry gives of 1 A by some exits, as its volts tell [-].

        All where it is alone, an even share where nobody knows.
        """
        even = 1.0 / max(len(self.mesh.batteries), 1)
        return self._given(exits, self._stated).get(self.source, even)

    def _given(self, exits: Exits, inside: Insides) -> Mapping[str, float]:
        key = (exits, *inside.values())
        if key not in self._parts:
            ohms = self._cold_ohms()
            known = {name: ohm for name, ohm in ohms.items() if ohm is not None}
            split = self._split(known, inside) if len(known) == len(ohms) else None
            self._parts[key] = split.between({exits: 1.0}).given if split is not None else {}
        return self._parts[key]

    def _split(self, ohms: Mapping[str, float], inside: Insides) -> Split:
        return self.copper.splits.of(self.mesh, self.entry, ohms, inside)

    def _cold_ohms(self) -> dict[str, float | None]:
        """The resistance of every edge with no current in it; None where it is not known."""
        return _ohms(self.mesh, self.copper, {}, self.copper.sized(self.mesh, self.size_of).sizes)

    def tallies(self) -> Iterator[tuple[str, Tally]]:
        """What runs through each edge one way, whatever else may be off or open.

        Loads that would take some of it off again may be off, and a device that can be opened by
        hand or by a signal may be open: what it carried then runs elsewhere.
        """
        if self._shares_unknown:
            # Of the loads behind the batteries nothing is known here.
            behind = self.behind.values()
            circuits = {one for tally in behind for one in tally.circuits}
            starts = {one for tally in behind for one in tally.starts}
            for name in self.mesh.names:
                yield name, Tally(circuits=circuits, unknown=self.loads, starts=starts)
            return
        for split in self._states():
            units = {ex: split.between({ex: 1.0}) for ex in self.behind if _reaches(split, ex)}
            for name in split.names:
                yield from ((name, tally) for tally in _directions(name, units, self.behind))

    def most(self, current_a: float, leaves: Exits) -> dict[str, tuple[float, float]]:
        """The most of a current to a terminal that runs through each edge in any state [A].

        From the first end of the edge to its second, and the other way.
        """
        found: dict[str, tuple[float, float]] = {}
        if self._shares_unknown:
            return found
        for split in self._states():
            if _reaches(split, leaves):
                for name, part in split.between({leaves: 1.0}).part.items():
                    ahead_a, against_a = found.get(name, (0.0, 0.0))
                    through_a = part * current_a if abs(part) > _NONE else 0.0
                    found[name] = max(ahead_a, through_a), max(against_a, -through_a)
        return {name: most for name, most in found.items() if any(most)}

    @property
    def _shares_unknown(self) -> bool:
        """Whether batteries stand here of which nobody knows how they share."""
        return bool(self.mesh.batteries) and (not self._insides or self.settled() is None)

    def _states(self) -> Iterator[Split]:
        """The mesh with all closed, then with one device open at a time.

        A wire of unknown resistance counts as open, and as a join.
        """
        settled = self.settled()
        if settled is not None:
            bases: list[Mapping[str, float]] = [settled.ohms]
        else:
            known = self._cold_ohms()
            bases = [{name: ohm for name, ohm in known.items() if ohm is not None},
                     {name: ohm or 0.0 for name, ohm in known.items()}]  # fmt: skip
        opened = ("", *opened_in_use(self.mesh, self._left_open))
        for base, inside, out in product(bases, self._insides, opened):
            closed = {name: ohm for name, ohm in base.items() if name != out}
            yield self._split(closed, inside)

    def _settle(self, sizes: Mapping[str, Size | Unknown], without: Names) -> Settled | None:
        current_a: dict[str, float] = {}
        # What comes and goes is looked at load by load, what lasts all at once.
        lasting = {ex: tally.steady_a for ex, tally in self.behind.items() if tally.steady_a}
        coming = [ex for ex, tally in self.behind.items() if tally.occasional_a]
        for _ in range(_ROUNDS):
            ohms: dict[str, float] = {}
            for name, ohm in _ohms(self.mesh, self.copper, current_a, sizes).items():
                if name in without:
                    continue
                if ohm is None:
                    return None
                ohms[name] = ohm
            split = self._split(ohms, self._stated)
            if without and not all(_reaches(split, exits) for exits in self.behind):
                return None
            before, current_a = current_a, self._currents(split, lasting, coming)
            off_a = max(abs(one - before.get(name, 0.0)) for name, one in current_a.items())
            if off_a <= _SETTLED * max(current_a.values()):
                break
        units = {exits: split.between({exits: 1.0}) for exits in self.behind}
        return Settled(current_a, units, ohms)

    def _currents(
        self, split: Split, lasting: Mapping[Exits, float], coming: list[Exits]
    ) -> dict[str, float]:
        """What can be expected to run through each edge at one time [A]."""
        steady = split.between(lasting).part
        units = [(self.behind[exits], split.between({exits: 1.0}).part) for exits in coming]
        circuits = {one for behind in self.behind.values() for one in behind.circuits}
        found: dict[str, float] = {}
        for name in split.names:
            tally = Tally(steady_a=abs(steady[name]), circuits=circuits)
            for behind, part in units:
                tally.occasional_a += abs(part[name]) * behind.occasional_a
                tally.largest_a = max(tally.largest_a, abs(part[name]) * behind.largest_a)
            found[name] = tally.expected_a(self.share)
        return found


def _drawn_behind(behind: Mapping[Exits, Tally]) -> Hashable:
    """What of the loads behind a mesh decides how it settles."""
    circuits = {one for tally in behind.values() for one in tally.circuits}
    drawn = (
        (exits, tally.steady_a, tally.occasional_a, tally.largest_a)
        for exits, tally in behind.items()
    )
    return len(circuits) == 1, *drawn


def _reaches(split: Split, exits: Exits) -> bool:
    return all(map(split.reaches, exits))


def _directions(
    name: str, units: Mapping[Exits, UnitCurrent], behind: Mapping[Exits, Tally]
) -> Iterator[Tally]:
    """What runs through an edge, the one way and the other."""
    for way in (1.0, -1.0):
        parts = [(exits, way * unit.part[name]) for exits, unit in units.items()]
        counted = [(exits, part) for exits, part in parts if part > _NONE]
        if counted:
            tally = Tally(sense=way, part=min(max(part for _, part in counted), 1.0))
            for exits, part in counted:
                tally.add_part(behind[exits], part)
            yield tally


def _ohms(
    mesh: Mesh,
    copper: Copper,
    current_a: Mapping[str, float],
    sizes: Mapping[str, Size | Unknown],
) -> dict[str, float | None]:
    """The resistance of every edge under some currents; None where it is not known."""
    found: dict[str, float | None] = {}
    for edge in mesh.edges:
        name, hot_a = edge_name(edge), current_a.get(edge_name(edge), 0.0)
        found[name] = 0.0
        if isinstance(edge, Conductor):
            found[name] = copper.counted_ohm(edge, hot_a, sizes[name])
    return found
