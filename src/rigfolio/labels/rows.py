"""The rows of a label beside or below its number: name, rating, wire, in a box of any height.

The rating is what somebody with a fuse in the hand looks for: it is set larger than the wire. How
large is asked of each label alone, or told for all labels of a strip together.
"""

from collections.abc import Iterator
from itertools import product

from rigfolio.draw import Box, Mark, Style, block, fit, holds, ink_mm, width_mm
from rigfolio.labels.content import SlotLabel
from rigfolio.labels.type import (
    FLOOR_PT,
    LINE_MM,
    MOST_LINES,
    ROW_MM,
    always_style,
    inside,
    inverse,
    named,
    stays_mm,
    warning,
)
from rigfolio.record import record

GAP_MM = 0.8
RATING_PT = 13.0
"""Largest type of a rating."""
_EASY_PT = 7.0
"""Type of a rating that a longer wording is not worth going below."""
_BEYOND_PT = 0.5
"""By how much the type of a rating is larger than that of the wire, at the least."""
_WIRE_PT = 8.0
_SLACK_MM = 0.1
_TIGHT_MM = (LINE_MM, 2.4, 2.1)
"""One line of the smallest type with air, with accents, with neither."""
_NAME_SHARE, _RATING_SHARE = 0.41, 0.31
_CLEAR_MM = 1.0
"""How far a name of two lines keeps from the line along which a label is cut."""


@record
class _RowHeights:
    """How high the rows of a label are: name, rating, wire [mm]; which type the name is set in."""

    name_mm: float
    rating_mm: float
    wire_mm: float
    bold: bool = True


def _broken(high: float) -> Iterator[_RowHeights]:
    """Divisions that break a warning over lines, where no other one holds it."""
    for line in (*_TIGHT_MM, 0.0):
        if high - line >= line:
            yield _RowHeights(line, high - line, 0.0)


