"""A text as rows: what stands on each of its lines, and which lines share their columns."""

from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass

from rigfolio.findings import Finding
from rigfolio.lang import BLANKS, Block, TextLine, blocks, parse
from rigfolio.layout.cells import LineRole, TabCell, cells_of, pieces_of
from rigfolio.layout.shapes import PLAIN, LineShape
from rigfolio.reading import Said, goes_on, statement

STEP = "    "


@dataclass(slots=True)
class LaidLine:
    """One line of a text.

    `start` and `end` are characters of the text, the line break left aside. A row that is `kept`
    stays as it is. Lines of one `section` have no empty line between them; those of one `table`
    have their columns in common.
    """

    start: int
    end: int
    section: int
    kept: bool = False
    indent: str = ""
    cells: tuple[TabCell, ...] = ()
    shape: LineShape = PLAIN
    comment: str = ""
    table: tuple[int, int] = (0, 0)


class LaidText:
    """The rows of a text, one for each of its lines; and why some of them stay as they are."""

    def __init__(self, text: str, file: str) -> None:
        self.text = text
        self.rows = list(_lines(text))
        self._starts = [row.start for row in self.rows]
        lines, problems = parse(text, file)
        whole, strays = blocks(lines)
        self.found: list[Finding] = [*problems, *strays]
        unread = {self._number(one.at.span.start) for one in self.found}
        self._comments()
        for number in unread:
            self.rows[number].kept = True
        for number, block in enumerate(whole, 1):
            self._block(block, number, unread)

    def _number(self, at: int) -> int:
        """The line of a character, counted from 0."""
        return bisect_right(self._starts, at) - 1

    def _comments(self) -> None:
        """Take every line for a comment or an empty one; what says something is put in later."""
        for row in self.rows:
            said = self.text[row.start : row.end].strip(BLANKS)
            row.comment = said if said.startswith("#") else ""
            row.kept = bool(said) and not row.comment

    def _block(self, block: Block, number: int, unread: set[int]) -> None:
        found: list[Finding] = []
        said = statement(block, found)
        self.found += found
        if said is None:
            return
        lines = (block.header, *block.body)
        bad = unread | {self._number(one.at.span.start) for one in found}
        wanted = _indents(block)
        places = [self._number(line.span.start) for line in lines]
        is_frozen = any(
            self._indent(place) not in ("", STEP)
            for place in bad
            if places[0] < place <= places[-1]
        )
        facts = _facts(said)
        statements = {one.span.start for one in said.inside}
        for line, place, indent in zip(lines, places, wanted, strict=True):
            row = self.rows[place]
            starts_well = "," not in self.text[row.start : line.span.start]
            if place in bad or not starts_well:
                continue
            role = LineRole(
                block.header.head, line is block.header, line.span.start in statements,
                len(indent) > len(STEP),
            )  # fmt: skip
            self._fill(row, line, role, facts)
            row.indent = line.indent if is_frozen else indent
            row.table = (row.section, 0) if role.is_header else (0, number)

    def _indent(self, place: int) -> str:
        row = self.rows[place]
        said = self.text[row.start : row.end]
        return said[: len(said) - len(said.lstrip(BLANKS))]

    def _fill(self, row: LaidLine, line: TextLine, role: LineRole, facts: "FactSpans") -> None:
        sign = self.text.find("#", line.span.end, row.end)
        end = row.end if sign < 0 else sign
        row.kept = False
        row.comment = "" if sign < 0 else self.text[sign : row.end].rstrip(BLANKS)
        held = {item.span.start: facts.at(item.span.start) for item in line.items}
        row.shape, row.cells = cells_of(pieces_of(self.text, line, end, held), role)


class FactSpans:
    """Which fact of a statement each character belongs to."""

    def __init__(self, spans: list[tuple[int, int, str]]) -> None:
        self._spans = sorted(spans)
        self._starts = [start for start, _, _ in self._spans]

    def at(self, character: int) -> str:
        """The fact that holds a character; empty where it belongs to none."""
        place = bisect_right(self._starts, character) - 1
        if place < 0:
            return ""
        start, end, key = self._spans[place]
        return key if start <= character < end else ""


def _facts(said: Said) -> FactSpans:
    spans = []
    for one in (said, *said.inside):
        for key, every in one.facts.given.items():
            spans += [(given.span.start, given.span.end, key) for given in every]
    return FactSpans(spans)


def _indents(block: Block) -> list[str]:
    """How far each line of a block is to be indented, the header first."""
    made = [""]
    last: TextLine | None = None
    for line in block.body:
        if last is not None and goes_on(line, last):
            made.append(STEP * 2)
        else:
            made.append(STEP)
            last = line
    return made


def _lines(text: str) -> Iterator[LaidLine]:
    start, section = 0, 0
    for line in text.split("\n"):
        stop = start + len(line)
        end = stop - 1 if line.endswith("\r") else stop
        section += not text[start:end].strip(BLANKS)
        yield LaidLine(start, end, section)
        start = stop + 1
