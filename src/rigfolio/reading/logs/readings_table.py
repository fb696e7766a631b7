"""A filled table of readings as the entries that a log keeps.

The table that the test sheet prints has a column that says how each reading is written down, with a
blank in it, and one for what was read. Line for line it is what a person would have typed.
"""

from rigfolio.lang import BLANK_UNITS, meter_figure, tidied
from rigfolio.record import record
from rigfolio.render import StoredTable

READ, ENTRY, UNIT = "read", "write down as", "unit"
"""The headings of the columns that are read back."""
_BLANK = "___"
_NOT_READ = frozenset({
    "n/a", "na", "n.a.", "-", "?", "...", "…", "not read", "not measured", "skipped",
})  # fmt: skip
"""What people put into a cell, in small letters, to say that nothing was read there."""


@record
class FilledTable:
    """The entries of a table, each in the line in which it stands; rows not read are empty lines.

    `left` are the lines of the rows of which somebody says that they were not read, `wrong` those
    whose cell is no reading, each with what is wrong.
    """

    text: str
    left: tuple[int, ...]
    wrong: tuple[tuple[int, str], ...]


def entries_of(table: StoredTable) -> FilledTable | None:
    """The readings of a table; None where it is no table of readings."""
    rows = table.rows
    if not rows:
        return None
    heads = [" ".join(cell.casefold().split()) for cell in rows[0][1]]
    if not {READ, ENTRY, UNIT} <= set(heads):
        return None
    at = tuple(heads.index(name) for name in (READ, ENTRY, UNIT))
    lines = [""] * rows[-1][0]
    left: list[int] = []
    wrong: list[tuple[int, str]] = []
    for line, cells in rows[1:]:
        read, entry, unit = (cells[n] if n < len(cells) else "" for n in at)
        value = tidied(read)
        if value.casefold() in _NOT_READ:
            left.append(line)
        elif value:
            written, why = _figure(value, unit, table)
            lines[line - 1] = entry.replace(f"{_BLANK} {unit}", written, 1)
            wrong += [(line, why)] if why else []
    return FilledTable("\n".join(lines) + "\n", tuple(left), tuple(wrong))


def _figure(value: str, unit: str, table: StoredTable) -> tuple[str, str]:
    """A cell as an entry has it, and what is wrong with it."""
    if unit not in BLANK_UNITS:
        return value, ""
    if "," in value and not table.has_commas:
        point = value.replace(",", ".")
        return value, f"`{value}` has a comma, which parts cells here: write `{point}`"
    figure = meter_figure(value, unit)
    if figure.value is None:
        return value, f"`{value}` is no reading: {figure.why}"
    return figure.written, ""
