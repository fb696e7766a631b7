"""Right side of a circuit diagram: panels, rows, loads, negative bars and lanes, drawn."""

from collections.abc import Callable

from rigfolio.draw import (
    BAR,
    HALF_MM,
    MINUS,
    SYMBOLS,
    Group,
    Line,
    Mark,
    Pen,
    Point,
    Text,
    chassis,
    first_uncut,
    minus_sign,
    plus_sign,
    terminal,
    unknown_end,
    width_mm,
)
from rigfolio.model import Conductor, Load
from rigfolio.schematic.cut import RADIUS_MM, draw_cut
from rigfolio.schematic.feed import Feed
from rigfolio.schematic.order import LOAD_ROOM_MM, Bar, Exit, Order
from rigfolio.schematic.paint import (
    CELL_MM,
    FACT_PT,
    ROW,
    WIRE_PT,
    demand_words,
    load_symbol,
    named,
    words,
)
from rigfolio.schematic.panel import MAIN_MM, GridCell, draw_block
from rigfolio.schematic.rows import Side
from rigfolio.schematic.rungs import Back, Block, Cut
from rigfolio.schematic.tree import Step, ends_of
from rigfolio.wording import short_end

_GAP_MM = 3.0
_LANE_MM = CELL_MM
_LINK_MM = 26.0
_OPEN_MM = 18.0
_HEAVY = Pen(1.4)
_FOOT_MM = 6.9
_CLEAR_MM = 1.8


