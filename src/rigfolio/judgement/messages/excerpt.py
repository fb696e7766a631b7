"""The lines of a text that a message points at, drawn so that its marks stand right.

Offsets are turned into lines and columns here and nowhere else. Columns count characters from 1;
marks count the cells of a terminal, where a tab is as wide as it needs and some letters take two.
"""

from bisect import bisect_right
from collections.abc import Iterator, Sequence

from rigfolio.findings import Label, Span
from rigfolio.record import record
from rigfolio.reports import unheaped, width

TAB_CELLS = 4
WIDEST = 100
"""Characters of a source line that are shown; a longer one is cut around the place."""
_BEFORE = 40
_FULL = 110
_WRAP = 88
_DOT = "\N{REPLACEMENT CHARACTER}"


class Lines:
    """Where the lines of a text begin."""

    def __init__(self, text: str) -> None:
        self.text = text
        self._starts = [0]
        at = text.find("\n")
        while at >= 0:
            self._starts.append(at + 1)
            at = text.find("\n", at + 1)

    def place(self, offset: int) -> tuple[int, int]:
        """Line and column of a character, both counted from 1."""
        line = bisect_right(self._starts, min(offset, len(self.text)))
        return line, offset - self._starts[line - 1] + 1

    def bounds(self, line: int) -> tuple[int, int]:
        """Where a line begins, and where it ends without its line break."""
        start = self._starts[line - 1]
        end = self._starts[line] - 1 if line < len(self._starts) else len(self.text)
        return start, end - 1 if end > start and self.text[end - 1] == "\r" else end


@record
class Mark:
    """A label within a line: `start` and `end` are characters of the line."""

    line: int
    start: int
    end: int
    sign: str
    text: str


@record
class ExcerptRow:
    """One row of an excerpt; `kind` is `source`, `^`, `~`, `more` (of a label's text) or `gap`."""

    kind: str
    number: str
    text: str
    note: str = ""


def marks(lines: Lines, main: Label, others: Sequence[Label]) -> list[Mark]:
    """The labels of one file by line, the main one first within its line."""
    made = [_mark(lines, main.span, "^", main.text)]
    made += [_mark(lines, other.span, "~", other.text) for other in others]
    return sorted(made, key=lambda mark: (mark.line, mark.sign != "^", mark.start))


def _mark(lines: Lines, span: Span, sign: str, text: str) -> Mark:
    line, column = lines.place(span.start)
    start, end = lines.bounds(line)
    return Mark(line, column - 1, max(min(span.end, end) - start, column), sign, text)


def rows(lines: Lines, made: Sequence[Mark]) -> Iterator[ExcerptRow]:
    """Source lines, each with its marks below it; what lies between two of them is a gap."""
    before = 0
    for group in _groups(lines, made):
        number = group[0].line
        if before and number > before + 1:
            yield ExcerptRow("gap", "", "...")
        start, end = lines.bounds(number)
        low, high = _window(group[0], end - start)
        shown, cells = _drawn(lines.text[start + low : start + high])
        head = "…" if low else ""
        tail = "…" if start + high < end else ""
        yield ExcerptRow("source", str(number), (head + shown + tail).rstrip())
        for mark in group:
            yield from _marked(mark, low, cells, len(head))
        before = number


def _groups(lines: Lines, made: Sequence[Mark]) -> Iterator[list[Mark]]:
    """Marks that share one drawing of their line; a line that is cut is drawn for each of them."""
    group: list[Mark] = []
    for mark in made:
        start, end = lines.bounds(mark.line)
        if group and (mark.line != group[0].line or end - start > WIDEST):
            yield group
            group = []
        group.append(mark)
    if group:
        yield group


def _window(mark: Mark, length: int) -> tuple[int, int]:
    if length <= WIDEST:
        return 0, length
    low = min(max(0, mark.start - _BEFORE), length - WIDEST)
    return low, low + WIDEST


def _marked(mark: Mark, low: int, cells: Sequence[int], shift: int) -> Iterator[ExcerptRow]:
    last = len(cells) - 1
    start = cells[min(mark.start - low, last)]
    end = cells[min(mark.end - low, last)]
    left = " " * (start + shift)
    signs = mark.sign * max(1, end - start)
    if len(left) + len(signs) + len(mark.text) < _FULL:
        yield ExcerptRow(mark.sign, "", left + signs, mark.text)
        return
    yield ExcerptRow(mark.sign, "", left + signs)
    for piece in _wrapped(mark.text):
        yield ExcerptRow("more", "", "", f"    {piece}")


def _wrapped(text: str) -> Iterator[str]:
    """The words of a text on lines of one width; what stands in backticks stays together."""
    line, word = "", ""
    for piece in text.split(" "):
        word = f"{word} {piece}" if word else piece
        if word.count("`") % 2 and len(word) < _WRAP // 2:
            continue
        if line and len(line) + 1 + len(word) > _WRAP:
            yield line
            line = ""
        line, word = (f"{line} {word}" if line else word), ""
    yield f"{line} {word}".strip()


def _drawn(text: str) -> tuple[str, list[int]]:
    """A piece of a line as a terminal shows it, and the cell of each of its characters."""
    shown: list[str] = []
    cells = [0]
    for char in unheaped(text):
        if char == "\t":
            wide = TAB_CELLS - cells[-1] % TAB_CELLS
            char = " " * wide  # noqa: PLW2901
        else:
            wide, char = _cell(char)  # noqa: PLW2901
        shown.append(char)
        cells.append(cells[-1] + wide)
    return "".join(shown), cells


def _cell(char: str) -> tuple[int, str]:
    """The cells of a character, and what stands for one that a terminal would obey."""
    if " " <= char <= "~":
        return 1, char
    if char == "\xa0":
        return 1, " "
    if not char.isprintable():
        return 1, _DOT
    # Nothing, where too many marks lie upon a letter.
    return width(char), char
