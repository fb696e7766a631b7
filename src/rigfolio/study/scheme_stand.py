"""Source side of a circuit diagram: where its parts stand."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from math import ceil

from rigfolio.draw.dot import Box, Edge, Spot, place
from rigfolio.model.graph import Conductor, Source
from rigfolio.study.scheme import End, Part
from rigfolio.study.scheme_paint import CELL_MM, ROW, Canvas
from rigfolio.study.scheme_shape import ABOVE, Shape, shape_of


@dataclass(frozen=True, slots=True)
class Run:
    """A wire of the source side.

    `a` is a terminal of a part or the name of a panel; `b` is one of these too, or a number for a
    port at the right edge. `block` is the number of the block that the port belongs to, -1 for a
    bottom lane.
    """

    name: str
    wire: Conductor | None
    a: End | str
    b: End | str | int
    block: int = -1

    @property
    def is_labelled(self) -> bool:
        """Whether its label stands beside one of its ends here."""
        return self.wire is not None and not isinstance(self.b, int)


@dataclass(slots=True)
class Stand:
    """Where a part stands: its column, the cell where its first row meets its left edge."""

    shape: Shape
    column: int = 0
    x: int = 0
    y: int = 0
    columns: int = 0

    @property
    def bottom(self) -> int:
        """The last row that the part takes."""
        return self.y + self.shape.below(self.shape.columns * CELL_MM)

    @property
    def centre(self) -> float:
        """The middle of its landings, in rows."""
        return self.y + self.shape.span / 2


@dataclass(slots=True)
class Floor:
    """The source side being laid out; `spread` adds lanes to every channel.

    `tops` are the upper rows of the blocks, `lanes_top` the row of the first bottom lane, `right`
    the column of the right edge; they are known after `settle`.
    """

    canvas: Canvas
    parts: Sequence[Part]
    runs: Sequence[Run]
    heights: Sequence[int]
    panels: Mapping[str, int]
    spread: int = 0
    stands: dict[str, Stand] = field(default_factory=dict)
    tops: list[int] = field(default_factory=list)
    lanes_top: int = 0
    right: int = 0

    @property
    def is_tight(self) -> bool:
        """Whether to try with the least room that may do."""
        return self.spread < 2

    def settle(self) -> None:
        """Columns and rows of the parts of the plus side, and the tops of the blocks."""
        self._stand_plus([part for part in self.parts if not part.is_minus])
        low = [s.bottom for s in self.stands.values()]
        low += [top + high for top, high in zip(self.tops, self.heights, strict=True)]
        self.lanes_top = max(low, default=0) + 2

    def settle_low(self, rows: int) -> None:
        """Parts of the minus side, so many rows below the first bottom lane."""
        self._stand_band([part for part in self.parts if part.is_minus], self.lanes_top + rows)

    def _stand_plus(self, plus: Sequence[Part]) -> None:
        """Sources first, blocks last, what lies between them by graphviz."""
        numbers = {part.name: number for number, part in enumerate(plus)}
        edges = self._edges(numbers, len(plus))
        draft = {part.name: self._shape(part, None) for part in plus}
        boxes = [self._box(part, draft[part.name]) for part in plus]
        boxes += [Box(high, "last") for high in self.heights]
        spots = place(boxes, edges, 2.0 + self.spread)
        columns = {part.name: spots[numbers[part.name]].column for part in plus}
        self.tops = _packed(spots[len(plus) :], self.heights)
        for part in plus:
            spot = spots[numbers[part.name]]
            shape = self._shape(part, columns)
            stand = Stand(shape, spot.column)
            stand.y = round(spot.row - shape.span / 2)
            self.stands[part.name] = stand
        self._part_columns(list(numbers), left=self._margin())
        self.right += max([self.panel_stub(run) for run in self.runs], default=0)
        self._straighten()
        self._level_with_panels()
        self._start_at_top()

    def _level_with_panels(self) -> None:
        """Move all parts up or down so that supplies come in straight at the panels."""
        least, most = -10_000, 10_000
        for run in self.runs:
            if isinstance(run.b, str) and run.a[0] in self.stands and isinstance(run.a, tuple):
                stand = self.stands[run.a[0]]
                row = self.rows_of(stand, run.a, "right").get((run.name, 0))
                if row is not None:
                    first, last = self.landable(run.b)
                    least, most = max(least, first - row), min(most, last - row)
        if least <= most and not least <= 0 <= most:
            for stand in self.stands.values():
                stand.y += least if least > 0 else most

    def _start_at_top(self) -> None:
        """Move everything so that a lane is free above all."""
        highest = min([*self.tops, *(s.y - ABOVE for s in self.stands.values())], default=0)
        down = 2 + self.spread - highest
        self.tops = [top + down for top in self.tops]
        for stand in self.stands.values():
            stand.y += down

    def panel_stub(self, run: Run) -> int:
        """Cells for the label of a wire from panel to panel, which stands at the panel."""
        if run.wire is None or not isinstance(run.a, str) or not run.is_labelled:
            return 0
        return ceil((self.canvas.width(run.wire, folded=True) + 2.0) / CELL_MM)

    def landable(self, panel: str) -> tuple[int, int]:
        """First and last row of a panel where a supply may land from the left."""
        number = self.panels[panel]
        first = self.tops[number] + ROW + 2
        return first, max(first, self.tops[number] + self.heights[number] - ROW)

    def _box(self, part: Part, shape: Shape) -> Box:
        below = shape.below(shape.columns * CELL_MM)
        centre = shape.span / 2
        rows = 2 * max(centre + ABOVE, below - centre)
        is_first = bool(part.things) and isinstance(part.things[0], Source)
        return Box(rows, "first" if is_first and part.kind != "dc-dc" else "")

    def _edges(self, numbers: Mapping[str, int], blocks_from: int) -> list[Edge]:
        edges = []
        first = {p.name for p in self.parts if p.things and isinstance(p.things[0], Source)
                 and p.kind != "dc-dc"}  # fmt: skip
        parts = {part.name: part for part in self.parts}
        for run in self.runs:
            tail = numbers.get(run.a[0]) if isinstance(run.a, tuple) else None
            if tail is None or not isinstance(run.a, tuple):
                continue
            if isinstance(run.b, int):
                if run.block >= 0:
                    edges.append(Edge(tail, blocks_from + run.block))
            elif isinstance(run.b, str):
                edges.append(Edge(tail, blocks_from + self.panels[run.b]))
            elif run.b[0] in numbers:
                head = numbers[run.b[0]]
                names = (run.a, run.b)
                is_level = _is_right(parts, run.a) and _is_right(parts, run.b)
                if not _is_forward(parts[run.a[0]], run.a[1], parts[run.b[0]], run.b[1]):
                    tail, head, names = head, tail, (run.b, run.a)
                is_ranking = names[1][0] not in first and not is_level
                edges.append(Edge(tail, head, is_ranking, run.wire is None))
        return edges

    def _margin(self) -> int:
        count = sum(
            1 for run in self.runs for end in (run.a, run.b)
            if isinstance(end, tuple) and self.is_source_minus(end)
        )  # fmt: skip
        return 2 + (count // 2 if self.is_tight else count) + self.spread

    def is_source_minus(self, end: End) -> bool:
        """Whether an end is the minus terminal of a source."""
        part = next((p for p in self.parts if p.name == end[0]), None)
        thing = part.things[0] if part and part.things else None
        return isinstance(thing, Source) and end[1] == thing.minus

    def _shape(self, part: Part, columns: Mapping[str, int] | None) -> Shape:
        counts: dict[tuple[str, str], int] = {}
        for run in self.runs:
            for end, other in ((run.a, run.b), (run.b, run.a)):
                if isinstance(end, tuple) and end[0] == part.name:
                    key = (self.side(part, end[1], other, columns), end[1])
                    counts[key] = counts.get(key, 0) + 1
        return shape_of(self.canvas.rig, part, counts)

    def side(
        self, part: Part, terminal: str, other: End | str | int,
        columns: Mapping[str, int] | None,
    ) -> str:  # fmt: skip
        """The side of a part on which a run lands."""
        if terminal not in part.left:
            return "right"
        if terminal not in part.right:
            return "left"
        if not isinstance(other, tuple):
            return "right"
        if part.is_minus:
            there = next((p for p in self.parts if p.name == other[0]), None)
            if there is None or not there.is_minus:
                return "right" if there and other[1] not in there.left else "left"
        if columns is None:
            return "right"
        here, far = columns.get(part.name, 0), columns.get(other[0], 0)
        return "left" if far < here or (far == here and other[0] < part.name) else "right"

    def _stubs(self, names: Sequence[str]) -> dict[str, list[int]]:
        """Room for labels left and right of parts, in cells."""
        room = {name: [0, 0] for name in names}
        for run in self.runs:
            if run.wire is None or not run.is_labelled or isinstance(run.a, str):
                continue
            name, side = self.label_end(run)
            if name in room:
                cells = ceil((self.canvas.width(run.wire, folded=True) + 2.0) / CELL_MM)
                place_ = 0 if side == "left" else 1
                room[name][place_] = max(room[name][place_], cells)
        return room

    def label_end(self, run: Run) -> tuple[str, str]:
        """The part and the side where the label of a run stands."""
        columns = {name: stand.column for name, stand in self.stands.items()}
        parts = {part.name: part for part in self.parts}
        if isinstance(run.a, str):
            return "", ""
        choice = (run.a[0], self.side(parts[run.a[0]], run.a[1], run.b, columns))
        if isinstance(run.b, tuple):
            other = (run.b[0], self.side(parts[run.b[0]], run.b[1], run.a, columns))
            if choice[1] == "left" and (
                other[1] == "right" or self.is_source_minus(run.a)
            ):  # fmt: skip
                return other
        return choice

    def _part_columns(self, names: Sequence[str], left: int) -> None:
        """Columns of parts from left to right, with room for labels and a channel after each."""
        stubs = self._stubs(names)
        by_column: dict[int, list[str]] = {}
        for name in names:
            by_column.setdefault(self.stands[name].column, []).append(name)
        x, before, lanes = left, 0, 0
        for number in sorted(by_column):
            here = by_column[number]
            wide = max(self.stands[name].shape.columns for name in here)
            label = max(stubs[name][0] for name in here)
            # Labels at both sides of a channel share its room as long as they stand in other rows.
            x += max(before, label) if self.is_tight else before + label
            for name in here:
                self.stands[name].x = x
                self.stands[name].columns = wide
            lanes = sum(max(1, x_.count) for n in here for x_ in self.stands[n].shape.right)
            before = max(stubs[name][1] for name in here)
            x += wide + 3 + min(lanes // 3, 4) + self.spread
        self.right = max(self.right, x + before + 1)

    def _straighten(self) -> None:
        """Move parts so that a wire from the left comes in straight, where there is room."""
        by_column: dict[int, list[Stand]] = {}
        for stand in self.stands.values():
            by_column.setdefault(stand.column, []).append(stand)
        for number in sorted(by_column):
            column = sorted(by_column[number], key=lambda s: (s.y, s.shape.part.name))
            top = -10_000
            for stand in column:
                stand.y = max(stand.y, top + ABOVE + 3)
                top = stand.bottom
            self._pull(column)

    def _pull(self, column: Sequence[Stand]) -> None:
        for place_, stand in enumerate(column):
            wanted = self._wanted(stand)
            if wanted is None:
                continue
            low = column[place_ - 1].bottom + ABOVE + 3 if place_ else -10_000
            down = stand.bottom - stand.y
            high = column[place_ + 1].y - ABOVE - 3 - down if place_ + 1 < len(column) else 10_000
            stand.y = max(low, min(wanted, high)) if low <= high else stand.y

    def _wanted(self, stand: Stand) -> int | None:
        """The row for a part whose first wire then comes in straight from the left."""
        name = stand.shape.part.name
        for run in self.runs:
            if not (isinstance(run.a, tuple) and isinstance(run.b, tuple)):
                continue
            for here, end, other in ((0, run.a, run.b), (1, run.b, run.a)):
                there = self.stands.get(other[0])
                if end[0] == name and there and there.column < stand.column:
                    row = self.rows_of(there, other, "right").get((run.name, 1 - here))
                    own = self.rows_of(stand, end, "left").get((run.name, here))
                    if row is not None and own is not None:
                        return row - (own - stand.y)
        return None

    def rows_of(self, stand: Stand, end: End, side: str) -> dict[tuple[str, int], int]:
        """Rows of the landings of one terminal, by run and end, as what lies beyond is ordered."""
        part = stand.shape.part
        columns = {name: s.column for name, s in self.stands.items()}
        landed = []
        for number, run in enumerate(self.runs):
            for place_, here, other in ((0, run.a, run.b), (1, run.b, run.a)):
                if here == end and self.side(part, end[1], other, columns) == side:
                    height = self._height(other, run)
                    # A return turns round to its target: the lowest landing has the inmost lane.
                    turned = -height if self.is_source_minus(end) else height
                    landed.append((turned, number, place_, run.name))
        landing = stand.shape.landing(end[1], side)
        if landing is None:
            return {}
        first = landing.row
        return {
            (name, place_): stand.y + first + ROW * k
            for k, (_, _, place_, name) in enumerate(sorted(landed))
        }

    def _height(self, end: End | str | int, run: Run) -> float:
        """Where the other end of a run lies, in rows."""
        if isinstance(end, tuple):
            stand = self.stands.get(end[0])
            return stand.centre if stand else 10_000.0
        if isinstance(end, str):
            number = self.panels[end]
            return self.tops[number] + self.heights[number] / 2
        return self.tops[run.block] if run.block >= 0 else 20_000.0

    def _stand_band(self, band: Sequence[Part], top: int) -> None:
        """Parts of the minus side below all others."""
        if not band:
            return
        numbers = {part.name: number for number, part in enumerate(band)}
        edges = []
        for run in self.runs:
            ends = [e for e in (run.a, run.b) if isinstance(e, tuple)]
            if len(ends) == 2 and ends[0][0] in numbers and ends[1][0] in numbers:
                tail, head = (numbers[end[0]] for end in ends)
                if not _is_forward(band[tail], ends[0][1], band[head], ends[1][1]):
                    tail, head = head, tail
                edges.append(Edge(tail, head))
        draft = [self._shape(part, None) for part in band]
        spots: tuple[Spot, ...] = place(
            [self._box(p, s) for p, s in zip(band, draft, strict=True)], edges, 2.0 + self.spread
        )
        columns = {part.name: spots[numbers[part.name]].column for part in band}
        for part, spot in zip(band, spots, strict=True):
            shape = self._shape(part, columns)
            stand = Stand(shape, spot.column)
            stand.y = top + round(spot.row - spots[0].row - shape.span / 2)
            self.stands[part.name] = stand
        self._part_columns(list(numbers), left=self._margin())
        by_column: dict[int, int] = {}
        for stand in sorted((self.stands[n] for n in numbers), key=lambda s: (s.column, s.y)):
            above = by_column.get(stand.column, top - ABOVE - 3)
            stand.y = max(stand.y, above + ABOVE + 3)
            by_column[stand.column] = stand.bottom


def _is_right(parts: Mapping[str, Part], end: End) -> bool:
    """Whether an end can only be at the right side of its part."""
    part = parts[end[0]]
    return end[1] in part.right and end[1] not in part.left


def _is_forward(one: Part, terminal: str, two: Part, other: str) -> bool:
    """Whether a run leads from the right side of one part to the left side of another."""
    if one.left != one.right and terminal in one.left:
        return False
    return not (two.left != two.right and other in two.right and other not in two.left
                and (one.left == one.right))  # fmt: skip


def _packed(spots: Sequence[Spot], heights: Sequence[int]) -> list[int]:
    """Tops of the blocks, one below the other with a gap, near to where graphviz put them."""
    tops: list[int] = []
    bottom = -10_000
    for spot, high in zip(spots, heights, strict=True):
        top = max(round(spot.row - high / 2), bottom + 2)
        tops.append(top)
        bottom = top + high
    return tops
