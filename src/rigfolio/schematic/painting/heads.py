"""What stands at the head of a bar: its name, the head of its frame or of its box."""

from collections.abc import Iterator, Sequence

from rigfolio.draw import STROKE, Box, Line, Mark, Pen, Text, plus_sign, width_mm
from rigfolio.schematic.chains import Bar
from rigfolio.schematic.painting.placement import Placement
from rigfolio.schematic.setting import ASIDE_MM, BOX_MM, PANEL_LEFT_MM, broken

FRAME = Pen(0.5)
HEAD_MM = 5.2
"""From the first row of a bar up to its name."""
BOX_TOP_MM, BOX_FOOT_MM = 4.2, 4.2
"""From the first row of a box up to its edge, and from its last one down."""
_TOP_MM, _TITLE_MM, _WORDS_MM = 4.8, 3.8, 40.0
_CLEAR_MM = 1.4


class HeadPainter:
    """Draws heads of bars about the height of their first row."""

    def __init__(self, place: Placement) -> None:
        self.place = place
        self._tops: dict[str, float] = {}

    def words(self, bar: Bar) -> str:
        """The name at the head of a bar."""
        return self.place.ruler.speaker.head(bar)

    def name(self, bar: Bar) -> Iterator[Mark]:
        """The name of a plain bar, clear of the bars that run beside it."""
        place = self.place
        words, x = self.words(bar), place.x(bar.name)
        if not words:
            return
        if bar.is_minor:
            yield Text((x, -1.7), words, place.size_pt, "middle")
            return
        wide = width_mm(words, place.size_pt, bold=True)
        row = place.span(bar.name)[0]
        aside = place.edge(bar)
        shifts = {"middle": -wide / 2, "start": -ASIDE_MM, "end": ASIDE_MM - wide}
        if aside:
            shifts = {"start" if aside < 0 else "end": 0.0} | shifts
        anchor = next(
            (
                anchor for anchor, by in shifts.items()
                if place.is_clear(x + by, x + by + wide, (row - 1, row), bar.name)
            ),
            "middle",
        )  # fmt: skip
        at = {"middle": x, "start": x - ASIDE_MM, "end": x + ASIDE_MM}[anchor]
        yield Text((at, -HEAD_MM - 0.6), words, place.size_pt, anchor, bold=True)

    def _title(self, bar: Bar) -> tuple[tuple[str, ...], tuple[str, ...]]:
        """Lines of name and facts of a panel."""
        panel = bar.panel
        if panel is None:
            return (), ()
        ruler = self.place.ruler
        room = PANEL_LEFT_MM + ruler.slot_mm[panel.about.name] - 3.0
        name = f"{panel.about.name} {panel.about.label}".strip()
        title = broken(name, room, ruler.size_pt + 1.0, bold=True)
        return title, ruler.speaker.broken(ruler.speaker.panel(bar), room)

    def make_room(self, bar: Bar, boxes: Sequence[Box]) -> None:
        """Keep the words of a panel above what stands in its first row."""
        high = max((-box[1] for box in boxes), default=0.0)
        self._tops[bar.name] = max(_TOP_MM, high + _CLEAR_MM)

    def frame_top(self, bar: Bar) -> float:
        """From the first row of a panel up to the edge of its frame."""
        title, facts = self._title(bar)
        line_mm = self.place.ruler.speaker.style.line_mm
        top = self._tops.get(bar.name, _TOP_MM)
        return top + _TITLE_MM * len(title) + line_mm * len(facts) + 0.6

    def panel(self, bar: Bar) -> Iterator[Mark]:
        """Name and facts of a panel within the upper edge of its frame."""
        place, x = self.place, self.place.x(bar.name)
        left, right = place.reach(bar.name)
        top = -self.frame_top(bar)
        title, facts = self._title(bar)
        y = top
        for line in title:
            y += _TITLE_MM
            yield Text((x - left + 1.5, y), line, place.size_pt + 1.0, bold=True)
        for line in facts:
            y += place.ruler.speaker.style.line_mm
            yield Text((x - left + 1.5, y + 0.4), line, place.size_pt)
        side = -2.2 if left == PANEL_LEFT_MM else 2.2
        yield plus_sign((x + side, -1.9 if PANEL_LEFT_MM in (left, right) else -5.2))
        yield Line(((x - left, top), (x + right, top)), FRAME)

    def box(self, bar: Bar) -> Iterator[Mark]:
        """The name of a selector or converter above the upper edge of its box."""
        x, speaker = self.place.x(bar.name), self.place.ruler.speaker
        yield Line(((x - BOX_MM, -BOX_TOP_MM), (x + BOX_MM, -BOX_TOP_MM)), STROKE)
        lines = speaker.broken(self.words(bar), _WORDS_MM, bold=True)
        for number, line in enumerate(reversed(lines)):
            y = -BOX_TOP_MM - 1.0 - number * speaker.style.line_mm
            yield Text((x, y), line, self.place.size_pt, "middle", bold=True)
