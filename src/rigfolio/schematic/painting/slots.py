"""Slots of a panel: the number at the bus, the fuse, the name; idle ones dashed or crossed out."""

from rigfolio.draw import STROKE, Group, Line, Mark, Pen, Text
from rigfolio.model import Device, Slot
from rigfolio.record import record
from rigfolio.schematic.chains import Piece
from rigfolio.schematic.painting.captions import Captions
from rigfolio.schematic.setting import FUSE_MM, NAME_MM, PAD_MM, Course, Extent, Ruler

_IDLE = "#606060"


@record
class SlotPainter:
    """Draws the slots of one page at height 0."""

    ruler: Ruler
    captions: Captions

    def is_turned(self, piece: Piece) -> bool:
        """Whether a slot lies at the left of its bus."""
        buses = {bar.name for bar in self.ruler.bars.values() if bar.panel is not None}
        return piece.b in buses and piece.a not in buses

    def middle(self, span: Extent) -> float:
        """Where the fuse of a slot stands."""
        if self.is_turned(span.each.piece):
            return span.right_mm - FUSE_MM
        return span.left_mm + FUSE_MM

    def _places(self, span: Extent) -> tuple[float, float]:
        """Where the number and the words of a slot begin."""
        if self.is_turned(span.each.piece):
            return span.right_mm - 5.0, span.left_mm + PAD_MM + 1.4
        return span.left_mm + 1.2, span.left_mm + NAME_MM

    def _number(self, number: int, x: float) -> Text:
        return Text((x, -1.3), str(number), self.ruler.size_pt, "start", bold=True)

    def fused(self, course: Course, device: Device, span: Extent, symbol: list[Mark]) -> Group:
        """A slot with its device."""
        panel, number = course.laid.rung.slot or ("", 0)
        bus, x = self._places(span)
        marks = [*symbol, *self.captions.beside(span.each.words, x), self._number(number, bus)]
        title = f"slot {panel}.{number} {device.about.label}".strip()
        return Group(f"{panel}.{number}", title, tuple(marks), role="graphics-symbol")

    def idle(self, slot: Slot, span: Extent) -> Group:
        """A slot without a device: dashed where it is kept, crossed out where it is blank."""
        bus, x = self._places(span)
        middle = self.middle(span)
        edge = span.right_mm if self.is_turned(span.each.piece) else span.left_mm
        side = 3.2 if edge > middle else -3.2
        marks: list[Mark] = [Line(((edge, 0.0), (middle + side, 0.0)), STROKE)]
        box = ((middle - 3.2, -1.25), (middle + 3.2, -1.25), (middle + 3.2, 1.25),
               (middle - 3.2, 1.25))  # fmt: skip
        dashes = () if slot.use == "blank" else (0.9, 0.6)
        marks.append(Line(box, Pen(0.2, _IDLE, dashes), closed=True))
        if slot.use == "blank":
            marks.append(Line((box[3], box[1]), Pen(0.2, _IDLE)))
        style = self.captions.style
        for number, line in enumerate(span.each.words.above):
            marks.append(Text((x, 1.0 + number * style.line_mm), line, style.size_pt))
        marks.append(self._number(slot.number, bus))
        title = f"slot {slot.place} {' '.join(span.each.words.above)}"
        return Group(slot.place, title, tuple(marks), role="graphics-symbol")
