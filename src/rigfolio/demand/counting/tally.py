"""What loads put on one edge, and how much of it can be expected at one time.

A load of watts or ohms draws by the volts that it gets. What serves one circuit alone is judged
with that circuit alone on; what serves several with all on that can be expected together.
"""

from collections.abc import Iterable

from rigfolio.findings import Unknown
from rigfolio.model import Load
from rigfolio.operating import Drawn, user_of


class Tally:
    """What runs through one edge from one source [A]; `unknown` names loads of unknown draw.

    `own_` is with no other circuit on, the rest with what can be expected beside it. `sense` is 1
    where it runs from the first end of the edge to its second, -1 the other way, 0 where nobody
    needs to know. `part` is the most of all that the source gives that runs here, whatever its
    loads are: less than all where current splits [-]. `starts` are the users that turn an engine
    over: of them no current is counted.
    """

    __slots__ = (
        "circuits", "largest_a", "occasional_a", "own_occasional_a", "own_steady_a", "part",
        "sense", "starts", "steady_a", "unknown",
    )  # fmt: skip

    def __init__(
        self,
        steady_a: float = 0.0,
        occasional_a: float = 0.0,
        largest_a: float = 0.0,
        *,
        circuits: set[str] | None = None,
        unknown: list[str] | None = None,
        starts: set[str] | None = None,
        sense: float = 0.0,
        part: float = 1.0,
    ) -> None:
        self.steady_a = steady_a
        self.occasional_a = occasional_a
        self.largest_a = largest_a
        self.own_steady_a = self.own_occasional_a = 0.0
        self.circuits: set[str] = set() if circuits is None else circuits
        self.unknown: list[str] = [] if unknown is None else unknown
        self.starts: set[str] = set() if starts is None else starts
        self.sense = sense
        self.part = part

    @property
    def connected_a(self) -> float:
        """All loads at once [A]."""
        if len(self.circuits) == 1:
            return self.own_steady_a + self.own_occasional_a
        return self.steady_a + self.occasional_a

    @property
    def continuous_a(self) -> float:
        """What runs for hours [A]."""
        return self.own_steady_a if len(self.circuits) == 1 else self.steady_a

    def copy(self) -> "Tally":
        """The same by itself."""
        made = Tally(sense=self.sense)
        made.join(self)
        return made

    def know(self, load: Load) -> None:
        """Note a load that is on the edge and is not counted there: others are on in its stead."""
        self.circuits.add(user_of(load))
        self.miss(load)

    def miss(self, load: Load) -> None:
        """Note that what a load draws is not known, where it is not."""
        if isinstance(load.value, Unknown):
            self.unknown.append(load.about.name)

    def clear(self) -> None:
        """Take off what is expected; which loads they are stays."""
        self.steady_a = self.occasional_a = self.largest_a = 0.0

    def count(self, expected_a: float, *, comes_and_goes: bool) -> None:
        """Count what is expected of a load that has been added."""
        if comes_and_goes:
            self.occasional_a += expected_a
            self.largest_a = max(self.largest_a, expected_a)
        else:
            self.steady_a += expected_a

    def add_part(self, other: "Tally", part: float) -> None:
        """Count a part of another tally [-].

        Of a negative part what lasts is taken off; what comes and goes is counted all the same, for
        it need not run when it would help.
        """
        if not part:
            return
        self.steady_a += part * other.steady_a
        self.own_steady_a += part * other.own_steady_a
        self.occasional_a += abs(part) * other.occasional_a
        self.own_occasional_a += abs(part) * other.own_occasional_a
        self.largest_a = max(self.largest_a, abs(part) * other.largest_a)
        self.circuits |= other.circuits
        self.unknown += other.unknown
        self.starts |= other.starts

    def join(self, other: "Tally") -> None:
        """Count all of another tally beside what is counted."""
        self.add_part(other, 1.0)
        self.part = max(self.part, other.part)

    def demand_a(self, share: float) -> float:
        """What can be expected at one time [A].

        One circuit counts in full. Several count their steady loads in full, and of the occasional
        ones the largest, or the given share of them all where that is more.
        """
        return self.connected_a if len(self.circuits) == 1 else self.expected_a(share)

    def expected_a(self, share: float) -> float:
        """As `demand_a`, one circuit too at the volts that it has beside what else runs [A]."""
        if len(self.circuits) == 1:
            return self.steady_a + self.occasional_a
        return self.steady_a + max(self.largest_a, share * self.occasional_a)

    def expected_with(self, load: Load, old_a: float, new_a: float, share: float) -> float:
        """As `expected_a`, with one load drawing something else than what is counted of it [A]."""
        more_a, steady_a, occasional_a = new_a - old_a, self.steady_a, self.occasional_a
        largest_a = self.largest_a
        if load.traits.at_times:
            occasional_a += more_a
            largest_a = max(largest_a, new_a)
        else:
            steady_a += more_a
        if self.circuits <= {user_of(load)}:
            return steady_a + occasional_a
        return steady_a + max(largest_a, share * occasional_a)


def count_load(on: Iterable[Tally], load: Load, own: Drawn, expected: Drawn) -> None:
    """Count one load wherever it is counted."""
    user, name = user_of(load), load.about.name
    is_unknown, comes_and_goes = isinstance(own.current_a, Unknown), load.traits.at_times
    own_a, expected_a = own.known_a, expected.known_a
    for tally in on:
        tally.circuits.add(user)
        if is_unknown:
            tally.unknown.append(name)
        if comes_and_goes:
            tally.own_occasional_a += own_a
        else:
            tally.own_steady_a += own_a
        tally.count(expected_a, comes_and_goes=comes_and_goes)
