"""Rungs as marks: wires in their colours, symbols, words; each at height 0."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rigfolio.draw import (
    STROKE,
    SYMBOLS,
    Circle,
    Group,
    Line,
    Mark,
    Pen,
    Point,
    Text,
    chassis,
    conductor,
    dot,
    minus_sign,
    mirrored,
    plus_sign,
    reference,
    terminal,
    unknown_end,
    width_mm,
)
from rigfolio.findings import Unknown
from rigfolio.model import Circuit, Conductor, Device, Junction, Load, Slot, Source
from rigfolio.schematic.columns import Columns
from rigfolio.schematic.courses import (
    AFTER_MM,
    BOX_MM,
    FUSE_MM,
    HALF_MM,
    NAME_MM,
    PAD_MM,
    PIN_WORDS_MM,
    Course,
    Ruler,
    Set,
    Stop,
    is_pin,
    is_slot_piece,
)
from rigfolio.schematic.graph import End, Piece
from rigfolio.schematic.packing import LONG_MM, Extent, packed
from rigfolio.schematic.words import Words, end_text, load_symbol
from rigfolio.wording import end_words, shades, short_end

ASSUMED = Pen(0.35, "#303030", (1.8, 1.2))
PLAIN = Pen(0.7, "#303030")
HOP_MM = 1.7
_TWICE_MM = 30.0
_THICK_AREA_M2 = 12e-6
_END_MM = 1.9
_BOW = ((-1.0, 0.0), (-0.92, 0.38), (-0.71, 0.71), (-0.38, 0.92), (0.0, 1.0), (0.38, 0.92),
        (0.71, 0.71), (0.92, 0.38), (1.0, 0.0))  # fmt: skip


@dataclass(slots=True)
class Painter:
    """Draws the rungs of one page at height 0."""

    ruler: Ruler
    columns: Columns

    @property
    def size_pt(self) -> float:
        """The type of the page."""
        return self.ruler.size_pt

    def rung(self, course: Course) -> tuple[Mark, ...]:
        """All marks of a rung, thin lines first."""
        at = self.columns.at
        points = [at[key] for key in course.points]
        rooms = course.rooms
        marks: list[Mark] = []
        left = points[0] + self._half(course.laid.left)
        first = points[0] + rooms[0][0]
        if not course.laid.left:
            left = first
        if course.seat.passed and course.laid.left == course.seat.left:
            left, hops = self._hops(course, left)
            first = left + 3.0
            marks += hops
        is_right = False
        spans: list[Extent] = []
        for number, run in enumerate(course.runs):
            here = first if not number else points[number] + rooms[number][0]
            there = points[number + 1] - rooms[number][1]
            run_spans = [*packed(run, here, there, is_right=is_right)]
            right = points[number + 1] - self._half(course.laid.right)
            if number < len(course.stops):
                right = points[number + 1] - HALF_MM
                is_right = is_right or course.stops[number].is_part
            elif not course.laid.right:
                right = there
            if not (course.laid.rung.end and course.laid.rung.end.kind == "slot"):
                marks += self._thin(run_spans, left, right)
            left = points[number + 1] + HALF_MM
            spans += run_spans
        for span in spans:
            marks += self._set(course, span)
        for stop in course.stops:
            marks += self._stop(course, stop, at[stop.key])
        return (*marks, *self._end(course))

    def _stop(self, course: Course, stop: Stop, x: float) -> Iterator[Mark]:
        if is_pin(stop.each.piece):
            yield from self._set(course, Extent(stop.each, x - HALF_MM, x + HALF_MM))
        else:
            yield from self._part(stop.each, (x, 0.0))

    def _half(self, name: str) -> float:
        """From the middle of a bar to where its rungs end."""
        return BOX_MM if name and self.ruler.bars[name].is_box else 0.0

    def _hops(self, course: Course, left: float) -> tuple[float, list[Mark]]:
        """The line over bars that a rung passes, and where it goes on."""
        at = self.columns.at
        passed = sorted(at[name] for name in course.seat.passed)
        points: list[Point] = [(left, 0.0)]
        for x in passed:
            points += [(x + HOP_MM * dx, -HOP_MM * dy) for dx, dy in _BOW]
        end = passed[-1] + 3.0
        points.append((end, 0.0))
        return end, [Line(tuple(points), STROKE)]

    def _thin(self, spans: Sequence[Extent], left: float, right: float) -> Iterator[Mark]:
        """The line between pieces, with a gap for each of them."""
        here = left
        dashed = [s for s in spans if _is_assumed(s.each.piece)]
        pen = ASSUMED if dashed and len(dashed) == len(spans) else STROKE
        for span in sorted(spans, key=lambda s: s.left_mm):
            one, two = span.left_mm, span.right_mm
            if not isinstance(span.each.piece.thing, Conductor):
                one, two = self._leads(span)
            if one > here + 0.01:
                yield Line(((here, 0.0), (one, 0.0)), pen)
            here = max(here, two)
        if right > here + 0.01:
            yield Line(((here, 0.0), (right, 0.0)), pen)

    def _leads(self, span: Extent) -> tuple[float, float]:
        """Where the symbol of a piece begins and ends."""
        middle = self._middle(span)
        if isinstance(span.each.piece.thing, Junction | Circuit):
            return middle, middle
        return middle - HALF_MM, middle + HALF_MM

    def _middle(self, span: Extent) -> float:
        piece = span.each.piece
        if is_slot_piece(piece) and span.each.width_mm > NAME_MM:
            return self._slot_x(span)
        if self.ruler.circuit_of(piece):
            return span.left_mm + HALF_MM
        return (span.left_mm + span.right_mm) / 2

    def _slot_x(self, span: Extent) -> float:
        if self._is_turned(span.each.piece):
            return span.right_mm - FUSE_MM
        return span.left_mm + FUSE_MM

    def _is_turned(self, piece: Piece) -> bool:
        """Whether a slot lies at the left of its bus."""
        buses = {bar.name for bar in self.ruler.bars.values() if bar.panel is not None}
        return piece.b in buses and piece.a not in buses

    def _set(self, course: Course, span: Extent) -> Iterator[Mark]:
        piece = span.each.piece
        thing = piece.thing
        match thing:
            case Conductor():
                yield self._wire(thing, span)
            case Junction():
                middle = (span.left_mm + span.right_mm) / 2
                words = Text((middle, -1.5), thing.about.name, self.size_pt, "middle")
                yield Group(thing.about.name, f"splice {thing.about}", (dot((middle, 0.0)), words))
            case Circuit():
                yield self._named(thing, span)
            case Slot():
                yield self._idle(thing, span)
            case Device():
                yield self._device(course, thing, span)
            case _:
                pass

    def _wire(self, wire: Conductor, span: Extent) -> Group:
        left, right = span.left_mm, span.right_mm
        words = span.each.words
        marks: list[Mark] = []
        if wire.assumed:
            marks.append(Line(((left, 0.0), (right, 0.0)), ASSUMED))
        else:
            marks += look(wire, ((left + _END_MM, 0.0), (right - _END_MM, 0.0)))
            for one, two in ((left, left + _END_MM), (right - _END_MM, right)):
                marks.append(Line(((one, 0.0), (two, 0.0)), STROKE))
            marks += [terminal((left + _END_MM, 0.0)), terminal((right - _END_MM, 0.0))]
        wide = span.each.words.width_mm(self.size_pt)
        at_right = (wire.assumed or span.is_right) and right - left > wide + 6.0
        x = right - 2.6 - wide if at_right else left + 2.6
        marks += self.lines(words, x)
        if not wire.lead and not wire.assumed and right - left > max(LONG_MM, 2 * wide + _TWICE_MM):
            if x > left + 3.0:
                marks.append(Text((left + 2.6, -self._base), wire.name, self.size_pt))
            else:
                at = (right - 2.6, -self._base)
                marks.append(Text(at, wire.name, self.size_pt, "end"))
        return Group(
            wire.name, self.ruler.speaker.title(wire), tuple(marks), role="graphics-symbol"
        )

    @property
    def _base(self) -> float:
        return self.ruler.speaker.style.base_mm

    def lines(self, words: Words, x: float) -> Iterator[Text]:
        """Words from a place to the right, above and below the rung."""
        style = self.ruler.speaker.style
        at = x
        if words.bold:
            yield Text((at, -style.base_mm), words.bold, style.size_pt, bold=True)
            at += width_mm(f"{words.bold} ", style.size_pt, bold=True)
        if words.above:
            yield Text((at, -style.base_mm), words.above[0], style.size_pt, bold=words.is_bold)
        for number, (line, is_bold) in enumerate(words.under()):
            y = style.under_mm + number * style.line_mm
            yield Text((x, y), line, style.size_pt, bold=is_bold)

    def _device(self, course: Course, device: Device, span: Extent) -> Group:
        piece = span.each.piece
        middle = self._middle(span)
        marks = [*SYMBOLS[device.kind]((middle, 0.0))]
        if piece.a == device.load and piece.a != piece.b:
            marks = [*mirrored(marks, middle)]
        words = span.each.words
        about = device.about
        if device.in_slot and course.laid.rung.slot:
            return self._slot(course, device, span, marks)
        circuit = self.ruler.circuit_of(piece)
        if circuit is not None:
            marks += self.lines(words, middle + HALF_MM + 1.2)
            return Group(circuit.place, f"circuit {circuit.place} {circuit.label}".strip(),
                         tuple(marks), role="graphics-symbol")  # fmt: skip
        tall, deep = _TALL.get(device.kind, 0.0), _DEEP.get(device.kind, 0.5)
        left = middle + PIN_WORDS_MM if is_pin(piece) else None
        marks += self._about(words, middle, tall, deep, left)
        title = f"{device.kind} {about}"
        if about.note:
            title = f"{title}: {about.note}"
        name = about.name if not device.on_wire else f"{device.on_wire}.fuse"
        return Group(name, title, tuple(marks), role="graphics-symbol")

    def _about(
        self, words: Words, middle: float, tall: float, deep: float, left: float | None
    ) -> Iterator[Text]:  # fmt: skip
        """Words above and below a symbol: in its middle, or from a place to the right."""
        style = self.ruler.speaker.style
        anchor, x = ("middle", middle) if left is None else ("start", left)
        at = middle - words.head_mm(style.size_pt) / 2 if left is None else left
        y = -style.base_mm - tall
        if words.bold:
            yield Text((at, y), words.bold, style.size_pt, bold=True)
            at += width_mm(words.bold, style.size_pt, bold=True) + width_mm(" ", style.size_pt)
        if words.above:
            yield Text((at, y), words.above[0], style.size_pt, bold=words.is_bold)
        for number, (line, is_bold) in enumerate(words.under()):
            y = style.under_mm + deep + number * style.line_mm
            yield Text((x, y), line, style.size_pt, anchor, is_bold)

    def _slot(self, course: Course, device: Device, span: Extent, marks: list[Mark]) -> Group:
        panel, number = course.laid.rung.slot or ("", 0)
        bus, x = self._slot_places(span)
        marks += self.lines(span.each.words, x)
        marks.append(self._number(number, bus))
        return Group(f"{panel}.{number}", f"slot {panel}.{number} {device.about.label}".strip(),
                     tuple(marks), role="graphics-symbol")  # fmt: skip

    def _number(self, number: int, bus: float) -> Text:
        return Text((bus, -1.3), str(number), self.size_pt, "start", bold=True)

    def _slot_places(self, span: Extent) -> tuple[float, float]:
        """Where the number and the words of a slot begin."""
        if self._is_turned(span.each.piece):
            number = span.right_mm - 5.0
            return number, span.left_mm + PAD_MM + 1.4
        return span.left_mm + 1.2, span.left_mm + NAME_MM

    def _idle(self, slot: Slot, span: Extent) -> Group:
        """A slot without a device: dashed where it is kept, crossed out where it is blank."""
        bus, x = self._slot_places(span)
        middle = self._slot_x(span)
        edge = span.right_mm if self._is_turned(span.each.piece) else span.left_mm
        side = 3.2 if edge > middle else -3.2
        marks: list[Mark] = [Line(((edge, 0.0), (middle + side, 0.0)), STROKE)]
        box = ((middle - 3.2, -1.25), (middle + 3.2, -1.25), (middle + 3.2, 1.25),
               (middle - 3.2, 1.25))  # fmt: skip
        dashes = () if slot.use == "blank" else (0.9, 0.6)
        marks.append(Line(box, Pen(0.2, "#606060", dashes), closed=True))
        if slot.use == "blank":
            marks.append(Line((box[3], box[1]), Pen(0.2, "#606060")))
        for number, line in enumerate(span.each.words.above):
            at = (x, 1.0 + number * self.ruler.speaker.style.line_mm)
            marks.append(Text(at, line, self.size_pt))
        marks.append(self._number(slot.number, bus))
        name = f"{slot.panel}.{slot.number}"
        return Group(name, f"slot {name} {' '.join(span.each.words.above)}", tuple(marks),
                     role="graphics-symbol")  # fmt: skip

    def _named(self, circuit: Circuit, span: Extent) -> Group:
        texts = tuple(self.lines(span.each.words, span.left_mm + 1.2))
        return Group(circuit.place, f"circuit {circuit.place} {circuit.label}".strip(), texts)

    def _part(self, each: Set, at: Point) -> Iterator[Mark]:
        """A source or a load with its signs and words."""
        piece, thing = each.piece, each.piece.thing
        if not isinstance(thing, Source | Load):
            return
        kind = thing.kind if isinstance(thing, Source) else load_symbol(thing)
        plus_left = piece.a == thing.plus
        symbol: Sequence[Mark] = SYMBOLS[kind](at)
        is_mirror = not plus_left if kind != "battery" else plus_left
        marks = [*(mirrored(symbol, at[0]) if is_mirror else symbol)]
        signs = (plus_sign, minus_sign) if plus_left else (minus_sign, plus_sign)
        marks += [signs[0]((at[0] - 5.6, -1.9), 8.0), signs[1]((at[0] + 5.8, -1.9), 8.0)]
        marks += self.lines(each.words, at[0] + AFTER_MM)
        title = f"{'load' if isinstance(thing, Load) else thing.kind} {thing.about}"
        if thing.about.note:
            title = f"{title}: {thing.about.note}"
        # What a load of a circuit is called may be any words, those of another group as well.
        is_named_freely = isinstance(thing, Load) and bool(thing.circuit)
        ident = f"load {thing.about.name}" if is_named_freely else thing.about.name
        yield Group(ident, title, tuple(marks), role="graphics-symbol")

    def _end(self, course: Course) -> Iterator[Mark]:
        """What is drawn where a rung leads to no bar."""
        end = course.laid.rung.end
        if end is None or (course.laid.left and course.laid.right):
            return
        side = 0 if course.laid.right else 1
        way = 1.0 if side else -1.0
        x = self.columns.at[course.ends[side]] - way * course.pads[side]
        marks, words = self._end_marks(end, x, way)
        if marks:
            ident = end.terminal if end.kind == "frame" else f"end {end.terminal}"
            yield Group(ident, f"end {' '.join(words)}".strip(), tuple(marks))

    def _end_marks(
        self, end: End, x: float, way: float
    ) -> tuple[list[Mark], tuple[str, ...]]:  # fmt: skip
        """What is drawn at a free end, to the right (1) or left (-1) of a place, and its words."""
        style = self.ruler.speaker.style
        rig = self.ruler.speaker.rig
        anchor = "start" if way > 0 else "end"
        marks: list[Mark] = []
        words: tuple[str, ...] = ()
        if end.kind == "frame":
            marks += chassis((x, 0.0), turn="right")
            name = Text((x + 4.4, 1.0), end.terminal, style.size_pt, bold=True)
            marks = [*marks, name] if way > 0 else [*mirrored([*marks, name], x)]
            return marks, (end_words(rig, end.terminal),)
        if end.kind in ("cut", "resumed"):
            marks.append(Circle((x + way * 2.3, 0.0), 2.3, STROKE, "#ffffff"))
            at = (x + way * 2.3, 1.0)
            marks.append(Text(at, end.terminal, style.size_pt, "middle", bold=True))
            return marks, (end.terminal,)
        if end.kind == "open":
            marks += unknown_end((x + way, 0.0))
            words = self.ruler.speaker.broken(end_text(rig, end.terminal), style.load_mm)
        elif end.kind == "there":
            marks += mirrored(reference((x, 0.0)), x) if way < 0 else reference((x, 0.0))
            words = self.ruler.speaker.broken(short_end(rig, end.terminal), style.load_mm)
        for number, line in enumerate(words):
            at = (x + way * 3.0, 1.0 + number * style.line_mm)
            marks.append(Text(at, line, style.size_pt, anchor))
        return marks, words


_TALL = {"fuse": 0.6, "breaker": 1.7, "disconnect": 1.7, "switch": 1.7, "relay": 1.7,
         "combiner": 1.7, "shunt": 2.3, "connector": 0.8}  # fmt: skip
_DEEP = {"relay": 1.6, "combiner": 1.6}


def _is_assumed(piece: Piece) -> bool:
    return isinstance(piece.thing, Conductor) and piece.thing.assumed


def look(wire: Conductor, path: tuple[Point, ...]) -> tuple[Line, ...]:
    """A conductor in its colours; thin where its colour is not stated, dashed where assumed."""
    if wire.assumed:
        return (Line(path, ASSUMED),)
    if wire.colour is None:
        return (Line(path, PLAIN),)
    area_m2 = 0.0 if isinstance(wire.size, Unknown) else wire.size.area_m2
    thick_mm = 1.3 if area_m2 >= _THICK_AREA_M2 else 0.9
    base, stripe = shades(wire.colour)
    if base is None:
        return conductor(path, "#ffffff", None, thick_mm, unknown=True)
    return conductor(path, base, stripe, thick_mm)
