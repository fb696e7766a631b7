"""What every sheet shares: margin, title strip, page numbers, and tables that run over pages."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from rigfolio.draw.fit import LINE_HEIGHT, Box, Style, block, fit, ink_mm
from rigfolio.draw.page import MM_PER_PT, Line, Mark, Page, Paper, Pen, Text, rect
from rigfolio.draw.striped import patch

MARGIN_MM = 10.0
"""Clear of the 4 to 6 mm that office printers leave unprinted (common practice)."""
STRIP_MM = 16.0
CAUTION = "Not a safety certificate: local code and licensed practice come first."
FLOOR_PT = 7.0
"""Smallest type of a sheet that is read on paper, not on a label."""

_GAP_MM = 2.0
_GRID_MM = 0.75
_PAD_MM = 1.0
_SIZE_PT = 8.0
_MOST_LINES = 12
_HAIR = Pen(0.1, "#808080")
_RULE = Pen(0.3)


def body(width_mm: float, height_mm: float) -> Box:
    """Left, top, width and height of the area above the title strip [mm]."""
    high_mm = height_mm - 2 * MARGIN_MM - STRIP_MM - _GAP_MM
    return MARGIN_MM, MARGIN_MM, width_mm - 2 * MARGIN_MM, high_mm


def framed(
    width_mm: float,
    height_mm: float,
    title: str,
    strip: Sequence[str],
    marks: Iterable[Mark],
    *,
    note: str = "",
    page: str = "1 of 1",
    name: str = "",
) -> Page:
    """A page of a sheet with its title strip at the foot.

    Parameters
    ----------
    width_mm, height_mm : float
        The paper [mm].
    title : str
        The sheet.
    strip : sequence of str
        Fields that every page bears: rig, revision, rule book, digest.
    marks : iterable of Mark
        What stands in the `body`.
    note : str
        How the sheet is used, in a few words.
    page : str
        Number of this page and of all, `1 of 2`.
    name : str
        Bookmark; the title where it is empty.
    """
    left, top = MARGIN_MM, height_mm - MARGIN_MM - STRIP_MM
    wide = width_mm - 2 * MARGIN_MM
    head_mm, foot_mm = 0.68 * STRIP_MM, 0.32 * STRIP_MM
    title_mm, page_mm = 0.32 * wide, 0.13 * wide
    fields_mm = wide - title_mm - page_mm
    drawn: list[Mark] = [*marks, rect(left, top, wide, STRIP_MM, pen=_RULE)]
    drawn.append(Line(((left, top + head_mm), (left + wide, top + head_mm)), _HAIR))
    for across in (left + title_mm, left + wide - page_mm):
        drawn.append(Line(((across, top), (across, top + head_mm)), _HAIR))
    title_box = (left + 1.5, top + 0.6, title_mm - 3, head_mm - 1.2)
    drawn += block(title, title_box, Style(12, FLOOR_PT, 2, bold=True, align="start"))
    drawn += _fields(strip, (left + title_mm, top, fields_mm, head_mm))
    page_box = (left + wide - page_mm + 1, top + 0.6, page_mm - 2, head_mm - 1.2)
    drawn += block(f"page {page}", page_box, Style(9, FLOOR_PT, 2))
    foot = (left + 1.5, top + head_mm + 0.3, 0.52 * wide - 3, foot_mm - 0.6)
    drawn += block(CAUTION, foot, Style(8, 5.5, bold=True, align="start"))
    if note:
        beside = (left + 0.52 * wide, top + head_mm + 0.3, 0.48 * wide - 1.5, foot_mm - 0.6)
        drawn += block(note, beside, Style(8, 5.5, 2, align="end"))
    return Page(width_mm, height_mm, tuple(drawn), name or title)


def _fields(strip: Sequence[str], box: Box) -> list[Mark]:
    """The fields of the strip, the first one large, the others below it side by side."""
    left, top, wide, high = box
    marks: list[Mark] = []
    if strip:
        first = (left + 1.5, top + 0.5, wide - 3, 0.52 * high - 0.5)
        marks += block(strip[0], first, Style(10, FLOOR_PT, bold=True, align="start"))
    each = (wide - 3) / max(1, len(strip) - 1)
    for place, field in enumerate(strip[1:]):
        cell = (left + 1.5 + place * each, top + 0.52 * high, each - 1, 0.48 * high - 0.6)
        marks += block(field, cell, Style(8, 5.5, align="start"))
    return marks


def numbered(
    paper: Paper, title: str, strip: Sequence[str], bodies: Sequence[Sequence[Mark]],
    *, note: str = "",
) -> tuple[Page, ...]:  # fmt: skip
    """Bodies as framed pages, numbered."""
    size = (paper.width_mm, paper.height_mm)
    return tuple(
        framed(*size, title, strip, marks, note=note, page=f"{number} of {len(bodies)}",
               name=title if number == 1 else f"{title} {number}")
        for number, marks in enumerate(bodies, start=1)
    )  # fmt: skip


def first_uncut(
    wordings: Sequence[str], width_mm: float, floor_pt: float, *, lines: int = 1, bold: bool = False
) -> str:
    """The first of several wordings that fits whole, else the last one."""
    for wording in wordings:
        set_text = fit(
            wording, width_mm, size_pt=floor_pt, floor_pt=floor_pt, lines=lines, bold=bold
        )
        if not set_text.is_cut and set_text.size_pt >= floor_pt:
            return wording
    return wordings[-1]


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table: its heading, its share of the width, how its cells are set."""

    title: str
    share: float
    bold: bool = False
    align: str = "start"


