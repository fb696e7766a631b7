"""The rows of a slot label beside or below its number: name, fuse, wire, in a box of any height."""

from collections.abc import Iterator
from itertools import product

from rigfolio.draw import Box, Mark, Style, block, holds, width_mm
from rigfolio.labels.content import SlotLabel
from rigfolio.labels.type import (
    ALWAYS_MM,
    FLOOR_PT,
    LINE_MM,
    MOST_LINES,
    ROW_MM,
    always_style,
    inside,
    inverse,
    named,
    warning,
    wire_style,
)
from rigfolio.record import record
from rigfolio.wording import ALWAYS_ON

GAP_MM = 0.8
_SLACK_MM, _HAIR_MM = 0.1, 0.01
_TIGHT_MM = (LINE_MM, 2.4, 2.1)
"""One line of the smallest type with air, with accents, with neither."""
_NAME_SHARE, _FUSE_SHARE = 0.41, 0.31


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


class Rows:
    """What a label says of its circuit, in a box; a narrow one may put two ratings in one row."""

    def __init__(self, label: SlotLabel, box: Box, *, narrow: bool) -> None:
        self.label, self.box, self.narrow = label, box, narrow

    def rest_fits(self) -> bool:
        """Whether all but the name has room, beside a row for it."""
        return any(plan.name_mm and self._rest_fits(plan) for plan in self._plans())

    def marks(self) -> Iterator[Mark]:
        """Name, fuse and wire in rows; at a pitch too small for three rows the wire is left out."""
        left, top, wide, _ = self.box
        plans = tuple(self._plans())
        plan = self.plan() or max(plans, key=self._worth)
        if plan.name_mm:
            name, style = (left, top, wide, plan.name_mm), self._name_style(plan)
            yield from block(named(self.label, name, style), name, style)
        yield from self._fuse(plan, (left, top + plan.name_mm, wide, plan.fuse_mm))
        if plan.wire_mm:
            below = top + plan.name_mm + plan.fuse_mm
            yield from self._wire((left, below, wide, plan.wire_mm))

    def _plans(self) -> Iterator[_Plan]:
        """Divisions of the height, from the best looking one to the one that holds most."""
        high = self.box[3]
        if high < 1.4 * LINE_MM:
            yield _Plan(0.0, high, 0.0)
        elif high < 2.4 * LINE_MM:
            yield _Plan(0.5 * high, 0.5 * high, 0.0)
        else:
            fuse = _FUSE_SHARE * high
            yield _Plan(_NAME_SHARE * high, fuse, high - _NAME_SHARE * high - fuse)
            fuses = (1, 2) if self.narrow else (1,)
            for line, bold, lines, count in product(_TIGHT_MM, (True, False), (1, 2, 3), fuses):
                fuse, wire = (line + (each - 1) * ROW_MM for each in (count, lines))
                if high - fuse - wire >= line - _SLACK_MM:
                    yield _Plan(high - fuse - wire, fuse, wire, bold, is_double=count == 2)

    def plan(self) -> _Plan | None:
        """The first division that holds all; None where there is none."""
        return next((plan for plan in self._plans() if self._takes(plan)), None)

    def _takes(self, plan: _Plan) -> bool:
        name = (0.0, 0.0, self.box[2], plan.name_mm)
        if plan.name_mm and not holds(self.label.name, name, self._name_style(plan)):
            return False
        return self._rest_fits(plan)

    def _worth(self, plan: _Plan) -> tuple[bool, bool, bool]:
        """What a division is good for where none holds all: warnings, fuse, then the wire."""
        wide = self.box[2]
        room = inside((0.0, 0.0, wide, plan.fuse_mm))
        warned = not self.label.too_large or any(
            holds(each, room, warning(room)) for each in self._warnings(plan)
        )
        return warned and self._always_fits(plan), self._fuse_fits(plan), self._wire_fits(plan)

    def _rest_fits(self, plan: _Plan) -> bool:
        """Whether all but the name stands in its rows."""
        return self._fuse_fits(plan) and self._wire_fits(plan)

    def _fuse_fits(self, plan: _Plan) -> bool:
        wide = self.box[2]
        if not self.label.too_large:
            return self._pair(plan, wide) is not None
        room = inside((0.0, 0.0, wide, plan.fuse_mm))
        # The last wording lacks the largest fuse.
        return any(holds(each, room, warning(room)) for each in self._warnings(plan)[:-1])

    def _name_style(self, plan: _Plan) -> Style:
        size = max(8.0, min(14.0, 0.68 * self.box[3]))
        return Style(size, FLOOR_PT, MOST_LINES, bold=plan.bold, align="start")

    def _warnings(self, plan: _Plan) -> tuple[str, ...]:
        """Wordings of a fuse too large, with what else there is no other row for."""
        label = self.label
        name = "" if plan.name_mm else f"{label.name}: "
        always = f", {ALWAYS_ON}" if label.always_on and not plan.wire_mm else ""
        return tuple(f"{name}{rating}{always}" for rating in label.ratings)

    def _pairs(self, plan: _Plan) -> Iterator[tuple[str, str]]:
        """Wordings of what is fitted and of the largest fuse, from long to short."""
        label = self.label
        name = "" if plan.name_mm else f" {label.name}"
        always = f"{ALWAYS_ON}, " if label.always_on and not plan.wire_mm else ""
        for rating, largest in product(label.ratings, label.largest):
            yield f"{rating}{name}", f"{always}{largest}"

    def _pair(self, plan: _Plan, wide: float) -> tuple[str, str] | None:
        """The longest wording of rating and largest fuse that has room; None if there is none."""
        for rating, largest in self._pairs(plan):
            first = width_mm(rating, FLOOR_PT, bold=True)
            second = width_mm(largest, FLOOR_PT)
            taken = max(first, second) if plan.is_double else first + second + GAP_MM
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
        most = wide - GAP_MM - width_mm(largest, FLOOR_PT) - _HAIR_MM
        natural = width_mm(rating, 1.2, bold=True)
        half = (wide - GAP_MM) * natural / (natural + width_mm(largest, 1.0))
        half = min(max(half, least), most) if least <= most else 0.5 * wide
        room = (left, top, half, high)
        if not plan.name_mm:
            rating = named(self.label, room, style, rating)
        yield from block(rating, room, style)
        second = (left + half + GAP_MM, top, wide - half - GAP_MM, high)
        size = max(FLOOR_PT, min(9.0, 2.6 * high))
        yield from block(largest, second, Style(size, FLOOR_PT, align="end"))

    def _beside(self) -> float:
        """How much of the row of the wire the words ALWAYS ON take."""
        return width_mm(ALWAYS_ON, 6, bold=True) + 1.0 + GAP_MM if self.label.always_on else 0.0

    def _always_fits(self, plan: _Plan) -> bool:
        if not self.label.always_on or not plan.wire_mm:
            return True
        room = inside(self._always_box((0.0, 0.0, self.box[2], plan.wire_mm)))
        return holds(ALWAYS_ON, room, always_style(room))

    def _always_box(self, box: Box) -> Box:
        """The place of the words ALWAYS ON, at the end of the row of the wire."""
        left, top, wide, high = box
        mark_mm, mark_high = min(self._beside() - GAP_MM, wide), min(high, ALWAYS_MM)
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
        room = (0.0, 0.0, self.box[2] - self._beside(), plan.wire_mm)
        return self._wire_words(room) is not None and self._always_fits(plan)

    def _wire(self, box: Box) -> Iterator[Mark]:
        left, top, wide, high = box
        if self.label.always_on:
            on = self._always_box(box)
            yield from inverse(ALWAYS_ON, on, always_style(inside(on)))
            wide -= on[2] + GAP_MM
        said = self._wire_words((left, top, wide, high))
        # Where no wording has room, the note says the wire.
        if said is not None:
            yield from block(said[0], (left, top, wide, high), said[1])
