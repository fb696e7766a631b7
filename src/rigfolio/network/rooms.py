"""What stays joined while some switches are open, and the switches between."""

from collections.abc import Callable, Collection, Iterable, Iterator

from rigfolio.model import Device
from rigfolio.network.graph import Edge, Net


class Rooms:
    """What is joined without the switches that wait: rooms by number, these their doors."""

    def __init__(
        self,
        net: Net,
        waits: Callable[[Edge], bool],
        is_open: Callable[[Edge], bool] = lambda _: False,
    ) -> None:
        self.net, self.waits, self.is_open = net, waits, is_open
        self._ends: list[Collection[str]] = []
        self._of: dict[str, int] = {}
        self._doors: dict[int, tuple[tuple[Device, int], ...]] = {}

    def of(self, end: str) -> int:
        """The room of a terminal."""
        if end not in self._of:
            room = self.net.walk([end], lambda edge: self.is_open(edge) or self.waits(edge)).keys()
            self._of |= dict.fromkeys((end, *room), len(self._ends))
            self._ends.append(room)
        return self._of[end]

    def holds(self, room: int, ends: Iterable[str]) -> bool:
        """Whether any of some terminals is in a room."""
        return any(end in self._ends[room] for end in ends)

    def doors(self, room: int) -> tuple[tuple[Device, int], ...]:
        """The switches that wait at any terminal of a room, each with the room behind it."""
        if room not in self._doors:
            self._doors[room] = tuple(self._found(room))
        return self._doors[room]

    def _found(self, room: int) -> Iterator[tuple[Device, int]]:
        for here in self._ends[room]:
            for edge, there in self.net.steps(here):
                if isinstance(edge, Device) and self.waits(edge) and not self.is_open(edge):
                    yield edge, self.of(there)