@dataclass(frozen=True, slots=True)
class Swatch:
    """A cell in the colours of a conductor or a fuse; None is an unknown colour."""

    base_rgb: str | None
    stripe_rgb: str | None = None


Cell = str | Swatch | None


@dataclass(frozen=True, slots=True)
class Row:
    """A row of a table; one cell in a table of several columns runs across all of them."""

    cells: tuple[Cell, ...]
    bold: bool = False
    ruled: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """A table; without a heading in any column it has no lines either, like running text.

    Cells have `pad_mm` of air above and below their words. `grid` puts lines between the columns
    too, for a table that is filled in by hand.
    """

    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    title: str = ""
    size_pt: float = _SIZE_PT
    pad_mm: float = _PAD_MM
    grid: bool = False

    @property
    def headed(self) -> bool:
        """Whether any column has a heading."""
        return any(column.title for column in self.columns)


def prose(title: str, *paragraphs: str, size_pt: float = _SIZE_PT) -> Table:
    """Paragraphs under a title."""
    rows = tuple(Row((text,)) for text in paragraphs)
    return Table((Column("", 1.0),), rows, title, size_pt)


def flow(
    tables: Iterable[Table], area: Box, *, taken_mm: float = 0.0
) -> tuple[tuple[Mark, ...], ...]:
    """Tables one below the other, on as many pages as they need, headings repeated.

    Parameters
    ----------
    tables : iterable of Table
        A row is never divided; what is too long for twelve lines ends with an ellipsis.
    area : Box
        Left, top, width and height on each page [mm].
    taken_mm : float
        Height at the top of the first page that holds something else [mm].

    Returns
    -------
    tuple of tuple of Mark
        One page each, at least one.
    """
    run = _Flow(area)
    run.y_mm += taken_mm
    for table in tables:
        run.table(table)
    return tuple(tuple(page) for page in run.pages)