class Right:
    """Everything from the panels to the right edge, once all rows are known."""

    def __init__(
        self, order: Order, feed: Feed, bars: list[Bar], exits: list[Exit], ports: dict[str, int]
    ) -> None:
        self.order, self.feed, self.bars, self.exits, self.ports = order, feed, bars, exits, ports
        self.canvas = order.canvas
        self.left = feed.right * CELL_MM
        has_main = any(block.main is not None for block in order.scheme.blocks)
        self.panel_mm = order.panel_mm
        self.slots = self.left + self.panel_mm + (MAIN_MM if has_main else 0.0)
        self.drop_names = [e.name for e in exits if e.is_drop]
        self.drop_names += [o.name for o in order.outlets if o.panel or order.is_bar(o.end)]
        gap = _GAP_MM if self.drop_names else 0.0
        self.drops = self.slots + max(_GAP_MM, order.out.all_mm + gap)
        self.load = self.drops + len(self.drop_names) * _LANE_MM + HALF_MM + 1.0
        pieces = len(bars) - len({bar.root for bar in bars})
        self.link_mm = 3.0 * pieces
        self.text_mm = order.text_mm
        self.frame_mm = self._frame_mm()
        self.bar = self.load + HALF_MM + self.text_mm + order.home.all_mm + self.frame_mm + 1.0

    @property
    def least_mm(self) -> float:
        """Width that all takes at the least."""
        return self.bar if self.order.strands else self.left

    def _frame_mm(self) -> float:
        """Room in front of the bars for signs of a frame and for open ends."""
        scheme = self.order.scheme
        opened = [back for back in scheme.backs if not back.root]
        wide = max(0.0, _OPEN_MM - self.order.home.all_mm) if opened else 0.0
        if any(not _is_lone(b) for b in opened):
            wide = _OPEN_MM
        frames = {b.root for b in scheme.backs if b.root in scheme.frames}
        wide = max([wide, *(6.0 + width_mm(root, FACT_PT) for root in frames)])
        tight = (self._sign_mm(bar) + _CLEAR_MM for bar in self.bars if self._is_tight(bar))
        return max([wide, *tight])

    def _bar_name_mm(self, bar: Bar) -> float:
        """Room for the name of a bar, on the level above its first row."""
        if self._is_tight(bar):
            return self.frame_mm
        home = self.order.home
        if self._is_passed(bar):
            # Upright lines of joints stand beyond the column that is next to the bar.
            return max(12.0, self.frame_mm + home.start_mm(1) + home.level(1).wire_mm - 1.0)
        return self.frame_mm + home.all_mm

    def _is_passed(self, bar: Bar) -> bool:
        """Whether the joint of a return stands upright at the left of a bar."""
        for back in self.order.scheme.backs:
            rows = [self.order.row_of(end) for end in ends_of(back.steps)]
            if min(rows) < bar.rows[0] <= max(rows):
                return True
        return False

    def _lowest(self, bar: Bar) -> int:
        """The last row of the returns of a bar, unless another bar comes in between."""
        backs = [back for back in self.order.scheme.backs if back.root == bar.root]
        rows = [self.order.row_of(end) for back in backs for end in ends_of(back.steps)]
        low = max([bar.bottom, *rows])
        others = [row for each in self.bars if each.root != bar.root for row in each.rows]
        return bar.bottom if any(bar.bottom < row <= low for row in others) else low

    def _is_tight(self, bar: Bar) -> bool:
        """Whether a row with words lies straight above a bar."""
        rows = {self.order.row_of(e) for b in self.order.scheme.backs for e in ends_of(b.steps)}
        return any(0 < bar.rows[0] - row <= ROW + 1 for row in rows)

    def _root(self, bar: Bar) -> str:
        return short_end(self.canvas.rig, bar.root)

    def _sign_mm(self, bar: Bar) -> float:
        """Room for the shortest name of a bar."""
        return width_mm(f"{self._root(bar)}  {MINUS}", FACT_PT, bold=True) + 2.0

    def y(self, row: int) -> float:
        """A row in mm."""
        return row * CELL_MM

    def draw(self) -> None:
        """Panels, rows, loads, bars and lanes."""
        order = self.order
        for number, block in enumerate(order.scheme.blocks):
            draw_block(self.canvas, block, self._cell(number, block))
            for strand in block.strands:
                side = Side(order.out, 1.0, self.slots, self.load - HALF_MM,
                            lambda step: self.y(order.row_of(step)), self._stop_mm(strand.name,
                            strand.steps), self._cuts(strand.name, strand.steps))  # fmt: skip
                side.draw(strand.steps, self.slots, self.y(order.rows_of[id(strand)]))
        for name, row in order.row_of_load.items():
            self._draw_load(name, self.y(row))
        for back in order.scheme.backs:
            self._back(back)
        self._starts()
        for bar in self.bars:
            self._bar(bar)
        self._jumpers()
        self._feeds()
        self._lanes()

    def _cell(self, number: int, block: Block) -> GridCell:
        order = self.order
        top = self.feed.tops[number]
        name = block.panel.about.name if block.panel else ""
        slots = tuple(self.y(order.rows_of[id(s)]) for s in block.strands)
        lands = tuple(sorted(self.y(r) for r in self.feed.lands.get(name, ())))
        feeds = tuple(self.y(r) for r in order.feed_rows(name, self.feed.tops)) if name else ()
        bottom = self.y(top + self.feed.heights[number])
        return GridCell(self.left, self.slots, self.y(top), bottom, feeds, lands, slots,
                    self.panel_mm)  # fmt: skip

    def _cuts(self, name: str, steps: tuple[Step, ...]) -> dict[int, Cut]:
        cuts = self.order.scheme.stop_cuts
        named = {f"{name}|{n}": step for n, step in enumerate(ends_of(steps))}
        return {id(step): cuts[key] for key, step in named.items() if key in cuts}

    def _stop_mm(self, name: str, steps: tuple[Step, ...]) -> Callable[[Step], float]:
        lanes = {id(step): f"{name}|{n}" for n, step in enumerate(ends_of(steps))}
        return lambda step: self._drop_mm(lanes[id(step)])

    def _drop_mm(self, name: str) -> float:
        return self.drops + (self.drop_names.index(name) + 0.5) * _LANE_MM

    def _draw_load(self, name: str, y: float) -> None:
        load = next(x for x in self.canvas.rig.loads if x.about.name == name)
        x = self.load
        label = str(load.about)
        start, room = x + HALF_MM + 1.6, self.text_mm - LOAD_ROOM_MM
        marks: list[Mark] = [*SYMBOLS[load_symbol(load)]((x, y))]
        marks += [plus_sign((x - 5.0, y - 1.9)), minus_sign((x + 5.0, y - 1.9))]
        marks += named((start, y), label, demand_words(load), room)
        title = f"{label}, {demand_words(load)}"
        self.canvas.inks.append(Group(load.about.name, title, tuple(marks)))

    def _back(self, back: Back) -> None:
        order = self.order
        pin = self.load + HALF_MM
        side = Side(order.home, -1.0, self.bar - self.frame_mm, pin,
                    lambda step: self.y(order.row_of(step)), lambda _: pin)  # fmt: skip
        for step in back.steps:
            y = self.y(order.root_row(step))
            if not back.root:
                self._unknown_return(side, back, y)
                return
            if back.root in order.scheme.frames:
                self._frame(side, step, back.root, y)
                continue
            side.draw((step,), self.bar, y)

    def _frame(self, side: Side, step: Step, root: str, y: float) -> None:
        """The sign of the frame near the load in place of a bar."""
        if isinstance(step.item, Load):
            x = self.load + HALF_MM + self.text_mm
            self.canvas.joint(((self.load + HALF_MM, y), (x, y)))
        else:
            x = side.root_mm + 1.0
            if isinstance(step.item, Conductor):
                self.canvas.wire(step.item, ((side.root_mm, y), (x, y)))
            side.draw((step,), side.root_mm, y)
        marks = (*chassis((x, y), "right"), Text((x + 4.0, y + 0.9), root, FACT_PT))
        self.canvas.inks.append(Group(root, f"frame {root}", marks))

    def _unknown_return(self, side: Side, back: Back, y: float) -> None:
        if _is_lone(back):
            x = self.load + HALF_MM + self.text_mm
            self.canvas.joint(((self.load + HALF_MM, y), (x, y)))
        else:
            x = side.root_mm
            side.draw(back.steps, x, y)
        marks = (*unknown_end((x + 1.0, y)), Text((x + 3.0, y + 0.9), "? return", FACT_PT))
        self.canvas.inks += marks

    def _starts(self) -> None:
        """What leads from a part to a circuit outside panels."""
        for run in self.feed.runs:
            if run.block < 0:
                continue
            path = self.feed.path(run)
            if run.wire is None:
                self.canvas.joint(path)
            else:
                end = (self.slots, path[-1][1])
                self.canvas.wire(run.wire, (*path, end))

    def _bar(self, bar: Bar) -> None:
        junction = next((j for j in self.canvas.rig.junctions if j.terminal == bar.root), None)
        top, bottom = self.y(bar.rows[0]), self.y(bar.bottom)
        marks: list[Mark] = [Line(((self.bar, top - 1.3), (self.bar, bottom + 1.3)), BAR)]
        rating = ""
        if junction is not None and isinstance(junction.rating_a, float):
            rating = f"{junction.rating_a:g} A"
        is_post = bar.root.endswith("-")
        label = junction.about.label if junction else "" if is_post else "negative bar"
        sign = "" if is_post else MINUS
        wordings = [
            "  ".join(part for part in parts if part)
            for parts in ((self._root(bar), label, rating, sign), (self._root(bar), sign))
        ]
        room = max(self._bar_name_mm(bar), self._sign_mm(bar))
        name = first_uncut(wordings, room, FACT_PT, bold=True)
        # Close below another bar the name stands beside it, not upon its foot.
        right = self.bar - _CLEAR_MM if self._is_tight(bar) else self.bar + 0.7
        marks += words((right, top - 4.6), name, room, FACT_PT, bold=True, anchor="end")
        marks += [terminal((self.bar, self.y(row))) for row in bar.rows]
        marks += [terminal((self.bar, self.y(bar.bottom - n))) for n in range(len(bar.links))]
        cut = self.order.scheme.bar_cuts.get(bar.root)
        if cut is not None and not any(
            each.root == bar.root and each.rows[0] > bar.rows[0] for each in self.bars
        ):
            foot = self.y(self._lowest(bar)) + _FOOT_MM
            marks.insert(0, Line(((self.bar, bottom), (self.bar, foot)), BAR))
            is_alone = not self.link_mm and not any(each.links for each in self.bars)
            way = 1.0 if is_alone and self._is_passed(bar) else -1.0
            marks.append(draw_cut(cut, (self.bar - way * RADIUS_MM, foot), way))
        self.canvas.inks.append(Group(bar.root, f"negative bar {bar.root}", tuple(marks)))

    def _jumpers(self) -> None:
        """Pieces of one bar, and wires from bar to bar, at the right of all lanes."""
        x = self.bar + self.link_mm + _GAP_MM + _LANE_MM * (len(self.exits) + 1)
        joined: dict[str, Bar] = {}
        number = 0
        for bar in self.bars:
            if bar.root in joined:
                upper = joined[bar.root]
                near = self.bar + 3.0 * (1 + number)
                number += 1
                path = ((self.bar, self.y(upper.bottom)), (near, self.y(upper.bottom)),
                        (near, self.y(bar.rows[0])), (self.bar, self.y(bar.rows[0])))  # fmt: skip
                self.canvas.inks.append(Line(path, _HEAVY))
            joined[bar.root] = bar
        for link in dict.fromkeys(link for bar in self.bars for link in bar.links):
            rows = sorted(
                bar.bottom - place
                for bar in self.bars for place, each in enumerate(bar.links) if each == link
            )  # fmt: skip
            if len(rows) == 2 and link.wire is not None:
                first, second = self.y(rows[0]), self.y(rows[1])
                label = self._stacked(link.wire, (x + 1.5, (first + second) / 2 - 1.0))
                path = ((self.bar, first), (x, first), (x, second), (self.bar, second))
                self.canvas.wire(link.wire, path, label)
                x += _LINK_MM

    def _stacked(self, wire: Conductor, at: Point) -> tuple[Text, ...]:
        upper, lower = self.canvas.pieces(wire)
        lines = [*upper.split("  "), lower]
        return tuple(
            Text((at[0], at[1] + 3.2 * n), line, WIRE_PT) for n, line in enumerate(lines) if line
        )

    def _feeds(self) -> None:
        """Rows that feed a panel from its right."""
        for panel, outlets in self.order.feeds.items():
            rows = self.order.feed_rows(panel, self.feed.tops)
            for outlet, row in zip(outlets, rows, strict=True):
                x = self._drop_mm(outlet.name)
                path = ((x, self.y(self.order.row_of(outlet.step))), (x, self.y(row)),
                        (self.slots, self.y(row)))  # fmt: skip
                if outlet.wire is None:
                    self.canvas.joint(path)
                else:
                    self.canvas.wire(outlet.wire, path)

    def _lanes(self) -> None:
        """Wires that leave the rows, down and along the bottom to the source side."""
        runs = {run.name: run for run in self.feed.runs}
        rights = [leave for leave in self.exits if not leave.is_drop]
        for leave in self.exits:
            run = runs.get(leave.name)
            y = self.y(leave.row)
            lane = self.y(self.ports[leave.name])
            if leave.is_drop:
                x = start = self._drop_mm(leave.name)
            else:
                x = self.bar + self.link_mm + _GAP_MM + _LANE_MM * rights.index(leave)
                start = self.bar
            path: list[Point] = [(start, y), (x, y), (x, lane), (self.left, lane)]
            if run is None:
                path[-1:] = self._onto_bar(leave.name, lane)
            else:
                path += list(self.feed.path(run))[::-1]
            if leave.wire is None:
                self.canvas.joint(path)
                continue
            words_: tuple[Text, ...] = ()
            if run is not None and not leave.is_drop and not leave.name.startswith("back "):
                words_ = self.canvas.label(leave.wire, (self.left + 3.0, lane), folded=False)
            self.canvas.wire(leave.wire, path, words_)

    def _onto_bar(self, name: str, lane_mm: float) -> list[Point]:
        """The way from a bottom lane back to the row whose wire ends on a bar."""
        outlet = next(each for each in self.order.outlets if each.name == name)
        x = self._drop_mm(name)
        return [(x, lane_mm), (x, self.y(self.order.row_of(outlet.step)))]


def _is_lone(back: Back) -> bool:
    """Whether a return is no more than one load."""
    return len(back.steps) == 1 and isinstance(back.steps[0].item, Load)
