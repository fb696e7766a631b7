"""Rows, bars and lanes of a circuit diagram, before anything is drawn."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from math import ceil

from rigfolio.model import Conductor, Device, Load
from rigfolio.schematic.cut import cut_mm
from rigfolio.schematic.feed import Feed
from rigfolio.schematic.paint import ROW, Canvas, demand_words, named_mm, rows_below
from rigfolio.schematic.panel import head_cells, name_rows, panel_mm
from rigfolio.schematic.rows import Columns
from rigfolio.schematic.run import Run
from rigfolio.schematic.rungs import Back, Block, Cut, End, Link, Scheme, Strand
from rigfolio.schematic.stand import CUT_ROWS
from rigfolio.schematic.tree import Step, Stop, ends_of, loads_of

BAND_GAP = 1
"""Cells between the last bottom lane and the parts of the minus side."""
FOOT = 5
"""Cells below a bar for the mark at its foot and the words beside it."""
LOAD_ROOM_MM = 2.2
"""What the column for names of loads is wider than the names."""
_LOAD_TEXT_MM = (48.0, 34.0, 25.0, 18.0)
"""The widest names of loads, by how narrow the columns are."""


@dataclass(slots=True)
class Bar:
    """A piece of a negative bar: its terminal, and the rows that end at it, in cells."""

    root: str
    rows: list[int]
    links: list[Link] = field(default_factory=list)

    @property
    def bottom(self) -> int:
        """The last row, with rows for its own wires added."""
        return max(self.rows[-1], self.rows[0] + len(self.links) - 1)


@dataclass(slots=True)
class Exit:
    """A wire that leaves the rows for the bottom lanes.

    It comes from a row in cells, at the right of all bars or, `is_drop`, in front of the loads.
    """

    name: str
    row: int
    wire: Conductor | None
    end: End
    is_drop: bool = False


@dataclass(frozen=True, slots=True)
class Outlet:
    """An end of a row that leads to a terminal drawn elsewhere; `panel` is empty if to no panel."""

    name: str
    step: Step
    wire: Conductor | None
    end: End
    panel: str


class Order:
    """Which row, bar and lane everything of a diagram takes; rows are counted in cells."""

    def __init__(self, scheme: Scheme, canvas: Canvas) -> None:
        self.scheme = scheme
        self.canvas = canvas
        self.out = Columns(canvas)
        self.home = Columns(canvas)
        self.panels = {
            b.panel.about.name: n for n, b in enumerate(scheme.blocks) if b.panel is not None
        }
        self.outlets = tuple(self._outlets())
        self.feeds = {p: [o for o in self.outlets if o.panel == p] for p in self.panels}
        self.band = {part.name for part in scheme.parts if part.is_minus}
        self.heights_of: dict[str, float] = {}
        self.panel_mm = panel_mm(canvas, scheme.blocks)
        self.text_mm = self._text_mm()
        self.heads = {
            b.panel.about.name: head_cells(b, self.panel_mm) for b in scheme.blocks if b.panel
        }
        self.foot_rows = self._foot_rows()
        self.device_rows: dict[str, int] = {}
        self.rows_of: dict[int, int] = {}
        self.row_of_load: dict[str, int] = {}

    @property
    def strands(self) -> tuple[Strand, ...]:
        """All strands of all blocks."""
        return tuple(strand for block in self.scheme.blocks for strand in block.strands)

    def _outlets(self) -> Iterator[Outlet]:
        for strand in self.strands:
            for number, step in enumerate(ends_of(strand.steps)):
                name = f"{strand.name}|{number}"
                if name in self.scheme.stop_cuts:
                    continue
                if isinstance(step.item, Stop) and not step.item.is_named:
                    terminal = step.item.terminal
                    owner = self.scheme.owners[terminal]
                    yield Outlet(
                        name, step, last_wire(strand.steps, number),
                        (owner, terminal), owner if owner in self.panels else "",
                    )  # fmt: skip

    @property
    def is_paged(self) -> bool:
        """Whether all that leads to the blocks comes from other pages."""
        return all(part.cut is not None for part in self.scheme.parts)

    def _text_mm(self) -> float:
        """Room for the names of loads; a long one goes on below, see `named`."""
        wide, most_mm = 0.0, _LOAD_TEXT_MM[self.canvas.narrow]
        for strand in self.strands:
            for step in ends_of(strand.steps):
                if isinstance(step.item, Load):
                    load = step.item
                    label = str(load.about)
                    wide = max(wide, named_mm(label, demand_words(load), most_mm))
        cuts = self.scheme.stop_cuts.values()
        return max([wide, *(cut_mm(cut) for cut in cuts)]) + 3.0

    def measure(self) -> None:
        """Widths of all columns, and the rows that long names take."""
        for strand in self.strands:
            self.out.measure(strand.steps, is_root_shared=False)
        for back in self.scheme.backs:
            self.home.measure(back.steps, is_root_shared=bool(back.root))
        for strand in self.strands:
            self._see_devices(strand.steps, self.out, 0)
        for back in self.scheme.backs:
            self._see_devices(back.steps, self.home, 0)

    def _see_devices(self, steps: Sequence[Step], columns: Columns, number: int) -> None:
        for step in steps:
            if isinstance(step.item, Device):
                key = _end_key(ends_of((step,))[0])
                rows = columns.device_rows(step.item)
                self.device_rows[key] = max(self.device_rows.get(key, 0), rows)
            self._see_devices(step.after, columns, number)

    def _more(self, end: Step) -> int:
        """Rows to be left free below an end of a row for its words."""
        rows = self.device_rows.get(_end_key(end), 0)
        if isinstance(end.item, Load):
            label = str(end.item.about)
            room_mm = self.text_mm - LOAD_ROOM_MM
            below = rows_below(label, demand_words(end.item), room_mm)
            rows = max(rows, below, self.foot_rows.get(end.item.about.name, 0))
        return rows

    def _depth(self, strand: Strand, block: Block) -> int:
        """Rows that a strand takes."""
        rows = sum(1 + self._more(end) for end in ends_of(strand.steps))
        return max(1, rows, 1 + name_rows(strand, block, self.panel_mm))

    def height(self, block: Block) -> int:
        """Cells that a block takes from top to bottom."""
        rows = sum(self._depth(strand, block) for strand in block.strands)
        if block.panel is None:
            return ROW * rows
        name = block.panel.about.name
        ends = [end for link in self.scheme.links for end in (link.a, link.b) if end[0] == name]
        ends += [s.origin for s in self.strands if s.origin and s.origin[0] == name]
        ends += [end for _, _, end, _ in self._direct() if end[0] == name]
        needed = CUT_ROWS * len(ends) + ROW if self.is_paged else ROW * (len(ends) + 1)
        rows += sum(1 for cut in (block.before, block.after) if cut is not None)
        return self.heads[name] + max(ROW * (rows + len(self.feeds[name])), needed) + 2

    def runs(self) -> tuple[Run, ...]:
        """Every wire with an end on the source side."""
        runs = [run for link in self.scheme.links for run in self._linked(link)]
        for number, block in enumerate(self.scheme.blocks):
            for strand in block.strands:
                if strand.origin is not None:
                    wire = first_wire(strand)
                    start = self._anchor(strand.origin)
                    runs.append(Run(f"start {strand.name}", wire, start, 0, number,
                                    self._flat(start)))  # fmt: skip
        for outlet in self.outlets:
            if not (outlet.panel or self.is_bar(outlet.end)):
                runs.append(Run(outlet.name, outlet.wire, outlet.end, 0))
        for name, wire, end, _ in self._direct():
            runs.append(Run(name, wire, self._anchor(end), 0))
        return tuple(runs)

    def _linked(self, link: Link) -> tuple[Run, ...]:
        if self.is_bar(link.a) or self.is_bar(link.b):
            ends = [end for end in (link.a, link.b) if not self.is_bar(end)]
            return tuple(Run(link.name, link.wire, self._anchor(end), 0) for end in ends)
        a, b = self._anchor(link.a), self._anchor(link.b)
        a, b = (b, a) if isinstance(a, str) else (a, b)
        return (Run(link.name, link.wire, a, b, cut=self._flat(a)),)

    def _flat(self, end: End | str) -> Cut | None:
        """The flat mark that a run starts at."""
        cuts = (p.cut for p in self.scheme.parts if isinstance(end, tuple) and p.name == end[0])
        return next((cut for cut in cuts if cut is not None and cut.is_flat), None)

    def _anchor(self, end: End) -> End | str:
        """The end itself, or the name of the panel that it belongs to."""
        return end[0] if end[0] in self.panels else end

    def is_bar(self, end: End) -> bool:
        """Whether an end is on a negative bar beside the rows."""
        return end[0] in self.scheme.bars

    def _direct(self) -> Iterator[tuple[str, Conductor | None, End, Step]]:
        """Returns that end at a part of the source side, not at a bar or a frame."""
        for number, back in enumerate(self.scheme.backs):
            if self._is_direct(back):
                for place, step in enumerate(back.steps):
                    wire = step.item if isinstance(step.item, Conductor) else None
                    end = (self.scheme.owners[back.root], back.root)
                    yield f"back {number}|{place}", wire, end, step

    def _is_direct(self, back: Back) -> bool:
        scheme = self.scheme
        return bool(back.root) and back.root not in (*scheme.bars, *scheme.frames)

    def _foot_rows(self) -> dict[str, int]:
        """Rows to be left free below the last load of a bar, for its own wires and its mark."""
        ends = [step.item for s in self.strands for step in ends_of(s.steps)]
        order = {item.about.name: n for n, item in enumerate(ends) if isinstance(item, Load)}
        held: dict[str, list[tuple[int, str]]] = {bar: [] for bar in self.scheme.bars}
        for back in self.scheme.backs:
            names = (load.about.name for load in loads_of(back.steps))
            held.get(back.root, []).extend((order[name], name) for name in names if name in order)
        named = {place for loads in held.values() for place, _ in loads}
        rows: dict[str, int] = {}
        for bar, loads in held.items():
            if not loads:
                continue
            last, name = max(loads)
            wires = sum(1 for link in self.scheme.links if bar in (link.a[0], link.b[0]))
            wires += sum(1 for outlet in self.outlets if outlet.end[0] == bar)
            mark = 0
            if bar in self.scheme.bar_cuts and last < len(ends) - 1:
                # The words of the mark, and the name of the bar that may come next.
                mark = 2 if last + 1 in named else 1
            missing = max(0, wires + 1 - ROW * len(loads))
            rows[name] = max(rows.get(name, 0), mark + ceil(missing / ROW))
        return rows

    def number_rows(self, tops: Sequence[int]) -> None:
        """The row, in cells, of every end of every strand."""
        for block, top in zip(self.scheme.blocks, tops, strict=True):
            row = top + 1
            if block.panel is not None:
                name = block.panel.about.name
                row = top + self.heads[name] + 2 + ROW * len(self.feeds[name])
                row += ROW if block.before is not None else 0
            for strand in block.strands:
                self.rows_of[id(strand)] = here = row
                for step in ends_of(strand.steps):
                    self.rows_of[id(step)] = here
                    if isinstance(step.item, Load):
                        self.row_of_load[step.item.about.name] = here
                    here += ROW * (1 + self._more(step))
                row += ROW * self._depth(strand, block)

    def feed_rows(self, panel: str, tops: Sequence[int]) -> list[int]:
        """Rows of a panel on which a supply lands from the right."""
        top = tops[self.panels[panel]] + self.heads[panel] + 2
        return [top + ROW * k for k in range(len(self.feeds[panel]))]

    def row_of(self, step: Step) -> int:
        """The row of an end of a tree, on either side."""
        if id(step) in self.rows_of:
            return self.rows_of[id(step)]
        if isinstance(step.item, Load):
            return self.row_of_load[step.item.about.name]
        raise KeyError(step)

    def root_row(self, step: Step) -> int:
        """The row on which a step meets the bar."""
        return self.row_of(ends_of((step,))[0])

    def bars(self) -> list[Bar]:
        """Pieces of bars from top to bottom; a row that must pass between parts them."""
        rows = []
        for back in self.scheme.backs:
            if back.root in self.scheme.bars:
                rows += [(self.root_row(step), back.root) for step in back.steps]
            elif self._is_direct(back):
                rows += [(self.root_row(step), "") for step in back.steps]
        bars: list[Bar] = []
        before = ""
        for row, root in sorted(rows):
            if root and root == before:
                bars[-1].rows.append(row)
            elif root:
                bars.append(Bar(root, [row]))
            before = root
        lowest = {bar.root: bar for bar in bars}
        onto = [Link(o.name, o.end, ("", o.name), o.wire) for o in self.outlets]
        for name, bar in lowest.items():
            for link in (*self.scheme.links, *onto):
                bar.links += [link] * [link.a[0], link.b[0]].count(name)
            bar.links.sort(key=self._landing_order)
        return bars

    def _landing_order(self, link: Link) -> tuple[int, float]:
        """Wires on a bar from its foot upwards: those to sources, the lowest source first.

        Then those to parts of the minus side, then those to other bars.
        """
        if self.is_bar(link.a) and self.is_bar(link.b):
            return 2, 0.0
        end = link.b if self.is_bar(link.a) else link.a
        if end[0] in self.band:
            return 1, self.heights_of.get(end[0], 0.0)
        return 0, -self.heights_of.get(end[0], 0.0)

    def exits(self, bars: Iterable[Bar]) -> list[Exit]:
        """Wires to the bottom lanes, in the order of the lanes from top to bottom."""
        drops = [
            Exit(o.name, self.row_of(o.step), o.wire, o.end, is_drop=True)
            for o in self.outlets if not (o.panel or self.is_bar(o.end))
        ]  # fmt: skip
        others = []
        for bar in bars:
            for place, link in enumerate(bar.links):
                if not (self.is_bar(link.a) and self.is_bar(link.b)):
                    end = link.b if self.is_bar(link.a) else link.a
                    others.append(Exit(link.name, bar.bottom - place, link.wire, end))
        for name, wire, end, step in self._direct():
            others.append(Exit(name, self.root_row(step), wire, end))
        drops.sort(key=lambda x: -x.row)
        others.sort(key=lambda x: (x.end[0] in self.band, -x.row))
        return [*drops, *others]

    def ports(self, feed: Feed, exits: Iterable[Exit]) -> dict[str, int]:
        """Rows of the ports at the left edge of the rows: bottom lanes and starts of circuits."""
        ports: dict[str, int] = {}
        row = feed.lanes_top - ROW
        for leave in exits:
            row += ROW
            if leave.end[0] in self.band:
                row = max(row, feed.landing_row(leave.name, leave.end))
            ports[leave.name] = row
        for strand in self.strands:
            if strand.origin is not None:
                ports[f"start {strand.name}"] = self.rows_of[id(strand)]
        return ports


def _end_key(end: Step) -> str:
    """The load that a row belongs to, or else the row itself."""
    return end.item.about.name if isinstance(end.item, Load) else f"{id(end)}"


def first_wire(strand: Strand) -> Conductor | None:
    """The wire that a circuit outside panels starts with; None where it starts otherwise."""
    item = strand.steps[0].item if len(strand.steps) == 1 else None
    return item if isinstance(item, Conductor) and strand.device is None else None


def last_wire(steps: tuple[Step, ...], place: int) -> Conductor | None:
    """The wire that leads to an end of a tree."""
    end = ends_of(steps)[place]
    waiting = list(steps)
    while waiting:
        step = waiting.pop()
        if any(after is end for after in step.after):
            return step.item if isinstance(step.item, Conductor) else None
        waiting += step.after
    return None
