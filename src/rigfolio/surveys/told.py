"""What a survey says row by row, and what is told of it: read otherwise, not read, left alone."""

from collections.abc import Mapping

from rigfolio.record import record
from rigfolio.surveys.columns import Column


@record
class Trouble:
    """Something in a survey that was not understood or does not agree: its line and what it is.

    `kind` is what is wrong with it, where that is said once for all cells of the kind.
    """

    line: int
    text: str
    kind: str = ""


@record
class Spelt:
    """A cell that was read as something else than it says: its line, what it says, what is read."""

    line: int
    written: str
    read: str


@record
class Surveyed:
    """One row: its line, the place that it speaks of, and its other cells as the language has them.

    Cells that say nothing are left out; `wires` is a whole number in words. `unit` is that of a
    bare number in the column of what loads draw.
    """

    line: int
    place: str
    cells: Mapping[Column, str]
