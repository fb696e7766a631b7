"""Rungs as they are set: how wide their pieces are, and the stops whose places are sought."""

from collections.abc import Hashable, Sequence

from rigfolio.draw import width_mm
from rigfolio.model import Conductor, Device, Rig
from rigfolio.record import record
from rigfolio.schematic.chains import Bar, End, Ladder, Laid, Piece
from rigfolio.schematic.ordering import Berth, RowPlan
from rigfolio.schematic.setting.facts import end_text
from rigfolio.schematic.setting.ruler import (
    AFTER_MM,
    BEFORE_MM,
    BOX_MM,
    HALF_MM,
    PAD_MM,
    PANEL_LEFT_MM,
    PIN_WORDS_MM,
    Key,
    Ruler,
    Set,
    is_slot_piece,
)
from rigfolio.wording import short_end


@record
class Stop:
    """A source, a load or a pin of a connector: its key, and its room on both sides [mm]."""

    key: Hashable
    each: Set
    before_mm: float
    after_mm: float

    @property
    def is_part(self) -> bool:
        """Whether it is a source or a load."""
        return self.each.piece.is_symbol


@record
class Course:
    """One rung of a seat: its stops, the runs before, between and after them, its ends as keys.

    `pads` are the distances from the bars at both ends to the first and the last run; `inner` are
    the mains that stand there, within the frames of their panels.
    """

    seat: Berth
    laid: Laid
    row: int
    ends: tuple[Hashable, Hashable]
    stops: tuple[Stop, ...]
    runs: tuple[tuple[Set, ...], ...]
    pads: tuple[float, float]
    key: Key
    inner: tuple[Set | None, Set | None] = (None, None)

    @property
    def part(self) -> Stop | None:
        """Its source or load."""
        return next((stop for stop in self.stops if stop.is_part), None)

    @property
    def points(self) -> tuple[Hashable, ...]:
        """All keys from left to right."""
        return (self.ends[0], *(stop.key for stop in self.stops), self.ends[1])

    @property
    def rooms(self) -> tuple[tuple[float, float], ...]:
        """Room beside the points at the left and at the right of each run."""
        after = (self.pads[0], *(stop.after_mm for stop in self.stops))
        before = (*(stop.before_mm for stop in self.stops), self.pads[1])
        return tuple(zip(after, before, strict=True))

    @property
    def sets(self) -> tuple[Set, ...]:
        """All pieces."""
        mains = (each for each in self.inner if each is not None)
        return (*(e for run in self.runs for e in run), *(s.each for s in self.stops), *mains)

    @property
    def lines(self) -> int:
        """The most lines of words below one of its pieces."""
        return max((len(each.words.under()) for each in self.sets), default=0)

    @property
    def words_mm(self) -> float:
        """How wide it is for words that can be set narrower."""
        return sum(e.width_mm for e in self.sets if not isinstance(e.piece.thing, Conductor))