class _Flow:
    """Pages being filled from the top."""

    def __init__(self, area: Box) -> None:
        self.area = area
        self.pages: list[list[Mark]] = [[]]
        self.y_mm = area[1]

    def table(self, table: Table) -> None:
        """Set one table."""
        if self.pages[-1] and table.title:
            self.y_mm += 2 * _GAP_MM
        head = self._head(table, again=False)
        again = self._head(table, again=True)
        for number, row in enumerate(table.rows):
            cells = _cells(table, row, self.area[2])
            high = _height(cells)
            before = sum(_height(part) for part in head) if number == 0 else 0.0
            fresh = self.y_mm == self.area[1] and not self.pages[-1]
            if self.y_mm + before + high > self.area[1] + self.area[3] and not fresh:
                self.pages.append([])
                self.y_mm = self.area[1]
                head = head if number == 0 else again
                before = 1.0
            if before:
                for part in head:
                    self._put(part, None)
            top_mm = self.y_mm
            self._put(cells, (_RULE if row.ruled else _HAIR) if table.headed else None)
            if table.grid and len(cells) > 1:
                self._between(cells, top_mm)

    def _between(self, cells: list["_Set"], top_mm: float) -> None:
        """Lines between the cells of the row that was put last."""
        for cell in cells[1:]:
            across = self.area[0] + cell.x_mm - _GRID_MM
            self.pages[-1].append(Line(((across, top_mm), (across, self.y_mm)), _HAIR))

    def _head(self, table: Table, *, again: bool) -> list[list["_Set"]]:
        wide = self.area[2]
        rows = []
        if table.title:
            title = f"{table.title}, continued" if again else table.title
            row = Table((Column("", 1.0),), (), size_pt=table.size_pt + 2)
            rows.append(_cells(row, Row((title,), bold=True), wide))
        if table.headed:
            heads = tuple(column.title for column in table.columns)
            plain = Table(table.columns, (), size_pt=FLOOR_PT)
            rows.append(_cells(plain, Row(heads, bold=True), wide))
        return rows

    def _put(self, cells: list["_Set"], pen: Pen | None) -> None:
        left, _, wide, _ = self.area
        high = _height(cells)
        page = self.pages[-1]
        if pen is not None:
            page.append(Line(((left, self.y_mm), (left + wide, self.y_mm)), pen))
        for cell in cells:
            page += cell.marks(left, self.y_mm, high)
        self.y_mm += high


@dataclass(frozen=True, slots=True)
class _Set:
    """A cell set in its column: lines, size, place; or a swatch."""

    x_mm: float
    wide_mm: float
    lines: tuple[str, ...]
    size_pt: float
    bold: bool
    align: str
    swatch: Swatch | None = None
    pad_mm: float = _PAD_MM

    @property
    def high_mm(self) -> float:
        """Height with padding above and below."""
        if self.swatch is not None:
            return 2 * self.pad_mm + 3.0
        return 2 * self.pad_mm + len(self.lines) * LINE_HEIGHT * MM_PER_PT * self.size_pt

    def marks(self, left_mm: float, top_mm: float, high_mm: float) -> Iterable[Mark]:
        """Marks of the cell in a row of a height."""
        x = left_mm + self.x_mm
        if self.swatch is not None:
            high = min(high_mm - 1.4, 3.6)
            down = top_mm + 0.7
            colours = (self.swatch.base_rgb, self.swatch.stripe_rgb)
            return patch(x + 0.3, down, self.wide_mm - 0.6, high, *colours)
        pitch = LINE_HEIGHT * MM_PER_PT * self.size_pt
        lead = (pitch - sum(ink_mm("dgj", self.size_pt, bold=self.bold))) / 2
        first = top_mm + self.pad_mm + lead + ink_mm("d", self.size_pt, bold=self.bold)[0]
        across = x + {"start": 0.0, "middle": 0.5, "end": 1.0}[self.align] * self.wide_mm
        return tuple(
            Text((across, first + row * pitch), line, self.size_pt, self.align, self.bold)
            for row, line in enumerate(self.lines)
            if line
        )


def _height(cells: Sequence[_Set]) -> float:
    return max(cell.high_mm for cell in cells)


def _cells(table: Table, row: Row, wide_mm: float) -> list[_Set]:
    """The cells of a row, set in their columns."""
    columns = table.columns
    if len(row.cells) == 1:
        columns = (Column("", 1.0),)
    total = sum(column.share for column in columns)
    x_mm, cells = 0.0, []
    for column, cell in zip(columns, row.cells, strict=True):
        each = wide_mm * column.share / total
        room, bold = each - 1.5, row.bold or column.bold
        swatch = cell if isinstance(cell, Swatch) else None
        text = cell if isinstance(cell, str) else ""
        size = table.size_pt
        done = fit(
            text, room, size_pt=size, floor_pt=min(size, FLOOR_PT), lines=_MOST_LINES, bold=bold
        )
        cells.append(
            _Set(x_mm, room, done.lines, done.size_pt, bold, column.align, swatch, table.pad_mm)
        )
        x_mm += each
    return cells
