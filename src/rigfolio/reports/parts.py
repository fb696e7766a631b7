"""A report and its parts.

A part with a key is given to programs under that key; one without is for people only. Facts are for
programs only: what they say stands in the words of other parts. Sheets ask for a part by its name
or key; what is `for_sheets` nobody else prints.
"""

from collections.abc import Iterable, Iterator, Mapping
from typing import TypeAlias

from rigfolio.record import record
from rigfolio.reports.cells import Value


@record
class Field:
    """A value under its key."""

    key: str
    value: Value


@record
class Paragraph:
    """A paragraph; `hang` is how far its lines after the first stand in, `gap` a line before it."""

    words: str
    key: str = ""
    name: str = ""
    hang: int = 0
    gap: bool = False
    for_sheets: bool = False


@record
class Item:
    """One thing in a list: its words, what programs get, and the mark that stands before it."""

    words: str
    facts: Value = None
    mark: str = ""


@record
class Listing:
    """A list under its title; `ordered` is one of steps to be taken in turn."""

    title: str
    items: tuple[Item, ...]
    key: str = ""
    name: str = ""
    ordered: bool = False
    for_sheets: bool = False


@record
class ReportColumn:
    """A column: its key, its heading, and the most letters that it takes on a terminal.

    Without room it is not printed there; one that is not `given` is for people only.
    """

    key: str
    title: str = ""
    most: int = 0
    given: bool = True


@record
class ReportTable:
    """Rows under a title, cells still typed; tables of one key are given as one list of objects."""

    title: str
    columns: tuple[ReportColumn, ...]
    rows: tuple[tuple[Value, ...], ...]
    key: str = ""
    name: str = ""
    for_sheets: bool = False

    def objects(self) -> Iterator[Mapping[str, Value]]:
        """Each row as what programs get of it."""
        for row in self.rows:
            cells = zip(self.columns, row, strict=True)
            yield {column.key: cell for column, cell in cells if column.given}

    def cells(self, key: str) -> tuple[Value, ...]:
        """One column, from the top.

        Raises
        ------
        KeyError
            No column has that key.
        """
        for at, column in enumerate(self.columns):
            if column.key == key:
                return tuple(row[at] for row in self.rows)
        raise KeyError(key)


@record
class Chapter:
    """Parts below a heading."""

    title: str
    parts: tuple["Part", ...]


@record
class Sections:
    """Sections of one kind; programs get a list of objects under the key."""

    sections: tuple[Chapter, ...]
    key: str = ""


Part: TypeAlias = Field | Paragraph | Listing | ReportTable | Sections


@record
class AnswerOf:
    """What an answer is of: the command that gives it, the name of the rig, its rule book.

    The last two are None where there is no rig, or more than one.
    """

    command: str
    rig: str | None = None
    book: str | None = None


@record
class Report:
    """What an answer gives: title, cautions, parts; `gap` is a line between title and cautions."""

    title: str
    cautions: tuple[str, ...]
    parts: tuple[Part, ...]
    gap: bool = True
    of: AnswerOf = AnswerOf("")

    def tables(self, name: str) -> tuple[ReportTable, ...]:
        """The tables of a name or key, for a sheet that sets them."""
        return tuple(one for one in self.parts if isinstance(one, ReportTable) and _is(one, name))

    def words(self, name: str) -> tuple[str, ...]:
        """The paragraphs and the things of lists of a name or key, for a sheet that sets them."""
        found: list[str] = []
        for one in self.parts:
            if isinstance(one, Paragraph) and _is(one, name):
                found.append(one.words)
            if isinstance(one, Listing) and _is(one, name):
                found += (item.words for item in one.items)
        return tuple(found)


def _is(part: Paragraph | Listing | ReportTable, name: str) -> bool:
    return name in (part.name, part.key)


def items(words: Iterable[str]) -> tuple[Item, ...]:
    """Things of a list of which programs get nothing but the words."""
    return tuple(Item(each) for each in words)


def remarks(words: Iterable[str], *, hang: int = 0, gap: bool = False) -> Iterator[Paragraph]:
    """Paragraphs one below the other; `gap` is a line before the first of them."""
    for number, each in enumerate(words):
        yield Paragraph(each, hang=hang, gap=gap and number == 0)