class Courses:
    """The rungs of a grid with their words and widths, each set anew only where they changed."""

    def __init__(self, grid: RowPlan, ruler: Ruler) -> None:
        self.grid, self.ruler = grid, ruler
        self.turn = 0
        """How often the mains in the frames of panels have taken another room."""
        panels: dict[str, list[Ladder]] = {}
        for seat in grid.seats:
            for laid in seat.unit.laid:
                if laid.rung.slot:
                    panels.setdefault(laid.rung.slot[0], []).append(seat.unit)
        self._frames = {panel: ruler.frame_mm(panel, units) for panel, units in panels.items()}
        self._rungs = [
            (seat, laid, (number, place))
            for number, seat in enumerate(grid.seats)
            for place, laid in enumerate(seat.unit.laid)
        ]
        self._with_mains = [
            (laid, key) for _, laid, key in self._rungs if any(_parted(ruler, laid, key)[1])
        ]
        self._made: dict[tuple[Key, int], Course] = {}

    def now(self) -> tuple[Course, ...]:
        """All rungs in the words that they have now."""
        mains = self._mains()
        if mains != self.ruler.mains:
            self.ruler.mains = mains
            self.ruler.reaches.clear()
            self._made.clear()
            self.turn += 1
        return tuple(self._course(seat, laid, key) for seat, laid, key in self._rungs)

    def _course(self, seat: Berth, laid: Laid, key: Key) -> Course:
        at = (key, self.ruler.levels.get(key, 0))
        if at not in self._made:
            frame_mm = self._frames[laid.rung.slot[0]] if laid.rung.slot else 0.0
            self._made[at] = _course(self.grid, self.ruler, seat, laid, key, frame_mm)
        return self._made[at]

    def _mains(self) -> dict[str, tuple[float, float]]:
        """Room for the mains of panels within their frames."""
        mains: dict[str, tuple[float, float]] = {}
        for laid, key in self._with_mains:
            _, inner = _parted(self.ruler, laid, key)
            # What stands at the left end of a rung stands at the right of the bar there.
            for name, each, side in ((laid.left, inner[0], 1), (laid.right, inner[1], 0)):
                if each is not None:
                    room = [*mains.get(name, (0.0, 0.0))]
                    room[side] = max(room[side], each.width_mm)
                    mains[name] = (room[0], room[1])
        return mains


def _parted(
    ruler: Ruler, laid: Laid, key: Key
) -> tuple[tuple[Piece, ...], tuple[Set | None, Set | None]]:
    """Pieces of a rung from left to right, and the mains that stand in frames at its ends."""
    pieces = laid.rung.pieces
    if laid.is_turned:
        pieces = tuple(piece.turned() for piece in reversed(pieces))
    inner: list[Set | None] = [None, None]
    for side, name in enumerate((laid.left, laid.right)):
        panel = ruler.bars[name].panel if name else None
        if panel is None or panel.about.name not in ruler.slot_mm or len(pieces) < 2:
            continue
        piece = pieces[-side]
        if ruler.is_main(piece):
            inner[side] = ruler.set_of(piece, laid, 0.0, ruler.levels.get(key, 0))
            pieces = pieces[:-1] if side else pieces[1:]
    return pieces, (inner[0], inner[1])


def is_pin(piece: Piece) -> bool:
    """Whether a piece is a pin of a connector."""
    return isinstance(piece.thing, Device) and piece.thing.traits.is_plug


def _course(
    grid: RowPlan, ruler: Ruler, seat: Berth, laid: Laid, key: Key, frame_mm: float
) -> Course:  # fmt: skip
    pieces, inner = _parted(ruler, laid, key)
    level = ruler.levels.get(key, 0)
    if _is_in_frame(seat, laid, pieces):
        inner = (ruler.set_of(pieces[0], laid, frame_mm, level), inner[1])
        pieces = pieces[1:]
    stops: list[Stop] = []
    runs: list[tuple[Set, ...]] = [()]
    for piece in pieces:
        each = ruler.set_of(piece, laid, frame_mm, level)
        if piece.is_symbol:
            after = max(HALF_MM, AFTER_MM + each.width_mm + 1.2)
            stops.append(Stop(("part", key), each, BEFORE_MM, after))
            runs.append(())
        elif is_pin(piece):
            after = max(HALF_MM, each.width_mm + PIN_WORDS_MM)
            stops.append(Stop(("pin", key, len(stops)), each, HALF_MM, after))
            runs.append(())
        else:
            runs[-1] = (*runs[-1], each)
    row = seat.row + laid.row
    ends: tuple[Hashable, Hashable] = (laid.left or ("free", key), laid.right or ("free", key))
    pads = (
        _pad(grid, ruler, laid, laid.left, row, is_left=True),
        _pad(grid, ruler, laid, laid.right, row, is_left=False),
    )
    if inner[0] is not None and laid.rung.slot:
        pads = (extents(ruler, grid, laid.left)[1] + PAD_MM, pads[1])
    return Course(seat, laid, row, ends, tuple(stops), tuple(runs), pads, key, inner)


