"""What a workbook says, looked through before the library that reads it lays it all out.

Some bytes can say that a cell lies in the last row of the last column, or that a row comes a
million times; the library lays out what lies between as well. So the parts are read once in a
stream, strictly, and nothing but what was looked through is handed on.
"""

import io
import re
import zipfile
import zlib
from collections.abc import Mapping
from xml.parsers import expat

from rigfolio.render.csv_text import LargeError, see_size

MOST_BYTES = 20_000_000
"""What the parts may hold when they are unpacked; a survey has some thousand cells."""
MOST_ELEMENTS = 1_000_000
"""Elements in all parts; a survey of a large boat has some ten thousand."""
MOST_CHARACTERS = 30_000_000
"""In all filled cells, each counted with the longest text; one text may stand in many cells."""

_WAYS = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)
_KIND = "mimetype"
NO_WORKBOOK = "it is no workbook that can be read"
_PLACE = re.compile(r"([A-Za-z]{1,3})([0-9]{1,7})")
_FIGURES = 7
_BEYOND = 10**12
_CELLS = ("table-cell", "covered-table-cell")
_HOLDERS = ("c", "si", *_CELLS)
"""Elements with the text of a cell: `.xlsx` keeps texts apart, so that several cells have one."""
_READ = frozenset({*_HOLDERS, "s", "row", "table-row", "table"})


def looked_through(content: bytes) -> bytes:
    """The parts of a workbook that are XML, packed anew.

    Raises
    ------
    LargeError
        It is larger than any survey.
    ValueError
        It is no workbook.
    """
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as packed:
            parts = _unpacked(packed)
    except (zipfile.BadZipFile, zlib.error, NotImplementedError, RuntimeError, OSError) as problem:
        raise ValueError(NO_WORKBOOK) from problem
    elements = filled = longest = 0
    for name, part in parts.items():
        if name != _KIND:
            seen = _Looked(elements)
            seen.read(part)
            elements = seen.elements
            filled += seen.sheet.filled + seen.table.filled
            longest = max(longest, seen.longest)
    if filled * longest > MOST_CHARACTERS:
        raise LargeError(f"more than {MOST_CHARACTERS // 1_000_000} million letters")
    again = io.BytesIO()
    with zipfile.ZipFile(again, "w") as packed:
        for name, part in parts.items():
            packed.writestr(zipfile.ZipInfo(name), part)
    return again.getvalue()


def _unpacked(packed: zipfile.ZipFile) -> dict[str, bytes]:
    """The parts that are XML, and the one that tells what the whole is."""
    wanted = [
        one for one in packed.infolist()
        if one.filename == _KIND or one.filename.casefold().endswith((".xml", ".rels"))
    ]  # fmt: skip
    names = {one.filename.casefold() for one in wanted}
    if len(names) < len(wanted) or any(one.compress_type not in _WAYS for one in wanted):
        raise ValueError(NO_WORKBOOK)
    parts: dict[str, bytes] = {}
    left = MOST_BYTES
    for one in wanted:
        with packed.open(one) as part:
            # What it says of its size may be a lie: no more is unpacked than is asked for.
            parts[one.filename] = part.read(left + 1)
        left -= len(parts[one.filename])
        if left < 0:
            raise LargeError(f"more than {MOST_BYTES // 1_000_000} MB when it is unpacked")
    return parts


