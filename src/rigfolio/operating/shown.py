"""One solved scene of a rig, to be asked as a meter is."""

from collections.abc import Mapping
from typing import TypeAlias

from rigfolio.books import figure
from rigfolio.calc import Condensed, OperatingPoint
from rigfolio.record import record

Pairs: TypeAlias = frozenset[tuple[str, str]]


@record
class NetPlaces:
    """Where terminals, edges, loads and sources stand in the network of a scene."""

    node: Mapping[str, int]
    condensed: Condensed
    branch_of: Mapping[str, int]
    draw_of: Mapping[str, int]
    supply_of: Mapping[str, int]


class Shown:
    """What stands where.

    It knows the network and not the scene, which keeps it: both go as soon as nobody asks them.
    """

    __slots__ = ("_added", "_at", "_flipped", "_point", "gave_out")

    def __init__(
        self, at: NetPlaces, point: OperatingPoint, added: Mapping[int, float], flipped: Pairs,
        fallen: frozenset[str] = frozenset(),
    ) -> None:  # fmt: skip
        self._at, self._point, self._added, self._flipped = at, point, added, flipped
        self.gave_out = fallen, point.collapsed
        """The contacts that dropped out and the inputs that gave way: where these are others, all
        else has jumped, and nothing stands between."""

    def between_v(self, a: str, b: str) -> float:
        """Voltage of a terminal against another [V]; 0 where either floats."""
        high, low = self._volt(a), self._volt(b)
        if high is None or low is None:
            return 0.0
        # Only across the load itself does it show that its two leads are swapped.
        is_flipped = (a, b) in self._flipped or (b, a) in self._flipped
        return low - high if is_flipped else high - low

    def is_same(self, other: "Shown") -> bool:
        """Whether all branches, sources and loads carry the very same in both."""
        return self._point is other._point

    def _volt(self, terminal: str) -> float | None:
        node = self._at.node.get(terminal)
        # A terminal that no wire lands on floats.
        return None if node is None else self._at.condensed.volt(
            node, self._point, self._added, figure("joint", "open_ohm")
        )  # fmt: skip

    def current_a(self, edge: str) -> float:
        """Current in a conductor or a device, without its sign [A]; 0 in one that is open."""
        place = self._at.branch_of.get(edge)
        return 0.0 if place is None else abs(self._at.condensed.current_a(place, self._point))

    def drawn_a(self, load: str) -> float:
        """What a load draws [A]; 0 where it is off."""
        place = self._at.draw_of.get(load)
        return 0.0 if place is None else abs(self._point.draw_a[place])

    def given_a(self, source: str) -> float:
        """What a source gives, negative where it takes [A]; 0 where it is off."""
        place = self._at.supply_of.get(source)
        return 0.0 if place is None else self._point.supply_a[place]
