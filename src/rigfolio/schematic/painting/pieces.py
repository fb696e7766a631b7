"""Pieces of a rung as groups of marks: wires, devices, circuits, sources and loads."""

from collections.abc import Iterator, Sequence
from functools import lru_cache

from rigfolio.draw import (
    PLUS_RIGHT,
    STROKE,
    SYMBOLS,
    Group,
    Line,
    Mark,
    Point,
    Text,
    boxes_of,
    dot,
    minus_sign,
    mirrored,
    plus_sign,
    terminal,
)
from rigfolio.model import Circuit, Conductor, Device, Junction, Load, Slot, Source
from rigfolio.schematic.painting.captions import Captions
from rigfolio.schematic.painting.slots import SlotPainter
from rigfolio.schematic.painting.wires import ASSUMED, look
from rigfolio.schematic.setting import (
    AFTER_MM,
    HALF_MM,
    LONG_MM,
    NAME_MM,
    PIN_WORDS_MM,
    Course,
    Extent,
    Ruler,
    Set,
    device_symbol,
    is_pin,
    is_slot_piece,
    load_symbol,
)

_END_MM, _TWICE_MM, _ARROW_MM = 1.9, 30.0, 0.8


class PiecePainter:
    """Draws the pieces of the rungs of one page at height 0."""

    def __init__(self, ruler: Ruler) -> None:
        self.ruler = ruler
        self.captions = Captions(ruler.speaker.style)
        self.slots = SlotPainter(ruler, self.captions)

    def middle(self, span: Extent) -> float:
        """Where the symbol of a piece stands within its room."""
        piece = span.each.piece
        if is_slot_piece(piece) and span.each.width_mm > NAME_MM:
            return self.slots.middle(span)
        if self.ruler.circuit_of(piece):
            return span.left_mm + HALF_MM
        return (span.left_mm + span.right_mm) / 2

    def leads(self, span: Extent) -> tuple[float, float]:
        """Where the symbol of a piece begins and ends."""
        middle = self.middle(span)
        if isinstance(span.each.piece.thing, Junction | Circuit):
            return middle, middle
        return middle - HALF_MM, middle + HALF_MM

    def piece(self, course: Course, span: Extent) -> Iterator[Mark]:
        """Everything but sources and loads."""
        thing = span.each.piece.thing
        match thing:
            case Conductor():
                yield self._wire(thing, span)
            case Junction():
                yield self._splice(thing, span)
            case Circuit():
                yield self._named(thing, span)
            case Slot():
                yield self.slots.idle(thing, span)
            case Device():
                yield self._device(course, thing, span)
            case _:
                pass

    def _wire(self, wire: Conductor, span: Extent) -> Group:
        left, right = span.left_mm, span.right_mm
        marks: list[Mark] = []
        if wire.assumed:
            marks.append(Line(((left, 0.0), (right, 0.0)), ASSUMED))
        else:
            marks += look(wire, ((left + _END_MM, 0.0), (right - _END_MM, 0.0)))
            for one, two in ((left, left + _END_MM), (right - _END_MM, right)):
                marks.append(Line(((one, 0.0), (two, 0.0)), STROKE))
            marks += [terminal((left + _END_MM, 0.0)), terminal((right - _END_MM, 0.0))]
        marks += self._wire_words(wire, span)
        title = self.ruler.speaker.title(wire)
        return Group(wire.name, title, tuple(marks), role="graphics-symbol")

    def _wire_words(self, wire: Conductor, span: Extent) -> Iterator[Mark]:
        """The words of a wire at one end; its name at the other as well where that is far."""
        left, right = span.left_mm, span.right_mm
        wide = span.each.words.width_mm(self.ruler.size_pt)
        at_right = (wire.assumed or span.is_right) and right - left > wide + 6.0
        x = right - 2.6 - wide if at_right else left + 2.6
        yield from self.captions.beside(span.each.words, x)
        if wire.lead or wire.assumed or right - left <= max(LONG_MM, 2 * wide + _TWICE_MM):
            return
        base = -self.captions.style.base_mm
        if x > left + 3.0:
            yield Text((left + 2.6, base), wire.name, self.ruler.size_pt)
        else:
            yield Text((right - 2.6, base), wire.name, self.ruler.size_pt, "end")

    def _splice(self, splice: Junction, span: Extent) -> Group:
        middle = self.middle(span)
        words = self.captions.about(span.each.words, middle, (0.0, 0.0))
        title = f"{splice.traits.spoken} {splice.about}"
        return Group(splice.about.name, title, (dot((middle, 0.0)), *words))

    def _named(self, circuit: Circuit, span: Extent) -> Group:
        marks = tuple(self.captions.beside(span.each.words, span.left_mm + 1.2))
        return Group(circuit.place, f"circuit {circuit.place} {circuit.label}".strip(), marks)

    def _device(self, course: Course, device: Device, span: Extent) -> Group:
        piece, words, about = span.each.piece, span.each.words, device.about
        middle = self.middle(span)
        symbol = device_symbol(device)
        marks = [*SYMBOLS[symbol]((middle, 0.0))]
        if device.traits.sided and not device.in_slot:
            marks.append(line_side(middle))
        if piece.a == device.load and piece.a != piece.b:
            marks = [*mirrored(marks, middle)]
        if device.in_slot and course.laid.rung.slot:
            return self.slots.fused(course, device, span, marks)
        circuit = self.ruler.circuit_of(piece)
        if circuit is not None:
            marks += self.captions.beside(words, middle + HALF_MM + 1.2)
            title = f"circuit {circuit.place} {circuit.label}".strip()
            return Group(circuit.place, title, tuple(marks), role="graphics-symbol")
        if is_pin(piece):
            marks += self.captions.right_of(words, middle + PIN_WORDS_MM, reach(symbol))
        else:
            marks += self.captions.about(words, middle, reach(symbol))
        title = f"{device.kind} {about}"
        if about.note:
            title = f"{title}: {about.note}"
        return Group(about.name, title, tuple(marks), role="graphics-symbol")

    def part(self, each: Set, at: Point) -> Iterator[Mark]:
        """A source or a load with its signs and words."""
        piece, thing = each.piece, each.piece.thing
        if not isinstance(thing, Source | Load):
            return
        symbol = thing.traits.symbol if isinstance(thing, Source) else load_symbol(thing)
        plus_left = piece.a == thing.plus
        drawn: Sequence[Mark] = SYMBOLS[symbol](at)
        is_mirror = plus_left == (symbol in PLUS_RIGHT)
        marks = [*(mirrored(drawn, at[0]) if is_mirror else drawn)]
        signs = (plus_sign, minus_sign) if plus_left else (minus_sign, plus_sign)
        marks += [signs[0]((at[0] - 5.6, -1.9), 8.0), signs[1]((at[0] + 5.8, -1.9), 8.0)]
        marks += self.captions.beside(each.words, at[0] + AFTER_MM)
        title = f"{'load' if isinstance(thing, Load) else thing.kind} {thing.about}"
        if thing.about.note:
            title = f"{title}: {thing.about.note}"
        # What a load of a circuit is called may be any words, those of another group as well.
        is_named_freely = isinstance(thing, Load) and bool(thing.circuit)
        ident = f"load {thing.about.name}" if is_named_freely else thing.about.name
        yield Group(ident, title, tuple(marks), role="graphics-symbol")


_CLEAR_MM, _LOW_MM, _UNDER_MM, _TALL_MM = 0.8, 1.6, 0.475, 0.5


@lru_cache
def reach(symbol: str) -> tuple[float, float]:
    """How much further than usual words keep from a rung above and below a symbol [mm]."""
    boxes = [*boxes_of(SYMBOLS[symbol]((0.0, 0.0)))]
    top, bottom = -min(box[1] for box in boxes), max(box[3] for box in boxes)
    deep = bottom - _UNDER_MM if bottom > _LOW_MM else _TALL_MM
    return round(top - _CLEAR_MM, 1), round(deep, 1)


def line_side(middle: float) -> Line:
    """The arrow at the line terminal of a part whose two ends are not to be swapped."""
    edge = middle - HALF_MM + 0.1
    return Line(
        ((edge, -_ARROW_MM), (edge + 1.5, 0.0), (edge, _ARROW_MM)), None, "#000000", closed=True
    )
