"""Tables that run over pages: cells set in their columns, headings repeated, rows kept together."""

from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache

from rigfolio.draw.frame import FLOOR_PT
from rigfolio.draw.lettering import ANCHORS, LINE_HEIGHT, Box, fit, ink_mm
from rigfolio.draw.page import BLACK, MM_PER_PT, Line, Mark, Pen, Text
from rigfolio.draw.roles import CellPlace, Kind, Role
from rigfolio.draw.striped import patch
from rigfolio.record import record

_GAP_MM = 4.0
_GRID_MM = 0.75
_PAD_MM = 1.0
_SIZE_PT = 8.0
_MOST_LINES = 12
_LITTLE = 0.5
"""Share of the last page below which it is worth a try to save it."""
_GROUP = 0.3
"""Share of a page that rows below a common word may take and stay together."""
_TIGHT = ((0.8, _GROUP), (0.65, _GROUP), (0.5, _GROUP), (0.65, 0.1), (0.5, 0.1))
"""Shares of the air, and of a page that stays together, tried in turn to save the last page."""
_HAIR = Pen(0.1, "#808080")
_RULE = Pen(0.3)


@record
class Column:
    """A column of a table: its heading, its share of the width, how its cells are set."""

    title: str
    share: float
    bold: bool = False
    align: str = "start"


@record
class Swatch:
    """A cell in the colours of a conductor or a fuse; None is an unknown colour."""

    base_rgb: str | None
    stripe_rgb: str | None = None


Cell = str | Swatch | None


@record
class Row:
    """A row of a table; one cell in a table of several columns runs across all of them."""

    cells: tuple[Cell, ...]
    bold: bool = False
    ruled: bool = False


@record
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
    tables: Iterable[Table], area: Box, *, taken_mm: float = 0.0, tightens: bool = True
) -> tuple[tuple[Mark, ...], ...]:
    """Tables one below the other, on as many pages as they need, headings repeated.

    A table of few rows is not divided, and what leads rows, a cell across all columns, stays with
    them where they are few.

    Parameters
    ----------
    tables : iterable of Table
        A row is never divided; what is too long for twelve lines ends with an ellipsis.
    area : Box
        Left, top, width and height on each page [mm].
    taken_mm : float
        Height at the top of the first page that holds something else [mm].
    tightens : bool
        Whether the air gives way where little is left for the last page, to save it.

    Returns
    -------
    tuple of tuple of Mark
        One page each, at least one.
    """
    return flow_on(tables, area, taken_mm=taken_mm, tightens=tightens)[0]


def flow_on(
    tables: Iterable[Table], area: Box, *, taken_mm: float = 0.0, tightens: bool = False
) -> tuple[tuple[tuple[Mark, ...], ...], float]:
    """The same as `flow`, and how much of the last page is taken, from the top of the area [mm]."""
    made = tuple(_made(table, number, area[2]) for number, table in enumerate(tables))
    first = _filled(made, area, taken_mm, 1.0, _GROUP)
    best = first
    if tightens and len(first.pages) > 1 and first.y_mm - area[1] <= _LITTLE * area[3]:
        tight = (_filled(made, area, taken_mm, *each) for each in _TIGHT)
        best = next((run for run in tight if len(run.pages) < len(first.pages)), first)
    return best.done(), best.y_mm - area[1]


@record
class _Made:
    """A table with its cells set: headings, headings once more, rows."""

    table: Table
    head: tuple[tuple["_SetCell", ...], ...]
    again: tuple[tuple["_SetCell", ...], ...]
    rows: tuple[tuple["_SetCell", ...], ...]

    def leads(self, number: int) -> bool:
        """Whether a row says what those below it are about."""
        return len(self.table.columns) > 1 and len(self.table.rows[number].cells) == 1

    def group(self, number: int) -> range:
        """The rows that a row leads, itself among them, and the first of those that they are."""
        if not self.leads(number):
            return range(number, number + 1)
        count = len(self.rows)
        first = next((n for n in range(number, count) if not self.leads(n)), count - 1)
        end = next((n for n in range(first + 1, count) if self.leads(n)), count)
        return range(number, end)


def holds_all(table: Table, wide_mm: float) -> bool:
    """Whether every cell of a table is whole where that is so wide."""
    return not any(cell.is_cut for row in _made(table, 0, wide_mm).rows for cell in row)


def _made(table: Table, place: int, wide_mm: float) -> _Made:
    """A table set; `place` is that of the table among those of the sheet."""
    rows = tuple(
        tuple(_cells(table, row, wide_mm, _roles(table, row, place, number)))
        for number, row in enumerate(table.rows, start=1)
    )
    head = tuple(_head(table, place, wide_mm))
    return _Made(table, head, tuple(_head(table, place, wide_mm, again=True)), rows)


