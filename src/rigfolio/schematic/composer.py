"""Drawings of sets of blocks: the order is sought once, the first type that fits is taken."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from rigfolio.draw import Group
from rigfolio.job import Job
from rigfolio.record import replace
from rigfolio.schematic.chains import Graph, Ladder, Laid, Stack
from rigfolio.schematic.drawing import LEAST_MM, Drawing, Lot, Misfit, Room, drawn
from rigfolio.schematic.ordering import (
    MOST_STEPS,
    Costs,
    Order,
    RowPlan,
    Search,
    grid_of,
    starts_of,
)
from rigfolio.schematic.painting import Marks, looks_of, renamed
from rigfolio.schematic.setting import (
    AFTER_MM,
    BEFORE_MM,
    PAD_MM,
    STYLES,
    Notes,
    Ruler,
    Speaker,
    WordStyle,
    speaker_of,
)

WHOLE_STEPS, JOINT_STEPS = 220_000, 50_000
_ALL_STEPS, _DRAWING_STEPS = 7_000_000, 1_500
"""How many steps one rig is worth in all; a drawing counts as so many for each unit in it."""
_SLOT_MM, _EDGES_MM = 45.0, 12.0
_SHARES = (1.0, 0.8)
"""Of the width of the page: an order that turns out too wide is sought anew for less."""


@dataclass(slots=True)
class Composer:
    """Draws sets of blocks of one rig; each order is sought but once."""

    job: Job
    graph: Graph
    room: Room
    notes: Notes = field(default_factory=Notes)
    said: dict[WordStyle, Speaker] = field(default_factory=dict)
    widths: dict[int, tuple[Ladder, float]] = field(default_factory=dict)
    """How wide each unit is, by its identity; it is kept here so that no other one gets that."""
    grids: dict[tuple[float, frozenset[int]], tuple[Order, RowPlan]] = field(default_factory=dict)
    heights: dict[frozenset[int], float] = field(default_factory=dict)
    drawn: dict[tuple[object, ...], tuple[Drawing, Marks, int]] = field(default_factory=dict)
    """Drawings that were made, with the marks that they bear, and the units drawn for each."""
    left: int = _ALL_STEPS
    """Steps that are left for this rig; the first orders are taken when there are none."""

    @property
    def is_spent(self) -> bool:
        """Whether no more is to be tried than must be: nobody wires a rig so."""
        return self.left <= 0

    def height_mm(self, blocks: Sequence[Stack]) -> float:
        """How high the last drawing of some blocks was; that of the page where there is none."""
        return self.heights.get(_key(blocks), self.room.high_mm)

    def grid(
        self, blocks: Sequence[Stack], *, steps: int = WHOLE_STEPS, share: float = 1.0
    ) -> tuple[Order, RowPlan]:
        """The order of some blocks in a share of the width, and the rows that follow from it."""
        key = (share, _key(blocks))
        if key not in self.grids:
            order = self._order(blocks, steps, share)
            self.grids[key] = (order, grid_of(order, self.graph.bars))
        return self.grids[key]

    def _order(self, blocks: Sequence[Stack], steps: int, share: float) -> Order:
        names = dict.fromkeys(
            bar for block in blocks for unit in block.units for bar in (unit.a, unit.b) if bar
        )
        bars = [self.graph.bars[name] for name in names]
        widths = {id(u): self._unit_mm(u) for block in blocks for u in block.units}
        costs = Costs(bars, blocks, widths, (self.room.wide_mm - _EDGES_MM) * share)
        starts = starts_of(bars, blocks, with_dot=steps >= WHOLE_STEPS)
        found = Search(bars, blocks, costs).best(starts, steps, min(MOST_STEPS, self.left))
        self.left -= costs.effort
        return found

    def speakers(self, styles: Sequence[WordStyle]) -> list[Speaker]:
        """Words in some styles."""
        for style in styles:
            if style not in self.said:
                self.said[style] = speaker_of(self.job.study, style, self.notes)
        return [self.said[style] for style in styles]

    def _unit_mm(self, unit: Ladder) -> float:
        """About how wide a unit is, in the narrower of the usual styles."""
        if id(unit) not in self.widths:
            ruler = Ruler(self.speakers(STYLES[1]), self.graph.bars)
            lengths = [(each, self._rung_mm(ruler, each)) for each in unit.laid]
            ways: dict[str, float] = {}
            for _ in unit.laid:
                for each, wide in lengths:
                    reach = ways.get(each.left, 0.0) + wide
                    ways[each.right] = max(ways.get(each.right, 0.0), reach)
            self.widths[id(unit)] = (unit, max(ways.values()))
        return self.widths[id(unit)][1]

    def _rung_mm(self, ruler: Ruler, laid: Laid) -> float:
        """About how wide a rung is."""
        wide = 2 * PAD_MM
        for piece in laid.rung.pieces:
            wide += ruler.set_of(piece, laid, _SLOT_MM).width_mm
            wide += BEFORE_MM + AFTER_MM if piece.is_symbol else 0.0
        return wide

    def is_wide(self, unit: Ladder) -> bool:
        """Whether a unit may be wider than a page."""
        return self._unit_mm(unit) > 0.8 * self.room.wide_mm

    def drawing(
        self, blocks: Sequence[Stack], marks: Marks, *, steps: int = WHOLE_STEPS,
        room: Room | None = None,
    ) -> Drawing | None:  # fmt: skip
        """Blocks as one drawing, or None where they do not fit the page.

        What was drawn to see whether it fits is not drawn once more with other names on its marks.
        """
        room = room or self.room
        if not self.may_fit(blocks, room):
            return None
        key = (_key(blocks), room, steps >= WHOLE_STEPS, looks_of(marks))
        if key not in self.drawn:
            made, count = self._drawing(blocks, marks, steps, room)
            if made is not None:
                self.drawn[key] = made, marks, count
        else:
            known, told, count = self.drawn[key]
            made = replace(known, parts=tuple(_marked(lot, told, marks) for lot in known.parts))
            self.left -= _DRAWING_STEPS * count
        if made is not None:
            self.heights[_key(blocks)] = made.height_mm
        return made

    def _drawing(
        self, blocks: Sequence[Stack], marks: Marks, steps: int, room: Room
    ) -> tuple[Drawing | None, int]:
        """The same, drawn now, and how many units were drawn for it."""
        count = 0
        shares = _SHARES if steps >= WHOLE_STEPS else _SHARES[:1]
        for share in shares:
            _, grid = self.grid(blocks, steps=steps, share=share)
            if grid.rows * LEAST_MM > room.high_mm + LEAST_MM:
                return None, count
            misfits = []
            for styles in STYLES:
                count += len(grid.seats)
                self.left -= _DRAWING_STEPS * len(grid.seats)
                made = drawn(grid, self.graph.bars, self.speakers(styles), marks, room)
                if isinstance(made, Drawing):
                    return made, count
                misfits.append(made)
                if misfits.count(Misfit.HIGH) > 1:
                    return None, count
        return None, count

    def may_fit(self, blocks: Sequence[Stack], room: Room) -> bool:
        """Whether the rows of each pair of bars, which stand below each other, are few enough."""
        most: dict[tuple[str, str], int] = {}
        for block in blocks:
            for unit in block.units:
                pair = (min(unit.a, unit.b), max(unit.a, unit.b))
                most[pair] = most.get(pair, 0) + unit.rows
        return max(most.values(), default=0) * LEAST_MM <= room.high_mm + LEAST_MM


def _marked(lot: Lot, told: Marks, marks: Marks) -> Lot:
    """Some marks of a drawing, those of bars that go on elsewhere with other names."""
    names = {
        one.ident: other
        for bar, pair in told.items()
        for one, other in zip(pair, marks[bar], strict=True)
        if one is not None and other is not None
    }
    every, right_mm, down_mm = lot
    made = (
        renamed(mark, names[mark.ident])
        if isinstance(mark, Group) and mark.ident in names
        else mark
        for mark in every
    )
    return tuple(made), right_mm, down_mm


def _key(blocks: Sequence[Stack]) -> frozenset[int]:
    return frozenset(id(unit) for block in blocks for unit in block.units)


def panels_shown(blocks: Sequence[Stack]) -> Mapping[str, Stack]:
    """The blocks of slots by the name of their panel."""
    return {block.panel: block for block in blocks if block.panel}
