"""Source side of a circuit diagram: parts placed in columns, wires led between them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from math import ceil

from rigfolio.draw.dot import Box, Edge, Spot, place
from rigfolio.draw.page import Point
from rigfolio.draw.route import EAST, WEST, Cell, Grid, Net, route
from rigfolio.model.graph import Conductor, Source
from rigfolio.study.scheme import End, Part
from rigfolio.study.scheme_paint import CELL_MM, ROW, Canvas
from rigfolio.study.scheme_shape import ABOVE, Shape, draw_part, shape_of


@dataclass(frozen=True, slots=True)
class Run:
    """A wire of the source side.

    `a` is a terminal of a part; `b` another one, the name of a panel, or the row of a port at the
    right edge. `block` is the number of the block that the port belongs to, -1 for a bottom lane.
    """

    name: str
    wire: Conductor | None
    a: End
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


@dataclass(frozen=True, slots=True)
class Hook:
    """One end of a run on a part: side, row, room for its label in cells, 0 for none."""

    stand: Stand
    side: str
    row: int
    stub: int

    @property
    def port(self) -> Cell:
        """The first cell that belongs to the wire alone."""
        if self.side == "left":
            return self.stand.x - 1 - self.stub, self.row
        return self.stand.x + self.stand.columns + 1 + self.stub, self.row

    @property
    def edge(self) -> Cell:
        """Where the wire meets the part."""
        return (self.stand.x + (0 if self.side == "left" else self.stand.columns)), self.row


@dataclass(slots=True)
class Feed:
    """The source side being laid out; `spread` adds lanes to every channel.

    `tops` are the upper rows of the blocks, `lanes_top` the row of the first bottom lane, `right`
    the column of the right edge; they are known after `settle`, the paths after `lead`.
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
    hooks: dict[tuple[str, int], Hook] = field(default_factory=dict)
    lands: dict[str, dict[str, int]] = field(default_factory=dict)
    paths: dict[str, tuple[Cell, ...]] = field(default_factory=dict)

    def settle(self) -> None:
        """Columns and rows of the parts, and the tops of the blocks."""
        plus = [part for part in self.parts if not part.is_minus]
        self._stand_plus(plus)
        band = [part for part in self.parts if part.is_minus]
        low = [s.bottom for s in self.stands.values()]
        low += [top + high for top, high in zip(self.tops, self.heights, strict=True)]
        self.lanes_top = max(low, default=0) + 4
        self._stand_band(band)

    def lead(self, ports: Mapping[str, int], landable: Mapping[str, tuple[int, int]]) -> None:
        """Lead every run; `ports` gives the rows of bottom lanes by the name of the run.

        `landable` is the first and last row of each panel on which a supply may land.

        Raises
        ------
        NoWayError
            A wire finds no way in the channels as they are.
        """
        self._hook()
        self._land(landable)
        lowest = max([*(s.bottom for s in self.stands.values()), *ports.values(), 0])
        lowest = max([lowest, *(top + high for top, high in zip(self.tops, self.heights,
                                                               strict=True))])  # fmt: skip
        grid = Grid(self.right, lowest + 6 + 2 * self.spread)
        for stand in self.stands.values():
            grid.block(stand.x, stand.y - ABOVE, stand.x + stand.columns, stand.bottom)
        for hook in self.hooks.values():
            if hook.stub:
                low, high = sorted((hook.port[0], hook.edge[0]))
                grid.block(low + (hook.side == "left"), hook.row - 1,
                           high - (hook.side == "right"), hook.row + 1)  # fmt: skip
        nets = [self._net(run, ports) for run in self.runs]
        for net in nets:
            for column, row in (net.start, net.end):
                grid.blocked[row * grid.columns + column] = 0
        self.paths = route(grid, nets)

    def path(self, run: Run) -> tuple[Point, ...]:
        """The whole way of a run [mm], from the part `a` to its other end."""
        cells: list[Cell] = [self.hooks[run.name, 0].edge, *self.paths[run.name]]
        if isinstance(run.b, tuple):
            cells.append(self.hooks[run.name, 1].edge)
        else:
            cells.append((self.right, cells[-1][1]))
        return tuple((column * CELL_MM, row * CELL_MM) for column, row in cells)

    def draw(self) -> None:
        """Parts with their names, and the wires that stay on this side."""
        for run in self.runs:
            if isinstance(run.b, int):
                continue
            if run.wire is None:
                self.canvas.joint(self.path(run))
            else:
                self.canvas.wire(run.wire, self.path(run), self._label(run, run.wire))
        for stand in self.stands.values():
            at = (stand.x * CELL_MM, stand.y * CELL_MM)
            self.canvas.inks.append(draw_part(stand.shape, at, stand.columns * CELL_MM))

    def _label(self, run: Run, wire: Conductor) -> tuple[object, ...]:
        for end in (0, 1):
            hook = self.hooks.get((run.name, end))
            if hook is not None and hook.stub:
                left = min(hook.port[0], hook.edge[0]) + (0.6 if hook.side == "right" else 1.0)
                at = (left * CELL_MM + (1.0 if hook.side == "left" else 0.0), hook.row * CELL_MM)
                return self.canvas.label(wire, at, folded=True)
        return ()

    def _stand_plus(self, plus: Sequence[Part]) -> None:
        """Sources first, blocks last, what lies between them by graphviz."""
        numbers = {part.name: number for number, part in enumerate(plus)}
        edges = self._edges(numbers, len(plus))
        draft = {part.name: self._shape(part, None) for part in plus}
        boxes = [self._box(part, draft[part.name]) for part in plus]
        boxes += [Box(high + 2, "last") for high in self.heights]
        spots = place(boxes, edges, 2.0 + self.spread)
        columns = {part.name: spots[numbers[part.name]].column for part in plus}
        self.tops = _packed(spots[len(plus):], self.heights)
        for part in plus:
            spot = spots[numbers[part.name]]
            shape = self._shape(part, columns)
            stand = Stand(shape, spot.column)
            stand.y = round(spot.row - shape.span / 2)
            self.stands[part.name] = stand
        self._part_columns([name for name in numbers], left=self._margin())
        self._straighten()

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
            tail = numbers.get(run.a[0])
            if tail is None:
                continue
            if isinstance(run.b, int):
                if run.block >= 0:
                    edges.append(Edge(tail, blocks_from + run.block))
            elif isinstance(run.b, str):
                edges.append(Edge(tail, blocks_from + self.panels[run.b]))
            elif run.b[0] in numbers:
                head = numbers[run.b[0]]
                names = (run.a, run.b)
                if not _is_forward(parts[run.a[0]], run.a[1], parts[run.b[0]], run.b[1]):
                    tail, head, names = head, tail, (run.b, run.a)
                edges.append(Edge(tail, head, names[1][0] not in first))
        return edges

    def _margin(self) -> int:
        count = sum(
            1 for run in self.runs for end in (run.a, run.b)
            if isinstance(end, tuple) and self._is_source_minus(end)
        )  # fmt: skip
        return 2 + count + self.spread

    def _is_source_minus(self, end: End) -> bool:
        part = next((p for p in self.parts if p.name == end[0]), None)
        thing = part.things[0] if part and part.things else None
        return isinstance(thing, Source) and end[1] == thing.minus

    def _shape(self, part: Part, columns: Mapping[str, int] | None) -> Shape:
        counts: dict[tuple[str, str], int] = {}
        for run in self.runs:
            for end, other in ((run.a, run.b), (run.b, run.a)):
                if isinstance(end, tuple) and end[0] == part.name:
                    key = (self._side(part, end[1], other, columns), end[1])
                    counts[key] = counts.get(key, 0) + 1
        return shape_of(self.canvas.rig, part, counts)

    def _side(
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
                return "left"
        if columns is None:
            return "right"
        here, far = columns.get(part.name, 0), columns.get(other[0], 0)
        return "left" if far < here or (far == here and other[0] < part.name) else "right"

    def _stubs(self, names: Sequence[str]) -> dict[str, list[int]]:
        """Room for labels left and right of parts, in cells."""
        room = {name: [0, 0] for name in names}
        for run in self.runs:
            if run.wire is None or not run.is_labelled:
                continue
            name, side = self._label_end(run)
            if name in room:
                cells = ceil((self.canvas.width(run.wire, folded=True) + 2.0) / CELL_MM)
                place_ = 0 if side == "left" else 1
                room[name][place_] = max(room[name][place_], cells)
        return room

    def _label_end(self, run: Run) -> tuple[str, str]:
        """The part and the side where the label of a run stands."""
        columns = {name: stand.column for name, stand in self.stands.items()}
        parts = {part.name: part for part in self.parts}
        choice = (run.a[0], self._side(parts[run.a[0]], run.a[1], run.b, columns))
        if isinstance(run.b, tuple):
            other = (run.b[0], self._side(parts[run.b[0]], run.b[1], run.a, columns))
            if choice[1] == "left" and (
                other[1] == "right" or self._is_source_minus(run.a)
            ):  # fmt: skip
                return other
        return choice

    def _part_columns(self, names: Sequence[str], left: int) -> None:
        """Columns of parts from left to right, with room for labels and a channel after each."""
        stubs = self._stubs(names)
        by_column: dict[int, list[str]] = {}
        for name in names:
            by_column.setdefault(self.stands[name].column, []).append(name)
        x = left
        for number in sorted(by_column):
            here = by_column[number]
            wide = max(self.stands[name].shape.columns for name in here)
            x += max(stubs[name][0] for name in here)
            for name in here:
                self.stands[name].x = x
                self.stands[name].columns = wide
            lanes = sum(max(1, x_.count) for n in here for x_ in self.stands[n].shape.right)
            x += wide + max(stubs[name][1] for name in here) + 3 + min(lanes, 8) + self.spread
        self.right = max(self.right, x + 1)

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
            if not isinstance(run.b, tuple):
                continue
            for end, other in ((run.a, run.b), (run.b, run.a)):
                there = self.stands.get(other[0])
                if end[0] == name and there and there.column < stand.column:
                    row = self._rows_of(there, other, "right")
                    return row.get(run.name)
        return None

    def _rows_of(self, stand: Stand, end: End, side: str) -> dict[str, int]:
        """Rows of the landings of one terminal, by run, in the order of what lies beyond."""
        part = stand.shape.part
        columns = {name: s.column for name, s in self.stands.items()}
        landed = []
        for number, run in enumerate(self.runs):
            for here, other in ((run.a, run.b), (run.b, run.a)):
                if here == end and self._side(part, end[1], other, columns) == side:
                    landed.append((self._height(other, run), number, run.name))
        try:
            first = stand.shape.landing(end[1], side).row
        except StopIteration:
            return {}
        return {name: stand.y + first + ROW * k for k, (_, _, name) in enumerate(sorted(landed))}

    def _height(self, end: End | str | int, run: Run) -> float:
        """Where the other end of a run lies, in rows."""
        if isinstance(end, tuple):
            stand = self.stands.get(end[0])
            return stand.centre if stand else 10_000.0
        if isinstance(end, str):
            number = self.panels[end]
            return self.tops[number] + self.heights[number] / 2
        return self.tops[run.block] if run.block >= 0 else 20_000.0

    def _stand_band(self, band: Sequence[Part]) -> None:
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
            stand.y = self.lanes_top + 2 + round(spot.row - shape.span / 2)
            self.stands[part.name] = stand
        self._part_columns(list(numbers), left=self._margin())
        by_column: dict[int, int] = {}
        for stand in sorted((self.stands[n] for n in numbers), key=lambda s: (s.column, s.y)):
            top = by_column.get(stand.column, -10_000)
            stand.y = max(stand.y, top + ABOVE + 3)
            by_column[stand.column] = stand.bottom

    def _hook(self) -> None:
        """Every end of a run on a part, with its row and the room of its label."""
        columns = {name: stand.column for name, stand in self.stands.items()}
        parts = {part.name: part for part in self.parts}
        self.hooks = {}
        for run in self.runs:
            labelled = self._label_end(run) if run.is_labelled else ("", "")
            for number, (end, other) in enumerate(((run.a, run.b), (run.b, run.a))):
                if not isinstance(end, tuple):
                    continue
                stand = self.stands[end[0]]
                side = self._side(parts[end[0]], end[1], other, columns)
                row = self._rows_of(stand, end, side)[run.name]
                stub = 0
                if labelled == (end[0], side) and run.wire is not None:
                    stub = ceil((self.canvas.width(run.wire, folded=True) + 2.0) / CELL_MM)
                    labelled = ("", "")
                self.hooks[run.name, number] = Hook(stand, side, row, stub)

    def _land(self, landable: Mapping[str, tuple[int, int]]) -> None:
        """Rows where supplies land on the panels, as level with their other ends as can be."""
        self.lands = {name: {} for name in self.panels}
        for name in self.panels:
            runs = [run for run in self.runs if run.b == name]
            wanted = sorted((self.hooks[run.name, 0].row, n, run.name) for n, run in
                            enumerate(runs))  # fmt: skip
            first, last = landable[name]
            rows: list[int] = []
            for place_, (row, _, _) in enumerate(wanted):
                least = rows[-1] + 2 if rows else first
                most = last - 2 * (len(wanted) - 1 - place_)
                rows.append(max(least, min(row, most)))
            self.lands[name] = {
                run: row for (_, _, run), row in zip(wanted, rows, strict=True)
            }

    def _net(self, run: Run, ports: Mapping[str, int]) -> Net:
        hook = self.hooks[run.name, 0]
        leave = EAST if hook.side == "right" else WEST
        if isinstance(run.b, tuple):
            other = self.hooks[run.name, 1]
            enter = WEST if other.side == "right" else EAST
            return Net(run.name, hook.port, leave, other.port, enter)
        row = self.lands[run.b][run.name] if isinstance(run.b, str) else ports[run.name]
        return Net(run.name, hook.port, leave, (self.right - 1, row), EAST)


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
