"""Sheets of labels that are cut already, and tapes."""

from functools import cache
from pathlib import Path

from rigfolio.books.kept import read_toml
from rigfolio.books.tables import Table, number, numbers, table, tables, text
from rigfolio.record import record

_MM_PER_INCH = 25.4
_FILE = Path(__file__).parent / "label_stock.toml"


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
    """What tapes there are: widths, blank edge, reach of the print head [mm], dots an inch.

    `label_mm` is the usual length of a label.
    """

    width_mm: tuple[float, ...]
    edge_mm: float
    head_mm: float
    dpi: tuple[float, ...]
    label_mm: float

    def dots(self, width_mm: float, dpi: int) -> int:
        """How many dots are printed across a tape."""
        return int(min(width_mm - 2 * self.edge_mm, self.head_mm) / _MM_PER_INCH * dpi + 1e-9)

    @staticmethod
    def most_dots(width_mm: float, dpi: int) -> int:
        """How many dots lie across a tape, edges and all."""
        return int(width_mm / _MM_PER_INCH * dpi + 1e-9)


@cache
def _data() -> Table:
    return read_toml(_FILE)


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


def usual_sheet(paper: str) -> LabelSheet:
    """The first sheet of a paper, else the first of all."""
    return next((one for one in label_sheets() if one.paper == paper), label_sheets()[0])


@cache
def tape() -> Tape:
    """The tapes of the trade."""
    row = table(_data(), "tape")
    return Tape(
        numbers(row, "width_mm"), number(row, "edge_mm"), number(row, "head_mm"),
        numbers(row, "dpi"), number(row, "label_mm"),
    )  # fmt: skip
