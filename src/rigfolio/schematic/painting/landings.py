"""What meets each bar: the rungs that land on it, and those that hop over it."""

from collections.abc import Iterable

from rigfolio.record import record
from rigfolio.schematic.setting import Course


@record
class Landing:
    """The end of a rung at a bar: its row, its side (-1 left, 1 right), its terminal."""

    row: int
    side: int
    port: str


class Landings:
    """All ends of rungs by the bar that they land on."""

    def __init__(self, courses: Iterable[Course]) -> None:
        self._on: dict[str, list[Landing]] = {}
        self._hops: dict[str, set[int]] = {}
        for course in courses:
            laid = course.laid
            ports = laid.rung.ports[::-1] if laid.is_turned else laid.rung.ports
            if laid.left:
                self._on.setdefault(laid.left, []).append(Landing(course.row, 1, ports[0]))
            if laid.right:
                self._on.setdefault(laid.right, []).append(Landing(course.row, -1, ports[1]))
            if laid.left == course.seat.left:
                for name in course.seat.passed:
                    self._hops.setdefault(name, set()).add(course.row)

    def on(self, name: str) -> tuple[Landing, ...]:
        """What lands on a bar, in the order of the rungs."""
        return tuple(self._on.get(name, ()))

    def rows(self, name: str) -> list[int]:
        """The rows on which something lands on a bar."""
        return sorted({landing.row for landing in self._on.get(name, ())})

    def hops(self, name: str) -> list[int]:
        """The rows on which a rung passes a bar."""
        return sorted(self._hops.get(name, ()))
