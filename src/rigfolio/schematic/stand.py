"""Source side of a circuit diagram: where its parts stand."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from math import ceil

from rigfolio.model import Source
from rigfolio.render import Box, BoxCentre, Edge, place
from rigfolio.schematic.cut import flat_mm
from rigfolio.schematic.paint import CELL_MM, ROW, Canvas
from rigfolio.schematic.run import Run, Stand, is_forward, is_right, packed
from rigfolio.schematic.rungs import End, Part
from rigfolio.schematic.shape import Shape, shape_of

_STRICT = 5
_CLOSER = (1.0, 0.7, 0.4, 0.2)
_MARK_CELLS = 2
CUT_ROWS = 5
"""Cells from one mark of another page to the next."""


@dataclass(slots=True)
class Floor:
    """The source side being laid out; `spread` adds lanes to every channel.

    `heads` are the cells that the head of each panel takes.
    `tops` are the upper rows of the blocks, `lanes_top` the row of the first bottom lane, `right`
    the column of the right edge; they are known after `settle`.
    """

    canvas: Canvas
    parts: Sequence[Part]
    runs: Sequence[Run]
    heights: Sequence[int]
    panels: Mapping[str, int]
    spread: int = 0
    heads: Mapping[str, int] = field(default_factory=dict)
    stands: dict[str, Stand] = field(default_factory=dict)
    tops: list[int] = field(default_factory=list)
    lanes_top: int = 0
    right: int = 0

    @property
    def is_tight(self) -> bool:
        """Whether to try with the least room that may do."""
        return self.spread < 2

    @property
    def is_strict(self) -> bool:
        """Whether no wire may wind; the last tries take what there is."""
        return self.spread < _STRICT

    @property
    def air(self) -> int:
        """Cells between two parts of one column."""
        return 1 + self.spread

    def settle(self) -> None:
        """Columns and rows of the parts of the plus side, and the tops of the blocks."""
        self._stand_plus([part for part in self.parts if not part.is_minus])
        low = [s.bottom for s in self.stands.values()]
        low += [top + high for top, high in zip(self.tops, self.heights, strict=True)]
        self.lanes_top = max(low, default=0) + 2

    def settle_cuts(self) -> None:
        """Blocks one below the other, and the marks that lead to them, each level with its end."""
        top = 2
        self.tops = []
        for high in self.heights:
            self.tops.append(top)
            top += high + (1 if high <= ROW else 2)
        self.lanes_top = top
        taken: dict[str, int] = {}
        for part in self.parts:
            stand = Stand(self._shape(part, None))
            run = next(run for run in self.runs if run.a == (part.name, part.right[0]))
            if isinstance(run.b, str):
                first, _ = self.landable(run.b)
                stand.y = first + CUT_ROWS * taken.get(run.b, 0)
                taken[run.b] = taken.get(run.b, 0) + 1
            else:
                stand.y = self.tops[run.block] + 1
            self.stands[part.name] = stand
        self._part_columns(list(self.stands), left=1)
        self.right += max([self.panel_stub(run) for run in self.runs], default=0)

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
        spots = place(boxes, edges, float(self.air))
        columns = {part.name: spots[numbers[part.name]].column for part in plus}
        closer = 1.0 if self.heights else _CLOSER[self.canvas.narrow]
        self.tops = packed(spots[len(plus) :], self.heights)
        for part in plus:
            spot = spots[numbers[part.name]]
            shape = self._shape(part, columns)
            stand = Stand(shape, spot.column)
            stand.y = round(closer * spot.row - shape.span / 2)
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
        highest = min([*self.tops, *(s.y - s.shape.above for s in self.stands.values())], default=0)
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
        first = self.tops[number] + self.heads.get(panel, ROW) + 2
        return first, max(first, self.tops[number] + self.heights[number] - ROW)

    def _box(self, part: Part, shape: Shape) -> Box:
        below = shape.below(shape.columns * CELL_MM)
        centre = shape.span / 2
        rows = 2 * max(centre + shape.above, below - centre)
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
                if parts[run.b[0]].cut is not None and not is_right(parts, run.a):
                    edges += self._beside(run, numbers)
                    continue
                names = (run.a, run.b)
                is_level = is_right(parts, run.a) and is_right(parts, run.b)
                if not is_forward(parts[run.a[0]], run.a[1], parts[run.b[0]], run.b[1]):
                    tail, head, names = head, tail, (run.b, run.a)
                is_ranking = names[1][0] not in first and not is_level
                edges.append(Edge(tail, head, is_ranking, run.wire is None))
        return edges

    def _beside(self, run: Run, numbers: Mapping[str, int]) -> list[Edge]:
        """Edges that put a mark at the left of a part level with it, behind what feeds it."""
        if not (isinstance(run.a, tuple) and isinstance(run.b, tuple)):
            return []
        tails = [r.a for r in self.runs if r.b == run.a] + [r.b for r in self.runs if r.a == run.a]
        before = [numbers[t[0]] for t in tails if isinstance(t, tuple) and t[0] in numbers]
        mark = numbers[run.b[0]]
        return [Edge(numbers[run.a[0]], mark, is_ranking=False),
                *(Edge(tail, mark) for tail in before if tail != mark)]  # fmt: skip

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
            if not run.is_labelled or isinstance(run.a, str):
                continue
            name, side = self.label_end(run)
            if name in room:
                cells = self.label_cells(run)
                place_ = 0 if side == "left" else 1
                room[name][place_] = max(room[name][place_], cells)
        return room

    def label_cells(self, run: Run) -> int:
        """Cells that the label of a run takes."""
        wide_mm = 0.0
        if run.cut is not None:
            wide_mm = flat_mm(run.cut)
        elif run.wire is not None:
            wide_mm = self.canvas.width(run.wire, folded=True) + 2.0
        return ceil(wide_mm / CELL_MM)

    def label_end(self, run: Run) -> tuple[str, str]:
        """The part and the side where the label of a run stands."""
        columns = {name: stand.column for name, stand in self.stands.items()}
        parts = {part.name: part for part in self.parts}
        if isinstance(run.a, str):
            return "", ""
        if run.cut is not None:
            return run.a[0], "right"
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
            wide = max(self._body_columns(name) for name in here)
            label = max(stubs[name][0] for name in here)
            # Labels at both sides of a channel share its room as long as they stand in other rows.
            x += max(before, label) if self.is_tight else before + label
            for name in here:
                self.stands[name].x = x
                stand = self.stands[name]
                stand.columns = stand.shape.columns if stand.shape.part.cut else wide
            lanes = sum(max(1, x_.count) for n in here for x_ in self.stands[n].shape.right)
            before = max(max(stubs[n][1], self.stands[n].columns - wide) for n in here)
            x += wide + 3 + min(lanes // 3, 4) + self.spread
        self.right = max(self.right, x + before + 1)

    def _body_columns(self, name: str) -> int:
        """Cells that a part adds to the width of its column; words of marks stand behind it."""
        shape = self.stands[name].shape
        return shape.columns if shape.part.cut is None or shape.right else _MARK_CELLS

    def _straighten(self) -> None:
        """Move parts so that a wire from the left comes in straight, where there is room."""
        by_column: dict[int, list[Stand]] = {}
        for stand in self.stands.values():
            by_column.setdefault(stand.column, []).append(stand)
        for number in sorted(by_column):
            column = sorted(by_column[number], key=lambda s: (s.y, s.shape.part.name))
            top = -10_000
            for stand in column:
                stand.y = max(stand.y, top + stand.shape.above + self.air)
                top = stand.bottom
            self._pull(column)

    def _pull(self, column: Sequence[Stand]) -> None:
        for place_, stand in enumerate(column):
            wanted = self._wanted(stand)
            if wanted is None:
                continue
            low = column[place_ - 1].bottom + stand.shape.above + self.air if place_ else -10_000
            down = stand.bottom - stand.y
            high = 10_000
            if place_ + 1 < len(column):
                after = column[place_ + 1]
                high = after.y - after.shape.above - self.air - down
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
                if not is_forward(band[tail], ends[0][1], band[head], ends[1][1]):
                    tail, head = head, tail
                edges.append(Edge(tail, head))
        draft = [self._shape(part, None) for part in band]
        spots: tuple[BoxCentre, ...] = place(
            [self._box(p, s) for p, s in zip(band, draft, strict=True)], edges, float(self.air)
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
            above = by_column.get(stand.column, top - stand.shape.above - self.air)
            stand.y = max(stand.y, above + stand.shape.above + self.air)
            by_column[stand.column] = stand.bottom
