"""How wide the columns of a text are, and what its lines are with them."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import groupby

from rigfolio.lang import BLANKS
from rigfolio.layout.cells import TabCell
from rigfolio.layout.rows import STEP, LaidLine, LaidText
from rigfolio.layout.shapes import TabStop
from rigfolio.reports import width

_BEFORE_COMMENT = 2
_COMMENT_APART = 24
"""How many blanks a comment is worth that stands beside the column of the others."""
_DEEP = 16
"""From this column on a comment alone on its line may go on with the one above it."""
_TAB = 4
_Key = tuple[tuple[int, int], str, str]


def written(held: LaidText) -> Iterator[tuple[LaidLine, str]]:
    """Every row that is not kept as it is, with what is to stand there."""
    widths = _widths(held.rows)
    bodies = {row.start: _body(row, widths) for row in held.rows if row.cells}
    comments = _comment_columns(held.rows, bodies)
    column, least, is_open = -1, 0, False
    for row in held.rows:
        body = bodies.get(row.start, "")
        is_open = is_open or bool(row.cells)
        if row.kept:
            column = -1
        elif body and row.comment:
            column, least = comments[row.start], width(body) + _BEFORE_COMMENT
            yield row, body + " " * (column - width(body)) + row.comment
        elif body or not row.comment:
            column = -1
            yield row, body
        else:
            at = _column_of(held.text, row)
            goes_on = column >= 0 and at >= min(_DEEP, least)
            column = column if goes_on else -1
            blanks = " " * column if goes_on else STEP * bool(at and is_open)
            yield row, blanks + row.comment


def _column_of(text: str, row: LaidLine) -> int:
    at = 0
    for char in text[row.start : row.end]:
        if char not in BLANKS:
            break
        at += _TAB - at % _TAB if char == "\t" else 1
    return at


def _widths(rows: Iterable[LaidLine]) -> Mapping[_Key, int]:
    sizes: dict[_Key, list[int]] = {}
    columns: dict[_Key, TabStop] = {}
    for row in rows:
        for column, cell in zip(row.shape.columns, row.cells, strict=False):
            key = (row.table, column.table, column.name)
            sizes.setdefault(key, []).append(_size(cell, column))
            columns[key] = column
    return {key: max(best(held, columns[key].apart), columns[key].least)
            for key, held in sizes.items()}  # fmt: skip


def _size(cell: TabCell, column: TabStop) -> int:
    """How wide a cell is; its comma may stand in a gap of two."""
    text = cell.text.removesuffix(",") if column.gap > 1 else cell.text
    return width(text)


def best(sizes: Sequence[int], apart: int) -> int:
    """The width that costs least: blanks in narrow cells against wide ones that stand beside it.

    Examples
    --------
    >>> best([12, 17, 18, 29], 16), best([5, 6], 16), best([0, 0, 0, 9], 16)
    (18, 6, 0)
    """
    counts = Counter(sizes)

    def cost(wide: int) -> int:
        return sum(
            count * (wide - size if size <= wide else apart) for size, count in counts.items()
        )

    return min({*counts, 0}, key=lambda wide: (cost(wide), -wide))


def _body(row: LaidLine, widths: Mapping[_Key, int]) -> str:
    made, target, least = row.indent, width(row.indent), 0
    for column, cell in zip(row.shape.columns, row.cells, strict=False):
        if cell.text:
            made = _set(made, target, max(least, cell.before if least else 0)) + cell.text
            least = max(column.gap - cell.text.endswith(","), 1)
        wide = widths[row.table, column.table, column.name]
        target += wide + column.gap if wide else 0
    rest = row.cells[-1]
    if rest.text:
        made = _set(made, target, max(least, rest.before if least else 0)) + rest.text
    return made


def _set(made: str, target: int, least: int) -> str:
    return made + " " * max(target - width(made), least)


def _comment_columns(rows: Iterable[LaidLine], bodies: Mapping[int, str]) -> Mapping[int, int]:
    """The column of the comment of every line that says something, too."""
    made: dict[int, int] = {}
    with_both = [row for row in rows if row.start in bodies and row.comment]
    ordered = sorted(with_both, key=_level)
    for _, each in groupby(ordered, _level):
        group = list(each)
        sizes = [width(bodies[row.start]) for row in group]
        wide = best(sizes, _COMMENT_APART)
        for row, size in zip(group, sizes, strict=True):
            made[row.start] = max(wide, size) + _BEFORE_COMMENT
    return made


def _level(row: LaidLine) -> tuple[int, bool]:
    return row.section, bool(row.indent)
