"""Rungs as they are set: how wide their pieces are, and the stops whose places are sought."""

from collections.abc import Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from rigfolio.draw import width_mm
from rigfolio.model import Circuit, Conductor, Device, Junction, Load, Rig, Slot, Source
from rigfolio.schematic.graph import Bar, End, Piece
from rigfolio.schematic.rows import Berth, RowPlan
from rigfolio.schematic.units import Ladder, Laid
from rigfolio.schematic.words import Speaker, Words, end_text, panel_words
from rigfolio.wording import short_end

HALF_MM = 5.0
"""Half a symbol with its leads."""
BEFORE_MM, AFTER_MM = 6.6, 7.6
"""From the middle of a source or load to what stands at its left, and to its words."""
PAD_MM = 1.6
"""From a bar to the first piece of a rung."""
BOX_MM = 9.0
"""Half the width of a selector or converter."""
PANEL_LEFT_MM = 4.2
FUSE_MM = 9.0
"""From the bus of a panel to the middle of its fuses."""
NAME_MM = FUSE_MM + 5.6
"""From the bus of a panel to the names of its slots."""
Key = tuple[int, int]
"""A rung by the numbers of its seat and of its place there."""
_WIRE_MM, _WIRE_PAD_MM, _FULL_MM = 9.0, 4.0, 34.0


@dataclass(frozen=True, slots=True)
class Set:
    """A piece with its words and the least width that it takes."""

    piece: Piece
    words: Words
    width_mm: float
    stretch_mm: float = 0.0


@dataclass(slots=True)
class Ruler:
    """Measures the pieces of one page in one style.

    `speakers` are the usual words and narrower ones; `levels` says which of them a rung has.
    `marked` are bars with a mark at head or foot, by name: (head, foot).
    """

    speakers: Sequence[Speaker]
    bars: Mapping[str, Bar]
    marked: Mapping[str, tuple[bool, bool]] = field(default_factory=dict)
    slot_mm: dict[str, float] = field(default_factory=dict)
    levels: dict[Key, int] = field(default_factory=dict)
    sides: dict[str, tuple[bool, bool]] = field(default_factory=dict)

    @property
    def speaker(self) -> Speaker:
        """The usual words."""
        return self.speakers[0]

    def is_narrowed(self, widths: Iterable[tuple[Key, float]]) -> bool:
        """Make the words of the widest of some rungs narrower; false where none can be."""
        low = {
            (self.levels.get(key, 0), -wide_mm, key)
            for key, wide_mm in widths
            if self.levels.get(key, 0) + 1 < len(self.speakers)
        }
        for level, _, key in sorted(low)[:1]:
            self.levels[key] = level + 1
        return bool(low)

    @property
    def size_pt(self) -> float:
        """The type of the page."""
        return self.speaker.style.size_pt

    def frame_mm(self, panel: str, units: Sequence[Ladder]) -> float:
        """From the bus of a panel to the edge of its frame beyond the names of its slots."""
        if panel not in self.slot_mm:
            wide = 12.0
            for unit in units:
                for each in unit.laid:
                    for piece in each.rung.pieces:
                        slot = each.rung.slot
                        if is_slot_piece(piece) and slot and slot[0] == panel:
                            wide = max(wide, self._words(piece, each).width_mm(self.size_pt))
            bar = next((b for b in self.bars.values() if b.panel and b.panel.about.name == panel),
                       None)  # fmt: skip
            if bar is not None and bar.panel is not None:
                facts = self.speaker.broken(panel_words(bar.panel), self.speaker.style.slot_mm)
                lines = [width_mm(line, self.size_pt) for line in facts]
                title = self.speaker.broken(str(bar.panel.about).partition(" ")[0], 99.0)
                lines += [width_mm(line, self.size_pt + 1, bold=True) for line in title]
                wide = max(wide, max(lines, default=0.0) - NAME_MM - PANEL_LEFT_MM + 4.0)
            self.slot_mm[panel] = NAME_MM + wide + 1.4
        return self.slot_mm[panel]

    def set_of(self, piece: Piece, laid: Laid, frame_mm: float, level: int = 0) -> Set:
        """A piece with its words and room."""
        words = self._words(piece, laid, level)
        wide = words.width_mm(self.size_pt)
        thing = piece.thing
        if isinstance(thing, Conductor):
            least = max(_WIRE_MM, wide + _WIRE_PAD_MM)
            return Set(piece, words, least, max(0.0, _FULL_MM - least))
        if is_slot_piece(piece) and laid.rung.slot:
            return Set(piece, words, frame_mm + PAD_MM)
        if isinstance(thing, Junction | Circuit):
            return Set(piece, words, wide + 3.0)
        if self.circuit_of(piece):
            return Set(piece, words, 2 * HALF_MM + wide + 2.4)
        if isinstance(thing, Source | Load):
            return Set(piece, words, wide)
        return Set(piece, words, max(2 * HALF_MM, wide + 2.0))

    def circuit_of(self, piece: Piece) -> Circuit | None:
        """The circuit outside panels that begins with a device."""
        name = piece.thing.about.name if isinstance(piece.thing, Device) else ""
        return next((c for c in self.speaker.rig.circuits if name and c.device == name), None)

    def _words(self, piece: Piece, laid: Laid, level: int = 0) -> Words:
        kept = self.speakers[level].kept
        key = (id(piece.thing), laid.rung.slot)
        if key not in kept:
            kept[key] = self._made(piece, laid, self.speakers[level])
        return kept[key]

    def _made(self, piece: Piece, laid: Laid, speaker: Speaker) -> Words:
        thing = piece.thing
        match thing:
            case Conductor():
                return speaker.wire(thing)
            case Source() | Load():
                return speaker.part(thing)
            case Slot():
                return speaker.idle(thing)
            case Circuit():
                return Words("", (thing.label or thing.place,), (), is_bold=True)
            case Junction():
                return Words(thing.about.name, (), ())
            case Device():
                return self._device(thing, piece, laid, speaker)

    def _device(
        self, device: Device, piece: Piece, laid: Laid, speaker: Speaker
    ) -> Words:  # fmt: skip
        rig = speaker.rig
        if device.in_slot and laid.rung.slot:
            held = [c for c in rig.circuits if (c.panel, c.slot) == laid.rung.slot]
            label = " / ".join(dict.fromkeys(c.label for c in held if c.label))
            return speaker.slot(device, label, always_on=any(c.always_on for c in held))
        circuit = self.circuit_of(piece)
        if circuit is not None:
            label = circuit.label or circuit.place
            made = speaker.slot(device, label, always_on=circuit.always_on)
            words = f"{circuit.place}: {device_words(made)}"
            room = min(speaker.style.load_mm, self.speaker.style.name_mm)
            facts = speaker.broken(words, room)
            lines = speaker.broken(label, room, bold=True)
            return Words("", lines, facts, is_bold=True)
        return speaker.device(device, device.line)

    def head_mm(self, bar: Bar) -> float:
        """Half the width of what stands at the head of a bar."""
        return width_mm(self.speaker.head(bar), self.size_pt, bold=True) / 2


