"""What loads put on one edge, and how much of it can be expected at one time."""

from dataclasses import dataclass, field

from rigfolio.findings import Unknown
from rigfolio.model import Load

_OCCASIONAL = frozenset({"intermittent", "momentary"})


@dataclass(slots=True)
class Tally:
    """What runs through one edge from one source [A]; `unknown` names loads of unknown draw."""

    steady_a: float = 0.0
    occasional_a: float = 0.0
    largest_a: float = 0.0
    circuits: set[str] = field(default_factory=set)
    unknown: list[str] = field(default_factory=list)

    @property
    def connected_a(self) -> float:
        """All loads at once [A]."""
        return self.steady_a + self.occasional_a

    def add(self, load: Load, current_a: float | Unknown) -> None:
        """Count one load."""
        self.circuits.add(load.circuit or load.about.name)
        if isinstance(current_a, Unknown):
            self.unknown.append(load.about.name)
        elif load.duty in _OCCASIONAL:
            self.occasional_a += current_a
            self.largest_a = max(self.largest_a, current_a)
        else:
            self.steady_a += current_a

    def add_part(self, other: "Tally", part: float) -> None:
        """Count a part of another tally [-].

        Of a negative part what lasts is taken off; what comes and goes is counted all the same, for
        it need not run when it would help.
        """
        if not part:
            return
        self.steady_a += part * other.steady_a
        self.occasional_a += abs(part) * other.occasional_a
        self.largest_a = max(self.largest_a, abs(part) * other.largest_a)
        self.circuits |= other.circuits
        self.unknown += other.unknown

    def demand_a(self, share: float) -> float:
        """What can be expected at one time [A].

        One circuit counts in full. Several count their steady loads in full, and of the occasional
        ones the largest, or the given share of them all where that is more.
        """
        if len(self.circuits) == 1:
            return self.connected_a
        return self.steady_a + max(self.largest_a, share * self.occasional_a)
