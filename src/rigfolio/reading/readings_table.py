"""A filled table of readings as the entries that a log keeps.

The table that the test sheet prints has a column that says how each reading is written down, with a
blank in it, and one for what was read. Line for line it is what a person would have typed.
"""

from rigfolio.lang import BLANK_UNITS, meter_figure, tidied
from rigfolio.render import StoredTable

READ, ENTRY, UNIT = "read", "write down as", "unit"
"""The headings of the columns that are read back."""
_BLANK = "___"


def entries_of(table: StoredTable) -> str | None:
    """The readings of a table, each in the line in which it stands; None where it is none.

    Rows in which nothing was read are empty lines.
    """
    rows = table.rows
    if not rows:
        return None
    heads = [" ".join(cell.casefold().split()) for cell in rows[0][1]]
    if not {READ, ENTRY, UNIT} <= set(heads):
        return None
    at = tuple(heads.index(name) for name in (READ, ENTRY, UNIT))
    lines = [""] * rows[-1][0]
    for line, cells in rows[1:]:
        read, entry, unit = (cells[n] if n < len(cells) else "" for n in at)
        if read:
            lines[line - 1] = _entry(read, entry, unit, table)
    return "\n".join(lines) + "\n"


def _entry(read: str, entry: str, unit: str, table: StoredTable) -> str:
    """An entry with its blank filled in; where the reading is none, the reader will say so."""
    value = tidied(read)
    if unit in BLANK_UNITS and (table.has_commas or "," not in value):
        value = meter_figure(value, unit).written or value
    return entry.replace(f"{_BLANK} {unit}", value, 1)
