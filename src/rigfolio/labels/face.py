"""How a slot label is drawn in a box of any size, so that nothing that it says gets lost.

Type goes down to 5.5 pt. What a label cannot hold whole is said shorter, with the number of a note
that says all of it; `is_whole` tells which labels need one.
"""

from collections.abc import Iterator
from itertools import product

from rigfolio.draw import Box, Line, Mark, Pen, Style, block, holds, patch, rect, width_mm
from rigfolio.labels.content import Label
from rigfolio.labels.type import (
    ALWAYS,
    ALWAYS_MM,
    EMPTY,
    FLOOR_PT,
    LINE_MM,
    MOST_LINES,
    NUMBER,
    PAD_MM,
    ROW_MM,
    always_style,
    inside,
    inverse,
    named,
    warning,
    wire_style,
)
from rigfolio.record import record

NUMBER_ONLY_MM = 8.0
"""In a narrow box that is no larger than this a label has room for its number alone."""
LOWEST_MM = 3.6
"""In a lower box of any width too: the smallest type takes more."""

_CUT = Pen(0.1)
_FRAME = Pen(0.1, "#707070")
_NUMBER_MM, _NUMBER_SHARE, _WIDEST_SHARE = 9.0, 0.3, 0.45
_BAR_MM, _BAR_SHARE = 3.2, 0.08
_STACKED_MM = 26.0
_GAP_MM = 0.8
_SLACK_MM, _HAIR_MM = 0.1, 0.01
_TIGHT_MM = (LINE_MM, 2.4, 2.1)
"""One line of the smallest type with air, with accents, with neither."""
_NAME_SHARE, _FUSE_SHARE = 0.41, 0.31
_PLACE_PT = 9.0


@record
class _Plan:
    """How high the rows of a label are: name, fuse, wire [mm]; which type the name is set in.

    `is_double` puts the largest fuse below the one that is fitted, for a narrow label.
    """

    name_mm: float
    fuse_mm: float
    wire_mm: float
    bold: bool = True
    is_double: bool = False


def drawn(label: Label, box: Box, *, framed: bool = True) -> tuple[Mark, ...]:
    """A label in a box: number, name, fuse, wire, and a bar in the colour of the fuse."""
    marks: list[Mark] = [rect(*box, pen=_FRAME)] if framed else []
    return (*marks, *_Face(label, box).marks())


def lacking(label: Label, box: Box) -> str:
    """What a note has to say of a label that is not whole in a box of this size."""
    return _Face(label, box).lacks()


def is_whole(label: Label, box: Box) -> bool:
    """Whether all that a label says stands on it, unshortened, in a box of this size."""
    return _Face(label, box).is_whole()


def note_labels(number: int, words: str, box: Box) -> Iterator[Label]:
    """The note of a label as labels of their own, as many of a size as its words need."""
    name, parts = f"[{number}]", words.split(" ")
    while parts:
        count = len(parts)
        while count > 1 and not is_whole(Label(name, "", " ".join(parts[:count])), box):
            count -= 1
        yield Label(name, "", " ".join(parts[:count]), is_note=True)
        parts = parts[count:]


