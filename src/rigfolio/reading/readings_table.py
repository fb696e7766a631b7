"""A filled table of readings as the entries that a log keeps.

The table that the test sheet prints has a column that says how each reading is written down, with a
blank in it, and one for what was read. Line for line it is what a person would have typed.
"""

import re

from rigfolio.render import StoredTable

READ, ENTRY, UNIT = "read", "write down as", "unit"
"""The headings of the columns that are read back."""
_BLANK = "___"
_OPEN = frozenset({"open", "ol", "o.l", "o.l.", "inf", "∞"})
_FIGURE = re.compile(r"([+-]?\d+(?:\.\d+)?)\s*(\S*)")


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
    value = " ".join(read.translate(_SIGNS).split())
    if value.casefold() in _OPEN:
        return entry.replace(f"{_BLANK} {unit}", "open", 1)
    if table.has_commas:
        value = re.sub(r"(?<=\d),(?=\d)", ".", value, count=1)
    figure = _FIGURE.fullmatch(value)
    if figure is not None and not figure[2]:
        value = f"{value} {unit}"
    return entry.replace(f"{_BLANK} {unit}", value, 1)


_SIGNS: dict[int, str] = str.maketrans({"−": "-", "–": "-"})
