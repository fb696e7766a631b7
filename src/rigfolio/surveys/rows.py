"""The rows of a filled survey sheet: columns by their headings, cells as people write them.

A heading may name a unit, `found [A]`, `tail in`: a bare number in that column is then in that
unit. Whatever is read as something else than it says is said back.
"""

from collections.abc import Iterator, Mapping, Sequence

from rigfolio.record import record
from rigfolio.render import StoredTable
from rigfolio.surveys.cells import hear
from rigfolio.surveys.columns import Column, Heading, heading, listed, nearest_heading
from rigfolio.surveys.told import Spelt, Surveyed, Trouble

_NOTHING = frozenset({"", "?", "-", "–", "—", "--", "???", "??"})
_NO_HEADING = "a heading that is not known; its column is not read"
_NO_PLACE = "no place before it, such as `P1.3`"
_TWICE = "a place that has a row above it already"
_STAMP = "(as printed:"
"""How a heading begins that shows whether anything was typed into a table."""


@record
class Survey:
    """What a table says: its rows, the cells that were read as something else, and the rest.

    `cells` is how many cells have something in them beside the places; `has_commas` whether a comma
    in a number is a decimal one.
    """

    rows: tuple[Surveyed, ...]
    spelt: tuple[Spelt, ...] = ()
    trouble: tuple[Trouble, ...] = ()
    cells: int = 0
    has_commas: bool = False


def read_survey(table: StoredTable) -> Survey:
    """The rows of a survey, and what was not understood of it, cell by cell.

    Parameters
    ----------
    table : StoredTable
        The first row has the headings.
    """
    if not table.rows:
        return Survey((), trouble=(Trouble(1, "no rows; the first row has the headings"),))
    reader = _RowReader(has_commas=table.has_commas)
    first, cells = table.rows[0]
    heads = reader.heads(first, cells)
    if "place" not in {head.column for head in heads.values()}:
        words = f"no column `place`; the headings are {listed()}"
        return Survey((), trouble=(*reader.trouble, Trouble(first, words)))
    made = [reader.row(line, row, heads) for line, row in table.rows[1:]]
    rows = tuple(reader.once([row for row in made if row is not None]))
    return Survey(rows, tuple(reader.spelt), tuple(reader.trouble), reader.count, table.has_commas)


class _RowReader:
    def __init__(self, *, has_commas: bool) -> None:
        self.has_commas = has_commas
        self.trouble: list[Trouble] = []
        self.spelt: list[Spelt] = []
        self.count = 0

    def heads(self, line: int, cells: Sequence[str]) -> dict[int, Heading]:
        """The columns that are read, by their place; amperes and watts may have one each."""
        found: dict[int, Heading] = {}
        for at, cell in enumerate(cells):
            if not cell.strip() or cell.startswith(_STAMP):
                continue
            head = heading(cell)
            if head is None:
                near = nearest_heading(cell)
                hint = f"; the nearest heading is `{near}`" if near else ""
                self.trouble.append(Trouble(line, f"`{cell}`{hint}", _NO_HEADING))
            elif any(
                known.column == head.column and (head.column != "draws" or known == head)
                for known in found.values()
            ):
                self.trouble.append(Trouble(line, f"a second column `{head.column}` is not read"))
            else:
                found[at] = head
        return found

    def row(self, line: int, cells: Sequence[str], heads: Mapping[int, Heading]) -> Surveyed | None:
        """One row; None where it says nothing of any place."""
        said = {at: cells[at].strip() if at < len(cells) else "" for at in heads}
        place = next(said[at] for at, head in heads.items() if head.column == "place")
        read: dict[Column, str] = {}
        asides: list[str] = []
        for at, head in heads.items():
            if head.column == "place" or said[at] in _NOTHING:
                continue
            self.count += 1
            heard = hear(head, said[at], has_commas=self.has_commas)
            if heard.wrong:
                hint = f"; {heard.hint}" if heard.hint else ""
                where = f"{place or 'a row'}, {head.column}: `{said[at]}`{hint}"
                self.trouble.append(Trouble(line, where, heard.wrong))
                continue
            if heard.value and head.column not in read:
                read[head.column] = heard.value
            elif heard.value:
                self.trouble.append(
                    Trouble(line, f"{place}: `{said[at]}`, and `{head.column}` is given before it")
                )
            asides += [heard.aside] if heard.aside else []
            self._say(line, head, said[at], heard.value, aside=heard.aside, is_about=heard.is_about)
        if asides:
            read["note"] = "; ".join((*asides, *([read["note"]] if "note" in read else [])))
        if not place:
            if read:
                self.trouble.append(Trouble(line, "; ".join(read.values()), _NO_PLACE))
            return None
        return Surveyed(line, place, read)

    def _say(
        self, line: int, head: Heading, cell: str, value: str, *, aside: str, is_about: bool
    ) -> None:
        """Say back what was read as something else than it says, but for a unit of its heading."""
        same = {value.casefold(), value.removesuffix(f" {head.unit}").casefold()}
        if head.column in ("name", "went dead", "plate", "note"):
            return
        read = f"`{value}`" if value else ""
        if aside:
            read = f"{read} and note `{aside}`" if read else f"note `{aside}`"
        read = read or "nothing"
        if is_about:
            self.spelt.append(Spelt(line, cell, f"{read}, which is about so"))
        elif cell.casefold().replace("²", "2") not in same or aside:
            self.spelt.append(Spelt(line, cell, read))

    def once(self, rows: Sequence[Surveyed]) -> Iterator[Surveyed]:
        """The first row of each place."""
        seen: dict[str, int] = {}
        for row in rows:
            key = row.place.casefold()
            if key in seen:
                words = f"{row.place}: it stands in row {seen[key]}"
                self.trouble.append(Trouble(row.line, words, _TWICE))
                continue
            seen[key] = row.line
            yield row
