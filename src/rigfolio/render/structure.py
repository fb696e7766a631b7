"""The tree of a document that is read aloud: sheets, headings, paragraphs, tables, pictures.

It is grown while pages are drawn. Names of elements are the standard structure types of ISO
32000-1, 14.8.4. What hangs nowhere in it is an artifact: frames, rules, numbers of pages, and what
every page says again.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from rigfolio.draw import CellPlace, Group, Kind, Mark, Text, groups, plain
from rigfolio.record import record

_LONGEST = 12_000
"""Letters of an alternative text: in UTF-16 within the 32767 bytes that PDF/A allows a string."""


@record
class Content:
    """A stretch of a page, from 0, that is marked with a number."""

    page: int
    mark: int


@record
class Pressed:
    """What is pressed on a page to follow a link, by the number of the link in the document."""

    page: int
    link: int


@dataclass(eq=False, slots=True)
class Element:
    """A branch of the tree, or an end of it with what it marks.

    `about` is said in its place, or names a sheet; `columns` are those that a cell runs across;
    `language` is stated where it is not that of the document.
    """

    kind: str
    kids: list["Element | Content | Pressed"] = field(default_factory=list)
    about: str = ""
    columns: int = 1
    language: str = ""

    def grow(self, kind: str) -> "Element":
        """A new branch behind those that there are."""
        made = Element(kind)
        self.kids.append(made)
        return made


class Structure:
    """The tree of one document, grown page by page in drawing order.

    Parameters
    ----------
    starts : mapping of int to str
        Title of each sheet by the page, from 0, that it begins on; the first page among them.
    """

    def __init__(self, starts: Mapping[int, str]) -> None:
        self.root = Element("Document")
        self.marked: list[list[Element]] = []
        """Whose each marked stretch is, page by page."""
        self.links: list[Element] = []
        """The element of each link of the document."""
        self._starts = starts
        self._strips: set[str] = set()

    def begin_page(self, links: Iterable[Group]) -> None:
        """Turn to the next page; `links` are the groups that can be pressed there."""
        page = len(self.marked)
        self.marked.append([])
        if page in self._starts:
            self._sheet = _SheetBranch(self.root.grow("Sect"), self._strips)
            self._sheet.branch.about = plain(self._starts[page])
        self._sheet.turn()
        self._unset = {id(group): number for number, group in enumerate(links, len(self.links))}
        self._set: dict[int, Element] = {}
        self.links += [Element("Link", [Pressed(page, n)]) for n in self._unset.values()]

    def end_page(self) -> None:
        """Give a place to links of which no word was shown, and to the last row of a table."""
        self._sheet.turn()
        for number in self._unset.values():
            self._sheet.branch.kids.append(self.links[number])

    def text(self, text: Text, within: Sequence[Group]) -> Element | None:
        """What a text of the page belongs to; None for an artifact.

        Parameters
        ----------
        text : Text
            A line that is shown.
        within : sequence of Group
            The groups that it stands in, the outermost first.
        """
        found = self._sheet.text(text, within[0] if within else None)
        if found is None:
            return None
        for group in reversed(within):
            number = self._unset.pop(id(group), None)
            if number is not None:
                link = self.links[number]
                found.kids.append(link)
                self._set[id(group)] = found
                return link
            if self._set.get(id(group)) is found:
                return next(k for k in reversed(found.kids) if isinstance(k, Element))
        return found

    def figure(self, about: str, marks: Iterable[Mark]) -> Element:
        """A picture with what is said in its place, and the links in it."""
        made = self._sheet.branch.grow("Figure")
        said = dict.fromkeys(filter(None, (about, *(each.title for each in groups(marks)))))
        made.about = plain("; ".join(said))
        if len(made.about) > _LONGEST:
            made.about = made.about[:_LONGEST].rpartition("; ")[0]
        for group in groups(marks):
            number = self._unset.pop(id(group), None)
            if number is not None:
                made.kids.append(self.links[number])
        return made

    def mark(self, element: Element) -> int:
        """The number of the next stretch of the page, which belongs to an element."""
        here = self.marked[-1]
        here.append(element)
        element.kids.append(Content(len(self.marked) - 1, len(here) - 1))
        return len(here) - 1


class _SheetBranch:
    """The branch of one sheet: its title, what its strip says, then what stands on its pages."""

    def __init__(self, branch: Element, strips: set[str]) -> None:
        self.branch = branch
        self._strips = strips
        self._titles: set[str] = set()
        self._front = 0
        """How many elements stand before the first page."""
        self._page = 0
        """How many stand before the page that is drawn."""
        self._table: _OpenTable | None = None
        self._last: Element | None = None
        self._repeated: Element | None = None
        self._groups: dict[int, Element] = {}

    def turn(self) -> None:
        """Come to another page."""
        if self._table is not None:
            self._table.close()
        self._last, self._groups = None, {}
        self._page = len(self.branch.kids)

    def text(self, text: Text, group: Group | None) -> Element | None:
        """What a text belongs to, which may stand in a group; None for an artifact."""
        role = text.role
        match role.kind:
            case Kind.FURNITURE:
                return None
            case Kind.TITLE | Kind.STRIP:
                if not role.line:
                    self._repeated = self._said_once(text)
                return self._repeated
            case Kind.CELL | Kind.COLUMN_HEAD if role.cell is not None:
                kind = "TH" if role.kind is Kind.COLUMN_HEAD else "TD"
                return self._cell(role.cell, kind, is_first=not role.line)
            case _:
                return self._paragraph(text, group)

    def _said_once(self, text: Text) -> Element | None:
        """A new element at the front of the sheet, unless it was said there before."""
        is_title = text.role.kind is Kind.TITLE
        said = self._titles if is_title else self._strips
        if text.text in said:
            return None
        said.add(text.text)
        if is_title and len(said) > 1:
            # A page with a title of its own inside the sheet.
            made = Element("H2")
            self.branch.kids.insert(self._page, made)
            return made
        made = Element("H1" if is_title else "P")
        self.branch.kids.insert(0 if is_title else self._front, made)
        self._front += 1
        self._page += 1
        return made

    def _paragraph(self, text: Text, group: Group | None) -> Element:
        """A heading or a paragraph; the texts of one group are one, and further lines go on."""
        if text.role.line and self._last is not None:
            return self._last
        if text.role.kind is Kind.HEADING:
            self._last = self.branch.grow("H2")
        elif group is None:
            self._last = self.branch.grow("P")
        else:
            known = self._groups.get(id(group))
            self._last = known if known is not None else self.branch.grow("P")
            self._groups[id(group)] = self._last
        return self._last

    def _cell(self, place: CellPlace, kind: str, *, is_first: bool) -> Element:
        self._last = None
        if self._table is None or not self._table.goes_on_at(place, is_first=is_first):
            if self._table is not None:
                self._table.close()
            self._table = _OpenTable(self.branch.grow("Table"), place.table)
        return self._table.cell(place, kind)


class _OpenTable:
    """A table that rows are still put into; all of its rows are made as wide."""

    def __init__(self, table: Element, number: int) -> None:
        self.table = table
        self.number = number
        self.row = Element("TR")
        self.at = CellPlace(number, -1, 0, 0)
        self.last = Element("TD")

    def goes_on_at(self, place: CellPlace, *, is_first: bool) -> bool:
        """Whether a cell, of which a text is the first line or a further one, comes next in it."""
        here, there = (self.at.row, self.at.column), (place.row, place.column)
        return place.table == self.number and (there > here if is_first else there == here)

    def cell(self, place: CellPlace, kind: str) -> Element:
        """The cell at a place, behind empty ones where some were left out before it."""
        if place == self.at:
            return self.last
        if place.row != self.at.row:
            self.close()
            self.row = self.table.grow("TR")
        self._pad(place.column)
        self.at, self.last = place, self.row.grow(kind)
        self.last.columns = place.columns if place.is_wide else 1
        return self.last

    def close(self) -> None:
        """Fill up the last row."""
        self._pad(1 if self.at.is_wide else self.at.columns)

    def _pad(self, count: int) -> None:
        while len(self.row.kids) < count:
            self.row.grow("TD")
