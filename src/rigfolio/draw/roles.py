"""What a text is to those who have a page read to them, and where it stands in a table."""

from enum import Enum

from rigfolio.record import record


class Kind(Enum):
    """What a text is.

    A title names its sheet and a heading what stands below it. Strip is what every page of a
    document says again, which is read once; furniture, such as the number of a page or the figures
    of a ruler, is never read.
    """

    PARAGRAPH = 1
    HEADING = 2
    TITLE = 3
    STRIP = 4
    CELL = 5
    COLUMN_HEAD = 6
    FURNITURE = 7


@record
class CellPlace:
    """Where a cell stands: its table on the sheet, row and column from 0, columns of the table.

    One that is wide runs across all of them.
    """

    table: int
    row: int
    column: int
    columns: int
    is_wide: bool = False


@record
class Role:
    """What one line of text is; `line` counts those of one paragraph or cell from 0."""

    kind: Kind = Kind.PARAGRAPH
    line: int = 0
    cell: CellPlace | None = None


WORDS = Role()