class _Face:
    """One label in one box; in a narrow box the number stands above the words."""

    def __init__(self, label: Label, box: Box) -> None:
        left, top, wide, high = box
        self.label = label
        self.bare = high < LOWEST_MM or (min(wide, high) < NUMBER_ONLY_MM and wide < _STACKED_MM)
        self.stacked = wide < _STACKED_MM
        self.bar = box
        self.bar_mm = min(_BAR_MM, _BAR_SHARE * wide)
        inner = (left + PAD_MM, top + PAD_MM, wide - 2 * PAD_MM, high - 2 * PAD_MM)
        if self.bare:
            close = PAD_MM / 4
            self.number = (left + close, top + close, wide - 2 * close, high - 2 * close)
            self.words = inner
        elif self.stacked:
            head = max(3.4, 0.27 * high)
            self.number = (inner[0], inner[1], inner[2] - self.bar_mm - 0.4, head)
            self.words = (inner[0], inner[1] + head, inner[2], inner[3] - head)
            self.bar = (left + wide - self.bar_mm - PAD_MM, top + 0.6, self.bar_mm, head - 0.4)
        else:
            column = min(_NUMBER_MM, _NUMBER_SHARE * wide)
            if not holds(label.number, (0.0, 0.0, column - 2 * PAD_MM, inner[3]), NUMBER):
                needed = width_mm(label.number, 6.5, bold=True) + 2.1 * PAD_MM
                column = max(column, min(needed, _WIDEST_SHARE * wide))
            self.number = (inner[0], inner[1], column - 2 * PAD_MM, inner[3])
            taken = column + _GAP_MM + self.bar_mm + _GAP_MM
            self.words = (left + column + _GAP_MM, inner[1], wide - taken - PAD_MM, inner[3])
            self.bar = (left + wide - self.bar_mm - PAD_MM, top + 0.6, self.bar_mm, high - 1.2)
        self.free = not label.shade
        """Whether the room of the colour bar may go to the words."""

    def is_whole(self) -> bool:
        """Whether number and words are all there."""
        if self.bare:
            return False
        number, words = self._number_box(), self._words()
        if not holds(self.label.number, number, NUMBER):
            return False
        if not self.label.has_circuit:
            return holds(self.label.name, words, EMPTY)
        return self._plan() is not None

    def marks(self) -> Iterator[Mark]:
        """Everything inside the frame."""
        label = self.label
        if self.bare:
            yield from self._bare()
            return
        number = self._number_box()
        if label.above and number[1] > self.number[1]:
            left, top, wide, _ = self.number
            above = (left, top, wide, number[1] - top)
            yield from block(label.above, above, Style(6.5, FLOOR_PT))
        place = label.place if self.stacked else label.number
        wide = width_mm(place, _PLACE_PT, bold=True)
        yield from block(place if wide <= number[2] else label.number, number, NUMBER)
        if not self.stacked:
            edge = self.words[0] - _GAP_MM
            down = (self.number[1] + 0.2, self.number[1] + self.number[3] - 0.2)
            yield Line(((edge, down[0]), (edge, down[1])), _CUT)
        if label.has_circuit:
            yield from self._said()
        else:
            yield from block(named(label, self._words(), EMPTY), self._words(), EMPTY)
        if label.shade:
            yield from patch(*self.bar, label.shade)

    def _bare(self) -> Iterator[Mark]:
        """The number, and the number of the note that says the rest."""
        label = self.label
        words = f"{label.number} [{label.note}]" if label.note else label.number
        style = Style(20, FLOOR_PT, 2, bold=True)
        for said in (words, label.number):
            if holds(said, self.number, style):
                yield from block(said, self.number, style)
                return

    def _number_box(self) -> Box:
        """Where the number stands: below the name of the panel where both have room."""
        left, top, wide, high = self.number
        above = self.label.above
        room = high - 2.4 >= LINE_MM and width_mm(above, FLOOR_PT) <= wide
        if not above or self.stacked or not room:
            return self.number
        return left, top + 2.4, wide, high - 2.4

    def _words(self) -> Box:
        left, top, wide, high = self.words
        return left, top, wide + (self.bar_mm if self.free and not self.stacked else 0.0), high

    def _plans(self) -> Iterator[_Plan]:
        """Divisions of the height, from the best looking one to the one that holds most."""
        high = self._words()[3]
        if high < 1.4 * LINE_MM:
            yield _Plan(0.0, high, 0.0)
        elif high < 2.4 * LINE_MM:
            yield _Plan(0.5 * high, 0.5 * high, 0.0)
        else:
            fuse = _FUSE_SHARE * high
            yield _Plan(_NAME_SHARE * high, fuse, high - _NAME_SHARE * high - fuse)
            fuses = (1, 2) if self.stacked else (1,)
            for line, bold, lines, count in product(_TIGHT_MM, (True, False), (1, 2, 3), fuses):
                fuse, wire = (line + (each - 1) * ROW_MM for each in (count, lines))
                if high - fuse - wire >= line - _SLACK_MM:
                    yield _Plan(high - fuse - wire, fuse, wire, bold, is_double=count == 2)

    def _plan(self) -> _Plan | None:
        """The first division that holds all; None where there is none."""
        return next((plan for plan in self._plans() if self._takes(plan)), None)

    def _takes(self, plan: _Plan) -> bool:
        name = (0.0, 0.0, self._words()[2], plan.name_mm)
        if plan.name_mm and not holds(self.label.name, name, self._name_style(plan)):
            return False
        return self._rest_fits(plan)

    def _worth(self, plan: _Plan) -> tuple[bool, bool, bool]:
        """What a division is good for where none holds all: warnings, fuse, then the wire."""
        wide = self._words()[2]
        room = inside((0.0, 0.0, wide, plan.fuse_mm))
        warned = not self.label.too_large or any(
            holds(each, room, warning(room)) for each in self._warnings(plan)
        )
        return warned and self._always_fits(plan), self._fuse_fits(plan), self._wire_fits(plan)

    def _rest_fits(self, plan: _Plan) -> bool:
        """Whether all but the name stands in its rows."""
        return self._fuse_fits(plan) and self._wire_fits(plan)

    def _fuse_fits(self, plan: _Plan) -> bool:
        wide = self._words()[2]
        if not self.label.too_large:
            return self._pair(plan, wide) is not None
        room = inside((0.0, 0.0, wide, plan.fuse_mm))
        # The last wording lacks the largest fuse.
        return any(holds(each, room, warning(room)) for each in self._warnings(plan)[:-1])

    def lacks(self) -> str:
        """What a note has to say: the name where all the rest is there, else everything."""
        rest = not self.bare and any(plan.name_mm and self._rest_fits(plan)
                                     for plan in self._plans())  # fmt: skip
        return self.label.name if rest and self.label.has_circuit else self.label.in_full

    def _name_style(self, plan: _Plan) -> Style:
        size = max(8.0, min(14.0, 0.68 * self._words()[3]))
        return Style(size, FLOOR_PT, MOST_LINES, bold=plan.bold, align="start")

    def _said(self) -> Iterator[Mark]:
        """Name, fuse and wire in rows; at a pitch too small for three rows the wire is left out."""
        left, top, wide, _ = self._words()
        plans = tuple(self._plans())
        plan = self._plan() or max(plans, key=self._worth)
        if plan.name_mm:
            name, style = (left, top, wide, plan.name_mm), self._name_style(plan)
            yield from block(named(self.label, name, style), name, style)
        yield from self._fuse(plan, (left, top + plan.name_mm, wide, plan.fuse_mm))
        if plan.wire_mm:
            below = top + plan.name_mm + plan.fuse_mm
            yield from self._wire((left, below, wide, plan.wire_mm))

    def _warnings(self, plan: _Plan) -> tuple[str, ...]:
        """Wordings of a fuse too large, with what else there is no other row for."""
        label = self.label
        name = "" if plan.name_mm else f"{label.name}: "
        always = f", {ALWAYS}" if label.always_on and not plan.wire_mm else ""
        return tuple(f"{name}{rating}{always}" for rating in label.ratings)

    def _pairs(self, plan: _Plan) -> Iterator[tuple[str, str]]:
        """Wordings of what is fitted and of the largest fuse, from long to short."""
        label = self.label
        name = "" if plan.name_mm else f" {label.name}"
        always = f"{ALWAYS}, " if label.always_on and not plan.wire_mm else ""
        for rating, largest in product(label.ratings, label.largest):
            yield f"{rating}{name}", f"{always}{largest}"

    def _pair(self, plan: _Plan, wide: float) -> tuple[str, str] | None:
        """The longest wording of rating and largest fuse that has room; None if there is none."""
        for rating, largest in self._pairs(plan):
            first = width_mm(rating, FLOOR_PT, bold=True)
            second = width_mm(largest, FLOOR_PT)
            taken = max(first, second) if plan.is_double else first + second + _GAP_MM
            if taken + 2 * _HAIR_MM <= wide:
                return rating, largest
        return None

    def _fuse(self, plan: _Plan, box: Box) -> Iterator[Mark]:
        left, top, wide, high = box
        if self.label.too_large:
            room, words = inside(box), self._warnings(plan)
            said = next((e for e in words if holds(e, room, warning(room))), words[-1])
            yield from inverse(said, box, warning(room))
            return
        rating, largest = self._pair(plan, wide) or (self.label.ratings[-1], "")
        style = Style(min(12.0, 2.0 + 1.9 * high), FLOOR_PT, bold=True, align="start")
        if plan.is_double:
            half = high / 2
            yield from block(rating, (left, top, wide, half), style)
            small = Style(9, FLOOR_PT, align="start")
            yield from block(largest, (left, top + half, wide, half), small)
            return
        least = width_mm(rating, FLOOR_PT, bold=True) + _HAIR_MM
        most = wide - _GAP_MM - width_mm(largest, FLOOR_PT) - _HAIR_MM
        natural = width_mm(rating, 1.2, bold=True)
        half = (wide - _GAP_MM) * natural / (natural + width_mm(largest, 1.0))
        half = min(max(half, least), most) if least <= most else 0.5 * wide
        room = (left, top, half, high)
        if not plan.name_mm:
            rating = named(self.label, room, style, rating)
        yield from block(rating, room, style)
        second = (left + half + _GAP_MM, top, wide - half - _GAP_MM, high)
        size = max(FLOOR_PT, min(9.0, 2.6 * high))
        yield from block(largest, second, Style(size, FLOOR_PT, align="end"))

    def _beside(self) -> float:
        """How much of the row of the wire the words ALWAYS ON take."""
        return width_mm(ALWAYS, 6, bold=True) + 1.0 + _GAP_MM if self.label.always_on else 0.0

    def _always_fits(self, plan: _Plan) -> bool:
        if not self.label.always_on or not plan.wire_mm:
            return True
        room = inside(self._always_box((0.0, 0.0, self._words()[2], plan.wire_mm)))
        return holds(ALWAYS, room, always_style(room))

    def _always_box(self, box: Box) -> Box:
        """The place of the words ALWAYS ON, at the end of the row of the wire."""
        left, top, wide, high = box
        mark_mm, mark_high = min(self._beside() - _GAP_MM, wide), min(high, ALWAYS_MM)
        return left + wide - mark_mm, top + (high - mark_high) / 2, mark_mm, mark_high

    def _wire_words(self, room: Box) -> tuple[str, Style] | None:
        """The best wording of the wire and how it is set: on one line before it is broken."""
        if room[2] <= 0:
            return None
        for style in (Style(8, FLOOR_PT, align="start"), wire_style(room)):
            for words in self.label.wires:
                if holds(words, room, style):
                    return words, style
        return None

    def _wire_fits(self, plan: _Plan) -> bool:
        if not plan.wire_mm:
            return True
        room = (0.0, 0.0, self._words()[2] - self._beside(), plan.wire_mm)
        return self._wire_words(room) is not None and self._always_fits(plan)

    def _wire(self, box: Box) -> Iterator[Mark]:
        left, top, wide, high = box
        if self.label.always_on:
            on = self._always_box(box)
            yield from inverse(ALWAYS, on, always_style(inside(on)))
            wide -= on[2] + _GAP_MM
        said = self._wire_words((left, top, wide, high))
        # Where no wording has room, the note says the wire.
        if said is not None:
            yield from block(said[0], (left, top, wide, high), said[1])
