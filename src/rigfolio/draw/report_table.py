"""Tables of a report set in the columns of a sheet."""

from collections.abc import Iterable, Sequence
from typing import TypeAlias

from rigfolio.draw.table import Column, Row
from rigfolio.reports import ReportTable, in_words

Setting: TypeAlias = Sequence[tuple[str, Column]]
"""Which column of a report stands where on a sheet; one without a key is air."""


def columns_of(setting: Setting) -> tuple[Column, ...]:
    """The columns of a sheet."""
    return tuple(column for _, column in setting)


def rows_of(tables: Iterable[ReportTable], setting: Setting) -> tuple[Row, ...]:
    """The rows of tables, one table below the other, in words and in the order of the sheet.

    Raises
    ------
    KeyError
        A table lacks a column.
    """
    made: list[Row] = []
    for table in tables:
        cells = [table.cells(key) if key else ("",) * len(table.rows) for key, _ in setting]
        made += (
            Row(tuple(in_words(cell, on_sheet=True) for cell in row))
            for row in zip(*cells, strict=True)
        )
    return tuple(made)
