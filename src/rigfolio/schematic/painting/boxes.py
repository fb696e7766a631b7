"""Parts with more than two terminals: a switch with its contacts, a converter."""

from collections.abc import Callable, Iterator, Sequence

from rigfolio.draw import (
    STROKE,
    Circle,
    Line,
    Mark,
    Pen,
    Point,
    Text,
    dot,
    rect,
    terminal,
    width_mm,
)
from rigfolio.model import Device
from rigfolio.schematic.chains import Bar
from rigfolio.schematic.painting.heads import BOX_FOOT_MM, BOX_TOP_MM
from rigfolio.schematic.painting.landings import Landing
from rigfolio.schematic.setting import BOX_MM
from rigfolio.values import printed

_DASH_DOT = Pen(0.35, "#000000", (2.4, 0.8, 0.5, 0.8))
_CLEAR = 3
"""Letters that fit beside the diagonal of a converter."""
_PIVOT_MM, _FAR_MM, _LEVER_MM = 3.4, 9.0, 6.0


class BoxPainter:
    """Draws one box at its place, once its rows have their heights."""

    def __init__(
        self, at_mm: float, size_pt: float, lands: Sequence[Landing], y_of: Callable[[int], float]
    ) -> None:
        self.x = at_mm
        self.size_pt = size_pt
        self.lands = lands
        self.y_of = y_of

    def marks(self, bar: Bar, top: float, bottom: float) -> Iterator[Mark]:
        """The outline from the first to the last row, and what is within."""
        high, low = top - BOX_TOP_MM, bottom + BOX_FOOT_MM
        ways = [thing for thing in bar.things if isinstance(thing, Device)]
        pen = _DASH_DOT if ways else STROKE
        yield rect(self.x - BOX_MM, high, 2 * BOX_MM, low - high, pen=pen, fill="#ffffff")
        if ways:
            yield from self._contacts(ways)
        else:
            yield from self._converter(high, low)
            yield from self._ports()

    def _edge(self, landing: Landing) -> Point:
        return self.x + landing.side * BOX_MM, self.y_of(landing.row)

    def _ports(self) -> Iterator[Mark]:
        """Terminals of a converter with their names."""
        for landing in self.lands:
            edge, port = self._edge(landing), landing.port
            yield terminal(edge)
            anchor = "start" if landing.side < 0 else "end"
            word = printed(port.rpartition(".")[2] if "." in port else port[-1])
            if len(word) > _CLEAR:
                # It is long enough to reach the diagonal.
                wide = width_mm(word, self.size_pt)
                left = edge[0] + 1.3 if landing.side < 0 else edge[0] - 1.3 - wide
                yield rect(left, edge[1] - 1.4, wide, 2.8, pen=None, fill="#ffffff")
            yield Text((edge[0] - landing.side * 1.3, edge[1] + 1.0), word, self.size_pt, anchor)

    def _converter(self, high: float, low: float) -> Iterator[Mark]:
        """The diagonal of a converter and the sign of direct current on both sides."""
        x = self.x
        yield Line(((x - 3.6, low - 0.6), (x + 3.6, high + 0.6)), STROKE)
        rows = [self.y_of(landing.row) for landing in self.lands]
        for dx, y in ((-2.9, high + 1.9), (2.9, low - 1.9)):
            if low - high < 7.0 or any(abs(row - y) < 1.2 for row in rows):
                continue
            upper, lower = ((x + dx - 1.2, y - 0.45), (x + dx + 1.2, y - 0.45)), y + 0.45
            yield Line(upper, Pen(0.3))
            yield Line(((upper[0][0], lower), (upper[1][0], lower)), Pen(0.3, dash_mm=(0.6, 0.3)))

    def _contacts(self, ways: Sequence[Device]) -> Iterator[Mark]:
        """Fixed contacts of a switch by their names, and its pole.

        It is drawn on none of them where it may stand so, else on one (IEC 60617, from memory).
        """
        common = ways[0].load
        poles = [landing for landing in self.lands if landing.port == common]
        fixed = [landing for landing in self.lands if landing.port != common]
        rest = next((one for one in ways if one.rests == "closed"), ways[0])
        made = "" if ways[0].turns_off or ways[0].traits.selects else rest.line
        side = poles[0].side if poles else 1
        called = {one.line: one.called for one in ways}
        for landing in fixed:
            yield from self._contact(landing, side, called.get(landing.port, ""))
        pivot_x = self.x + side * _PIVOT_MM
        for landing in poles:
            edge = self._edge(landing)
            yield Line(((pivot_x, edge[1]), edge), STROKE)
            yield terminal(edge)
        heights = sorted({self.y_of(landing.row) for landing in poles})
        if heights:
            on = [landing for landing in fixed if landing.port == made]
            yield from self._pole(
                (pivot_x, heights[0]), heights, on or fixed, side, touches=bool(on)
            )

    def _contact(self, landing: Landing, pole_side: int, called: str) -> Iterator[Mark]:
        edge, side = self._edge(landing), landing.side
        across = self.x - pole_side * _PIVOT_MM if side != pole_side else self.x + side * 5.8
        contact = (across, edge[1])
        yield Line((edge, contact), STROKE)
        yield Circle(contact, 0.7, STROKE, "#ffffff")
        yield terminal(edge)
        anchor = "start" if side < 0 else "end"
        word = f"{landing.port.rpartition('.')[2]} {called}".strip()
        yield Text((self.x + side * 7.8, edge[1] - 1.3), word, self.size_pt, anchor)

    def _pole(
        self, pivot: Point, heights: Sequence[float], fixed: Sequence[Landing], side: int,
        *, touches: bool,
    ) -> Iterator[Mark]:  # fmt: skip
        """The lever towards the nearest contact, joined to all rows of its own terminal."""
        x, y = pivot
        if len(heights) > 1:
            yield Line((pivot, (x, heights[-1])), STROKE)
            for height in heights[1:]:
                yield dot((x, height))
        rows = sorted({self.y_of(landing.row) for landing in fixed})
        goal = min(rows, key=lambda row: (abs(row - y), row), default=y)
        if touches and fixed[0].side != side:
            tip = (self.x - side * _PIVOT_MM, goal)
        elif abs(goal - y) > _FAR_MM:
            drop = -_LEVER_MM if goal < y else _LEVER_MM
            tip = (x - side * 4.0, y + drop)
        else:
            tip = (self.x - side * 2.4, goal + (-1.6 if goal <= y else 1.6))
        yield Line((pivot, tip), STROKE)
        yield Circle(pivot, 0.7, STROKE, "#ffffff")