def _is_in_frame(seat: Berth, laid: Laid, pieces: Sequence[Piece]) -> bool:
    """Whether a rung passes bars, and begins with a slot that stays in the frame before them."""
    begins = laid.left == seat.left == laid.rung.a
    return bool(seat.passed and laid.rung.slot and begins and pieces and is_slot_piece(pieces[0]))


def _pad(
    grid: RowPlan, ruler: Ruler, laid: Laid, name: str, row: int, *, is_left: bool
) -> float:  # fmt: skip
    """From an end of a rung to its first piece; `is_left` is the left end of the rung."""
    if not name:
        return _end_mm(ruler, laid)
    bar = ruler.bars[name]
    if bar.is_box:
        return BOX_MM + PAD_MM
    if bar.panel is not None and laid.rung.slot and name == laid.rung.a:
        return 0.0
    if bar.panel is not None and bar.panel.about.name in ruler.slot_mm:
        left, right = extents(ruler, grid, name)
        return (right if is_left else left) + PAD_MM
    if bar.is_minor and grid.spans[name][0] == row:
        head = ruler.speaker.head(bar)
        return PAD_MM + (width_mm(head, ruler.size_pt, bold=True) / 2 + 0.6 if head else 0.0)
    return PAD_MM


def _end_mm(ruler: Ruler, laid: Laid) -> float:
    """Room for what is drawn at a free end."""
    end = laid.rung.end
    if end is None or end.kind == "slot":
        return 0.0
    if end.kind in ("stub", "cut", "resumed"):
        return 5.0
    if end.kind == "frame":
        return 5.6 + width_mm(end.terminal, ruler.size_pt, bold=True)
    words = _end_words(ruler.speaker.rig, end)
    lines = ruler.speaker.broken(words, ruler.speaker.style.load_mm)
    return 4.2 + max((width_mm(line, ruler.size_pt) for line in lines), default=0.0)


ASIDE_MM = 1.0
"""From the first or the last bar outward to where its name begins or ends."""


def edge_of(grid: RowPlan, bar: Bar) -> int:
    """-1 for the first bar of a page, 1 for the last one, 0 for any between or alone."""
    if bar.is_minor or bar.is_box or len(grid.bars) < 2:
        return 0
    if bar.name == grid.bars[0]:
        return -1
    return int(bar.name == grid.bars[-1])


def extents(ruler: Ruler, grid: RowPlan, name: str) -> tuple[float, float]:
    """How far a bar with its frame reaches to the left and to the right."""
    if name not in ruler.reaches:
        ruler.reaches[name] = _extents(ruler, grid, name)
    return ruler.reaches[name]


def _extents(ruler: Ruler, grid: RowPlan, name: str) -> tuple[float, float]:
    bar = ruler.bars[name]
    if bar.is_box:
        return BOX_MM, BOX_MM
    if bar.panel is not None and bar.panel.about.name in ruler.slot_mm:
        wide = ruler.slot_mm[bar.panel.about.name]
        if name not in ruler.sides:
            ruler.sides[name] = slot_sides(grid, name)
        left, right = ruler.sides[name]
        mains = ruler.mains.get(name, (0.0, 0.0))
        return (
            max(wide if left else PANEL_LEFT_MM, mains[0]),
            max(wide if right else PANEL_LEFT_MM, mains[1]),
        )
    if bar.kind == "frame":
        return 2.4, 2.4
    return 0.7, 0.7


def slot_sides(grid: RowPlan, name: str) -> tuple[bool, bool]:
    """Whether slots of a panel lie at the left and at the right of its bus."""
    sides = [False, False]
    for seat in grid.seats:
        for each in seat.unit.laid:
            if each.rung.slot and each.rung.a == name:
                sides[0] = sides[0] or each.right == name
                sides[1] = sides[1] or each.left == name
    return sides[0], sides[1]


def _end_words(rig: Rig, end: End) -> str:
    """What stands at the free end of a rung: the place it goes on at, or what is not known."""
    return short_end(rig, end.terminal) if end.kind == "there" else end_text(rig, end.terminal)