def device_words(words: Words) -> str:
    """The facts below a piece in one line."""
    return " ".join(words.below)


def is_slot_piece(piece: Piece) -> bool:
    """Whether a piece stands in a slot, or is a slot without a device."""
    return isinstance(piece.thing, Slot) or (
        isinstance(piece.thing, Device) and piece.thing.in_slot
    )


PIN_WORDS_MM = 0.9
"""From the middle of a pin to its words, which stand at the right of the line that ties it."""


@dataclass(frozen=True, slots=True)
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


@dataclass(frozen=True, slots=True)
class Course:
    """One rung of a seat: its stops, the runs before, between and after them, its ends as keys.

    `pads` are the distances from the bars at both ends to the first and the last run.
    """

    seat: Berth
    laid: Laid
    row: int
    ends: tuple[Hashable, Hashable]
    stops: tuple[Stop, ...]
    runs: tuple[tuple[Set, ...], ...]
    pads: tuple[float, float]
    key: Key

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
        return (*(each for run in self.runs for each in run), *(s.each for s in self.stops))

    @property
    def lines(self) -> int:
        """The most lines of words below one of its pieces."""
        return max((len(each.words.under()) for each in self.sets), default=0)

    @property
    def words_mm(self) -> float:
        """How wide it is for words that can be set narrower."""
        return sum(e.width_mm for e in self.sets if not isinstance(e.piece.thing, Conductor))


def courses_of(grid: RowPlan, ruler: Ruler) -> tuple[Course, ...]:
    """All rungs of a grid with their words and widths."""
    panels: dict[str, list[Ladder]] = {}
    for seat in grid.seats:
        for laid in seat.unit.laid:
            if laid.rung.slot:
                panels.setdefault(laid.rung.slot[0], []).append(seat.unit)
    for panel, units in panels.items():
        ruler.frame_mm(panel, units)
    made = []
    for number, seat in enumerate(grid.seats):
        for place, laid in enumerate(seat.unit.laid):
            panel = laid.rung.slot[0] if laid.rung.slot else ""
            frame_mm = ruler.frame_mm(panel, panels[panel]) if panel else 0.0
            made.append(_course(grid, ruler, seat, laid, (number, place), frame_mm))
    return tuple(made)


def is_pin(piece: Piece) -> bool:
    """Whether a piece is a pin of a connector."""
    return isinstance(piece.thing, Device) and piece.thing.kind == "connector"


def _course(
    grid: RowPlan, ruler: Ruler, seat: Berth, laid: Laid, key: Key, frame_mm: float
) -> Course:  # fmt: skip
    pieces = laid.rung.pieces
    if laid.is_turned:
        pieces = tuple(piece.turned() for piece in reversed(pieces))
    level = ruler.levels.get(key, 0)
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
    return Course(seat, laid, row, ends, tuple(stops), tuple(runs), pads, key)


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
    bar = ruler.bars[name]
    if bar.is_box:
        return BOX_MM, BOX_MM
    if bar.panel is not None and bar.panel.about.name in ruler.slot_mm:
        wide = ruler.slot_mm[bar.panel.about.name]
        if name not in ruler.sides:
            ruler.sides[name] = slot_sides(grid, name)
        left, right = ruler.sides[name]
        return wide if left else PANEL_LEFT_MM, wide if right else PANEL_LEFT_MM
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
