"""The grid that is printed over a picture, so that a place on it can be typed as it is read.

Twenty columns, A to T from the left, and twenty rows, 1 to 20 from the top, whatever the shape of
the picture. A field may be parted into nine, counted as one reads: `C4` is the middle of a field,
`C4.1` its upper left ninth, `C4.9` its lower right one.
"""

import re

from rigfolio.record import record

COLUMNS = "ABCDEFGHIJKLMNOPQRST"
ROWS = 20
NINTHS = 3
"""A field is parted so often each way."""
_FIELD = re.compile(rf"([{COLUMNS}])([1-9][0-9]?)(?:\.([1-9]))?", re.IGNORECASE)


@record
class GridField:
    """A field or a ninth of one, as shares of width and height from the upper left corner [-]."""

    left: float
    top: float
    wide: float
    high: float

    @property
    def middle(self) -> tuple[float, float]:
        """Its middle."""
        return self.left + self.wide / 2.0, self.top + self.high / 2.0


def grid_field(text: str) -> GridField | None:
    """The field that is meant; None where it is none of the grid.

    Parameters
    ----------
    text : str
        A field as it is read off the print, `C4` or `C4.9`, in letters of any size.

    Returns
    -------
    GridField | None
        Its place as shares of width and height [-]; equal parts each way.

    Source
    ------
    Equal parts of the picture, as this project prints them (computed).

    Examples
    --------
    >>> grid_field("A1").middle
    (0.025, 0.025)
    >>> grid_field("u4"), grid_field("A21"), grid_field("A1.0")
    (None, None, None)
    """
    read = _FIELD.fullmatch(text)
    if read is None or not 1 <= int(read[2]) <= ROWS:
        return None
    wide, high = 1.0 / len(COLUMNS), 1.0 / ROWS
    left = COLUMNS.index(read[1].upper()) * wide
    top = (int(read[2]) - 1) * high
    if read[3] is None:
        return GridField(left, top, wide, high)
    down, across = divmod(int(read[3]) - 1, NINTHS)
    wide, high = wide / NINTHS, high / NINTHS
    return GridField(left + across * wide, top + down * high, wide, high)
