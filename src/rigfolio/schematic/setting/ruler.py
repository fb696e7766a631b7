"""How wide the pieces of a rung and the heads of bars are, in the words of one style."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from rigfolio.draw import width_mm
from rigfolio.model import Circuit, Conductor, Device, Junction, Load, Slot, Source
from rigfolio.record import record
from rigfolio.schematic.chains import Bar, Ladder, Laid, Piece
from rigfolio.schematic.setting.facts import main_panel
from rigfolio.schematic.setting.speaker import Speaker
from rigfolio.schematic.setting.style import Words
from rigfolio.wording import in_slots

HALF_MM = 5.0
"""Half a symbol with its leads."""
BEFORE_MM, AFTER_MM = 6.6, 7.6
"""From the middle of a source or load to what stands at its left, and to its words."""
PAD_MM = 1.6
"""From a bar to the first piece of a rung."""
BOX_MM = 9.0
"""Half the width of a selector or converter."""
PANEL_LEFT_MM = 4.2
PIN_WORDS_MM = 0.9
"""From the middle of a pin to its words, which stand at the right of the line that ties it."""
FUSE_MM = 9.0
"""From the bus of a panel to the middle of its fuses."""
NAME_MM = FUSE_MM + 5.6
"""From the bus of a panel to the names of its slots."""
Key = tuple[int, int]
"""A rung by the numbers of its seat and of its place there."""
_WIRE_MM, _WIRE_PAD_MM, _FULL_MM = 9.0, 4.0, 34.0


@record
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
    mains: dict[str, tuple[float, float]] = field(default_factory=dict)
    """Room for the main of a panel at the left and at the right of its bus, by its bar [mm]."""
    reaches: dict[str, tuple[float, float]] = field(default_factory=dict)
    """How far bars with their frames reach, as long as the mains stay as they are."""

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
                facts = self.speaker.broken(self.speaker.panel(bar), self.speaker.style.slot_mm)
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

    def is_main(self, piece: Piece) -> bool:
        """Whether a piece is the main of a panel, which stands in its frame."""
        return isinstance(piece.thing, Device) and bool(main_panel(self.speaker.rig, piece.thing))

    def circuit_of(self, piece: Piece) -> Circuit | None:
        """The circuit outside panels that begins with a device."""
        name = piece.thing.about.name if isinstance(piece.thing, Device) else ""
        return next(iter(self.speaker.rig.begun.get(name, ())), None)

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
                flag = speaker.notes.flag(thing.place)
                return Words("", (thing.label or thing.place,), (), is_bold=True, flag=flag)
            case Junction():
                flag = speaker.notes.flag(thing.about.name)
                return Words(thing.about.name, (), (), flag=flag)
            case Device():
                return self._device(thing, piece, laid, speaker)

    def _device(
        self, device: Device, piece: Piece, laid: Laid, speaker: Speaker
    ) -> Words:  # fmt: skip
        if device.in_slot and laid.rung.slot:
            return speaker.slot(device, in_slots(speaker.rig).get(laid.rung.slot, ()))
        circuit = self.circuit_of(piece)
        if circuit is None:
            return speaker.device(device)
        made = speaker.slot(device, (circuit,))
        room = min(speaker.style.load_mm, self.speaker.style.name_mm)
        lines = speaker.broken(circuit.label or circuit.place, room, bold=True)
        facts = speaker.broken(f"{circuit.place}: {' '.join(made.below)}", room)
        return Words("", lines, facts, is_bold=True, flag=made.flag)

    def head_mm(self, bar: Bar) -> float:
        """Half the width of what stands at the head of a bar."""
        return width_mm(self.speaker.head(bar), self.size_pt, bold=True) / 2


def is_slot_piece(piece: Piece) -> bool:
    """Whether a piece stands in a slot, or is a slot without a device."""
    return isinstance(piece.thing, Slot) or (
        isinstance(piece.thing, Device) and piece.thing.in_slot
    )