class _Looked:
    """One part, whichever of the two kinds of workbook it is of, as it is read."""

    def __init__(self, elements: int) -> None:
        self.elements = elements
        self.holds = False
        """Whether an element is open that has the text of a cell."""
        self.length = self.longest = 0
        self.sheet = _PlacedCells()
        self.table = _RepeatedCells()

    def read(self, part: bytes) -> None:
        """Look through the part."""
        # The library takes all for UTF-8, whatever a part says of itself.
        reader = expat.ParserCreate("utf-8")
        reader.StartElementHandler = self.start
        reader.EndElementHandler = self.end
        reader.CharacterDataHandler = self.text
        reader.StartDoctypeDeclHandler = self.doctype
        try:
            reader.Parse(part, True)  # noqa: FBT003
        except expat.ExpatError as problem:
            raise ValueError(NO_WORKBOOK) from problem

    def doctype(self, *_: object) -> None:
        """Words of its own, which may stand for others and those for others again."""
        raise ValueError(NO_WORKBOOK)

    def start(self, name: str, told: Mapping[str, str]) -> None:
        """An element begins."""
        self.elements += 1
        if self.elements > MOST_ELEMENTS:
            raise LargeError(f"more than {MOST_ELEMENTS} elements")
        here = name.rpartition(":")[2]
        if here not in _READ:
            self.fill()
            return
        said = {key.rpartition(":")[2]: value for key, value in told.items()}
        if here == "s":
            self.length += _number(said.get("c", "1")) if self.holds else 0
            self.fill()
        elif self.holds:
            raise ValueError(NO_WORKBOOK)
        elif here == "row":
            self.sheet.start_row(said.get("r"))
        elif here == "table-row":
            self.table.start_row(_times(said, "rows"))
        elif here == "table":
            self.table = _RepeatedCells(self.table.filled)
        else:
            self.hold(here, told, said)

    def hold(self, here: str, told: Mapping[str, str], said: Mapping[str, str]) -> None:
        """A cell begins, or a text that cells may have."""
        self.holds = True
        if here == "c":
            self.sheet.cell(said.get("r"))
        elif here in _CELLS:
            self.length += sum(map(len, told.values()))
            self.table.cell(_times(said, "columns"))
            if "formula" in said or any(key.startswith("office:") for key in told):
                self.fill()

    def text(self, text: str) -> None:
        """What stands between elements, in pieces."""
        if self.holds:
            self.length += len(text)
            self.fill()

    def fill(self) -> None:
        """What is open has something in it."""
        self.sheet.fill()
        self.table.fill()

    def end(self, name: str) -> None:
        """An element ends."""
        here = name.rpartition(":")[2]
        if here in _HOLDERS:
            self.holds = False
            self.longest, self.length = max(self.longest, self.length), 0
            self.sheet.is_open = self.table.is_open = False
        elif here == "table-row":
            self.table.end_row()


class _PlacedCells:
    """How far the cells of `.xlsx` reach; each says where it lies, or lies behind the last one."""

    def __init__(self) -> None:
        self.row = self.column = self.filled = 0
        self.at = (0, 0)
        self.is_open = False

    def start_row(self, number: str | None) -> None:
        self.row = self.row + 1 if number is None else _number(number)
        self.column = 0

    def cell(self, place: str | None) -> None:
        self.column += 1
        self.at = (self.row, self.column)
        if place is not None:
            self.at = _place(place)
            self.column = self.at[1]
        self.is_open = True

    def fill(self) -> None:
        """A cell without anything in it may lie anywhere: only its looks were set."""
        if self.is_open:
            self.is_open = False
            self.filled += 1
            see_size(*self.at)


class _RepeatedCells:
    """How far the cells of `.ods` reach; each cell and row says how many times it comes."""

    def __init__(self, filled: int = 0) -> None:
        self.filled = filled
        self.rows = self.empty_rows = 0
        self.times = 1
        self.column = self.beside = self.filled_beside = 0
        self.is_open = False

    def start_row(self, times: int) -> None:
        self.times = times
        self.column = self.filled_beside = 0

    def cell(self, times: int) -> None:
        self.beside = times
        self.column += times
        self.is_open = True

    def fill(self) -> None:
        if self.is_open:
            self.is_open = False
            self.filled_beside += self.beside
            see_size(0, self.column)

    def end_row(self) -> None:
        """Empty rows are laid out only if one with something in it comes behind them."""
        if not self.filled_beside:
            self.empty_rows += self.times
            return
        self.rows += self.empty_rows + self.times
        self.empty_rows = 0
        see_size(self.rows, 0)
        self.filled += self.filled_beside * self.times


def _times(said: Mapping[str, str], what: str) -> int:
    return _number(said.get(f"number-{what}-repeated", "1"))


def _number(text: str) -> int:
    """A number of rows, columns or blanks; one of more figures than any has is beyond them all."""
    if not (text.isascii() and text.isdigit()):
        raise ValueError(NO_WORKBOOK)
    return int(text) if len(text) <= _FIGURES else _BEYOND


def _place(text: str) -> tuple[int, int]:
    """Row and column of `C12`, each counted from 1."""
    found = _PLACE.fullmatch(text)
    if found is None:
        raise ValueError(NO_WORKBOOK)
    column = 0
    for letter in found[1].upper():
        column = 26 * column + ord(letter) - ord("A") + 1
    return int(found[2]), column
