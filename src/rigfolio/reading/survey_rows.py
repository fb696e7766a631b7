"""The rows of a filled survey sheet: columns by their headings, cells read as the language reads.

A heading may name a unit in brackets, `fuse found [A]`, `tail [in]`: a bare number in that column
is then in that unit.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Literal

from rigfolio.lang import Token, match, parse
from rigfolio.nearness import ENOUGH, nearest
from rigfolio.reading.text import context
from rigfolio.record import record
from rigfolio.render import read_csv

Column = Literal[
    "place", "name", "colour", "size", "length", "fuse found", "fuse marked", "fuse", "wires",
    "went dead", "tail", "breakout", "condition", "note",
]  # fmt: skip

COLUMNS: tuple[Column, ...] = (
    "place", "name", "colour", "size", "length", "fuse found", "fuse marked", "fuse", "wires",
    "went dead", "tail", "breakout", "condition", "note",
)  # fmt: skip
"""The columns of a survey, in the order in which a person walks a panel."""
CONDITIONS = ("scorched", "loose", "corroded", "melted")

_OTHER_NAMES: Mapping[str, Column] = {
    "slot": "place", "circuit": "name", "color": "colour", "gauge": "size", "awg": "size",
    "found": "fuse found", "marked": "fuse marked", "should be": "fuse", "belongs": "fuse",
    "wires on terminal": "wires", "dead": "went dead", "load": "went dead", "loads": "went dead",
    "tail length": "tail", "heat": "condition", "marks": "condition", "remark": "note",
    "remarks": "note", "notes": "note",
}  # fmt: skip
_HEAD = re.compile(r"(?P<name>[^\[(]+?)\s*(?:[\[(]\s*(?P<unit>[^\])]+?)\s*[\])])?\s*", re.DOTALL)
_PATTERNS: Mapping[str, str] = {
    "colour": "<colour>", "size": "<size>", "length": "<length>", "fuse found": "<current>",
    "fuse marked": "<current>", "fuse": "<current>", "tail": "<length>", "breakout": "<length>",
}  # fmt: skip
_LIKELY = {
    "<current>": "`10 A`", "<length>": "`8 in` or `200 mm`", "<size>": "`16 AWG` or `1.5 mm2`",
}  # fmt: skip
_BARE = re.compile(r"\d+(?:\.\d+)?|\d/0")
_NOTHING = frozenset({"", "?", "-", "–", "—"})


@record
class Trouble:
    """Something in a survey that was not understood or does not agree: its line and what it is."""

    line: int
    text: str


@record
class Surveyed:
    """One row: its line, the place that it speaks of, and its other cells as the language has them.

    Cells that say nothing are left out; `wires` is a whole number in words.
    """

    line: int
    place: str
    cells: Mapping[Column, str]


def read_survey(text: str) -> tuple[tuple[Surveyed, ...], tuple[Trouble, ...]]:
    """The rows of a survey, and what was not understood of it, row by row.

    Parameters
    ----------
    text : str
        What the file holds; the first row has the headings.
    """
    try:
        rows = read_csv(text)
    except ValueError as problem:
        line, _, why = str(problem).partition(": ")
        return (), (Trouble(int(line.removeprefix("line ")), f"not a table: {why}"),)
    if not rows:
        return (), (Trouble(1, "no rows; the first row has the headings"),)
    trouble: list[Trouble] = []
    heads = _heads(rows[0][1], trouble)
    if "place" not in {column for column, _ in heads.values()}:
        listed = ", ".join(f"`{name}`" for name in COLUMNS)
        trouble.append(Trouble(rows[0][0], f"no column `place`; the headings are {listed}"))
        return (), tuple(trouble)
    made = [_row(line, cells, heads, trouble) for line, cells in rows[1:]]
    found = [row for row in made if row is not None]
    return tuple(_once(found, trouble)), tuple(trouble)


def _heads(cells: Sequence[str], trouble: list[Trouble]) -> dict[int, tuple[Column, str]]:
    found: dict[int, tuple[Column, str]] = {}
    names: dict[str, Column] = {name: name for name in COLUMNS} | dict(_OTHER_NAMES)
    for at, cell in enumerate(cells):
        head = _HEAD.fullmatch(cell)
        if head is None:
            continue
        name = " ".join(head.group("name").lower().split())
        column = names.get(name)
        if column is None:
            near = nearest(name, names, least=ENOUGH)
            hint = f"; the nearest heading is `{near}`" if near else ""
            trouble.append(Trouble(1, f"column `{cell}` is not read{hint}"))
        elif column in {known for known, _ in found.values()}:
            trouble.append(Trouble(1, f"a second column `{column}` is not read"))
        else:
            found[at] = (column, (head.group("unit") or "").strip())
    return found


def _row(
    line: int,
    cells: Sequence[str],
    heads: Mapping[int, tuple[Column, str]],
    trouble: list[Trouble],
) -> Surveyed | None:
    place = ""
    read: dict[Column, str] = {}
    for at, (column, unit) in heads.items():
        cell = cells[at].strip() if at < len(cells) else ""
        if column == "place":
            place = cell
        elif cell not in _NOTHING:
            value, wrong = _cell(column, cell, unit)
            if wrong:
                trouble.append(Trouble(line, f"{place or 'row'}, {column}: {wrong}"))
            else:
                read[column] = value
    if not place:
        if read:
            trouble.append(Trouble(line, "a row without a place, such as `P1.3`"))
        return None
    return Surveyed(line, place, read)


def _cell(column: Column, cell: str, unit: str) -> tuple[str, str]:
    """A cell as the language has it, or what is wrong with it."""
    if column in ("name", "went dead", "note"):
        return _label(cell)
    if column == "wires":
        return (cell, "") if cell.isdigit() else ("", f"`{cell}` found, expected a whole number")
    if column == "condition":
        return _condition(cell)
    pattern = _PATTERNS[column]
    value = cell
    if unit and _BARE.fullmatch(cell):
        value = f"{cell} {unit}"
    items = _items(value)
    got = match((pattern,), items, 0, context()) if items else None
    if got is None or got.end < len(items):
        return "", _expected(pattern, cell)
    return value, ""


def _items(text: str) -> Sequence[Token]:
    lines, found = parse(text, "")
    return () if found or len(lines) != 1 else lines[0].items


def _expected(pattern: str, cell: str) -> str:
    if pattern == "<colour>":
        near = nearest(cell, context().colours)
        hint = f"; the nearest is `{near}`" if near else ", such as `red/black`"
        return f"`{cell}` is no colour{hint}"
    if re.fullmatch(r"\d+,\d+.*", cell):
        return f"`{cell}` has a decimal comma; write it with a point"
    if _BARE.fullmatch(cell):
        unit = {"<current>": "A", "<size>": "AWG", "<length>": "in"}[pattern]
        return f"`{cell}` without a unit; `{cell} {unit}`, or name the unit in the heading"
    return f"`{cell}` found, expected {_LIKELY[pattern]}"


def _label(cell: str) -> tuple[str, str]:
    plain = " ".join(cell.replace('"', "'").split())
    if not plain.isprintable():
        return "", f"`{plain.encode('unicode_escape').decode()}` holds letters that cannot be seen"
    return (plain, "") if len(plain) <= 80 else ("", f"{len(plain)} letters, 80 are read")


def _condition(cell: str) -> tuple[str, str]:
    words = [word.strip().lower() for word in re.split(r"[,;/]| and ", cell) if word.strip()]
    unknown = [word for word in words if word not in CONDITIONS]
    if unknown:
        listed = ", ".join(f"`{word}`" for word in CONDITIONS)
        return "", f"`{unknown[0]}` found, expected {listed}; anything else is a note"
    return ", ".join(dict.fromkeys(words)), ""


def _once(rows: Sequence[Surveyed], trouble: list[Trouble]) -> Iterator[Surveyed]:
    seen: dict[str, int] = {}
    for row in rows:
        if row.place in seen:
            trouble.append(
                Trouble(row.line, f"{row.place} stands in line {seen[row.place]} already")
            )
            continue
        seen[row.place] = row.line
        yield row
