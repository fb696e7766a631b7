"""Source side of a circuit diagram: wires led between its parts, and all of it drawn."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import combinations

from rigfolio.draw import EAST, WEST, Grid, GridCell, Net, NoWayError, Point, Text, route
from rigfolio.model import Conductor
from rigfolio.schematic.paint import CELL_MM, ROW
from rigfolio.schematic.run import Run
from rigfolio.schematic.rungs import End
from rigfolio.schematic.shape import draw_part
from rigfolio.schematic.stand import Floor

_MOST_BENDS = 4


@dataclass(frozen=True, slots=True)
class Hook:
    """One end of a run: the cell where it meets its part, and the side of the part.

    `stub` is the room that its label takes on the wire, in cells; 0 without one.
    """

    edge: GridCell
    side: str
    stub: int = 0

    @property
    def way(self) -> GridCell:
        """Away from the part."""
        return WEST if self.side == "left" else EAST

    @property
    def port(self) -> GridCell:
        """The first cell that belongs to the wire alone."""
        return self.edge[0] + self.way[0] * (1 + self.stub), self.edge[1]


@dataclass(slots=True)
class Feed(Floor):
    """The source side with its wires; the paths are known after `lead`.

    `lands` are the rows on which supplies land on each panel.
    """

    hooks: dict[tuple[str, int], Hook] = field(default_factory=dict)
    lands: dict[str, list[int]] = field(default_factory=dict)
    paths: dict[str, tuple[GridCell, ...]] = field(default_factory=dict)

    def lead(self, ports: Mapping[str, int]) -> None:
        """Lead every run; `ports` gives the rows of the ports by the name of the run.

        Raises
        ------
        NoWayError
            A wire finds no way in the channels as they are.
        """
        self._hook()
        self._land()
        self._port(ports)
        lowest = max([*(s.bottom for s in self.stands.values()), *ports.values(), 0])
        lowest = max([lowest, *(top + high for top, high in zip(self.tops, self.heights,
                                                               strict=True))])  # fmt: skip
        grid = Grid(self.right, lowest + 6 + 2 * self.spread)
        for stand in self.stands.values():
            grid.block(stand.x, stand.y - stand.shape.above, stand.x + stand.columns, stand.bottom)
        for hook in self.hooks.values():
            if hook.stub:
                low, high = sorted((hook.port[0] - hook.way[0], hook.edge[0]))
                grid.block(low, hook.edge[1] - 1, high, hook.edge[1] + 1)
        self._check_room()
        if self.is_strict:
            self._check_labels()
        nets = [self._net(run) for run in self.runs]
        for net in nets:
            for column, row in (net.start, net.end):
                grid.blocked[row * grid.columns + column] = 0
        self.paths = route(grid, nets)
        if self.is_strict and any(map(_is_winding, self.paths.values())):
            raise NoWayError("a wire winds through channels that are too narrow")

    @property
    def least_mm(self) -> float:
        """Height that all takes at the least."""
        tops = [*self.tops, *(s.y - s.shape.above for s in self.stands.values())]
        lows = [top + high for top, high in zip(self.tops, self.heights, strict=True)]
        lows += [stand.bottom for stand in self.stands.values()]
        return max(0, max(lows, default=0) - min(tops, default=0) - 1) * CELL_MM

    def _check_room(self) -> None:
        """Raise where two wires or the words of a mark would stand upon each other."""
        taken: set[GridCell] = set()
        for stand in self.stands.values():
            if stand.shape.part.cut is not None and not stand.shape.part.cut.is_flat:
                rows = range(stand.y - stand.shape.above, stand.bottom + 1)
                taken |= {(stand.x + n, row) for n in range(1, stand.columns) for row in rows}
        for hook in self.hooks.values():
            (first, row), (last, _) = hook.edge, hook.port
            for column in range(min(first, last), max(first, last) + 1):
                if column != first:
                    if (column, row) in taken:
                        raise NoWayError(f"two wires end at {(column, row)}")
                    taken.add((column, row))

    def _check_labels(self) -> None:
        """Raise where the label of one wire would stand upon that of the next."""
        labels = [
            (*sorted((hook.edge[0], hook.port[0])), hook.edge[1])
            for hook in self.hooks.values() if hook.stub
        ]  # fmt: skip
        for (left, right, row), (start, end, other) in combinations(labels, 2):
            if 0 < abs(row - other) < ROW and left < end and start < right:
                raise NoWayError(f"labels at {(left, row)} and {(start, other)}")

    def landing_row(self, run: str, end: End) -> int:
        """The row on which a run lands at the right of a part."""
        return self.rows_of(self.stands[end[0]], end, "right").get((run, 0), 0)

    def path(self, run: Run) -> tuple[Point, ...]:
        """The whole way of a run [mm], from the part `a` to its other end."""
        ends = (self.hooks[run.name, 0].edge, self.hooks[run.name, 1].edge)
        cells = (ends[0], *self.paths[run.name], ends[1])
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

    def _label(self, run: Run, wire: Conductor) -> tuple[Text, ...]:
        if run.cut is not None:
            return ()
        for end in (0, 1):
            hook = self.hooks[run.name, end]
            if hook.stub:
                left_mm = min(hook.port[0], hook.edge[0]) * CELL_MM
                left_mm += 0.6 * CELL_MM if hook.side == "right" else CELL_MM + 1.0
                at = (left_mm, hook.edge[1] * CELL_MM)
                return self.canvas.label(wire, at, folded=True)
        return ()

    def _hook(self) -> None:
        """Every end of a run on a part, with its row and the room of its label."""
        columns = {name: stand.column for name, stand in self.stands.items()}
        self.hooks = {}
        for run in self.runs:
            labelled = self.label_end(run) if run.is_labelled else ("", "")
            for number, (end, other) in enumerate(((run.a, run.b), (run.b, run.a))):
                if not isinstance(end, tuple):
                    continue
                stand = self.stands[end[0]]
                side = self.side(stand.shape.part, end[1], other, columns)
                row = self.rows_of(stand, end, side)[run.name, number]
                stub = 0
                if labelled == (end[0], side):
                    stub = self.label_cells(run)
                    labelled = ("", "")
                column = stand.x + (0 if side == "left" else stand.columns)
                self.hooks[run.name, number] = Hook((column, row), side, stub)

    def _land(self) -> None:
        """Rows where supplies land on the panels, as level with their other ends as can be."""
        self.lands = {}
        for name in self.panels:
            first, last = self.landable(name)
            ends = [(run, n) for run in self.runs for n in (0, 1) if (run.a, run.b)[n] == name]
            stubs = {end: self.panel_stub(end[0]) if end[1] == 0 else 0 for end in ends}
            apart = ROW if any(stubs.values()) else 2
            wanted = sorted((self._level(run, n, first), place, run, n)
                            for place, (run, n) in enumerate(ends))  # fmt: skip
            rows: list[int] = []
            for place, (row, _, run, n) in enumerate(wanted):
                least = rows[-1] + apart if rows else first
                most = last - apart * (len(wanted) - 1 - place)
                rows.append(max(least, min(row, most)))
                edge = (self.right, rows[-1])
                self.hooks[run.name, n] = Hook(edge, "left", stubs[run, n])
            self.lands[name] = rows

    def _level(self, run: Run, end: int, first: int) -> int:
        """The row of the far end of a run that ends on a panel."""
        far = self.hooks.get((run.name, 1 - end))
        return far.edge[1] if far is not None else first

    def _port(self, ports: Mapping[str, int]) -> None:
        """Ends of runs at the right edge."""
        for run in self.runs:
            if isinstance(run.b, int):
                self.hooks[run.name, 1] = Hook((self.right, ports[run.name]), "left")

    def _net(self, run: Run) -> Net:
        one, two = self.hooks[run.name, 0], self.hooks[run.name, 1]
        enter = (-two.way[0], 0)
        return Net(run.name, one.port, one.way, two.port, enter, self._shunned(run))

    def _shunned(self, run: Run) -> tuple[int, int, int, int] | None:
        """Returns keep below the parts of the plus side."""
        ends = [end for end in (run.a, run.b) if isinstance(end, tuple)]
        parts = {part.name: part for part in self.parts}
        if not any(self.is_source_minus(e) or parts[e[0]].is_minus for e in ends):
            return None
        lefts = [s.x for s in self.stands.values() if not s.shape.part.is_minus]
        left, low = min(lefts, default=0), self.lanes_top - 2
        ports = [self.hooks[run.name, number].port for number in (0, 1)]
        if any(left <= column and row <= low for column, row in ports):
            return None
        return left, 0, self.right, low


def _is_winding(path: Sequence[GridCell]) -> bool:
    """Whether a way has many bends or comes back upon itself."""
    seen, here = {path[0]}, path[0]
    for bend in path[1:]:
        way = [(bend[n] > here[n]) - (bend[n] < here[n]) for n in (0, 1)]
        while here != bend:
            here = (here[0] + way[0], here[1] + way[1])
            if here in seen:
                return True
            seen.add(here)
    return len(path) > _MOST_BENDS + 2
