"""Sheets of labels that are cut already, and tapes."""

import tomllib
from functools import cache
from pathlib import Path

from rigfolio.books.tables import Table, number, numbers, table, tables, text
from rigfolio.record import record

_FILE = Path(__file__).parent / "trade" / "label_stock.toml"


@record
class LabelSheet:
    """A sheet of labels: paper, columns and rows, and its measures across and down [mm].

    `label_mm` is the size of a label, `first_mm` the corner of the first one from the corner of
    the paper, `pitch_mm` from one label to the next.
    """

    name: str
    paper: str
    columns: int
    rows: int
    label_mm: tuple[float, float]
    first_mm: tuple[float, float]
    pitch_mm: tuple[float, float]


@record
class Tape:
    """What tapes there are: widths, blank edge and usual length of a label [mm], dots an inch."""

    width_mm: tuple[float, ...]
    edge_mm: float
    dpi: tuple[float, ...]
    label_mm: float


@cache
def _data() -> Table:
    return tomllib.loads(_FILE.read_text(encoding="utf-8"))


@cache
def label_sheets() -> tuple[LabelSheet, ...]:
    """The sheets that are known by name."""

    def pair(row: Table, key: str) -> tuple[float, float]:
        across, down = numbers(row, key)
        return across, down

    return tuple(
        LabelSheet(
            text(row, "name"), text(row, "paper"), int(number(row, "columns")),
            int(number(row, "rows")), pair(row, "label_mm"), pair(row, "first_mm"),
            pair(row, "pitch_mm"),
        )
        for row in tables(_data(), "sheet")
    )  # fmt: skip


@cache
def tape() -> Tape:
    """The tapes of the trade."""
    row = table(_data(), "tape")
    return Tape(
        numbers(row, "width_mm"), number(row, "edge_mm"), numbers(row, "dpi"),
        number(row, "label_mm"),
    )  # fmt: skip
