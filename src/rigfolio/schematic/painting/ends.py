"""What is drawn where a rung leads to no bar."""

from collections.abc import Iterator

from rigfolio.draw import (
    STROKE,
    Circle,
    Group,
    Mark,
    Text,
    chassis,
    mirrored,
    reference,
    unknown_end,
)
from rigfolio.record import record
from rigfolio.schematic.chains import End
from rigfolio.schematic.setting import Speaker, end_text
from rigfolio.wording import end_words, short_end

_FOLD_MM, _WORDS_MM = 2.3, 3.0


@record
class EndPainter:
    """Draws free ends at height 0, to the right (`way` 1) or to the left (-1) of a place."""

    speaker: Speaker

    def end(self, end: End, x: float, way: float) -> Iterator[Group]:
        """The group of an end; none where nothing is drawn."""
        if end.kind == "frame":
            marks, words = self._frame(end, x, way)
        elif end.kind in ("cut", "resumed"):
            marks, words = self._fold(end, x, way)
        else:
            marks, words = self._named(end, x, way)
        if marks:
            ident = end.terminal if end.kind == "frame" else f"end {end.terminal}"
            yield Group(ident, f"end {' '.join(words)}".strip(), tuple(marks))

    def _frame(self, end: End, x: float, way: float) -> tuple[list[Mark], tuple[str, ...]]:
        """The sign of the frame with its name."""
        name = Text((x + 4.4, 1.0), end.terminal, self.speaker.style.size_pt, bold=True)
        marks: list[Mark] = [*chassis((x, 0.0), turn="right"), name]
        if way < 0:
            marks = [*mirrored(marks, x)]
        return marks, (end_words(self.speaker.rig, end.terminal),)

    def _fold(self, end: End, x: float, way: float) -> tuple[list[Mark], tuple[str, ...]]:
        """The letter of a rung that goes on elsewhere on the page."""
        at = x + way * _FOLD_MM
        ring = Circle((at, 0.0), _FOLD_MM, STROKE, "#ffffff")
        letter = Text((at, 1.0), end.terminal, self.speaker.style.size_pt, "middle", bold=True)
        return [ring, letter], (end.terminal,)

    def _named(self, end: End, x: float, way: float) -> tuple[list[Mark], tuple[str, ...]]:
        """Where a rung goes on, or that nobody knows."""
        style, rig = self.speaker.style, self.speaker.rig
        marks: list[Mark] = []
        words: tuple[str, ...] = ()
        if end.kind == "open":
            marks += unknown_end((x + way, 0.0))
            words = self.speaker.broken(end_text(rig, end.terminal), style.load_mm)
        elif end.kind == "there":
            marks += mirrored(reference((x, 0.0)), x) if way < 0 else reference((x, 0.0))
            words = self.speaker.broken(short_end(rig, end.terminal), style.load_mm)
        anchor = "start" if way > 0 else "end"
        for number, line in enumerate(words):
            at = (x + way * _WORDS_MM, 1.0 + number * style.line_mm)
            marks.append(Text(at, line, style.size_pt, anchor))
        return marks, words