class Rows:
    """What a label says of its circuit, in a box that keeps `clear_mm` from the cut."""

    def __init__(
        self, label: SlotLabel, box: Box, *, clear_mm: float, rating_pt: float = RATING_PT
    ) -> None:
        self.label, self.box, self.rating_pt = label, box, rating_pt
        self.name_lines = MOST_LINES if clear_mm >= _CLEAR_MM - 1e-9 else 1

    def rest_fits(self) -> bool:
        """Whether all but the name has room, beside a row for it."""
        return any(plan.name_mm and self._rest_fits(plan) for plan in self._plans())

    def size_pt(self) -> float:
        """The type in which the rating stands; the largest where there is none to be set."""
        plan = self._chosen()
        room = self._rating_box(plan, (0.0, 0.0, self.box[2], plan.rating_mm))
        said = self._rating_words(plan)
        return self._largest(said, room) if said and not self.label.is_warned else RATING_PT

    def marks(self) -> Iterator[Mark]:
        """Name, rating and wire in rows; the wire is left out where the box is too low."""
        left, top, wide, _ = self.box
        plan = self._chosen()
        if plan.name_mm:
            name, style = (left, top, wide, plan.name_mm), self._name_style(plan)
            yield from block(named(self.label, name, style), name, style)
        yield from self._rating(plan, (left, top + plan.name_mm, wide, plan.rating_mm))
        if plan.wire_mm:
            below = top + plan.name_mm + plan.rating_mm
            yield from self._wire(plan, (left, below, wide, plan.wire_mm))

    def _chosen(self) -> _RowHeights:
        broken = _broken(self.box[3]) if self.label.is_warned else ()
        return self.plan() or max((*self._plans(), *broken), key=self._worth)

    def _plans(self) -> Iterator[_RowHeights]:
        """Divisions of the height, from the best looking one to the one that holds most."""
        high = self.box[3]
        if high < 1.4 * LINE_MM:
            yield _RowHeights(0.0, high, 0.0)
        elif high < 2.4 * LINE_MM:
            yield _RowHeights(0.5 * high, 0.5 * high, 0.0)
        else:
            rating = _RATING_SHARE * high
            yield _RowHeights(_NAME_SHARE * high, rating, high - _NAME_SHARE * high - rating)
            for line, bold, lines in product(_TIGHT_MM, (True, False), (1, 2, 3, 4)):
                rating, wire = line + 0.2, line + (lines - 1) * ROW_MM
                if high - rating - wire >= line - _SLACK_MM:
                    yield _RowHeights(high - rating - wire, rating, wire, bold)

    def plan(self) -> _RowHeights | None:
        """The first division that holds all; None where there is none."""
        return next((plan for plan in self._plans() if self._takes(plan)), None)

    def _takes(self, plan: _RowHeights) -> bool:
        name = (0.0, 0.0, self.box[2], plan.name_mm)
        if plan.name_mm and not holds(self.label.name, name, self._name_style(plan)):
            return False
        return self._rest_fits(plan)

    def _worth(self, plan: _RowHeights) -> tuple[bool, bool, bool]:
        """What a division is good for where none holds all: warnings, rating, then the wire."""
        wide = self.box[2]
        room = inside((0.0, 0.0, wide, plan.rating_mm))
        warned = not self.label.is_warned or any(
            holds(each, room, warning(room)) for each in self._warnings(plan)
        )
        return warned and self._always_fits(plan), self._rating_fits(plan), self._wire_fits(plan)

    def _rest_fits(self, plan: _RowHeights) -> bool:
        """Whether all but the name stands in its rows."""
        return self._rating_fits(plan) and self._wire_fits(plan)

    def _rating_fits(self, plan: _RowHeights) -> bool:
        room = (0.0, 0.0, self.box[2], plan.rating_mm)
        if not self.label.is_warned:
            return bool(self._rating_words(plan)) and self._always_fits(plan)
        room = inside(room)
        # The last wording lacks the largest fuse.
        return any(holds(each, room, warning(room)) for each in self._warnings(plan)[:-1])

    def _name_style(self, plan: _RowHeights) -> Style:
        size = max(8.0, min(14.0, 0.68 * self.box[3]))
        return Style(size, FLOOR_PT, self.name_lines, bold=plan.bold, align="start")

    def _warnings(self, plan: _RowHeights) -> tuple[str, ...]:
        """Wordings of a fuse too large, with what else there is no other row for."""
        label = self.label
        name = "" if plan.name_mm else f"{label.name}: "
        always = f", {label.stays}" if label.stays and not plan.wire_mm else ""
        return tuple(f"{name}{rating}{always}" for rating in label.ratings)

    def _rating_words(self, plan: _RowHeights) -> str:
        """The longest wording of the rating that has room, with a name that has no row; or none."""
        name = "" if plan.name_mm else f" {self.label.name}"
        room = self._rating_box(plan, (0.0, 0.0, self.box[2], plan.rating_mm))
        least = FLOOR_PT + _BEYOND_PT if plan.wire_mm else FLOOR_PT
        for size, rating in product((_EASY_PT, least), self.label.ratings):
            if room[2] > 0 and self._largest(f"{rating}{name}", room) >= max(size, least):
                return f"{rating}{name}"
        return ""

    def _largest(self, words: str, room: Box) -> float:
        """The largest type of a row that holds some words; 0 where the smallest is too large."""
        above, below = ink_mm(f"dgj{words}", 1.0, bold=True)
        cap = min(RATING_PT, 2.0 + 1.9 * room[3], room[3] / (above + below))
        if cap < FLOOR_PT or width_mm(words, FLOOR_PT, bold=True) > room[2]:
            return 0.0
        return fit(words, room[2], size_pt=cap, floor_pt=FLOOR_PT, bold=True).size_pt

    def _rating_box(self, plan: _RowHeights, box: Box) -> Box:
        """The room of the rating: what has no row of its own stands at the end of it."""
        left, top, wide, high = box
        return left, top, wide - (0.0 if plan.wire_mm else self._beside()), high

    def _rating(self, plan: _RowHeights, box: Box) -> Iterator[Mark]:
        if self.label.is_warned:
            room, words = inside(box), self._warnings(plan)
            said = next((e for e in words if holds(e, room, warning(room))), words[-1])
            yield from inverse(said, box, warning(room))
            return
        room = self._rating_box(plan, box)
        said = self._rating_words(plan) or self.label.ratings[-1]
        if room[2] > 0:
            size = max(FLOOR_PT, min(self.rating_pt, self._largest(said, room)))
            style = Style(size, FLOOR_PT, bold=True, align="start")
            if not plan.name_mm:
                said = named(self.label, room, style, said)
            # Where not even the shortest has room, the note says it.
            if holds(said, room, style):
                yield from block(said, room, style)
        if self.label.stays and not plan.wire_mm:
            yield from self._always(box)

    def _beside(self) -> float:
        """How much of a row the words on what must stay on take."""
        wide, _ = stays_mm(self.label.stays, self.box[2])
        return wide + 1.0 + GAP_MM if self.label.stays else 0.0

    def _always_fits(self, plan: _RowHeights) -> bool:
        if not self.label.stays or (self.label.is_warned and not plan.wire_mm):
            return True
        high = plan.wire_mm or plan.rating_mm
        room = inside(self._always_box((0.0, 0.0, self.box[2], high)))
        return holds(self.label.stays, room, always_style(self.label.stays, room))

    def _always_box(self, box: Box) -> Box:
        """The place of the words on what must stay on, at the end of a row."""
        left, top, wide, high = box
        mark_mm = min(self._beside() - GAP_MM, wide)
        mark_high = min(high, stays_mm(self.label.stays, self.box[2])[1])
        return left + wide - mark_mm, top + (high - mark_high) / 2, mark_mm, mark_high

    def _always(self, box: Box) -> Iterator[Mark]:
        """What is said of what must stay on, whole; where that has no room, the note says it."""
        on = self._always_box(box)
        words, room = self.label.stays, inside(on)
        if holds(words, room, always_style(words, room)):
            yield from inverse(words, on, always_style(words, room))

    def _wire_pt(self, plan: _RowHeights) -> float:
        """The largest type of the wire: smaller than that of the rating."""
        said = self._rating_words(plan)
        if self.label.is_warned or not said:
            return _WIRE_PT
        room = self._rating_box(plan, (0.0, 0.0, self.box[2], plan.rating_mm))
        rating_pt = min(self.rating_pt, self._largest(said, room))
        return max(FLOOR_PT, min(_WIRE_PT, rating_pt - _BEYOND_PT))

    def _wire_words(self, plan: _RowHeights, room: Box) -> tuple[str, Style] | None:
        """The best wording of the wire and how it is set: on one line before it is broken."""
        if room[2] <= 0:
            return None
        size = self._wire_pt(plan)
        lines = max(1, int(room[3] / ROW_MM))
        for style in (Style(size, FLOOR_PT, align="start"),
                      Style(size, FLOOR_PT, lines, align="start")):  # fmt: skip
            for words in self.label.wires:
                if holds(words, room, style):
                    return words, style
        return None

    def _wire_fits(self, plan: _RowHeights) -> bool:
        if not plan.wire_mm:
            return True
        room = (0.0, 0.0, self.box[2] - self._beside(), plan.wire_mm)
        return self._wire_words(plan, room) is not None and self._always_fits(plan)

    def _wire(self, plan: _RowHeights, box: Box) -> Iterator[Mark]:
        left, top, wide, high = box
        if self.label.stays:
            yield from self._always(box)
            wide -= self._beside()
        said = self._wire_words(plan, (left, top, wide, high))
        # Where no wording has room, the note says the wire.
        if said is not None:
            yield from block(said[0], (left, top, wide, high), said[1])