def _head(
    table: Table, place: int, wide_mm: float, *, again: bool = False
) -> Iterator[tuple["_SetCell", ...]]:
    """The rows above a table; those above what goes on upon another page are not read once more."""
    if table.title:
        title = f"{table.title}, continued" if again else table.title
        row = Table((Column("", 1.0),), (), size_pt=table.size_pt + 2)
        kind = Kind.FURNITURE if again else Kind.HEADING
        yield tuple(_cells(row, Row((title,), bold=True), wide_mm, (Role(kind),)))
    if table.headed:
        heads = Row(tuple(column.title for column in table.columns), bold=True)
        plain = Table(table.columns, (), size_pt=FLOOR_PT)
        kind = Kind.FURNITURE if again else Kind.COLUMN_HEAD
        yield tuple(_cells(plain, heads, wide_mm, _roles(table, heads, place, 0, kind)))


def _roles(
    table: Table, row: Row, place: int, number: int, kind: Kind = Kind.CELL
) -> tuple[Role, ...]:
    """What the cells of a row are; those of a table of one column are paragraphs."""
    columns = len(table.columns)
    if columns == 1 and not table.headed:
        return (Role(),)
    return _roles_of_cells(kind, (place, number), len(row.cells), columns)


@lru_cache(maxsize=8192)
def _roles_of_cells(
    kind: Kind, place: tuple[int, int], count: int, columns: int
) -> tuple[Role, ...]:
    """The roles of the cells of a row; kept, for most tables are set in several sizes."""
    cells = (CellPlace(*place, column, columns, count < columns) for column in range(count))
    return tuple(Role(kind, cell=cell) for cell in cells)


def _filled(
    made: Iterable[_Made], area: Box, taken_mm: float, air: float, group: float
) -> "_PageFlow":
    run = _PageFlow(area, air, group)
    run.y_mm += taken_mm
    for each in made:
        run.table(each)
    return run


class _PageFlow:
    """Pages being filled from the top.

    `air` is the share of all padding that is kept, `group` that of a page that stays together.
    """

    def __init__(self, area: Box, air: float, group: float) -> None:
        self.area, self.air, self.together_mm = area, air, group * area[3]
        self.pages: list[list[Line | _RowAt]] = [[]]
        self.y_mm = area[1]

    def done(self) -> tuple[tuple[Mark, ...], ...]:
        """The marks of each page; made now, since most ways to fill pages are only tried."""
        return tuple(tuple(self._marks(page)) for page in self.pages)

    def _marks(self, page: Iterable["Line | _RowAt"]) -> Iterator[Mark]:
        for part in page:
            if isinstance(part, Line):
                yield part
                continue
            for cell in part.cells:
                yield from cell.marks(self.area[0], part.y_mm, part.high_mm, part.air)

    def table(self, made: _Made) -> None:
        """Set one table."""
        table = made.table
        if self.pages[-1] and table.title:
            self.y_mm += _GAP_MM * self.air
        for number, cells in enumerate(made.rows):
            head = made.head if number == 0 else ()
            fresh = self.y_mm == self.area[1] and not self.pages[-1]
            if not fresh and not self._holds(self._kept_mm(made, number, head)):
                self.pages.append([])
                self.y_mm = self.area[1]
                head = head or made.again
            for part in head:
                self._put(part, None, self.air)
            top_mm = self.y_mm
            pen = _RULE if table.rows[number].ruled else _HAIR
            self._put(cells, pen if table.headed else None, self._air(table))
            if table.grid:
                self._boxed(cells, top_mm)

    def _kept_mm(self, made: _Made, number: int, head: Iterable[tuple["_SetCell", ...]]) -> float:
        """Height of what has to stand on one page from a row on [mm]."""
        air = self._air(made.table)
        if number == 0:
            whole = self._head_mm(head)
            whole += sum(_height(row, air) for row in made.rows)
            if whole <= self.together_mm:
                return whole
        group = made.group(number)
        highs = [_height(made.rows[n], air) for n in group]
        if sum(highs) > self.together_mm:
            highs = highs[: 1 + next((n for n in group if not made.leads(n)), number) - number]
        if number + len(highs) == len(made.rows) - 1:
            # The last row of a table never stands alone on a page.
            highs.append(_height(made.rows[-1], air))
        return self._head_mm(head) + sum(highs)

    def _head_mm(self, head: Iterable[tuple["_SetCell", ...]]) -> float:
        return sum(_height(part, self.air) for part in head)

    def _holds(self, high_mm: float) -> bool:
        return self.y_mm + high_mm <= self.area[1] + self.area[3]

    def _air(self, table: Table) -> float:
        """A table that is filled in by hand keeps its room."""
        return 1.0 if table.grid else self.air

    def _boxed(self, cells: Sequence["_SetCell"], top_mm: float) -> None:
        """Lines between the cells of the row that was put last, and one below it."""
        left, _, wide, _ = self.area
        for cell in cells[1:]:
            across = left + cell.x_mm - _GRID_MM
            self.pages[-1].append(Line(((across, top_mm), (across, self.y_mm)), _HAIR))
        self.pages[-1].append(Line(((left, self.y_mm), (left + wide, self.y_mm)), _HAIR))

    def _put(self, cells: Sequence["_SetCell"], pen: Pen | None, air: float) -> None:
        left, _, wide, _ = self.area
        high = _height(cells, air)
        page = self.pages[-1]
        if pen is not None:
            page.append(Line(((left, self.y_mm), (left + wide, self.y_mm)), pen))
        page.append(_RowAt(cells, self.y_mm, high, air))
        self.y_mm += high


@record
class _RowAt:
    """The cells of a row on a page: from the top, how high, with what share of their padding."""

    cells: Sequence["_SetCell"]
    y_mm: float
    high_mm: float
    air: float


@record
class _SetCell:
    """A cell set in its column: lines, size, place; or a swatch."""

    x_mm: float
    wide_mm: float
    lines: tuple[str, ...]
    size_pt: float
    bold: bool
    align: str
    role: Role
    swatch: Swatch | None = None
    pad_mm: float = _PAD_MM
    is_cut: bool = False

    def high_mm(self, air: float) -> float:
        """Height with a share of the padding above and below [mm]."""
        if self.swatch is not None:
            return 2 * self.pad_mm + 3.0
        pitch = LINE_HEIGHT * MM_PER_PT * self.size_pt
        return 2 * self.pad_mm * air + len(self.lines) * pitch

    def marks(self, left_mm: float, top_mm: float, high_mm: float, air: float) -> Iterable[Mark]:
        """Marks of the cell in a row of a height, with a share of its padding."""
        x = left_mm + self.x_mm
        if self.swatch is not None:
            high = min(high_mm - 1.4, 3.6)
            down = top_mm + 0.7
            colours = (self.swatch.base_rgb, self.swatch.stripe_rgb)
            return patch(x + 0.3, down, self.wide_mm - 0.6, high, *colours)
        pitch, lead, above = _line(self.size_pt, bold=self.bold)
        first = top_mm + self.pad_mm * air + lead + above
        across = x + ANCHORS[self.align] * self.wide_mm
        role = self.role
        return [
            Text((across, first + row * pitch), line, self.size_pt, self.align, self.bold,
                 BLACK, 0.0, Role(role.kind, row, role.cell) if row else role)
            for row, line in enumerate(self.lines)
            if line
        ]  # fmt: skip


@lru_cache(maxsize=256)
def _line(size_pt: float, *, bold: bool) -> tuple[float, float, float]:
    """From line to line, the air above a line, and its letters above the baseline [mm]."""
    pitch = LINE_HEIGHT * MM_PER_PT * size_pt
    lead = (pitch - sum(ink_mm("dgj", size_pt, bold=bold))) / 2
    return pitch, lead, ink_mm("d", size_pt, bold=bold)[0]


def _height(cells: Sequence[_SetCell], air: float = 1.0) -> float:
    return max(cell.high_mm(air) for cell in cells)


def _cells(table: Table, row: Row, wide_mm: float, roles: Sequence[Role]) -> list[_SetCell]:
    """The cells of a row, set in their columns, each with its role."""
    columns = table.columns
    if len(row.cells) == 1:
        columns = (Column("", 1.0),)
    total = sum(column.share for column in columns)
    x_mm, cells = 0.0, []
    for column, cell, role in zip(columns, row.cells, roles, strict=True):
        each = wide_mm * column.share / total
        room, bold = each - 1.5, row.bold or column.bold
        swatch = cell if isinstance(cell, Swatch) else None
        text = cell if isinstance(cell, str) else ""
        size = table.size_pt
        done = fit(
            text, room, size_pt=size, floor_pt=min(size, FLOOR_PT), lines=_MOST_LINES, bold=bold
        )
        cells.append(
            _SetCell(x_mm, room, done.lines, done.size_pt, bold, column.align, role, swatch,
                 table.pad_mm, done.is_cut)
        )  # fmt: skip
        x_mm += each
    return cells
